"""Chains: new, worn, and the retard that follows."""

import math

import pytest

from inspect_report.mechanics.chain import cam_retard, elongation, pitch_radius
from inspect_report.mechanics.errors import OutOfRange


def test_new_chain_has_no_elongation() -> None:
    """Nominal length is 0; a length read a little short is a little below."""
    assert elongation(0.127, pitch=0.00635, pitches=20) == pytest.approx(0.0, abs=1e-12)
    assert elongation(0.1269, pitch=0.00635, pitches=20) < 0.0


def test_pitch_radius_of_a_hexagon() -> None:
    """Six teeth make a hexagon, whose corner radius is its side."""
    assert pitch_radius(0.00635, 6) == pytest.approx(0.00635, rel=1e-12)


def test_many_teeth_make_a_circle() -> None:
    """The pitch polygon of many teeth is as long as its circle."""
    assert 2 * math.pi * pitch_radius(0.00635, 2000) == pytest.approx(2000 * 0.00635, rel=1e-6)


def test_retard_is_doubled_for_the_crank() -> None:
    """A growth of one radius of arc is one radian at the cam, two at the crank."""
    assert cam_retard(0.5, span_length=0.1, sprocket_radius=0.05) == pytest.approx(math.degrees(2.0))


@pytest.mark.parametrize("count", [0, -3])
def test_chain_measured_over_nothing(count: int) -> None:
    """At least one pitch is measured."""
    with pytest.raises(OutOfRange, match="pitches"):
        elongation(0.1, pitch=0.00635, pitches=count)
