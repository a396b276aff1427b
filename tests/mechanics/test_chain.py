"""Chains: new, worn, and the retard that follows."""

import math

import pytest

from inspect_report.mechanics.chain import cam_retard, elongation, pitch_radius, tensioner_used
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


def test_one_pitch_is_enough() -> None:
    """The least that can be measured over is one pitch."""
    assert elongation(0.0127, pitch=0.0127, pitches=1) == 0.0


@pytest.mark.parametrize(("length", "pitch", "name"), [(0.0, 0.0127, "length"), (0.1, 0.0, "pitch")])
def test_chain_without_a_length(length: float, pitch: float, name: str) -> None:
    """Both are above nothing."""
    with pytest.raises(OutOfRange, match=name):
        elongation(length, pitch=pitch, pitches=10)


def test_triangle_is_the_smallest_sprocket() -> None:
    """Three teeth make a triangle, whose corners lie side over √3 from its middle; two make nothing."""
    assert pitch_radius(0.0127, 3) == pytest.approx(0.0127 / math.sqrt(3.0))
    with pytest.raises(OutOfRange, match="teeth"):
        pitch_radius(0.0127, 2)
    with pytest.raises(OutOfRange, match="pitch"):
        pitch_radius(0.0, 30)


def test_a_short_chain_makes_early() -> None:
    """Retard follows the sign of the elongation, and a camshaft without a strand has none."""
    assert cam_retard(-0.01, span_length=0.2, sprocket_radius=0.04) < 0.0
    assert cam_retard(0.01, span_length=0.0, sprocket_radius=0.04) == 0.0


@pytest.mark.parametrize(
    ("elongation_", "span", "radius", "name"),
    [
        (-1.0, 0.2, 0.04, "elongation"),
        (0.01, -1e-9, 0.04, "span_length"),
        (0.01, 0.2, 0.0, "sprocket_radius"),
    ],
)
def test_retard_that_cannot_be(elongation_: float, span: float, radius: float, name: str) -> None:
    """No chain shrinks to nothing, no strand is shorter than nothing, no sprocket a point."""
    with pytest.raises(OutOfRange, match=name):
        cam_retard(elongation_, span_length=span, sprocket_radius=radius)


def test_tensioner_from_all_in_to_its_end() -> None:
    """0 and the whole stroke belong to it; beyond its end a plunger has fallen out."""
    assert (tensioner_used(0.0, 0.016), tensioner_used(0.016, 0.016)) == (0.0, 1.0)
    for travel in (-0.001, 0.0161):
        with pytest.raises(OutOfRange, match="travel"):
            tensioner_used(travel, 0.016)
    with pytest.raises(OutOfRange, match="stroke"):
        tensioner_used(0.0, 0.0)
