"""Lobe centres, duration and overlap against worked examples of the trade."""

import pytest

from inspect_report.mechanics.camshaft import (
    duration,
    exhaust_lateness,
    exhaust_lobe_centre,
    inlet_lateness,
    inlet_lobe_centre,
    late_beyond_chain,
    lobe_lift,
    lobe_separation,
    lobe_wear,
    overlap,
    stroke_misfit,
    teeth_out,
)


def test_worked_centre() -> None:
    """A thread (forabodiesonly.com 1970493881, seen): 6-42 is 228 long, its centre 108; overlap 18."""
    assert duration(6, 42) == 228
    assert inlet_lobe_centre(6, 42) == 108
    assert overlap(6, 12) == 18


def test_symmetrical_pair() -> None:
    """A page on tuning (ausmini.com 237565; durations seen, the rest worked): 20-60 / 60-20."""
    assert (duration(20, 60), duration(60, 20)) == (260, 260)
    assert (inlet_lobe_centre(20, 60), exhaust_lobe_centre(60, 20)) == (110, 110)
    assert lobe_separation(110, 110) == 110
    assert overlap(20, 20) == 40


@pytest.mark.parametrize(("inlet", "exhaust", "shift"), [((25, 55), (65, 15), 5), ((15, 65), (55, 25), -5)])
def test_cam_moved_on_its_sprocket(
    inlet: tuple[float, float], exhaust: tuple[float, float], shift: float
) -> None:
    """The same pair advanced and retarded by 5 crank degrees: centres move, duration and separation stay."""
    centres = inlet_lobe_centre(*inlet), exhaust_lobe_centre(*exhaust)
    assert centres == (110 - shift, 110 + shift)
    assert (duration(*inlet), duration(*exhaust)) == (260, 260)
    assert lobe_separation(*centres) == 110


def test_centre_from_duration_and_overlap() -> None:
    """A maker's specification (starquestclub.com 149479, seen): 264 long, overlap 45, centre 109.5."""
    assert inlet_lobe_centre(22.5, 264 - 180 - 22.5) == 109.5


@pytest.mark.parametrize(("inlet", "exhaust", "late"), [((25, 55), (65, 15), -5), ((15, 65), (55, 25), 5)])
def test_retarded_pair_is_late_on_both_sides(
    inlet: tuple[float, float], exhaust: tuple[float, float], late: float
) -> None:
    """The pair of ausmini.com 237565 (seen) moved by 5 degrees, worked: late is positive on both sides."""
    assert inlet_lateness(inlet_lobe_centre(*inlet), 110) == late
    assert exhaust_lateness(exhaust_lobe_centre(*exhaust), 110) == late


def test_one_tooth_by_the_rule_of_thumb() -> None:
    """Common practice: one tooth is 720 over the teeth of the cam sprocket in crank degrees; 36 teeth, 20."""
    assert teeth_out(720 / 36, 36) == pytest.approx(1.0)


def test_cycle_of_the_published_pair() -> None:
    """Geometry, no publication found: from the firing dead centre 20-60 / 60-20 is fullest at 470 and 250."""
    exhaust_opens, exhaust_closes = 180 - 60, 360 + 20
    inlet_opens, inlet_closes = 360 - 20, 540 + 60
    middles = (inlet_opens + inlet_closes) / 2, (exhaust_opens + exhaust_closes) / 2
    centres = {"inlet_centre": inlet_lobe_centre(20, 60), "exhaust_centre": exhaust_lobe_centre(60, 20)}
    assert middles == pytest.approx((470.0, 250.0))
    assert stroke_misfit(*middles, **centres) == 0
    assert stroke_misfit(middles[0] - 360, middles[1], **centres) == 360


def test_lobe_by_definition() -> None:
    """Definition: heights and base circle by subtraction; what a chain does not explain likewise."""
    assert lobe_wear(35.55, 35.67) == pytest.approx(0.12)
    assert lobe_lift(35.65, 27.95) == pytest.approx(7.70)
    assert late_beyond_chain(7.0, 6.5) == pytest.approx(0.5)
