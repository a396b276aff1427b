"""Turns readings and counts that are judged as they stand into quantities, place by place."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from inspect_report.measure.bench import Bench, Result, mean
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position
from inspect_report.telling.manner import message, say

READ: Final = frozenset({"reading", "count"})


def as_read(item: str, wears: str) -> Callable[[Bench, Position], Result]:
    """
    A reading as it stands.

    Where the item is read at more places than it is judged at, the greatest counts for what grows with wear,
    the least for what shrinks, else the mean.
    """

    def way(bench: Bench, at: Position) -> Result:
        readings = bench.some(item, at)
        return bench.as_read(readings[0]) if len(readings) == 1 else _one_of(bench, readings, wears)

    return way


def _one_of(bench: Bench, readings: Sequence[Reading], wears: str) -> Result:
    patterns = {"up": message("greatest of {count} places"), "down": message("least of {count} places")}
    note = say(patterns.get(wears, message("mean of {count} places")), count=len(readings))
    pick = {"up": max, "down": min}.get(wears)
    if pick is None:
        found = bench.result(mean_of, readings, readings[0].dimension, note=note)
        return replace(found, formula="reading")
    picked = bench.as_read(pick(readings, key=lambda r: bench.input(r).value))
    return replace(picked, readings=tuple(readings), note=note)


def mean_of(*values: float) -> float:
    """Mean of some values."""
    return mean(values)
