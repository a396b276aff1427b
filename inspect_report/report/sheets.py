"""Turns a checklist into a PDF to fill in with a pencil, blank or with what was read so far in its boxes."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import product, zip_longest
from pathlib import Path
from typing import Final

from inspect_report.knowledge.case import Books, Case
from inspect_report.knowledge.in_language import books_in_language, case_in_language
from inspect_report.records.checklist import Depth, Item, Section, applies_to, axis_labels, depths_of
from inspect_report.records.inspection import Instrument
from inspect_report.records.workshop import Units
from inspect_report.report.figures import Figures
from inspect_report.report.filled import BLANK, LETTERS, Filled, filled_from
from inspect_report.report.reportparts import Fact
from inspect_report.report.sheetlimits import box_unit, limits
from inspect_report.report.sheetview import (
    GridRow,
    GridView,
    ItemView,
    SectionView,
    SheetView,
    TickView,
    ToolView,
)
from inspect_report.report.words import capital, sentence
from inspect_report.telling.manner import manner, message, say, thing, told_by, word
from inspect_report.telling.positions import answer_words, label_words
from inspect_report.version import __version__

MOST_COLUMNS: Final = 8
MOST_WIDE: Final = 4
BLANKS: Final = (
    message("Inspection number"),
    message("Received, inspected, issued (days)"),
    message("Inspector and qualification"),
    message("Customer, address"),
    message("Owner, if another"),
    message("Machine it is fitted in"),
    message("Serial number"),
    message("Running time and distance"),
    message("Place of inspection"),
    message("Reason: what the customer asks"),
    message("Engine (cold, warm, hot) and battery voltage"),
    message("Ambient temperature and pressure"),
)
RATING: Final = (message("kind"), message("amount"), message("size, strength"))
FIRST_CAUTIONS: Final = (
    "air-spins-engine",
    "crank-by-hand",
    "fuel-vapour",
    "hot-fluids",
    "eye-protection",
    "heavy-engine",
    "makers-manual",
    "do-not-run",
)
"""Told before the first item, the dangers at the bench first."""
IN_ITS_UNIT: Final = message(
    "Write each number in the unit printed in its box, or write your own unit beside it. Type the unit into "
    "the file, too, as in 0.004 in: a number without one is read in the unit the checklist asks for."
)
SHORT: Final = frozenset({"along", "across"})


def write_sheet(books: Books, depth: Depth, out: Path | str, language: str = "", units: Units = "") -> Path:
    """
    Write the blank checklist of an engine as a PDF.

    Args:
        books: The books of the engine; a workshop without a name prints none.
        depth: Depth of the inspection.
        out: File to write.
        language: Code of the language; by the inspection or the workshop file when empty.
        units: In which amounts are told, likewise.

    Raises:
        CannotRender: the PDF cannot be made or written.
    """
    return _written(sheet_view(books, depth, language, units), out)


def write_filled_sheet(case: Case, out: Path | str, language: str = "", units: Units = "") -> Path:
    """
    Write the checklist of an inspection as a PDF with what was read so far in its boxes.

    Args:
        case: The inspection, with its books.
        out: File to write.
        language: Code of the language; by the inspection or the workshop file when empty.
        units: In which amounts are told, likewise.

    Raises:
        CannotRender: the PDF cannot be made or written.
    """
    return _written(filled_view(case, language, units), out)


def _written(page: SheetView, out: Path | str) -> Path:
    from inspect_report.report.pdf import as_pdf
    from inspect_report.report.pictures import Pictures
    from inspect_report.report.theme import theme
    from inspect_report.report.writing import write_all

    pictures = Pictures(Path(), Path(), theme())
    return write_all({Path(out): as_pdf(page, "sheet.html", pictures, theme())})[0]


def filled_view(case: Case, language: str = "", units: Units = "") -> SheetView:
    """The checklist of an inspection, with what was read so far."""
    told = case_in_language(case, language, units)
    with told_by(told.books.workshop):
        return _filled(told)


def _filled(case: Case) -> SheetView:
    head, figures = case.inspection.head, Figures(case.books.workshop.locale, case.books.workshop.currency)
    page = _told(case.books, head.depth, filled_from(case))
    used = tuple(_tool(i, figures) for i in head.instruments.values())
    kinds = {word(i.kind) for i in head.instruments.values()}
    return replace(
        page,
        filled=head.inspection,
        head_right=f"{page.head_right}, {head.inspection}",
        instruments=(*used, *(t for t in page.instruments if t.kind not in kinds)),
        sections=tuple(_told_left_out(s, case) for s in page.sections),
    )


def sheet_view(books: Books, depth: Depth, language: str = "", units: Units = "") -> SheetView:
    """The checklist of an engine at a depth; only what applies to the engine stands in it."""
    told = books_in_language(books, language, units)
    with told_by(told.workshop):
        return _told(told, depth, BLANK)


def _told(books: Books, depth: Depth, filled: Filled) -> SheetView:
    sheet, checklist, shop = books.sheet, books.checklist, books.workshop
    sections = (_section(books, s, depth, filled) for s in checklist.sections)
    return SheetView(
        title=checklist.title,
        engine=f"{sheet.maker} {sheet.model}",
        depth=word(depth),
        language=shop.language,
        paper=shop.paper,
        workshop=shop.workshop,
        program=f"inspect-report {__version__}",
        head_left=shop.workshop,
        head_right=say(
            "Checklist {engine}, {depth}", engine=f"{sheet.maker} {sheet.model}", depth=word(depth)
        ),
        facts=(
            Fact(
                say("Spec sheet"),
                say("{id}, version {version}", id=sheet.spec_sheet, version=sheet.version),
            ),
            Fact(
                say("Checklist"),
                say("{id}, version {version}", id=checklist.checklist, version=checklist.version),
            ),
        ),
        blanks=tuple(
            Fact(say(label), text) for label, text in zip_longest(BLANKS, filled.head, fillvalue="")
        ),
        units_note=say(IN_ITS_UNIT) if manner().units else "",
        filled="",
        instruments=tuple(ToolView(word(kind), "", "", "") for kind in (*_instruments(books, depth), "", "")),
        cautions=tuple(c.text for c in map(books.cautions.caution, FIRST_CAUTIONS) if c is not None),
        steps=books.scales.steps,
        sections=tuple(s for s in sections if s.items),
    )


def _instruments(books: Books, depth: Depth) -> tuple[str, ...]:
    """Kinds of instruments asked for at a depth, each once, in the order they are needed."""
    asked = (i for s in books.checklist.sections for i in _wanted(books, s, depth))
    return tuple(dict.fromkeys(i.instrument for i in asked if i.instrument))


def _wanted(books: Books, section: Section, depth: Depth) -> list[Item]:
    applies = applies_to(section.applies, books.sheet.layout)
    return [i for i in section.items if applies and _belongs(books, i, section, depth)]


def _tool(used: Instrument, figures: Figures) -> ToolView:
    typed = "" if used.resolution is None else str(used.resolution)
    resolution = f"{typed} {used.unit}" if typed[-1:].isdigit() else typed
    return ToolView(used.kind, used.serial, resolution, figures.day(used.calibrated))


def _told_left_out(section: SectionView, case: Case) -> SectionView:
    """A section whose items say why they were left out."""
    reasons: dict[str, list[str]] = {}
    for left in case.inspection.head.left_out:
        where = ", ".join(label_words(axis, label) for axis, label in left.at.items())
        reasons.setdefault(left.item, []).append(f"{where}: {left.reason}" if where else left.reason)
    items = (replace(i, left_out="; ".join(reasons.get(i.id, ()))) for i in section.items)
    return replace(section, items=tuple(items))


def _section(books: Books, section: Section, depth: Depth, filled: Filled) -> SectionView:
    wanted = _wanted(books, section, depth)
    return SectionView(
        title=section.title,
        intro=sentence(section.intro),
        access=thing(_shared_need(books, section, depth)),
        cautions=_cautions(books, section.caution),
        items=tuple(_item(books, i, section, depth, filled) for i in wanted),
    )


def _shared_need(books: Books, section: Section, depth: Depth) -> str:
    """What must be open for a section, where it is open at the depth; else each item says its own need."""
    opened = books.checklist.opened.get(depth)
    return section.access if opened is None or section.access in opened else ""


def _belongs(books: Books, item: Item, section: Section, depth: Depth) -> bool:
    if depth not in depths_of(item, section) or not applies_to(item.applies, books.sheet.layout):
        return False
    return all(_labels(books, axis) for axis in item.axes)


def _labels(books: Books, axis: str) -> tuple[str, ...]:
    try:
        return axis_labels(axis, books.sheet, books.checklist)
    except KeyError:
        return ()


def _cautions(books: Books, ids: Iterable[str]) -> tuple[str, ...]:
    known = (books.cautions.caution(i) for i in ids)
    return tuple(c.text for c in known if c is not None and not c.general)


def _item(books: Books, item: Item, section: Section, depth: Depth, filled: Filled) -> ItemView:
    shared = _shared_need(books, section, depth)
    ticks, need, unit = _ticks(item, filled), item.access or shared, box_unit(books, item)
    return ItemView(
        id=item.id,
        asks=capital(item.asks),
        unit=unit,
        instrument=word(item.instrument),
        limits=tuple(limits(books, item)),
        hint=sentence(item.hint),
        access="" if need == shared else thing(need),
        cautions=_cautions(books, item.caution),
        key=_key(item),
        ticks=ticks,
        grid=None if ticks else replace(_grid(books, item, filled), unit=unit if manner().units else ""),
        optional=item.optional,
        left_out="",
    )


def _ticks(item: Item, filled: Filled) -> tuple[TickView, ...]:
    """Answers to tick, where there is one place only."""
    if item.axes:
        return ()
    asked = {"tick": (message("done"), message("no")), "photo": (message("taken"),)}.get(item.kind, ())
    answers = tuple(item.options) if item.kind == "choice" else asked
    ticked = filled.ticked(item)
    return tuple(TickView(word(a), a in ticked, ticked.get(a, "")) for a in answers)


def _key(item: Item) -> str:
    """What to write into a box where it is no plain number."""
    if item.amounts:
        return say("beside each tick, how much of it: 1 to 5")
    if item.kind == "choice" and item.axes:
        return _lettered(item.options) + (say("; several letters may hold") if item.several else "")
    if item.kind == "rating":
        return say("0 = nothing found; {words}", words=_lettered(item.damage))
    return say("tick when done") if item.kind in ("tick", "photo") and item.axes else ""


def _lettered(words: Iterable[str]) -> str:
    return "; ".join(f"{n} = {answer_words(w)}" for n, w in zip(LETTERS, words, strict=False))


def _grid(books: Books, item: Item, filled: Filled) -> GridView:
    """Boxes for each place: the first axes down, as many of the last ones across as have room."""
    if item.kind == "rating":
        return _rating_grid(books, item, filled)
    wide = item.kind == "text"
    most = MOST_WIDE if wide else MOST_COLUMNS
    labels = [_labels(books, axis) for axis in item.axes]
    cut = len(item.axes)
    while cut > 0 and _count(labels[cut - 1 :]) <= most:
        cut -= 1
    cut = max(cut, 1) if len(item.axes) > 1 else cut
    if len(item.axes) == 1 and cut == 1:
        return _wrapped(item, labels[0], most, filled)
    down, across = list(product(*labels[:cut])), list(product(*labels[cut:]))
    columns = tuple(_place(item.axes[cut:], place) for place in across) if item.axes[cut:] else ()
    rows = tuple(
        GridRow(
            capital(_place(item.axes[:cut], place)), tuple(filled.box(item, place + end) for end in across)
        )
        for place in down
    )
    return _laid_out(columns, rows, wide)


def _rating_grid(books: Books, item: Item, filled: Filled) -> GridView:
    """Each place a row with a box for the letter of the damage and one for each of its steps."""
    places = product(*(_labels(books, axis) for axis in item.axes))
    rows = tuple(GridRow(capital(_place(item.axes, p)), filled.rating(item, p)) for p in places)
    return _laid_out(tuple(map(say, RATING)), rows, False)


def _laid_out(columns: tuple[str, ...], rows: tuple[GridRow, ...], wide: bool) -> GridView:
    """Rows of up to three boxes stand in two parts side by side."""
    middle = (len(rows) + 1) // 2
    halves = (rows[:middle], rows[middle:]) if len(columns) <= len(RATING) and len(rows) > 1 else (rows,)
    return GridView("", columns, halves, wide, len(halves) > 1, wide and not columns and len(rows) == 1)


def _count(labels: Sequence[Sequence[str]]) -> int:
    count = 1
    for some in labels:
        count *= len(some)
    return count


def _place(axes: Sequence[str], labels: Sequence[str]) -> str:
    """A place for the head of a row or column, as short as can be understood."""
    return ", ".join(_short(a, n) for a, n in zip(axes, labels, strict=True))


def _short(axis: str, label: str) -> str:
    """One label, shorter than in a sentence where that can be understood."""
    return word(label) if label in SHORT else label_words(axis, label)


def _wrapped(item: Item, labels: Sequence[str], most: int, filled: Filled) -> GridView:
    """More places than fit across: each place a row, its label before its box."""
    rows = tuple(GridRow(capital(_place(item.axes, (n,))), (filled.box(item, (n,)),)) for n in labels)
    return _laid_out((), rows, item.kind == "text" or len(labels) > most)
