"""Checks the air of the day: where its pressure and temperature come from, and how well they are known."""

from math import sqrt
from typing import Any

import pytest

from inspect_report.measure.ambient import air_pressure, air_temperature, engine_words
from inspect_report.records.inspection import Conditions


def _day(**written: Any) -> Conditions:
    return Conditions.model_validate({key.replace("_", "-"): value for key, value in written.items()})


def test_barometer_comes_first() -> None:
    """As read to 1 hPa, whatever altitude and temperature would say."""
    pressure, said = air_pressure(_day(ambient_pressure=955, altitude=500, ambient_temperature=12))
    assert (pressure.value, said) == (95_500.0, "air pressure 955 hPa as read")
    assert pressure.u == pytest.approx(100 / sqrt(3))


def test_altitude_and_temperature() -> None:
    """1500 m on a day of 30 °C: p0 (303.15 / 312.9)^5.2559 is 857.9 hPa by hand; weather adds 20 hPa."""
    pressure, said = air_pressure(_day(altitude=1500, ambient_temperature=30))
    assert pressure.value == pytest.approx(101_325 * (303.15 / 312.8977) ** 5.25588, rel=1e-5)
    assert said == "air pressure 858 hPa by altitude 1500 m and 30 °C"
    assert pressure.u == pytest.approx(2000 / sqrt(3))


def test_altitude_alone() -> None:
    """Without a temperature the standard atmosphere's: 845.6 hPa at 1500 m (US Standard Atmosphere 1976)."""
    pressure, said = air_pressure(_day(altitude=1500))
    assert pressure.value == pytest.approx(84_556, rel=5e-5)
    assert said == "air pressure 846 hPa by the standard atmosphere at 1500 m"


def test_nothing_noted() -> None:
    """Sea level is taken, said, and known to 60 hPa only."""
    pressure, said = air_pressure(_day())
    assert (pressure.value, said) == (101_325.0, "air pressure not noted, 1013 hPa taken")
    assert pressure.u == pytest.approx(6000 / sqrt(3))


@pytest.mark.parametrize(
    ("hpa", "fits"), [(1015, False), (887, False), (885, True), (846, True), (800, False)]
)
def test_barometer_set_for_sea_level(hpa: float, fits: bool) -> None:
    """At 1500 m a barometer shows some 846 hPa; one that is 40 hPa off was set for sea level."""
    _, said = air_pressure(_day(ambient_pressure=hpa, altitude=1500))
    assert ("which does not fit 1500 m: was it reduced to sea level?" not in said) == fits


def test_temperature() -> None:
    """As read to 1 K, else 20 °C to 10 K."""
    warm, said = air_temperature(_day(ambient_temperature=31))
    assert (warm.value, said) == (304.15, "air 31 °C as read")
    taken, why = air_temperature(_day())
    assert (taken.value, why) == (293.15, "air temperature not noted, 20 °C taken")
    assert [warm.u, taken.u] == pytest.approx([1 / sqrt(3), 10 / sqrt(3)])


def test_state_of_the_engine_in_words() -> None:
    """Noted or not, it is said."""
    assert [engine_words(s) for s in ("hot", "")] == [
        "engine hot at the test",
        "state of the engine not noted",
    ]
