"""Defines everything the template of a blank checklist may use, as text ready to print."""
# ruff: noqa: RUF009 - shown() only builds a field()

from dataclasses import dataclass

from markupsafe import Markup

from inspect_report.report.reportparts import Fact
from inspect_report.report.shown import shown


@dataclass(frozen=True, slots=True)
class GridRow:
    """A row of boxes to write in."""

    label: str = shown("what the row is for; may be empty")
    boxes: tuple[str, ...] = shown("one entry for each box: what is written in it already; may be empty")


@dataclass(frozen=True, slots=True)
class TickView:
    """An answer to tick."""

    text: str = shown("the answer")
    ticked: bool = shown("whether it is ticked already")
    amount: str = shown("how much of it was found, where that was said; or nothing")
    asks_amount: bool = shown("whether a box behind it asks how much of it was found", False)


@dataclass(frozen=True, slots=True)
class ToolView:
    """An instrument, or a line for one."""

    kind: str = shown("kind; empty for one not thought of")
    number: str = shown("its serial number, or nothing")
    resolution: str = shown("its resolution, or nothing")
    calibrated: str = shown("day of its calibration, or nothing")
    error: str = shown("its permissible error, or nothing", "")


@dataclass(frozen=True, slots=True)
class GridView:
    """Boxes to write in, for each place an item is read at."""

    corner: str = shown("what the rows are: 'cylinder'; may be empty")
    columns: tuple[str, ...] = shown("head of each column; empty for a single box")
    halves: tuple[tuple[GridRow, ...], ...] = shown(
        "rows of boxes, in two parts where two stand side by side"
    )
    wide: bool = shown("whether boxes need room for words")
    beside: bool = shown("whether its two parts stand side by side")
    words: bool = shown("whether it is one box for words, as wide as the page")
    unit: str = shown("unit printed in each empty box, where the report's units ask for it; or nothing", "")
    where: bool = shown("whether its last column says where, in words", False)
    single: bool = shown("whether it is one box for a figure or a letter", False)

    @property
    def rows(self) -> tuple[GridRow, ...]:
        """All rows."""
        return tuple(row for half in self.halves for row in half)


@dataclass(frozen=True, slots=True)
class ComesToView:
    """What is computed once an item is read, and held against a limit of its own."""

    name: str = shown("what is computed")
    unit: str = shown("unit to write in, or nothing")
    limits: tuple[str, ...] = shown("limits to hold it against")
    grid: GridView = shown("boxes to write in")


@dataclass(frozen=True, slots=True)
class ItemView:
    """One item of the checklist."""

    id: str = shown("its name in an inspection file")
    asks: str = shown("what is read or looked at")
    unit: str = shown("unit to write in, or nothing")
    instrument: str = shown("instrument expected, or nothing")
    limits: tuple[str, ...] = shown("limits to hold the reading against")
    hint: str = shown("hint, or nothing")
    access: str = shown("what must be open for it, or nothing")
    cautions: tuple[str, ...] = shown("cautions at this step")
    key: str = shown("letters or words to write, explained; or nothing")
    ticks: tuple[TickView, ...] = shown("answers to tick; empty where boxes are written in")
    grid: GridView | None = shown("boxes to write in, or nothing")
    optional: bool = shown("whether it may be left out at no loss")
    left_out: str = shown("why it was left out, or nothing")
    remarks: str = shown("what was noted beside its boxes, with the places; or nothing", "")
    remark_line: bool = shown("whether a line for remarks stands below its boxes", False)
    comes_to: tuple[ComesToView, ...] = shown("what is computed once it is read", ())


@dataclass(frozen=True, slots=True)
class SectionView:
    """Items that are done together."""

    title: str = shown("section")
    intro: str = shown("what to mind, or nothing")
    access: str = shown("what must be open, or nothing")
    cautions: tuple[str, ...] = shown("cautions of the section")
    items: tuple[ItemView, ...] = shown("items")
    stage: str = shown("number and name of the stage that begins here, or nothing", "")
    stage_cautions: tuple[str, ...] = shown("cautions of the steps just opened, where a stage begins", ())


@dataclass(frozen=True, slots=True)
class SheetView:
    """A blank checklist for one engine and depth."""

    title: str = shown("title of the checklist")
    engine: str = shown("maker and model")
    depth: str = shown("depth of the inspection")
    language: str = shown("language tag of the page")
    paper: str = shown("A4 or Letter")
    workshop: str = shown("name of the workshop; may be empty")
    program: str = shown("program and version")
    head_left: str = shown("what stands at the left of every page's head")
    head_right: str = shown("what stands at the right of every page's head")
    facts: tuple[Fact, ...] = shown("what the sheet is made from: spec sheet, checklist, with versions")
    blanks: tuple[Fact, ...] = shown("lines to fill in at the head, with what is filled in already")
    units_note: str = shown("in which units to write, where boxes name theirs; or nothing")
    filled: str = shown("from which inspection the sheet is filled in, or nothing")
    instruments: tuple[ToolView, ...] = shown("instruments used, kinds still needed, and lines for others")
    cautions: tuple[str, ...] = shown("cautions before the first item")
    steps: tuple[str, ...] = shown("steps of the rating scale, 0 to 5, each with its number")
    sections: tuple[SectionView, ...] = shown("sections in the order of the strip-down, stage by stage")
    foot: str = shown("what stands at the left of every page's foot", "")
    remarks: tuple[str, ...] = shown("remarks and photos the inspection holds", ())
    notes: Markup | None = shown("notes the inspection holds, ready to print; or nothing", None)
