"""Turns an item of a checklist into boxes to write in: for each place one, with what was read so far."""

from collections.abc import Iterable, Sequence
from itertools import product
from math import prod
from typing import Final

from inspect_report.knowledge.case import Books
from inspect_report.records.checklist import Item
from inspect_report.report.filled import LETTERS, Filled
from inspect_report.report.sheetstages import labels
from inspect_report.report.sheetview import GridRow, GridView, TickView
from inspect_report.report.words import capital
from inspect_report.telling.manner import message, say, word
from inspect_report.telling.positions import answer_words, label_words

MOST_COLUMNS: Final = 8
MOST_WIDE: Final = 4
LINES: Final = 3
FEW: Final = 2
"""How many kinds of damage have a line: of a whole engine, and of the one part it has of a kind."""
RATING: Final = (message("kind"), message("amount"), message("size, strength"))
WHERE: Final = message("where, remarks")
Along = dict[str, tuple[str, ...]]
"""The labels along each axis of an item."""
Spots = Sequence[str]
"""The labels of one place."""
SHORT: Final = frozenset({"along", "across"})


def ticks(item: Item, filled: Filled) -> tuple[TickView, ...]:
    """Answers to tick, where there is one place only."""
    if item.axes:
        return ()
    asked = {"tick": (message("done"), message("no")), "photo": (message("taken"),)}.get(item.kind, ())
    answers = tuple(item.options) if item.kind == "choice" else asked
    ticked = filled.ticked(item)
    return tuple(TickView(word(a), a in ticked, ticked.get(a, ""), item.amounts) for a in answers)


def key(item: Item) -> str:
    """What to write into a box where it is no plain number."""
    if item.amounts:
        return say("in the box behind each tick, how much of it: 1 to 5")
    if item.kind == "choice" and item.axes:
        return _lettered(item.options) + (say("; several letters may hold") if item.several else "")
    if item.kind == "rating":
        return say("0 = nothing found; {words}", words=_lettered(item.damage))
    return say("tick when done") if item.kind in ("tick", "photo") and item.axes else ""


def _lettered(words: Iterable[str]) -> str:
    return "; ".join(f"{n} = {answer_words(w)}" for n, w in zip(LETTERS, words, strict=False))


def grid(books: Books, item: Item, filled: Filled) -> GridView:
    """Boxes for each place: the first axes down, as many of the last ones across as have room."""
    along = Along({axis: labels(books, axis) for axis in item.axes})
    places = list(product(*along.values()))
    if item.kind == "rating":
        return _rating_grid(item, places, along, filled)
    wide = item.kind == "text"
    if len(places) == 1:
        return _laid_out((), (GridRow("", (filled.box(item, places[0]),)),), wide)
    most = MOST_WIDE if wide else MOST_COLUMNS
    cut = len(item.axes)
    while cut > 0 and _count(along, item.axes[cut - 1 :]) <= most:
        cut -= 1
    cut = max(cut, 1) if len(item.axes) > 1 else cut
    if len(item.axes) == 1 and cut == 1:
        return _wrapped(item, places, along, filled)
    down, across = (list(product(*(along[a] for a in axes))) for axes in (item.axes[:cut], item.axes[cut:]))
    columns = tuple(_place(item.axes[cut:], place, along) for place in across)
    rows = tuple(
        GridRow(_place(item.axes[:cut], place, along), tuple(filled.box(item, place + end) for end in across))
        for place in down
    )
    return _laid_out(columns, rows, wide)


def place_of(books: Books, item: Item, place: Sequence[str]) -> str:
    """A place of an item as its row says it; empty where the engine has one only."""
    return _place(item.axes, place, Along({axis: labels(books, axis) for axis in item.axes}))


def says_where(books: Books, item: Item) -> bool:
    """Whether the boxes of an item have a column for words, since it has one place only."""
    return item.kind == "rating" and all(len(labels(books, axis)) == 1 for axis in item.axes)


def _rating_grid(item: Item, places: Sequence[Spots], along: Along, filled: Filled) -> GridView:
    """Each place a row with a box for the letter of the damage and one for each of its steps."""
    if len(places) == 1:
        return _damage_lines(item, places[0], filled)
    rows = tuple(GridRow(_place(item.axes, p, along), filled.rating(item, p)) for p in places)
    return _laid_out(tuple(map(say, RATING)), rows, False)


def _damage_lines(item: Item, place: Spots, filled: Filled) -> GridView:
    """A line for each kind of damage found, with room to say where, and empty ones up to a few."""
    seen, blank = filled.damages(item, place), ("", "", "", "")
    lines = FEW if item.axes else LINES
    rows = tuple(GridRow("", boxes) for boxes in (*seen, *(blank,) * (lines - len(seen))))
    return GridView("", tuple(map(say, (*RATING, WHERE))), (rows,), False, False, False, where=True)


def _laid_out(columns: tuple[str, ...], rows: tuple[GridRow, ...], wide: bool) -> GridView:
    """Rows of up to three boxes stand in two parts side by side."""
    middle = (len(rows) + 1) // 2
    halves = (rows[:middle], rows[middle:]) if len(columns) <= len(RATING) and len(rows) > 1 else (rows,)
    one = not columns and len(rows) == 1
    return GridView("", columns, halves, wide, len(halves) > 1, wide and one, single=one and not wide)


def _count(along: Along, axes: Iterable[str]) -> int:
    return prod(len(along[axis]) for axis in axes)


def _place(axes: Sequence[str], place: Spots, along: Along) -> str:
    """A place for the head of a row or column, as short as can be understood."""
    named = zip(axes, place, strict=True)
    return capital(", ".join(_short(axis, label) for axis, label in named if len(along[axis]) > 1))


def _short(axis: str, label: str) -> str:
    """One label, shorter than in a sentence where that can be understood."""
    return word(label) if label in SHORT else label_words(axis, label)


def _wrapped(item: Item, places: Sequence[Spots], along: Along, filled: Filled) -> GridView:
    """More places than fit across: each place a row, its label before its box."""
    rows = tuple(GridRow(_place(item.axes, p, along), (filled.box(item, p),)) for p in places)
    return _laid_out((), rows, item.kind == "text" or len(places) > MOST_COLUMNS)
