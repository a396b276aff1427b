"""Turns what each pairing of rows with columns costs into the pairing that costs least altogether."""

from collections.abc import Sequence

from inspect_report.mechanics.errors import require


def cheapest_assignment(costs: Sequence[Sequence[float]]) -> tuple[int, ...]:
    r"""
    A column for each row, no column twice, so that the sum of the costs is least.

    .. math:: \min_\pi \sum_i c_{i \pi(i)}

    Whole numbers of any size are added without rounding, so that several aims can be put into one cost, the
    weightier in front. A library's solver adds in floating point, which holds 15 digits: too few for that.

    Args:
        costs: Cost of each row at each column, at least as many columns as rows. [1]

    Returns:
        Number of the column of each row, from 0. [count]

    Raises:
        OutOfRange: rows of different lengths, fewer columns than rows, or a cost that is no number.

    Shapes: ``(n_rows, n_columns)`` in, ``(n_rows,)`` out. Holds for: any costs, negative ones too; exact for
    whole numbers.
    Source: method of shortest augmenting paths with dual prices (Kuhn 1955, Munkres 1957; from memory).
    Checked in: tests/published/test_assignment.py.

    >>> cheapest_assignment([[4, 1, 3], [2, 0, 5], [3, 2, 2]])
    (1, 0, 2)
    """
    width = len(costs[0]) if costs else 0
    require("number of columns", width, "1", at_least=len(costs))
    for row in costs:
        require("columns of a row", len(row), "1", at_least=width, at_most=width)
        for cost in row:
            require("cost", cost, "1")
    return _solved(costs, width)


def _solved(costs: Sequence[Sequence[float]], width: int) -> tuple[int, ...]:
    row_price: list[float] = [0] * len(costs)
    column_price: list[float] = [0] * width
    row_of: list[int | None] = [None] * width
    for row in range(len(costs)):
        _add(row, costs, row_price, column_price, row_of)
    column_of = {row: column for column, row in enumerate(row_of) if row is not None}
    return tuple(column_of[row] for row in range(len(costs)))


def _add(
    row: int,
    costs: Sequence[Sequence[float]],
    row_price: list[float],
    column_price: list[float],
    row_of: list[int | None],
) -> None:
    """One row more, by the cheapest path of exchanges that ends at a free column."""
    width = len(column_price)
    best: list[float | None] = [None] * width
    came_from: list[int | None] = [None] * width
    done: list[int] = []
    here: int | None = row
    at: int | None = None
    while here is not None:
        for column in (c for c in range(width) if c not in done):
            dearer = costs[here][column] - row_price[here] - column_price[column]
            known = best[column]
            if known is None or dearer < known:
                best[column], came_from[column] = dearer, at
        step, at = min((b, c) for c, b in enumerate(best) if b is not None and c not in done)
        _reprice(step, row, done, best, row_price, column_price, row_of)
        done.append(at)
        here = row_of[at]
    _exchange(row, at, came_from, row_of)


def _reprice(
    step: float,
    row: int,
    done: Sequence[int],
    best: list[float | None],
    row_price: list[float],
    column_price: list[float],
    row_of: Sequence[int | None],
) -> None:
    """Prices moved by a step, after which the column reached costs no more than it is worth."""
    row_price[row] += step
    for column in done:
        holder = row_of[column]
        if holder is not None:
            row_price[holder] += step
        column_price[column] -= step
    for column, known in enumerate(best):
        if known is not None and column not in done:
            best[column] = known - step


def _exchange(row: int, at: int | None, came_from: Sequence[int | None], row_of: list[int | None]) -> None:
    """Each column on the path handed to the row before it; the first to the row that came in."""
    while at is not None:
        before = came_from[at]
        row_of[at] = row if before is None else row_of[before]
        at = before
