"""Crankcase tests under pressure and vacuum: a fall over a time, and the air and the hole behind it."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.crankcase import Under, decay_leak_bore, free_air_loss, pressure_loss_rate
from inspect_report.mechanics.errors import OutOfRange


def test_fall_over_the_time_of_the_test() -> None:
    """6 psi falling to 5 psi in one minute is 1 psi, 6.895 kPa, a minute."""
    psi = 6894.757
    assert pressure_loss_rate(6 * psi, 5 * psi, 60.0) * 60 == pytest.approx(psi)


def test_tight_case_loses_nothing() -> None:
    """The same pressure at the end is no loss; a warming case may even gain."""
    assert pressure_loss_rate(40e3, 40e3, 300.0) == 0.0
    assert pressure_loss_rate(40e3, 40.3e3, 300.0) < 0.0


def test_test_without_a_time_is_refused() -> None:
    """A rate over no time does not exist."""
    with pytest.raises(OutOfRange, match="time: found 0 s, allowed above 0 s"):
        pressure_loss_rate(40e3, 34e3, 0.0)


def test_test_without_pressure_is_refused() -> None:
    """A case that was never pumped up says nothing."""
    with pytest.raises(OutOfRange, match="p_start: found 0 Pa"):
        pressure_loss_rate(0.0, 0.0, 60.0)


def test_air_lost_is_decay_over_volume() -> None:
    """A case of twice the size that falls as fast has lost twice the air; 6 kPa of 0.6 l is 36 cm³."""
    small, large = (free_air_loss(40e3, 34e3, 60.0, volume=v) for v in (0.6e-3, 1.2e-3))
    assert small * 60e6 == pytest.approx(36.0, rel=1e-12)
    assert large == pytest.approx(2 * small, rel=1e-12)


def test_cold_case_held_more_air() -> None:
    """The same fall in a colder case is more free air of 20 °C."""
    cold = free_air_loss(40e3, 34e3, 60.0, volume=1e-3, temperature=273.15)
    assert cold == pytest.approx(1e-3 * 100.0 / 100e3 * 293.15 / 273.15, rel=1e-12)


def test_tight_case_has_no_hole() -> None:
    """Nothing lost, no hole; and the smallest loss makes one."""
    assert decay_leak_bore(40e3, 40e3, 60.0, volume=1e-3) == 0.0
    assert decay_leak_bore(40e3, 39.9e3, 60.0, volume=1e-3) > 0.0


@pytest.mark.parametrize("end", [0.0, 40.1e3])
def test_empty_case_has_no_finite_hole(end: float) -> None:
    """A case that was empty before the time was up, or gained, tells no hole."""
    with pytest.raises(OutOfRange, match="p_end"):
        decay_leak_bore(40e3, end, 60.0, volume=1e-3)


def test_vacuum_beyond_the_air_around() -> None:
    """No pump draws more than the air there is; a pressure above it is common."""
    with pytest.raises(OutOfRange, match="p_ambient: found 90000 Pa, allowed above 95000 Pa"):
        decay_leak_bore(95e3, 90e3, 60.0, volume=1e-3, under="vacuum", p_ambient=90e3)
    assert decay_leak_bore(95e3, 90e3, 60.0, volume=1e-3, p_ambient=90e3) > 0.0


@pytest.mark.parametrize("field", ["volume", "temperature", "gas_constant"])
def test_vessel_and_air_must_be_real(field: str) -> None:
    """Nothing is lost from nothing."""
    sizes: dict[str, Any] = {"volume": 1e-3, field: 0.0}
    with pytest.raises(OutOfRange, match=field):
        decay_leak_bore(40e3, 34e3, 60.0, **sizes)


@given(
    factor=st.floats(1.05, 4.0), start=st.floats(2e4, 6e4), share=st.floats(0.2, 0.98), time=st.floats(5, 900)
)
def test_hole_grows_with_the_case_and_shrinks_with_the_time(
    factor: float, start: float, share: float, time: float
) -> None:
    """Area goes with volume over time, whatever the pressures: the bore with its root."""
    one = decay_leak_bore(start, share * start, time, volume=0.5e-3)
    larger = decay_leak_bore(start, share * start, time, volume=0.5e-3 * factor)
    slower = decay_leak_bore(start, share * start, time * factor, volume=0.5e-3)
    assert larger == pytest.approx(one * factor**0.5, rel=1e-9)
    assert slower == pytest.approx(one / factor**0.5, rel=1e-9)
    assert decay_leak_bore(start, 0.9 * share * start, time, volume=0.5e-3) > one


def test_vacuum_and_pressure_find_one_hole() -> None:
    """By small differences of pressure the sense of the flow does not matter."""
    ways: tuple[Under, Under] = ("pressure", "vacuum")
    blown, drawn = (decay_leak_bore(500.0, 400.0, 60.0, volume=1e-3, under=way) for way in ways)
    assert blown == pytest.approx(drawn, rel=5e-3)
    assert blown != drawn
