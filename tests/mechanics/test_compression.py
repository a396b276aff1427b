"""Spreads, wet gain and correction of compression readings."""

import numpy as np
import pytest

from inspect_report.mechanics.compression import (
    AltitudeMethod,
    corrected_to_standard,
    spread_about_mean,
    spread_below_best,
    wet_gain,
)
from inspect_report.mechanics.errors import OutOfRange


def test_best_cylinder_has_no_spread() -> None:
    """The best is 0, a dead cylinder 1."""
    assert spread_below_best([12e5, 0.0]).tolist() == [0.0, 1.0]


def test_deviations_about_the_mean_cancel() -> None:
    """Above and below balance; 9, 10 and 14 bar have mean 11."""
    deviations = spread_about_mean([9e5, 10e5, 14e5])
    assert deviations.tolist() == pytest.approx([-2 / 11, -1 / 11, 3 / 11], rel=1e-12)


@pytest.mark.parametrize("readings", [[], [-1.0, 2e5], [0.0, 0.0]])
def test_readings_that_give_no_spread(readings: list[float]) -> None:
    """None, one below 0, or nothing but zeros."""
    with pytest.raises(OutOfRange, match="readings"):
        spread_below_best(readings)


def test_wet_gain_of_four_cylinders() -> None:
    """10 to 12 bar gains a fifth; a reading that falls gains less than nothing."""
    gains = wet_gain(np.array([10e5, 10e5]), np.array([12e5, 9e5]))
    assert gains.tolist() == pytest.approx([0.2, -0.1], rel=1e-12)


def test_dead_cylinder_has_no_wet_gain() -> None:
    """No dry reading, no ratio."""
    with pytest.raises(OutOfRange, match="dry: found 0 Pa"):
        wet_gain(0.0, 2e5)


def test_two_methods_agree_at_sea_level_and_part_in_the_hills() -> None:
    """At standard pressure nothing is corrected; at 1000 m the pressure ratio corrects more."""
    assert corrected_to_standard(10e5, p_ambient=101_325.0) == pytest.approx(10e5, rel=1e-12)
    by_pressure = corrected_to_standard(10e5, p_ambient=89_874.6)
    by_density = corrected_to_standard(10e5, p_ambient=89_874.6, method="density ratio")
    assert (by_pressure, by_density) == pytest.approx((10e5 / 0.88699, 10e5 / 0.90746), rel=1e-5)


def test_density_of_a_hot_day_corrects_more_and_pressure_does_not_mind() -> None:
    """By density a day at 35 °C counts as thinner air; by pressure only the barometer counts."""
    methods: tuple[AltitudeMethod, AltitudeMethod] = ("density ratio", "pressure ratio")
    by_density, by_pressure = (
        [corrected_to_standard(10e5, p_ambient=95e3, method=m, temperature=t) for t in (288.15, 308.15)]
        for m in methods
    )
    sea = 10e5 * 101_325 / 95e3
    assert by_density == pytest.approx([sea, sea * 308.15 / 288.15], rel=1e-12)
    assert by_pressure == pytest.approx([sea, sea], rel=1e-12)


def test_day_without_a_temperature_is_a_standard_day() -> None:
    """Left out, the temperature is that of the standard atmosphere where it has this pressure."""
    given = corrected_to_standard(10e5, p_ambient=89_874.6, method="density ratio", temperature=281.65)
    left_out = corrected_to_standard(10e5, p_ambient=89_874.6, method="density ratio")
    assert left_out == pytest.approx(given, rel=1e-6)


def test_day_must_be_real() -> None:
    """No air at 0 K, and none beyond the standard atmosphere."""
    with pytest.raises(OutOfRange, match="temperature"):
        corrected_to_standard(10e5, p_ambient=95e3, method="density ratio", temperature=0.0)
    with pytest.raises(OutOfRange, match="altitude"):
        corrected_to_standard(10e5, p_ambient=300e3)
    with pytest.raises(OutOfRange, match="reading"):
        corrected_to_standard(-1.0, p_ambient=95e3)
