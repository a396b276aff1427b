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
