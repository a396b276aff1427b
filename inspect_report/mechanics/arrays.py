"""Turns the tables of readings that callers pass into checked float arrays."""

from collections.abc import Sequence
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from inspect_report.mechanics.errors import require

Array = NDArray[np.float64]
Readings = Sequence[float] | Array
Grid = Sequence[Sequence[float]] | Array
Number = TypeVar("Number", float, Array)


def row(name: str, values: Readings, unit: str, *, at_least: int = 1) -> Array:
    """The values as a one-dimensional array of finite numbers, `at_least` of them."""
    array = np.asarray(values, dtype=np.float64)
    require(f"dimensions of {name}", array.ndim, "1", at_least=1, at_most=1)
    require(f"number of {name}", array.size, "1", at_least=at_least)
    require(name, array, unit)
    return array


def diameter_grid(diameters: Grid, *, heights: int = 1, axes: int = 1) -> Array:
    """Diameters above 0 as an array of heights by axes, with at least so many of each."""
    array = np.asarray(diameters, dtype=np.float64)
    require("dimensions of diameters", array.ndim, "1", at_least=2, at_most=2)
    require("heights of diameters", array.shape[0], "1", at_least=heights)
    require("axes of diameters", array.shape[1], "1", at_least=axes)
    require("diameters", array, "m", above=0.0)
    return array


def shaped_like(result: float | Array, given: Number) -> Number:
    """A plain float where plain numbers were given, an array where arrays were."""
    return float(result) if np.ndim(result) == 0 else result  # type: ignore[return-value]
