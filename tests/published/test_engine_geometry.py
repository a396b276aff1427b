"""Swept volume, piston travel, compression ratio and squish against worked examples in print."""

import pytest

from inspect_report.mechanics.ports import port_opens
from inspect_report.mechanics.slidercrank import (
    clearance_volume,
    compression_ratio,
    crank_angle_at,
    deck_volume,
    effective_ratio,
    piston_travel,
    swept_volume,
    volume_at,
)
from inspect_report.mechanics.squish import gasket_volume, squish_gap
from tests.published.figures import INCH

CUBIC_INCH, CC, MM = INCH**3, 1e-6, 1e-3


def test_magazine_example_of_a_ratio() -> None:
    """
    Circle Track magazine, "Calculating compression" (seen): 9.97.

    Bore 4.000, stroke 3.48, deck 0.033, gasket 4 x 0.020 in, dish 5 cc, chamber 64 cc. Bore, stroke and deck
    are inferred from the volumes printed: 43.731, 0.41469 and 0.251328 in3.
    """
    swept = swept_volume(4 * INCH, 3.48 * INCH)
    gasket, deck = gasket_volume(4 * INCH, 0.020 * INCH), deck_volume(4 * INCH, 0.033 * INCH)
    assert swept / CUBIC_INCH == pytest.approx(43.731, abs=0.001)
    assert gasket / CUBIC_INCH == pytest.approx(0.251328, abs=2e-6)
    assert deck / CUBIC_INCH == pytest.approx(0.41469, abs=1e-5)
    ratio = compression_ratio(swept, clearance_volume(64 * CC, gasket=gasket, deck=deck, dish=5 * CC))
    assert ratio == pytest.approx(9.97, abs=0.005)
    assert squish_gap(0.020 * INCH, 0.033 * INCH) / INCH == pytest.approx(0.053, rel=1e-12)


@pytest.mark.parametrize(
    ("bore", "stroke", "cylinders", "cubic_inches", "tolerance"),
    [(3.5, 3.0, 6, 173.2, 0.05), (4.0, 3.52, 8, 353.86, 0.02)],
)
def test_displacements(
    bore: float, stroke: float, cylinders: int, cubic_inches: float, tolerance: float
) -> None:
    """Two trade pages (engineproblem.com.au, oldgreasemonkey.com; seen), to their rounding."""
    assert cylinders * swept_volume(bore, stroke) == pytest.approx(cubic_inches, abs=tolerance)


def test_gasket_of_a_forum_post() -> None:
    """A forum post (turbobricks 5425925, seen) prints 8.961 cm3 with pi = 3.14285; exact pi gives 8.958."""
    assert gasket_volume(87.2 * MM, 1.5 * MM) / CC == pytest.approx(8.961 / 3.14285 * 3.14159, abs=0.001)


def test_trap_in_the_same_post() -> None:
    """
    The post's ratio of 10.285 leaves the ring land out below the line; rightly added up it is 10.07.

    Piston 0.65 mm above the face over 86.15 mm, flycut 2.1, ring land 0.925, chamber 36 cc.
    """
    above = deck_volume(86.15 * MM, 0.65 * MM)
    clearance = clearance_volume(
        36 * CC, gasket=gasket_volume(87.2 * MM, 1.5 * MM), deck=-above, pockets=(2.1 + 0.925) * CC
    )
    assert compression_ratio(swept_volume(87 * MM, 67.4 * MM), clearance) == pytest.approx(10.07, abs=0.01)


def test_piston_at_inlet_closing() -> None:
    """Article "Static vs dynamic compression ratio" (seen): 3.48 and 5.7 in, 70 deg: 0.9053 in risen."""
    assert 3.48 - piston_travel(250.0, 3.48, 5.7) == pytest.approx(0.9053, abs=0.0001)


def test_textbook_engine() -> None:
    """
    Pulkrabek, Engineering Fundamentals of the IC Engine, example 2-1 (from memory): three litre square V6.

    Bore and stroke 8.60 cm, rod 16.6 cm, ratio 9.5; Vc 58.8 cm3; at 20 deg the piston is 0.3247 cm down and
    the volume 77.70 cm3. Three figures: 0.1 %.
    """
    swept = swept_volume(8.6e-2, 8.6e-2)
    clearance = swept / 8.5
    assert clearance / CC == pytest.approx(58.8, rel=1e-3)
    assert piston_travel(20.0, 8.6, 16.6) == pytest.approx(0.3247, rel=1e-3)
    volume = volume_at(20.0, bore=8.6e-2, stroke=8.6e-2, rod_length=16.6e-2, clearance_volume=clearance)
    assert volume / CC == pytest.approx(77.70, rel=1e-3)


def test_full_stroke_gives_the_whole_ratio() -> None:
    """By definition: an inlet that closes at the bottom leaves the ratio whole."""
    ratio = effective_ratio(0.0, bore=0.07, stroke=0.052, rod_length=0.095, clearance_volume=19.059e-6)
    assert ratio == pytest.approx(compression_ratio(swept_volume(0.07, 0.052), 19.059e-6), rel=1e-12)


def test_crank_angle_of_a_travel() -> None:
    """The article's and the textbook's travels, read the other way; four figures give 0.02 and 0.05 deg."""
    assert 360.0 - crank_angle_at(3.48 - 0.9053, 3.48, 5.7) == pytest.approx(250.0, abs=0.02)
    assert crank_angle_at(0.3247, 8.6, 16.6) == pytest.approx(20.0, abs=0.05)


def test_port_of_a_square_corner() -> None:
    """
    Where rod and crank stand square to each other: tan θ = l / r by elementary geometry.

    Rod 105 mm on a 56 mm stroke (a 3.75 to 1 triangle): the crank stands at 75.07 deg and the piston is
    r + l - sqrt(r² + l²) = 24.331 mm down; worked by hand.
    """
    found = port_opens(24.531 * MM, deck_height=0.2 * MM, stroke=56 * MM, rod_length=105 * MM)
    assert found == pytest.approx(75.07, abs=0.005)
