"""Bores: the worst place decides, and missing directions are told."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from inspect_report.mechanics import bore
from inspect_report.mechanics.errors import OutOfRange

MM = 1e-3
grids = arrays(np.float64, (3, 2), elements=st.floats(66.9 * MM, 67.2 * MM))


@given(grid=grids)
def test_turning_the_table_changes_nothing(grid: np.ndarray) -> None:
    """Heights read from below, or axes taken the other way round, give the same wear, taper and roundness."""
    for formula in (bore.taper, bore.out_of_round, lambda diameters: bore.wear(diameters, 67 * MM)):
        assert formula(grid) == formula(grid[::-1, ::-1])


@given(grid=grids)
def test_taper_of_the_turned_table_is_roundness(grid: np.ndarray) -> None:
    """Exchanging heights and axes exchanges the two."""
    assert bore.taper(grid) == bore.out_of_round(grid.T)


def test_round_and_straight_bore() -> None:
    """Equal readings have neither taper nor out-of-round, and wear like any one of them."""
    grid = np.full((3, 2), 67.03 * MM)
    assert (bore.taper(grid), bore.out_of_round(grid)) == (0.0, 0.0)
    assert bore.wear(grid, 67.0 * MM) == pytest.approx(0.03 * MM, abs=1e-12)


def test_taper_is_along_one_axis() -> None:
    """Largest and smallest on different axes do not make a taper: 0.03 along, 0.01 across."""
    grid = np.array([[67.03, 67.05], [67.00, 67.04]]) * MM
    assert bore.taper(grid) == pytest.approx(0.03 * MM, abs=1e-12)


def test_out_of_round_is_at_one_height() -> None:
    """The worst height counts, 0.04, not the whole spread of 0.05."""
    grid = np.array([[67.03, 67.05], [67.00, 67.04]]) * MM
    assert bore.out_of_round(grid) == pytest.approx(0.04 * MM, abs=1e-12)


def test_one_height_shows_no_taper() -> None:
    """One height, one axis: not zero, but not known."""
    with pytest.raises(OutOfRange, match="heights of diameters: found 1, allowed at least 2"):
        bore.taper([[0.067, 0.067]])
    with pytest.raises(OutOfRange, match="axes of diameters: found 1, allowed at least 2"):
        bore.out_of_round([[0.067], [0.067]])


def test_tight_piston_is_negative() -> None:
    """A piston larger than its bore is an interference, and told as one."""
    assert bore.piston_clearance([[67.00 * MM]], 67.01 * MM) == pytest.approx(-0.01 * MM, abs=1e-12)


def test_side_clearance() -> None:
    """Groove less ring; a groove of no width is refused."""
    assert bore.side_clearance(1.03 * MM, 0.98 * MM) == pytest.approx(0.05 * MM, abs=1e-12)
    with pytest.raises(OutOfRange, match="groove_width"):
        bore.side_clearance(0.0, 0.98 * MM)
