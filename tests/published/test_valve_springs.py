"""Lean and load of valve springs against pairs that makers print and against geometry."""

from math import cos, radians, sin

import pytest

from inspect_report.mechanics.valvetrain import spring_lean, spring_loss

MM = 1e-3


@pytest.mark.parametrize(("gap", "length"), [(1.6, 37.0), (1.7, 39.0), (1.8, 41.0)])
def test_pairs_of_gap_and_angle(gap: float, length: float) -> None:
    """Makers of motorcycle engines print 2.5° beside such gaps (from memory); 0.1 mm of rounding is 0.15°."""
    assert spring_lean(gap * MM, length * MM) == pytest.approx(2.5, abs=0.15 / 2)


def test_lean_by_geometry() -> None:
    """A spring of 40 mm turned by 2°: its upper end stands 40 sin 2° aside at a height of 40 cos 2°."""
    aside, height = 40 * sin(radians(2.0)), 40 * cos(radians(2.0))
    assert spring_lean(aside * MM, height * MM) == pytest.approx(2.0, rel=1e-12)


def test_a_tenth_of_the_load() -> None:
    """Common practice: a spring that has lost a tenth of its load is renewed; 180 of 200 N."""
    assert spring_loss(180.0, 200.0) == pytest.approx(0.1, rel=1e-12)
