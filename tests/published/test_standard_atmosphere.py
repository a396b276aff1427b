"""The standard atmosphere against two libraries, printed tables and the trade's factors."""

import pytest
from ambiance import Atmosphere
from fluids.atmosphere import ATMOSPHERE_1976

from inspect_report.mechanics.atmosphere import (
    density_ratio,
    geopotential_altitude,
    pressure_altitude,
    pressure_ratio,
    standard_density,
    standard_pressure,
    standard_temperature,
)
from tests.published.figures import PSI, rows

FOOT = 0.3048


@pytest.mark.parametrize(
    "row", rows("standard_atmosphere.csv"), ids=lambda row: row["geopotential_altitude_m"]
)
def test_table_over_geopotential_altitude(row: dict[str, str]) -> None:
    """US Standard Atmosphere 1976 by two libraries; each column to its last printed digit."""
    altitude = float(row["geopotential_altitude_m"])
    assert standard_temperature(altitude) == pytest.approx(float(row["T_K"]), abs=6e-4)
    assert standard_pressure(altitude) == pytest.approx(float(row["p_Pa"]), abs=0.06)
    assert standard_density(altitude) == pytest.approx(float(row["rho_kg_m3"]), abs=6e-6)
    assert pressure_ratio(altitude) == pytest.approx(float(row["delta_p_over_p0"]), abs=6e-6)
    assert density_ratio(altitude) == pytest.approx(float(row["sigma_rho_over_rho0"]), abs=6e-6)
    assert pressure_altitude(float(row["p_Pa"])) == pytest.approx(altitude, abs=0.01)


@pytest.mark.parametrize("height", [-400.0, 0.0, 1000.0, 1609.344, 5000.0, 10_900.0])
def test_two_libraries_over_geometric_height(height: float) -> None:
    """`ambiance` and `fluids` on the day of the test; they differ by 0.02 Pa in their gas constant."""
    altitude = geopotential_altitude(height)
    one, other = Atmosphere(height), ATMOSPHERE_1976(height)
    assert altitude == pytest.approx(float(one.H[0]), abs=0.01)
    assert standard_temperature(altitude) == pytest.approx(float(one.temperature[0]), rel=1e-6)
    assert standard_pressure(altitude) == pytest.approx(float(one.pressure[0]), rel=2e-6)
    assert standard_pressure(altitude) == pytest.approx(other.P, rel=2e-6)
    assert standard_density(altitude) == pytest.approx(other.rho, rel=2e-6)


@pytest.mark.parametrize(
    ("feet", "psia"),
    [
        (1000, 14.175), (2000, 13.664), (3000, 13.173), (4000, 12.682), (5000, 12.230), (7000, 11.341),
        (10_000, 10.108),
    ],
)  # fmt: skip
def test_printed_pressures_in_feet(feet: float, psia: float) -> None:
    """An engineering table (engineersedge.com 15729, seen): 0.1 %; its 4000 ft is a misprint for 12.692."""
    correct = 12.692 if feet == 4000 else psia
    assert standard_pressure(feet * FOOT) / PSI == pytest.approx(correct, rel=1e-3)
