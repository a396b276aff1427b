"""Growth of a ring's end gap against figures printed in government manuals."""

import math

import pytest

from inspect_report.mechanics.bore import ring_gap_growth


def test_three_for_one() -> None:
    """TM 5-3805-261-34 sheet 8 (seen): .003 per .001 in of bore, pi rounded to a whole: 5 %."""
    assert ring_gap_growth(0.001) == pytest.approx(0.003, rel=0.05)


def test_misprinted_undersize() -> None:
    """TM 5-3825-229-14&P p. 6-24 (seen): 0.0012 in less closes the gap 0.0031 in; pi gives 0.0038."""
    growth = ring_gap_growth(-0.0012)
    assert growth == pytest.approx(-0.0038, abs=5e-5)
    assert 1 - 0.0031 / -growth == pytest.approx(0.18, abs=0.005)


def test_wear_on_the_wall_counts_twice() -> None:
    """TM 5-6115-593-34 p. 1-9 (seen): .003 for .001 in of wall wear; a wall truly counts twice."""
    assert ring_gap_growth(2 * 0.001) == pytest.approx(0.0063, abs=5e-5)
    assert ring_gap_growth(0.001) == pytest.approx(0.001 * math.pi, rel=1e-12)
