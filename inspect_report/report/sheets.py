"""Turns a checklist into a PDF to fill in with a pencil, blank or with what was read so far in its boxes."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import chain, zip_longest
from pathlib import Path
from typing import Final

from inspect_report.knowledge.case import Books, Case
from inspect_report.knowledge.catalogue import Known
from inspect_report.knowledge.in_language import books_in_language, case_in_language
from inspect_report.records.checklist import Depth, Item
from inspect_report.records.inspection import Instrument
from inspect_report.records.workshop import Units
from inspect_report.report.figures import Figures
from inspect_report.report.filled import BLANK, Filled, filled_from
from inspect_report.report.markdown import as_markup
from inspect_report.report.reportparts import Fact
from inspect_report.report.sheetgrid import grid, key, place_of, says_where, ticks
from inspect_report.report.sheetlimits import ComesTo, box_unit, comes_to, computed_after, limits
from inspect_report.report.sheetstages import Stage, stages
from inspect_report.report.sheetview import ComesToView, ItemView, SectionView, SheetView, ToolView
from inspect_report.report.words import capital, sentence
from inspect_report.telling.manner import manner, message, say, told_by, word
from inspect_report.telling.positions import label_words
from inspect_report.version import __version__

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
HEAVY: Final = "heavy-engine"
FIRST_CAUTIONS: Final = ("eye-protection", HEAVY, "failing-engine", "makers-manual")
"""Told before the first item, since they hold throughout; the others stand at their step."""
TO_WRITE: Final = "_" * 20
"""A line to write on in the running head."""
IN_ITS_UNIT: Final = message(
    "Write each number in the unit printed in its box, or write your own unit beside it. Type the unit into "
    "the file, too, as in 0.004 in: a number without one is read in the unit the checklist asks for."
)


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
        head_right=say("Inspection number: {number}", number=head.inspection),
        remarks=_remarks(case),
        notes=as_markup(head.notes),
        instruments=(*used, *(t for t in page.instruments if t.kind not in kinds)),
        sections=tuple(_told_left_out(s, case) for s in page.sections),
    )


def sheet_view(books: Books, depth: Depth, language: str = "", units: Units = "") -> SheetView:
    """The checklist of an engine at a depth; only what applies to the engine stands in it."""
    told = books_in_language(books, language, units)
    with told_by(told.workshop):
        return _told(told, depth, BLANK)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What a sheet is made from: its stages, what is written already, what is computed after each item."""

    books: Books
    depth: Depth
    filled: Filled
    stages: tuple[Stage, ...]
    computed: Mapping[str, tuple[Known, ...]]


def _sheet(books: Books, depth: Depth, filled: Filled) -> _Sheet:
    parts = stages(books, depth)
    asked = [i.id for stage in parts for _, items in stage.parts for i in items]
    return _Sheet(books, depth, filled, parts, computed_after(books, asked))


def _told(books: Books, depth: Depth, filled: Filled) -> SheetView:
    sheet, checklist, shop = books.sheet, books.checklist, books.workshop
    engine, made = f"{sheet.maker} {sheet.model}", _sheet(books, depth, filled)
    cautions = _first_cautions(made.stages)
    return SheetView(
        title=checklist.title,
        engine=engine,
        depth=word(depth),
        language=shop.language,
        paper=shop.paper,
        workshop=shop.workshop,
        program=f"inspect-report {__version__}",
        head_left=say(
            "Checklist {engine}, {depth}", engine=f"{sheet.maker} {sheet.model}", depth=word(depth)
        ),
        head_right=say("Inspection number: {number}", number=TO_WRITE),
        foot=_scale(books.scales.steps),
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
        instruments=tuple(
            ToolView(word(kind), "", "", "", "") for kind in (*_instruments(made.stages), "", "")
        ),
        cautions=_texts(books, cautions),
        steps=tuple(f"{n} {step}" for n, step in enumerate(books.scales.steps)),
        sections=tuple(_sections(made, cautions)),
    )


def _scale(steps: Iterable[str]) -> str:
    """The scale of ratings in a line: each step with its number and the first words of it."""
    named = " · ".join(f"{n} {step.partition(',')[0]}" for n, step in enumerate(steps))
    return say("Ratings: {steps}", steps=named)


def _instruments(parts: Iterable[Stage]) -> tuple[str, ...]:
    """Kinds of instruments asked for, each once, in the order they are needed."""
    asked = (i for stage in parts for _, items in stage.parts for i in items)
    return tuple(dict.fromkeys(i.instrument for i in asked if i.instrument))


def _tool(used: Instrument, figures: Figures) -> ToolView:
    error = _with_its_unit(used.permissible_error, used.unit)
    return ToolView(
        word(used.kind),
        used.serial,
        _with_its_unit(used.resolution, used.unit),
        figures.day(used.calibrated),
        f"± {error}" if error else "",
    )


def _with_its_unit(amount: str | float | None, unit: str) -> str:
    typed = "" if amount is None else str(amount)
    return f"{typed} {unit}" if typed[-1:].isdigit() else typed


