"""Turns the limits of a checklist item into lines at its boxes, and into the unit of the boxes."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from inspect_report.judge.limits import limit_of
from inspect_report.knowledge.case import Books, Origin, Practice
from inspect_report.knowledge.catalogue import Known
from inspect_report.records.checklist import Item, applies_to
from inspect_report.records.quantity import WITHOUT_SIGN
from inspect_report.records.specsheet import Band, Characteristic
from inspect_report.report.figures import Figures
from inspect_report.report.words import capital
from inspect_report.telling.manner import message, say, word
from inspect_report.telling.positions import answer_words
from inspect_report.telling.units import Among, one_way, sign

SOLD_BY: Final = frozenset({"shim-fitted"})
"""Items that read a size by which parts are marked and sold: their boxes keep the unit they are sold in."""
SUPPLY: Final = 6e5
"""Supply of a leak-down tester at which its limit is told in bar, too. [Pa]"""
SHARES: Final = {
    "leak-down": (-1, message("{range} of the supply gauge")),
    "compression-spread": (-1, message("{range} of the best cylinder")),
    "wet-gain": (1, message("{range} of the dry gauge")),
    "valve-spring-load-loss": (-1, message("{range} of the load when new")),
}
"""Losses and gains told as the share that is left or reached of what the box is held against."""
UNLESS_PRINTED: Final = {
    "valve-spring-load-loss": "valve-spring-load",
    "tensioner-stroke-used": "tensioner-travel",
}
"""Quantities that are judged only where no limit is printed for the reading itself."""


AMONG_CYLINDERS: Final = frozenset({"leak-down-spread", "compression-spread"})
"""Quantities that compare cylinders: an engine with one has nothing to compare."""


@dataclass(frozen=True, slots=True)
class ComesTo:
    """What is computed once an item is read, with its limits: to be written into boxes of its own."""

    known: Known
    limits: tuple[str, ...]


def box_unit(books: Books, item: Item) -> str:
    """The unit of an item's boxes: the imperial one where the report is told so, else the item's own."""
    if item.unit in WITHOUT_SIGN:
        return ""
    if item.id in SOLD_BY:
        return item.unit
    rows = (row for row, _ in _rows(books, item.id))
    bands = [band for row in rows for band in (row.standard, row.limit) if band is not None]
    edges = [end for band in bands for end in (band.low, band.high) if end is not None]
    size = edges or [abs(end) for end in item.bounds() or ()]
    return sign(one_way(item.unit, 0, Among(edges=tuple(size))).unit)


def limits(books: Books, item: Item, computed: Iterable[Known]) -> Iterator[str]:
    """Limits of what stands in the boxes: of the item itself, and those of a share of another reading."""
    figures = Figures(books.workshop.locale, books.workshop.currency)
    for row, origin in _rows(books, item.id):
        yield from _line(row, origin, _row_words(row, origin, figures))
    for known in computed:
        for row, origin in _rows(books, known.id) if known.id in SHARES else ():
            yield from _line(row, origin, _share_words(known.id, row, figures))


def comes_to(books: Books, computed: Iterable[Known]) -> Iterator[ComesTo]:
    """What is computed once an item is read, and has a limit in a size that no box of the item holds."""
    figures = Figures(books.workshop.locale, books.workshop.currency)
    for known in computed:
        lines = [
            line
            for row, origin in (() if known.id in SHARES else _rows(books, known.id))
            for line in _line(row, origin, _row_words(row, origin, figures))
        ]
        if lines:
            yield ComesTo(known, tuple(lines))


def _line(row: Characteristic, origin: Origin, told: str) -> Iterator[str]:
    """What is told of a row, with where it holds and whose limit it is; nothing where it has none."""
    if told:
        where = ", ".join(map(answer_words, row.where.values()))
        whose = say(" (common practice)") if origin == "common practice" else ""
        yield f"{capital(where)}: {told}{whose}" if where else told + whose


def computed_after(books: Books, asked: Sequence[str]) -> dict[str, tuple[Known, ...]]:
    """
    What is computed once an item is read, by the item: the last of the readings it needs.

    Args:
        books: The books of the engine.
        asked: Ids of the items of a sheet, in its order.
    """
    order = {item_id: n for n, item_id in enumerate(asked)}
    after: dict[str, tuple[Known, ...]] = {}
    for known in books.catalogue.characteristics:
        read = [i.id for i in map(books.checklist.item, known.needs) if i is not None and i.kind == "reading"]
        if read and all(n in order for n in read) and _is_judged(books, known):
            last = max(read, key=order.__getitem__)
            after[last] = (*after.get(last, ()), known)
    return after


def _is_judged(books: Books, known: Known) -> bool:
    layout = books.sheet.layout
    alone = layout.cylinders == 1 and known.id in AMONG_CYLINDERS
    needless = _printed(books, UNLESS_PRINTED.get(known.id, ""))
    return applies_to(known.applies, layout) and not alone and not needless


def _printed(books: Books, item_id: str) -> bool:
    """Whether the spec sheet has a limit for a reading itself."""
    return any(row.limit is not None or row.wear is not None for row in books.sheet.rows(item_id))


def _rows(books: Books, known_id: str) -> Iterator[tuple[Characteristic, Origin]]:
    own = books.sheet.rows(known_id)
    if own:
        yield from ((row, "spec sheet") for row in own)
    else:
        yield from ((row, "common practice") for row in _practice(books.practice, known_id))


def _practice(practice: Practice, known_id: str) -> Iterator[Characteristic]:
    return (row for row in practice.characteristics if row.id == known_id)


def _row_words(row: Characteristic, origin: Origin, figures: Figures) -> str:
    """Standard range and limit of a row in a line; an amount of wear as the size it leaves."""
    if row.disputed:
        return ""
    held = limit_of(row, origin, "")
    new = figures.range(row.standard.low, row.standard.high, row.unit, 0, short=True) if row.standard else ""
    limit = figures.range(held.low, held.high, row.unit, 0, short=True)
    size = "" if row.nominal is None else figures.limit(row.nominal, row.unit, 0)
    return _told(new, say("nominal {size}", size=size) if size else "", limit, row)


def _told(new: str, nominal: str, limit: str, row: Characteristic) -> str:
    parts = (
        say("new {new}", new=new) if new else nominal,
        say("limit {limit}", limit=limit) if limit else "",
    )
    return ", ".join(p for p in parts if p) + (f" ({word(row.condition)})" if row.condition else "")


def _share_words(known_id: str, row: Characteristic, figures: Figures) -> str:
    """A loss or gain turned into what the box itself must show, as a share of what it is held against."""
    if row.disputed:
        return ""
    way, told = SHARES[known_id]
    new, limit = _turned(row.standard, way), _turned(row.limit, way)
    shown = (figures.range(*ends, row.unit, 0, short=True) for ends in (new, limit))
    text = _told(next(shown), "", next(shown), row)
    if known_id == "leak-down" and limit[0] is not None:
        least, supply = figures.amount(limit[0] * SUPPLY, "bar", 2), figures.amount(SUPPLY, "bar", 2)
        return say(told, range=text) + say(" ({least} at {supply})", least=least, supply=supply)
    return say(told, range=text) if text else ""


def _turned(band: Band | None, way: int) -> tuple[float | None, float | None]:
    """A range of losses, as fractions, as one of what is left; of gains, as one of what is reached."""
    if band is None:
        return None, None
    low, high = (None if end is None else 1 + way * end for end in (band.low, band.high))
    return (low, high) if way > 0 else (high, low)
