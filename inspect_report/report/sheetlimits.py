"""Turns the limits of a checklist item into lines beside its boxes, and into the unit of the boxes."""

from collections.abc import Iterator
from typing import Final

from inspect_report.knowledge.case import Books, Practice
from inspect_report.records.checklist import Item
from inspect_report.records.quantity import WITHOUT_SIGN
from inspect_report.records.specsheet import Characteristic
from inspect_report.report.figures import Figures
from inspect_report.report.words import capital
from inspect_report.telling.manner import say, word
from inspect_report.telling.positions import answer_words
from inspect_report.telling.units import Among, one_way, sign

SOLD_BY: Final = frozenset({"shim-fitted"})
"""Items that read a size by which parts are marked and sold: their boxes keep the unit they are sold in."""


def box_unit(books: Books, item: Item) -> str:
    """The unit of an item's boxes: the imperial one where the report is told so, else the item's own."""
    if item.unit in WITHOUT_SIGN:
        return ""
    if item.id in SOLD_BY:
        return item.unit
    rows = (row for row, _ in _rows(books.sheet.rows(item.id), books.practice, item.id))
    bands = [band for row in rows for band in (row.standard, row.limit) if band is not None]
    edges = [end for band in bands for end in (band.low, band.high) if end is not None]
    size = edges or [abs(end) for end in item.bounds() or ()]
    return sign(one_way(item.unit, 0, Among(edges=tuple(size))).unit)


def limits(books: Books, item: Item) -> Iterator[str]:
    """Limits of the item itself, and of what is computed once this item is read."""
    figures = Figures(books.workshop.locale, books.workshop.currency)
    for known_id, name in _judged_by(books, item):
        for row, origin in _rows(books.sheet.rows(known_id), books.practice, known_id):
            told = _row_words(row, figures)
            if told:
                whose = say(" (common practice)") if origin == "common practice" else ""
                where = "".join(f", {answer_words(v)}" for v in row.where.values())
                label = "" if known_id == item.id else f"{name}"
                yield (
                    f"{capital((label + where).strip(', '))}: {told}{whose}"
                    if label + where
                    else told + whose
                )


def _judged_by(books: Books, item: Item) -> Iterator[tuple[str, str]]:
    """The item itself, and what is computed once it is read: told at the last reading that is needed."""
    yield item.id, item.asks
    for known in books.catalogue.characteristics:
        needed = [books.checklist.item(n) for n in known.needs]
        read = [n.id for n in needed if n is not None and n.kind == "reading"]
        if read and read[-1] == item.id:
            yield known.id, known.name


def _rows(
    own: tuple[Characteristic, ...], practice: Practice, known_id: str
) -> Iterator[tuple[Characteristic, str]]:
    if own:
        yield from ((row, "spec sheet") for row in own)
    else:
        yield from ((row, "common practice") for row in practice.characteristics if row.id == known_id)


def _row_words(row: Characteristic, figures: Figures) -> str:
    """Standard range and limit of a row in a line."""
    if row.disputed:
        return ""
    new = figures.range(row.standard.low, row.standard.high, row.unit, 0, short=True) if row.standard else ""
    limit = figures.range(row.limit.low, row.limit.high, row.unit, 0, short=True) if row.limit else ""
    wear = say("wear ≤ {limit}", limit=figures.limit(row.wear, row.unit, 0)) if row.wear is not None else ""
    size = "" if row.nominal is None else figures.limit(row.nominal, row.unit, 0)
    nominal = say("nominal {size}", size=size) if size else ""
    parts = [
        say("new {new}", new=new) if new else nominal,
        say("limit {limit}", limit=limit) if limit else wear,
    ]
    return ", ".join(p for p in parts if p) + (f" ({word(row.condition)})" if row.condition else "")
