"""Flow through orifice and leak: edges, order and the round trip."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.gasflow import (
    critical_pressure_ratio,
    cylinder_pressure,
    equivalent_leak_bore,
    free_air_flow,
    leak_area,
    leak_percent,
    nozzle_mass_flow,
    nozzle_mass_flux,
    reference_tester_percent,
)

BAR, MM = 1e5, 1e-3


def test_tight_cylinder_has_no_leak() -> None:
    """Cylinder at supply pressure: 0 percent, 0 area, 0 bore."""
    assert leak_percent(6 * BAR, 6 * BAR) == 0.0
    assert leak_area(6 * BAR, 6 * BAR, tester_bore=MM) == 0.0
    assert equivalent_leak_bore(6 * BAR, 6 * BAR, tester_bore=MM) == 0.0


def test_open_cylinder_has_no_finite_leak() -> None:
    """Cylinder at 0 gauge reads 100 percent, but no bore can be told."""
    assert leak_percent(6 * BAR, 0.0) == 100.0
    with pytest.raises(OutOfRange, match="p_cylinder: found 0 Pa, allowed above 0 Pa and at most 600000 Pa"):
        equivalent_leak_bore(6 * BAR, 0.0, tester_bore=MM)


@pytest.mark.parametrize("cylinder", [6.1 * BAR, -1.0])
def test_impossible_cylinder_pressure(cylinder: float) -> None:
    """More than the supply, or less than the air around, is no reading."""
    with pytest.raises(OutOfRange, match="p_cylinder"):
        leak_percent(6 * BAR, cylinder)


def test_one_bad_cylinder_of_four_is_named() -> None:
    """An array is refused for the one reading that cannot be."""
    with pytest.raises(OutOfRange, match="found 650000 Pa"):
        leak_percent(np.full(4, 6 * BAR), np.array([5.0, 5.5, 6.5, 4.0]) * BAR)


@pytest.mark.parametrize("field", ["tester_bore", "p_ambient"])
def test_tester_and_air_must_be_real(field: str) -> None:
    """A tester without orifice, or no air around, has no answer."""
    with pytest.raises(OutOfRange, match=field):
        leak_area(6 * BAR, 5 * BAR, **{"tester_bore": MM, field: 0.0})


def test_nozzle_needs_flow_downhill() -> None:
    """Pressure behind the nozzle above that before it is refused, not turned round."""
    with pytest.raises(OutOfRange, match="p_down"):
        nozzle_mass_flux(1 * BAR, 2 * BAR)


def test_flow_stops_growing_when_choked() -> None:
    """Below the critical ratio a lower back pressure changes nothing; just above it, something."""
    critical = critical_pressure_ratio() * 7 * BAR
    assert nozzle_mass_flux(7 * BAR, 0.0) == nozzle_mass_flux(7 * BAR, critical)
    assert nozzle_mass_flux(7 * BAR, 1.05 * critical) < nozzle_mass_flux(7 * BAR, critical)


def test_flow_has_no_jump_where_it_chokes() -> None:
    """The two branches meet."""
    critical = critical_pressure_ratio() * 7 * BAR
    below, above = (nozzle_mass_flux(7 * BAR, critical * (1 + shift)) for shift in (-1e-6, 1e-6))
    assert below == pytest.approx(above, rel=1e-9)


def test_discharge_coefficient_multiplies() -> None:
    """Flow goes with the coefficient, which cannot be above 1."""
    ideal = nozzle_mass_flow(MM, 7 * BAR, 1 * BAR)
    assert nozzle_mass_flow(MM, 7 * BAR, 1 * BAR, discharge=0.65) == pytest.approx(0.65 * ideal, rel=1e-12)
    with pytest.raises(OutOfRange, match="discharge"):
        nozzle_mass_flow(MM, 7 * BAR, 1 * BAR, discharge=1.1)


def test_free_air_is_stated_at_its_own_reference() -> None:
    """Stated at half the pressure and a warmer day the same air fills more, whatever it was upstream."""
    cold = free_air_flow(MM, 7 * BAR, BAR, reference_temperature=273.15, reference_pressure=BAR)
    warm = free_air_flow(MM, 7 * BAR, BAR, reference_temperature=300.0, reference_pressure=BAR / 2)
    assert warm == pytest.approx(cold * 2 * 300.0 / 273.15, rel=1e-12)


def test_free_air_of_four_cylinders_at_once() -> None:
    """Arrays of bores and pressures give an array of flows, each as alone."""
    bores, before = np.array([0.2, 0.5, 0.8, 0.0]) * MM, np.array([6.9, 6.5, 6.0, 7.0]) * BAR
    flows = free_air_flow(bores, before, np.full(4, BAR))
    alone = [free_air_flow(float(b), float(p), BAR) for b, p in zip(bores, before, strict=True)]
    assert flows.tolist() == pytest.approx(alone, rel=1e-12)
    assert flows[3] == 0.0


@given(
    leak=st.floats(0.02, 8.0),
    supply=st.floats(1.0, 12.0),
    tester=st.floats(0.3, 2.0),
    air=st.floats(0.6, 1.1),
)
def test_leak_to_reading_and_back(leak: float, supply: float, tester: float, air: float) -> None:
    """The pressure found for a leak leads back to the leak; near 0 % floats blur the reading."""
    pressure = cylinder_pressure(
        leak * MM, p_supply=supply * BAR, tester_bore=tester * MM, p_ambient=air * BAR
    )
    back = equivalent_leak_bore(supply * BAR, pressure, tester_bore=tester * MM, p_ambient=air * BAR)
    assert back == pytest.approx(leak * MM, rel=1e-3)


@given(small=st.floats(0.05, 2.0), factor=st.floats(1.01, 3.0))
def test_larger_leak_reads_more(small: float, factor: float) -> None:
    """The reading grows with the leak."""
    assert reference_tester_percent(small * MM) < reference_tester_percent(small * factor * MM)


def test_no_leak_reads_zero_on_the_reference_tester() -> None:
    """A bore of 0 is tight."""
    assert reference_tester_percent(0.0) == pytest.approx(0.0, abs=1e-9)


def test_reference_tester_reads_its_own_leak() -> None:
    """A leak found on the reference tester reads there what was read."""
    bore = equivalent_leak_bore(6 * BAR, 5.1 * BAR, tester_bore=MM)
    assert reference_tester_percent(bore) == pytest.approx(15.0, rel=1e-9)


def test_free_air_is_that_of_20_degrees_and_100_kpa_unless_told() -> None:
    """The reference printed beside the flow is the one that is taken: 20 °C and 100 kPa, air at 20 °C."""
    plain = free_air_flow(MM, 7 * BAR, BAR)
    told = free_air_flow(
        MM, 7 * BAR, BAR, temperature=293.15, reference_temperature=293.15, reference_pressure=100_000.0
    )
    assert plain == told
    assert plain != free_air_flow(MM, 7 * BAR, BAR, temperature=293.15, reference_temperature=288.15)
