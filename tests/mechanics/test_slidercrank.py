"""Crank geometry: ends of the stroke, symmetry, and volumes that cannot be."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics import slidercrank
from inspect_report.mechanics.errors import OutOfRange

angles = st.floats(-720.0, 720.0)


def test_ends_of_the_stroke() -> None:
    """The piston is at 0 at the top and at the stroke at the bottom."""
    assert slidercrank.piston_travel(0.0, 0.052, 0.095) == pytest.approx(0.0, abs=1e-15)
    assert slidercrank.piston_travel(180.0, 0.052, 0.095) == pytest.approx(0.052, rel=1e-12)


@given(angle=angles)
def test_travel_is_the_same_both_ways_round(angle: float) -> None:
    """Without pin offset the travel before and after the dead centre is one, and within the stroke."""
    travel = slidercrank.piston_travel(angle, 0.052, 0.095)
    assert travel == pytest.approx(slidercrank.piston_travel(-angle, 0.052, 0.095), abs=1e-15)
    assert -1e-12 <= travel <= 0.052 + 1e-12


def test_long_rod_gives_simple_harmonic_travel() -> None:
    """With an endless rod the travel is r (1 - cos)."""
    travel = slidercrank.piston_travel(70.0, 0.052, 1e6)
    assert travel == pytest.approx(0.026 * (1 - math.cos(math.radians(70.0))), abs=1e-9)


def test_rod_must_reach_over_the_crank() -> None:
    """A rod no longer than the crank's throw cannot turn."""
    with pytest.raises(OutOfRange, match=r"rod_length: found 0\.026 m, allowed above 0\.026 m"):
        slidercrank.piston_travel(0.0, 0.052, 0.026)


def test_volumes_at_the_dead_centres() -> None:
    """Clearance volume at the top, swept volume more at the bottom."""
    sizes = {"bore": 0.07, "stroke": 0.052, "rod_length": 0.095, "clearance_volume": 19e-6}
    swept = slidercrank.swept_volume(0.07, 0.052)
    assert slidercrank.volume_at(360.0, **sizes) == pytest.approx(19e-6, rel=1e-12)
    assert slidercrank.volume_at(180.0, **sizes) == pytest.approx(19e-6 + swept, rel=1e-12)


def test_each_part_of_the_clearance_counts_its_way() -> None:
    """A dome takes room, dish and pockets give it, a piston above the face takes it."""
    plain = slidercrank.clearance_volume(20e-6, gasket=2e-6, deck=1e-6)
    assert plain == pytest.approx(23e-6, rel=1e-12)
    whole = slidercrank.clearance_volume(20e-6, gasket=2e-6, deck=-1e-6, dome=3e-6, dish=5e-6, pockets=7e-6)
    assert whole == pytest.approx(30e-6, rel=1e-12)


def test_clearance_that_is_eaten_up() -> None:
    """A dome larger than its chamber is a mistake in the readings."""
    with pytest.raises(OutOfRange, match="clearance volume: found -"):
        slidercrank.clearance_volume(10e-6, gasket=1e-6, deck=0.0, dome=12e-6)


@pytest.mark.parametrize("part", ["gasket", "dome", "dish", "pockets"])
def test_no_part_is_negative(part: str) -> None:
    """Only the deck may be below 0."""
    with pytest.raises(OutOfRange, match=part):
        slidercrank.clearance_volume(20e-6, **{"gasket": 1e-6, "deck": 0.0, part: -1e-9})


def test_later_closing_lowers_the_effective_ratio() -> None:
    """The later the inlet closes the less is trapped; at the top nothing is compressed."""
    sizes = {"bore": 0.07, "stroke": 0.052, "rod_length": 0.095, "clearance_volume": 19e-6}
    ratios = [slidercrank.effective_ratio(angle, **sizes) for angle in (0.0, 40.0, 80.0, 180.0)]
    assert ratios == sorted(ratios, reverse=True)
    assert ratios[-1] == pytest.approx(1.0, rel=1e-12)


def test_estimate_is_gauge_pressure() -> None:
    """A ratio of 1 compresses nothing: the gauge stays at 0."""
    assert slidercrank.cranking_pressure_estimate(1.0) == 0.0
    with pytest.raises(OutOfRange, match="exponent"):
        slidercrank.cranking_pressure_estimate(9.0, exponent=1.5)


def test_deck_above_the_face_is_negative() -> None:
    """A piston that stands above the face takes volume away."""
    assert slidercrank.deck_volume(0.07, -0.0005) == -slidercrank.deck_volume(0.07, 0.0005) < 0.0
