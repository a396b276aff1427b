"""The doors through which readings become arrays."""

import numpy as np
import pytest

from inspect_report.mechanics.arrays import diameter_grid, row, shaped_like
from inspect_report.mechanics.errors import OutOfRange


def test_row_takes_lists_and_arrays() -> None:
    """Lists and arrays give the same row of floats."""
    assert (
        row("values", [1, 2], "m").tolist() == row("values", np.array([1.0, 2.0]), "m").tolist() == [1.0, 2.0]
    )


def test_row_refuses_too_few() -> None:
    """The message counts what is there."""
    with pytest.raises(OutOfRange, match="number of values: found 1, allowed at least 2"):
        row("values", [1.0], "m", at_least=2)


def test_row_refuses_a_table() -> None:
    """A table where a row is wanted is a mistake, not something to flatten."""
    with pytest.raises(OutOfRange, match="dimensions of values: found 2"):
        row("values", np.ones((2, 2)), "m")


def test_grid_refuses_a_row() -> None:
    """Diameters need heights and axes, told apart."""
    with pytest.raises(OutOfRange, match="dimensions of diameters: found 1"):
        diameter_grid(np.ones(3))


def test_grid_refuses_a_missing_reading() -> None:
    """A hole in the table is no diameter."""
    with pytest.raises(OutOfRange, match="diameters: found nan m, allowed above 0 m"):
        diameter_grid([[0.067, np.nan]])


def test_shape_follows_what_was_given() -> None:
    """A float gives a plain float, an array an array."""
    assert type(shaped_like(np.float64(1.0), 2.0)) is float
    assert isinstance(shaped_like(np.ones(2), np.ones(2)), np.ndarray)