def _told_left_out(section: SectionView, case: Case) -> SectionView:
    """A section whose items say why they were left out."""
    reasons: dict[str, list[str]] = {}
    for left in case.inspection.head.left_out:
        where = ", ".join(label_words(axis, label) for axis, label in left.at.items())
        reasons.setdefault(left.item, []).append(f"{where}: {left.reason}" if where else left.reason)
    items = (replace(i, left_out="; ".join(reasons.get(i.id, ()))) for i in section.items)
    return replace(section, items=tuple(items))


def _sections(sheet: _Sheet, first: Iterable[str]) -> Iterator[SectionView]:
    """
    Sections stage by stage; a caution stands once in a stage, where it is first needed.

    What a section says of itself stands where it is open, not beside what is seen of it from outside.
    """
    books, told, homes = sheet.books, set(first), _homes(sheet)
    for number, stage in enumerate(sheet.stages, 1):
        told = told if number == 1 else set()
        name = _name(stage, sheet.depth)
        opening = _texts(books, _fresh(chain.from_iterable(s.caution for s in stage.opened), told))
        for n, (section, items) in enumerate(stage.parts):
            access = name if stage.step else ""
            whole = homes.get(section.id) == number
            yield SectionView(
                title=section.title,
                intro=sentence(section.intro) if whole else "",
                access=access,
                cautions=_texts(books, _fresh(section.caution, told)) if whole else (),
                items=tuple(_item(sheet, i, access, told) for i in items),
                stage=f"{number}. {name}" if n == 0 else "",
                stage_cautions=opening if n == 0 else (),
            )


def _homes(sheet: _Sheet) -> dict[str, int]:
    """The stage at which a section of this depth is open, by its id; else the first it has items in."""
    homes: dict[str, int] = {}
    for number, stage in enumerate(sheet.stages, 1):
        for section, _ in stage.parts:
            here = stage.step is not None and stage.step.id == section.access
            if sheet.depth in section.depths and (here or section.id not in homes):
                homes[section.id] = number
    return homes


def _name(stage: Stage, depth: Depth) -> str:
    """What is open at a stage, in words."""
    if stage.step is not None:
        return stage.step.name
    return say("Closed, and running") if depth == "after assembly" else say("As it stands")


def _fresh(ids: Iterable[str], told: set[str]) -> tuple[str, ...]:
    """Those cautions that were not told yet, from now on told."""
    fresh = tuple(dict.fromkeys(i for i in ids if i not in told))
    told.update(fresh)
    return fresh


def _first_cautions(parts: Iterable[Stage]) -> tuple[str, ...]:
    """What is told before the first item: what goes for all of it, and for taking the engine out."""
    steps = {c for stage in parts for s in stage.opened for c in s.caution}
    return tuple(c for c in FIRST_CAUTIONS if c != HEAVY or c in steps)


def _texts(books: Books, ids: Iterable[str]) -> tuple[str, ...]:
    return tuple(c.text for c in map(books.cautions.caution, ids) if c is not None)


def _item(sheet: _Sheet, item: Item, access: str, told: set[str]) -> ItemView:
    books, filled, computed = sheet.books, sheet.filled, sheet.computed.get(item.id, ())
    answers, unit, notes = ticks(item, filled), box_unit(books, item), _notes(books, item, filled)
    boxes = None if answers else replace(grid(books, item, filled), unit=unit if manner().units else "")
    return ItemView(
        id=item.id,
        asks=capital(item.asks),
        unit=unit,
        instrument=word(item.instrument),
        limits=tuple(limits(books, item, computed)),
        hint=sentence(item.hint),
        access=access,
        cautions=_texts(books, _fresh(item.caution, told)),
        key=key(item),
        ticks=answers,
        grid=boxes,
        optional=item.optional,
        left_out="",
        remarks=notes,
        remark_line=bool(notes) or (item.kind == "rating" and not says_where(books, item)),
        comes_to=tuple(_comes_to(books, one, filled) for one in comes_to(books, computed)),
    )


def _comes_to(books: Books, one: ComesTo, filled: Filled) -> ComesToView:
    known = one.known
    asked = Item(id=known.id, asks=known.name, kind="reading", axes=known.axes, unit=known.unit)
    unit = box_unit(books, asked)
    boxes = replace(grid(books, asked, filled), unit=unit if manner().units else "")
    return ComesToView(capital(known.name), unit, one.limits, boxes)


def _notes(books: Books, item: Item, filled: Filled) -> str:
    """What was noted beside the boxes of an item, each with its place; nothing where they say it."""
    if says_where(books, item):
        return ""
    places = ((place_of(books, item, labels), note) for labels, note in filled.notes(item))
    return "; ".join(f"{place}: {note}" if place else note for place, note in places)


def _remarks(case: Case) -> tuple[str, ...]:
    """What the inspection says besides, as far as it is no item's: on the conditions, and by its photos."""
    inspection = case.inspection
    photos = {p.file: p.caption for p in reversed(inspection.head.photos)}
    shown = (f"{file}: {caption}" for file, caption in reversed(photos.items()))
    return tuple(t for t in (inspection.head.conditions.remarks, *shown) if t)
