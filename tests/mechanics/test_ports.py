"""Ports of a two-stroke: heights into angles, and what follows from them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.ports import blowdown, port_duration, port_opens
from inspect_report.mechanics.slidercrank import crank_angle_at, piston_travel

KART = {"stroke": 54.4e-3, "rod_length": 110e-3}


def test_port_at_the_dead_centres() -> None:
    """An edge level with the piston at the top opens at once, one at the end of the stroke at 180°."""
    assert port_opens(0.3e-3, deck_height=0.3e-3, **KART) == pytest.approx(0.0, abs=1e-5)
    assert port_opens(54.7e-3, deck_height=0.3e-3, **KART) == pytest.approx(180.0, abs=1e-5)


def test_piston_that_stands_proud_opens_later() -> None:
    """A deeper piston is at the port sooner; one that stands above the face has further to go."""
    deep, level, proud = (port_opens(27e-3, deck_height=d * 1e-3, **KART) for d in (0.5, 0.0, -0.5))
    assert deep < level < proud


@given(angle=st.floats(1.0, 179.0), deck=st.floats(-1e-3, 1e-3))
def test_angle_of_a_height_leads_back_to_it(angle: float, deck: float) -> None:
    """The height at which the piston stands at an angle opens at that angle."""
    height = piston_travel(angle, **KART) + deck
    assert port_opens(height, deck_height=deck, **KART) == pytest.approx(angle, abs=1e-6)


@pytest.mark.parametrize("height", [-0.1e-3, 54.5e-3])
def test_port_beyond_the_stroke(height: float) -> None:
    """An edge the piston never reaches has no angle."""
    with pytest.raises(OutOfRange, match=r"travel: found .* allowed at least 0 m and at most 0\.0544 m"):
        port_opens(height, deck_height=0.0, **KART)


def test_rod_must_reach_over_the_crank() -> None:
    """A rod no longer than the crank's throw cannot turn."""
    with pytest.raises(OutOfRange, match="rod_length"):
        crank_angle_at(0.01, 0.052, 0.026)


def test_half_turn_of_opening() -> None:
    """A port that opens at 90° is open for half a turn; one at 180° for nothing."""
    assert [port_duration(a) for a in (0.0, 90.0, 180.0)] == [360.0, 180.0, 0.0]


def test_blowdown_has_a_sign() -> None:
    """Transfers that open before the exhaust give less than nothing."""
    assert blowdown(80.0, 114.0) == 34.0
    assert blowdown(114.0, 80.0) == -34.0


@pytest.mark.parametrize("angles", [(-1.0, 90.0), (90.0, 181.0), (181.0, 90.0), (90.0, -1.0)])
def test_angles_beyond_half_a_turn(angles: tuple[float, float]) -> None:
    """A port opens on the way down."""
    with pytest.raises(OutOfRange, match="opens"):
        blowdown(*angles)
    with pytest.raises(OutOfRange, match="opens"):
        port_duration(min(angles) if min(angles) < 0 else max(angles))
