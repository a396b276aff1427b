"""The standard atmosphere: edges and the way back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics import atmosphere
from inspect_report.mechanics.errors import OutOfRange


@given(altitude=st.floats(-4999.0, 10_999.0))
def test_pressure_leads_back_to_its_altitude(altitude: float) -> None:
    """The inverse undoes the formula."""
    pressure = atmosphere.standard_pressure(altitude)
    assert atmosphere.pressure_altitude(pressure) == pytest.approx(altitude, abs=1e-6)


@pytest.mark.parametrize("altitude", [-5001.0, 11_001.0])
def test_troposphere_only(altitude: float) -> None:
    """Above the tropopause the formula no longer holds."""
    with pytest.raises(OutOfRange, match="altitude"):
        atmosphere.standard_pressure(altitude)


@pytest.mark.parametrize(
    ("pressure", "name"), [(0.0, "pressure"), (5_000.0, "altitude"), (300_000.0, "altitude")]
)
def test_barometer_must_show_air(pressure: float, name: str) -> None:
    """A slipped decimal point at the barometer is refused."""
    with pytest.raises(OutOfRange, match=name):
        atmosphere.pressure_altitude(pressure)


def test_ratios_agree_with_absolute_values() -> None:
    """Pressure and density ratios are the values over those at sea level."""
    pressure, density = atmosphere.standard_pressure, atmosphere.standard_density
    assert atmosphere.pressure_ratio(1500.0) == pytest.approx(pressure(1500.0) / pressure(0.0), rel=1e-12)
    assert atmosphere.density_ratio(1500.0) == pytest.approx(density(1500.0) / density(0.0), rel=1e-12)


def test_warm_air_column_is_lighter() -> None:
    """At one height a warm day has the higher pressure, below sea level the lower; at it, weather's alone."""
    warm, cold = (
        [atmosphere.pressure_of_the_day(height, t) for height in (1500.0, -300.0, 0.0)]
        for t in (308.15, 258.15)
    )
    assert warm[0] > cold[0]
    assert warm[1] < cold[1]
    assert warm[2] == cold[2] == 101_325.0


@pytest.mark.parametrize(("altitude", "temperature"), [(11_001.0, 280.0), (0.0, 0.0), (-4000.0, 20.0)])
def test_day_that_cannot_be(altitude: float, temperature: float) -> None:
    """Beyond the troposphere, at 0 K, or colder than the lapse down to sea level takes."""
    with pytest.raises(OutOfRange, match=r"altitude|temperature"):
        atmosphere.pressure_of_the_day(altitude, temperature)


@pytest.mark.parametrize(("pressure", "temperature"), [(0.0, 280.0), (1e5, 0.0)])
def test_density_needs_air(pressure: float, temperature: float) -> None:
    """No pressure or no warmth is no air."""
    with pytest.raises(OutOfRange, match=r"pressure|temperature"):
        atmosphere.density_ratio_of_the_day(pressure, temperature)
