"""Turns a checklist into stages of the strip-down: each item where what it needs has just been opened."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from inspect_report.advise.access import LEFT_OPEN, steps_for
from inspect_report.knowledge.case import Books
from inspect_report.knowledge.workbook import AccessStep
from inspect_report.records.checklist import Depth, Item, Section, applies_to, axis_labels, depths_of


@dataclass(frozen=True, slots=True)
class Stage:
    """
    What is done between two steps of opening an engine, or of closing it.

    ``step``: the step just opened; None where nothing is. ``opened``: it and what was opened on the way.
    ``parts``: sections in the order of the checklist, each with its items of this stage.
    """

    step: AccessStep | None
    opened: tuple[AccessStep, ...]
    parts: tuple[tuple[Section, tuple[Item, ...]], ...]


def stages(books: Books, depth: Depth) -> tuple[Stage, ...]:
    """
    The items of a depth that belong to an engine, by what must be open for them.

    Steps follow each other as the workbook lists them; after assembly, when the engine closes, the other way
    round. Within a stage the order of the checklist holds.
    """
    ranks = {s.id: n for n, s in enumerate(books.workbook.access, 1)}
    placed: list[tuple[int, Section, Item]] = []
    for section in books.checklist.sections:
        placed += _placed(section, wanted(books, section, depth), depth, ranks)
    closing = depth == "after assembly"
    placed.sort(key=lambda p: -p[0] if closing else p[0])
    return tuple(_stages(placed, books))


def wanted(books: Books, section: Section, depth: Depth) -> list[Item]:
    """Items of a section that are asked at a depth and have a place in the engine."""
    applies = applies_to(section.applies, books.sheet.layout)
    return [i for i in section.items if applies and _belongs(books, i, section, depth)]


def need(item: Item, section: Section, depth: Depth) -> str:
    """
    The step an item needs: its own, else that of its section where the section as a whole is of the depth.

    An item asked at a lesser depth than its section is seen from outside.
    """
    return item.access or (section.access if depth in section.depths else "")


def labels(books: Books, axis: str) -> tuple[str, ...]:
    """Labels along an axis; none where the engine has no such parts."""
    try:
        return axis_labels(axis, books.sheet, books.checklist)
    except KeyError:
        return ()


def _belongs(books: Books, item: Item, section: Section, depth: Depth) -> bool:
    if depth not in depths_of(item, section) or not applies_to(item.applies, books.sheet.layout):
        return False
    return all(labels(books, axis) for axis in item.axes)


def _placed(
    section: Section, items: Iterable[Item], depth: Depth, ranks: dict[str, int]
) -> Iterator[tuple[int, Section, Item]]:
    """
    Each item with the rank of its stage.

    What the eye rates at lesser depths, too, as through a plug hole, is looked at where it shows best: with
    all open that its section needs. An item that names no step stands no earlier than the one before it, as a
    list of what was found on the way.
    """
    whole = ranks.get(section.access, 0) if depth in section.depths else 0
    before = 0
    for item in items:
        rank = ranks.get(need(item, section, depth), 0)
        if item.kind == "rating" and not set(item.depths) <= set(section.depths):
            rank = max(rank, whole)
        if not item.access and depth in LEFT_OPEN:
            rank = max(rank, before)
        before = rank
        yield rank, section, item


def _stages(placed: Iterable[tuple[int, Section, Item]], books: Books) -> Iterator[Stage]:
    opened: set[str] = set()
    for rank, ones in groupby(placed, key=lambda p: p[0]):
        step = books.workbook.access[rank - 1] if rank else None
        reached = steps_for((step.id,), books.workbook, books.sheet.layout) if step else ()
        fresh = tuple(s for s in reached if s.id not in opened)
        opened.update(s.id for s in fresh)
        parts = ((s, tuple(p[2] for p in some)) for s, some in groupby(ones, key=lambda p: p[1]))
        yield Stage(step, fresh, tuple(parts))
