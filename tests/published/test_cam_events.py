"""Lobe centres, duration and overlap against worked examples of the trade."""

import pytest

from inspect_report.mechanics.camshaft import (
    duration,
    exhaust_lobe_centre,
    inlet_lobe_centre,
    lobe_separation,
    overlap,
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
