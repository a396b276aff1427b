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


def test_late_is_positive_on_both_sides() -> None:
    """An inlet centre further after top is late; an exhaust centre nearer before top is late."""
    assert camshaft.inlet_lateness(112.0, 108.0) == 4.0
    assert camshaft.exhaust_lateness(108.0, 112.0) == 4.0
    assert camshaft.inlet_lateness(104.0, 108.0) == -4.0


@given(opens=angles, closes=angles, late=st.floats(-30.0, 30.0))
def test_a_camshaft_turned_late_is_late_by_that(opens: float, closes: float, late: float) -> None:
    """Opening and closing later by one angle is late by it, on both sides."""
    inlet, target_i = (
        camshaft.inlet_lobe_centre(opens - late, closes + late),
        camshaft.inlet_lobe_centre(opens, closes),
    )
    exhaust, target_e = (
        camshaft.exhaust_lobe_centre(opens - late, closes + late),
        camshaft.exhaust_lobe_centre(opens, closes),
    )
    assert camshaft.inlet_lateness(inlet, target_i) == pytest.approx(late, abs=1e-9)
    assert camshaft.exhaust_lateness(exhaust, target_e) == pytest.approx(late, abs=1e-9)


def test_teeth_of_a_sprocket() -> None:
    """One tooth of 36 is 10 degrees of the camshaft, 20 of the crank; early is negative."""
    assert camshaft.teeth_out(20.0, 36) == pytest.approx(1.0)
    assert camshaft.teeth_out(-40.0, 36) == pytest.approx(-2.0)
    with pytest.raises(OutOfRange, match="teeth"):
        camshaft.teeth_out(20.0, 2)
    assert camshaft.teeth_out(240.0, 3) == pytest.approx(1.0)


@given(
    start=st.floats(0.0, 340.0),
    inlet=st.floats(80.0, 130.0),
    exhaust=st.floats(80.0, 130.0),
    turn=st.sampled_from([0, 1]),
)
def test_misfit_does_not_depend_on_the_dead_centre_counted_from(
    start: float, inlet: float, exhaust: float, turn: int
) -> None:
    """From any dead centre of the cycle, right cams fit, and one turned by half stands a crank turn off."""
    at = {"inlet_centre": inlet, "exhaust_centre": exhaust}
    full_exhaust, full_inlet = start, (start + exhaust + inlet + 360.0 * turn) % 720.0
    assert camshaft.stroke_misfit(full_inlet, full_exhaust, **at) == pytest.approx(360.0 * turn, abs=1e-9)


def test_misfit_keeps_its_sign_near_the_fit() -> None:
    """A few degrees of reading error on either side stay small, and do not become two turns."""
    at = {"inlet_centre": 110.0, "exhaust_centre": 110.0}
    assert camshaft.stroke_misfit(475.0, 250.0, **at) == 5.0
    assert camshaft.stroke_misfit(465.0, 250.0, **at) == -5.0
    assert camshaft.stroke_misfit(105.0, 250.0, **at) == 355.0


@pytest.mark.parametrize(
    ("inlet", "exhaust", "name"), [(721.0, 0.0, "inlet_full"), (0.0, -721.0, "exhaust_full")]
)
def test_full_lift_counted_over_more_than_two_turns(inlet: float, exhaust: float, name: str) -> None:
    """The cycle has two turns; its ends belong to it."""
    with pytest.raises(OutOfRange, match=name):
        camshaft.stroke_misfit(inlet, exhaust, inlet_centre=110.0, exhaust_centre=110.0)
    camshaft.stroke_misfit(720.0, -720.0, inlet_centre=110.0, exhaust_centre=110.0)


def test_lobe_wear_of_a_new_lobe_is_nothing() -> None:
    """A lobe above its new size reads below nothing."""
    assert camshaft.lobe_wear(0.0357, 0.0357) == 0.0
    assert camshaft.lobe_wear(0.0358, 0.0357) < 0.0


@pytest.mark.parametrize(("height", "new", "name"), [(0.0, 0.03, "height"), (0.03, 0.0, "new")])
def test_lobe_without_a_height(height: float, new: float, name: str) -> None:
    """Both heights are above nothing."""
    with pytest.raises(OutOfRange, match=name):
        camshaft.lobe_wear(height, new)


def test_round_lobe_has_no_lift() -> None:
    """A lobe as high as its base circle lifts nothing; one lower than it is misread."""
    assert camshaft.lobe_lift(0.028, 0.028) == 0.0
    with pytest.raises(OutOfRange, match="height"):
        camshaft.lobe_lift(0.027, 0.028)
    with pytest.raises(OutOfRange, match="base_circle"):
        camshaft.lobe_lift(0.027, 0.0)


@pytest.mark.parametrize("angle", [361.0, -361.0])
def test_centre_beyond_a_turn(angle: float) -> None:
    """A lobe centre lies within a turn of its dead centre, the turn itself included."""
    with pytest.raises(OutOfRange, match="centre"):
        camshaft.inlet_lateness(angle, 110.0)
    with pytest.raises(OutOfRange, match="target"):
        camshaft.inlet_lateness(110.0, angle)
    with pytest.raises(OutOfRange, match="inlet_centre"):
        camshaft.lobe_separation(angle, 110.0)
    with pytest.raises(OutOfRange, match="exhaust_centre"):
        camshaft.lobe_separation(110.0, angle)
    assert camshaft.inlet_lateness(360.0, -360.0) == 720.0
    assert camshaft.lobe_separation(360.0, -360.0) == 0.0


@pytest.mark.parametrize("angle", [181.0, -181.0])
def test_closing_and_overlap_from_the_wrong_dead_centre(angle: float) -> None:
    """Each event has its own dead centre, at most half a turn away, half a turn included."""
    with pytest.raises(OutOfRange, match="closes"):
        camshaft.duration(60.0, angle)
    with pytest.raises(OutOfRange, match="inlet_opens"):
        camshaft.overlap(angle, 10.0)
    with pytest.raises(OutOfRange, match="exhaust_closes"):
        camshaft.overlap(10.0, angle)
    assert camshaft.overlap(180.0, -180.0) == 0.0
    assert camshaft.duration(180.0, 180.0) == 540.0
    assert camshaft.duration(180.0, -180.0) == 180.0
    assert camshaft.duration(-180.0, 180.0) == 180.0


def test_duration_of_nothing() -> None:
    """A valve that closes as it opens never opens."""
    with pytest.raises(OutOfRange, match="duration"):
        camshaft.duration(-90.0, -90.0)


def test_the_other_ends_belong_to_the_ranges_too() -> None:
    """Half a turn for events, a turn for centres, two turns for full lift, on either side."""
    assert camshaft.overlap(-180.0, 180.0) == 0.0
    assert camshaft.lobe_separation(-360.0, 360.0) == 0.0
    assert camshaft.inlet_lateness(-360.0, 360.0) == -720.0
    assert camshaft.stroke_misfit(-720.0, 720.0, inlet_centre=0.0, exhaust_centre=0.0) == 0.0


def test_the_shortest_opening() -> None:
    """A valve that is open for half a degree is open."""
    assert camshaft.duration(-90.0, -89.5) == 0.5
