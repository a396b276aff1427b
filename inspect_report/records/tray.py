"""Turns what is read at one place of a file into what is kept of it, or into faults that name the place."""

from dataclasses import dataclass, field, replace
from typing import Any, Final

from inspect_report.records.checklist import Item
from inspect_report.records.complaints import value_text
from inspect_report.records.faults import Faults
from inspect_report.records.inspection import Answer, Rating, Reading
from inspect_report.records.position import Position
from inspect_report.records.toolbox import Toolbox
from inspect_report.records.vocabulary import Vocabulary
from inspect_report.records.yaml import Document, Path

STEPS: Final = "0 to 5: 0 none, 1 very few or barely visible, 5 so severe that further steps make no sense"


@dataclass(frozen=True, slots=True)
class Spot:
    """
    One place to be read: item, position and path in the file, and what a wrapping said about it.

    ``asked_at`` is where a fault of the instrument is told: its ``with``, else the item.
    """

    item: Item
    position: Position
    path: Path
    asked_at: Path
    instrument: str = ""
    note: str = ""

    def below(self, step: str | int) -> "Spot":
        """The same place one step deeper in the file."""
        return replace(self, path=(*self.path, step))


@dataclass(slots=True)
class Tray:
    """Where readings are collected while one document is read."""

    faults: Faults
    toolbox: Toolbox
    vocabulary: Vocabulary
    readings: list[Reading] = field(default_factory=list)
    ratings: list[Rating] = field(default_factory=list)
    answers: list[Answer] = field(default_factory=list)

    @property
    def document(self) -> Document:
        return self.faults.document

    def refuse(self, spot: Spot, code: str, title: str, value: Any, allowed: str, mend: str) -> None:
        """Note a fault of the value at a spot."""
        self.faults.add(code, title, spot.path, value_text(value, spot.path, self.document), allowed, mend)

    def answer(self, spot: Spot, chosen: tuple[str, ...], amounts: tuple[int, ...] = ()) -> None:
        """Keep an answer, with how much of each was found where that was said."""
        place = self.document.place(spot.path)
        self.answers.append(Answer(spot.item.id, spot.position, chosen, place, spot.note, amounts))


def listed(spot: Spot, value: Any) -> list[tuple[Spot, Any]]:
    """The entries of a list, or the single value, each with its spot; empty entries are left out."""
    if not isinstance(value, list):
        return [(spot, value)]
    return [(spot.below(i), v) for i, v in enumerate(value) if v is not None]


def step(spot: Spot, value: Any, tray: Tray) -> int | None:
    """A step of the scale from 0 to 5; None, and a fault, for anything else."""
    if isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= 5:
        return value
    tray.refuse(spot, "V317", "not a step of the scale", value, STEPS, "write one whole number from 0 to 5")
    return None
