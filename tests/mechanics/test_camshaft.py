"""Cam events: signs, edges, and what moves when a camshaft is turned."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics import camshaft
from inspect_report.mechanics.errors import OutOfRange

angles = st.floats(-20.0, 90.0)


@given(opens=angles, closes=angles, shift=st.floats(-15.0, 15.0))
def test_advance_moves_the_centre_alone(opens: float, closes: float, shift: float) -> None:
    """Opening earlier and closing earlier by one angle leaves the duration and moves the centre by it."""
    before, after = (opens, closes), (opens + shift, closes - shift)
    assert camshaft.duration(*after) == pytest.approx(camshaft.duration(*before))
    assert camshaft.inlet_lobe_centre(*after) == pytest.approx(camshaft.inlet_lobe_centre(*before) - shift)


@given(opens=angles, closes=angles)
def test_exhaust_mirrors_inlet(opens: float, closes: float) -> None:
    """The exhaust centre before top is the inlet centre after top with the angles exchanged."""
    exhaust = camshaft.exhaust_lobe_centre(closes, opens)
    assert exhaust == pytest.approx(camshaft.inlet_lobe_centre(opens, closes))


def test_late_opening_is_negative() -> None:
    """An inlet that opens 5 after top and closes 35 after bottom is 210 long, with centre 110."""
    assert camshaft.duration(-5.0, 35.0) == 210.0
    assert camshaft.inlet_lobe_centre(-5.0, 35.0) == 110.0
    assert camshaft.overlap(-5.0, 2.0) == -3.0


def test_valve_that_never_opens() -> None:
    """Closing before opening is refused."""
    with pytest.raises(OutOfRange, match="duration"):
        camshaft.duration(-100.0, -80.0)


@pytest.mark.parametrize("angle", [181.0, -181.0])
def test_angle_from_the_wrong_dead_centre(angle: float) -> None:
    """An angle of more than half a turn was counted from another dead centre."""
    with pytest.raises(OutOfRange, match="opens"):
        camshaft.inlet_lobe_centre(angle, 40.0)
