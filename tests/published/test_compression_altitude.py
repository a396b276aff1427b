"""Altitude correction of compression readings against the factor table handed round in the trade."""

import pytest

from inspect_report.mechanics.atmosphere import density_ratio, pressure_ratio, standard_pressure
from inspect_report.mechanics.compression import corrected_to_standard
from tests.published.figures import rows

FOOT = 0.3048
WHOLE_THOUSANDS = [
    row for row in rows("compression_altitude_factors.csv") if row["altitude_ft"].endswith("000")
]
HALVES = [row for row in rows("compression_altitude_factors.csv") if not row["altitude_ft"].endswith("000")]


@pytest.mark.parametrize("row", WHOLE_THOUSANDS, ids=lambda row: row["altitude_ft"])
def test_trade_factors_are_density_ratios(row: dict[str, str]) -> None:
    """The factors of whole thousands are the standard atmosphere's density ratio to their last digit."""
    altitude = float(row["altitude_ft"]) * FOOT
    assert density_ratio(altitude) == pytest.approx(float(row["published_factor"]), abs=0.0005)


@pytest.mark.parametrize("row", HALVES, ids=lambda row: row["altitude_ft"])
def test_half_thousands_are_another_series(row: dict[str, str]) -> None:
    """The factors between are a second, coarser series, up to 0.7 % above the density ratio."""
    altitude = float(row["altitude_ft"]) * FOOT
    assert 0.0 <= float(row["published_factor"]) / density_ratio(altitude) - 1.0 < 0.007


def test_trade_factors_are_no_pressure_ratios() -> None:
    """At 5000 ft the pressure ratio is 3.6 % below the factor printed: the method must be named."""
    assert pressure_ratio(5000 * FOOT) == pytest.approx(0.8320, abs=5e-5)


def test_worked_example() -> None:
    """The same page: a cylinder of 150 psi reads 150 x .943 = 141.5 psi at 2000 ft; one printed digit."""
    ambient = standard_pressure(2000 * FOOT)
    assert corrected_to_standard(141.5, p_ambient=ambient, method="density ratio") == pytest.approx(
        150, abs=0.1
    )


def test_seven_thousand_feet() -> None:
    """A club's thread (risingsun4x4club.org 170461, seen): 128 to 150 psi is 104 to 122 psi at 7000 ft."""
    ambient = standard_pressure(7000 * FOOT)
    corrected = [corrected_to_standard(p, p_ambient=ambient, method="density ratio") for p in (104.0, 122.0)]
    assert corrected == pytest.approx([128.0, 150.0], abs=0.7)
