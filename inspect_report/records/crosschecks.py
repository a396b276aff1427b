"""Turns readings that cannot stand beside each other into faults: a cylinder gauge above its supply."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from inspect_report.records.faults import Faults
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position


@dataclass(frozen=True, slots=True)
class NotAbove:
    """Readings of ``lower`` never exceed those of ``upper`` at the same place; ``why`` in words."""

    lower: str
    upper: str
    why: str


NOT_ABOVE: Final = (
    NotAbove("leak-down-cylinder", "leak-down-supply", "the cylinder is fed from the supply"),
    NotAbove("leak-down-cold-cylinder", "leak-down-cold-supply", "the cylinder is fed from the supply"),
    NotAbove("stem-diameter", "guide-bore", "the stem runs in the guide"),
    NotAbove("ring-thickness", "ring-groove-width", "the ring moves in its groove"),
    NotAbove("cam-journal-diameter", "cam-bearing-bore", "the journal runs in the bearing"),
    NotAbove("main-journal-diameter", "main-bore", "the journal runs in the bearing"),
)


def check_pairs(readings: tuple[Reading, ...], faults: Faults) -> None:
    """Note each reading that exceeds one it cannot exceed."""
    for pair in NOT_ABOVE:
        for lower, upper in _pairs(pair, readings):
            if min(lower.values) > max(upper.values):
                faults.add_at(
                    "V330",
                    f"{pair.lower} above {pair.upper}",
                    lower.place,
                    lower.typed[0],
                    f"at most {upper.typed[0]}, read on line {upper.place.line}: {pair.why}",
                    "look which of the two is wrong, or whether they were exchanged",
                )


def _pairs(pair: NotAbove, readings: tuple[Reading, ...]) -> Iterator[tuple[Reading, Reading]]:
    uppers = [r for r in readings if r.item == pair.upper]
    for lower in (r for r in readings if r.item == pair.lower):
        for upper in uppers:
            if lower.dimension == upper.dimension and same_place(lower.position, upper.position):
                yield lower, upper


def same_place(one: Position, other: Position) -> bool:
    """Whether two positions agree, one of them perhaps along fewer axes; else they cannot be compared."""
    shared = set(one.axes) & set(other.axes)
    narrower = shared in (set(one.axes), set(other.axes))
    return narrower and all(one.label(axis) == other.label(axis) for axis in shared)
