"""The cheapest pairing: against every pairing there is, and where costs are too long for floating point."""

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_report.mechanics.assignment import cheapest_assignment
from inspect_report.mechanics.errors import OutOfRange

WHOLE = st.integers(-9, 9)


@st.composite
def tables(draw: st.DrawFn) -> list[list[int]]:
    """Up to four rows of up to five whole costs."""
    width = draw(st.integers(1, 5))
    return draw(st.lists(st.lists(WHOLE, min_size=width, max_size=width), min_size=1, max_size=min(width, 4)))


@given(tables())
@settings(deadline=None)
def test_no_pairing_is_cheaper(costs: list[list[int]]) -> None:
    """Tried out one by one; no column is taken twice."""
    taken = cheapest_assignment(costs)
    every = permutations(range(len(costs[0])), len(costs))
    assert len(set(taken)) == len(costs)
    assert sum(costs[row][column] for row, column in enumerate(taken)) == min(
        sum(costs[row][column] for row, column in enumerate(way)) for way in every
    )


def test_costs_longer_than_floating_point_are_added_exactly() -> None:
    """Beside 10^30 a difference of 1 decides, which 15 digits do not hold."""
    much = 10**30
    assert cheapest_assignment([[much + 1, much], [much, much + 1]]) == (1, 0)
    assert cheapest_assignment([[much, much + 1], [much + 1, much]]) == (0, 1)


def test_no_row_has_no_pairing() -> None:
    """Nothing to pair."""
    assert cheapest_assignment([]) == ()


def test_fewer_columns_than_rows() -> None:
    """Two rows cannot share a column."""
    with pytest.raises(OutOfRange, match="number of columns"):
        cheapest_assignment([[1], [2]])


@pytest.mark.parametrize("costs", [[[1, 2], [3]], [[1], [3, 4]], [[1, 2], [1, 2, 3]]])
def test_rows_of_different_lengths(costs: list[list[int]]) -> None:
    """A table has as many columns in every row."""
    with pytest.raises(OutOfRange, match=r"number of columns|columns of a row"):
        cheapest_assignment(costs)
