"""Turns a checklist into what it asks of this engine: each judged item with its places."""

from collections.abc import Iterator
from dataclasses import dataclass

from inspect_report.knowledge.case import Books, Case, known_or_row
from inspect_report.knowledge.catalogue import Known
from inspect_report.records.checklist import Item, Section, applies_to, positions
from inspect_report.records.position import Position

EVIDENCE_ONLY = "-"
"""What a checklist writes for an answer that carries no verdict of its own."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A checklist item that gets findings: what it is judged as, and where."""

    item: Item
    section: Section
    known: Known
    places: tuple[Position, ...]


def asked(case: Case) -> tuple[Asked, ...]:
    """The judged items of the checklist that belong to this engine, in the order of the checklist."""
    return tuple(_asked(case.books))


def _asked(books: Books) -> Iterator[Asked]:
    layout = books.sheet.layout
    for section in books.checklist.sections:
        for item in section.items if applies_to(section.applies, layout) else ():
            known = known_as(books, item, section) if applies_to(item.applies, layout) else None
            if known is not None and applies_to(known.applies, layout):
                yield Asked(item, section, known, places_along(item.axes, books))


def places_along(axes: tuple[str, ...], books: Books) -> tuple[Position, ...]:
    """Every place along some axes; none where the engine has no such parts."""
    try:
        return positions(axes, books.sheet, books.checklist)
    except KeyError:
        return ()


def known_as(books: Books, item: Item, section: Section) -> Known | None:
    """What an item is judged as; None where it is evidence only or a note."""
    if item.kind not in ("reading", "count", "rating", "choice"):
        return None
    known = known_or_row(books, item.id)
    if known is None and carries_verdict(item):
        return _from_item(item, section, books)
    return known


def carries_verdict(item: Item) -> bool:
    """Whether what is answered is a verdict in itself: a rating, or an answer with a verdict word."""
    verdicts = set(item.options.values()) - {EVIDENCE_ONLY}
    return item.kind == "rating" or (item.kind == "choice" and bool(verdicts))


def _from_item(item: Item, section: Section, books: Books) -> Known:
    """An entry for an item that the catalogue does not know, such as one of a workshop's own checklist."""
    assemblies = [a.id for a in books.catalogue.assemblies]
    return Known(
        id=item.id,
        name=item.id.replace("-", " "),
        axes=item.axes,
        assembly=section.assembly if section.assembly in assemblies else assemblies[-1],
        plain=item.asks,
    )
