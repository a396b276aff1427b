"""
Turns a spec sheet and a checklist into the text of an inspection file that waits to be filled in.

Every item of the depth stands there with its places written out and a comment that says what it asks for.
What stays empty counts as not inspected, so a half-filled file can be read at any time.
"""

import json
import re
import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final, get_args

from inspect_report.records.checklist import (
    CYLINDER,
    Checklist,
    Depth,
    Item,
    Section,
    applies_to,
    axis_labels,
    depths_of,
)
from inspect_report.records.inspection import Report
from inspect_report.records.limit_text import limit_lines
from inspect_report.records.specsheet import SpecSheet

_WIDTH: Final = 100
_PLAIN: Final = re.compile(r"(?:\.{1,2}/)*[A-Za-z0-9][A-Za-z0-9 ./_-]*")
_PEOPLE: Final = (
    "dates:  # year-month-day",
    "  received:",
    "  inspected:",
    "  issued:",
    "customer:",
    "  name:",
    "  address:",
    "inspector:",
    "  name:",
    "  qualification:",
    "place:  # where it was inspected",
)
_OCCASION: Final = (
    "reason:  # what the customer asks, in a sentence",
    "answer:  # the inspector's answer, in a sentence or two; stands on the first page as an opinion",
    "conditions:",
    "  ambient-temperature:  # 19 °C",
    "  ambient-pressure:  # 1002 hPa; or altitude",
    "  altitude:  # 120 m",
    "  engine:  # cold | warm | hot",
    "  battery:  # 12.6 V",
    "  remarks:",
    "opened:  # [access steps found open or opened beyond the depth]",
    "",
)
_NOT_TEXT: Final = frozenset({"true", "false", "null"})


@dataclass(frozen=True, slots=True)
class BlankOrder:
    """
    What a blank inspection is made from.

    ``names``: how the file will name its books (``checklist``, ``spec-sheet``, ``workshop``). ``cautions``:
    text of each caution by its id. ``computed``: for an item, the characteristics whose limits depend on it.
    ``schema``: address of the JSON Schema for the editor.
    """

    sheet: SpecSheet
    checklist: Checklist
    depth: Depth
    names: Mapping[str, str]
    cautions: Mapping[str, str] = field(default_factory=dict)
    computed: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    schema: str = ""


def blank_inspection(order: BlankOrder) -> str:
    """The text of an inspection file, commented and ready to fill in."""
    sections = tuple(_sections(order))
    lines = [*_head(order), *_instruments(sections), "readings:"]
    for section, items in sections:
        lines += _section(section, items, order)
    return "\n".join((*lines, *_foot())) + "\n"


def _sections(order: BlankOrder) -> Iterator[tuple[Section, tuple[Item, ...]]]:
    """The sections and items that belong to this engine at this depth, and have places in it."""
    layout = order.sheet.layout
    for section in order.checklist.sections:
        if applies_to(section.applies, layout):
            items = tuple(i for i in section.items if _is_asked(i, section, order))
            if items:
                yield section, items


def _is_asked(item: Item, section: Section, order: BlankOrder) -> bool:
    at_depth = order.depth in depths_of(item, section)
    return at_depth and applies_to(item.applies, order.sheet.layout) and _places(item, order) is not None


def _places(item: Item, order: BlankOrder) -> tuple[tuple[str, ...], ...] | None:
    """Labels along each axis; None where the engine has none, or the spec sheet does not count them."""
    try:
        labels = tuple(axis_labels(a, order.sheet, order.checklist) for a in _axes_written(item, order))
    except KeyError:
        return None
    return labels if all(labels) else None


def _axes_written(item: Item, order: BlankOrder) -> tuple[str, ...]:
    """The axes of an item that need writing: an engine with one cylinder leaves it out."""
    single = order.sheet.layout.cylinders == 1
    return tuple(a for a in item.axes if not (single and a == CYLINDER))


def _head(order: BlankOrder) -> list[str]:
    return [*_opening(order), *_books_named(order), *_PEOPLE, *_engine(order), *_OCCASION]


def _opening(order: BlankOrder) -> list[str]:
    sheet = order.sheet
    hint = [f"# yaml-language-server: $schema={order.schema}"] if order.schema else []
    return [
        *hint,
        f"# Inspection of {sheet.maker} {sheet.model}, {order.depth}.",
        "# Write behind the colons. What stays empty counts as not inspected. Amounts may carry a unit",
        "# (5 thou); a list [0.15, 0.16] holds repeats of one reading. Lines with # are only for people.",
        "",
        "inspection:  # unique number, such as HW-2026-031; the report's files are named after it",
        "issue: 1",
        f"report:  # {' | '.join(get_args(Report))}",
        f"depth: {order.depth}",
    ]


def _books_named(order: BlankOrder) -> list[str]:
    names = {key: _value(order.names.get(key, "")) for key in ("checklist", "spec-sheet", "workshop")}
    return [
        f"checklist:{names['checklist']}",
        f"spec-sheet:{names['spec-sheet']}",
        f"workshop:{names['workshop']}  # the workshop's file, named from the folder of this one",
        "follows:  # file of the inspection before this one; a list where a part came from another engine",
    ]


def _engine(order: BlankOrder) -> list[str]:
    return [
        "engine:",
        f"  maker:{_value(order.sheet.maker)}",
        f"  model:{_value(order.sheet.model)}",
        "  serial:",
        "  machine:  # what it is fitted in",
        "  owner:",
        "  running-time:  # 812 h",
        "  distance:  # 41 200 km",
        "  history:  # as owner or seller say",
    ]


def _instruments(sections: tuple[tuple[Section, tuple[Item, ...]], ...]) -> list[str]:
    """One instrument of each kind the items ask for, in the order they are first needed."""
    units: dict[str, str] = {}
    for _, items in sections:
        for item in items:
            if item.instrument:
                units.setdefault(item.instrument, item.unit)
    if not units:
        return []
    lines = [
        "# Fill in those that were used. Resolution: the smallest step that can be read, without it",
        "# an instrument takes no reading; permissible error: the largest its papers allow.",
        "instruments:",
    ]
    rest = "resolution: , permissible-error: , serial: , calibrated: "
    for kind, unit in units.items():
        own = "orifice: , orifice-error: , " if kind == "leak-down tester" else ""
        lines.append(f"  {_slug(kind)}: {{kind:{_value(kind)}, unit:{_value(unit)}, {own}{rest}}}")
    return [*lines, ""]


def _section(section: Section, items: tuple[Item, ...], order: BlankOrder) -> list[str]:
    lines = ["", f"  # ---- {section.title}"]
    if section.intro:
        lines += _comment(section.intro, 2)
    lines += [line for c in section.caution for line in _caution(c, order, 2)]
    lines.append(f"  {section.id}:")
    for item in items:
        lines += [*_said(item, order), *_grid(item, order)]
    return lines


def _said(item: Item, order: BlankOrder) -> Iterator[str]:
    """What an item asks for, with what to expect, as comments."""
    unit = "" if item.unit == "1" else item.unit
    parts = (item.asks, unit, item.instrument, _form(item), _axes(item, order))
    yield from _comment(" · ".join(p for p in parts if p), 4)
    for line in limit_lines((item.id, *order.computed.get(item.id, ())), order.sheet):
        yield from _comment(line, 4)
    if item.hint:
        yield from _comment(item.hint, 4)
    for caution in item.caution:
        yield from _caution(caution, order, 4)


def _axes(item: Item, order: BlankOrder) -> str:
    """What the keys stand for, outermost first, where there is more than one axis."""
    axes = _axes_written(item, order)
    return f"by {', then '.join(axes)}" if len(axes) > 1 else ""


def _form(item: Item) -> str:
    if item.kind == "choice" and item.amounts:
        return f"{next(iter(item.options))}, or {{kind: amount 1–5, …}} with " + " | ".join(item.options)
    if item.kind == "choice":
        return ("one or more of: " if item.several else "one of: ") + " | ".join(item.options)
    if item.kind == "rating":
        return "none, or {damage: …, amount: 0–5, size or strength: 0–5, note: …} with " + " | ".join(
            item.damage
        )
    return {"count": "how many", "tick": "done | no", "photo": "file name", "text": "in words"}.get(
        item.kind, ""
    )


def _grid(item: Item, order: BlankOrder) -> Iterator[str]:
    places = _places(item, order) or ()
    if not places:
        yield f"    {item.id}:"
    elif item.shared:
        yield f"    {item.id}: {{all: }}  # or each {_axes_written(item, order)[0]}: {', '.join(places[0])}"
    elif len(places) == 1 and item.kind not in ("rating", "photo"):
        yield f"    {item.id}: {_row(places[0])}"
    else:
        yield f"    {item.id}:"
        yield from _rows(item, places, 6)


def _rows(item: Item, places: tuple[tuple[str, ...], ...], indent: int) -> Iterator[str]:
    """Places line by line; of readings and answers the last axis side by side."""
    blanks = " " * indent
    for label in places[0]:
        if len(places) == 1:
            yield f"{blanks}{_key(label)}:"
        elif len(places) == 2 and item.kind not in ("rating", "photo"):
            yield f"{blanks}{_key(label)}: {_row(places[1])}"
        else:
            yield f"{blanks}{_key(label)}:"
            yield from _rows(item, places[1:], indent + 2)


def _row(labels: tuple[str, ...]) -> str:
    return "{" + ", ".join(f"{_key(label)}: " for label in labels) + "}"


def _foot() -> list[str]:
    return [
        "",
        "# Items not done, and why: - {item: compression-wet, at: {cylinder: 2}, reason: …};",
        "# with 'applies: false' where the engine has no such thing.",
        "left-out:",
        "# Pictures in the folder of this file: - {file: photos/crown-2.jpg, caption: …, of: crown-state.2}",
        "# With marks, in shares of the picture from its upper left corner, across and down, 0 to 1:",
        "#   marks: [{arrow: {tail: [0.2, 0.3], tip: [0.4, 0.6]}, label: crack},",
        "#           {circle: {centre: [0.7, 0.5], radius: 0.1}}]",
        "# Beside an earlier one of that place: before: {file: photos/crown-2-old.jpg, taken: 2025-03-01}",
        "# front: true puts the picture of the whole engine on the first page.",
        "photos:",
        "# Markdown",
        "notes:",
    ]


def _comment(text: str, indent: int) -> list[str]:
    lead = " " * indent + "# "
    return textwrap.wrap(
        text, _WIDTH, initial_indent=lead, subsequent_indent=lead + "  ", break_long_words=False
    )


def _caution(caution: str, order: BlankOrder, indent: int) -> list[str]:
    return _comment(f"Caution: {order.cautions.get(caution, caution.replace('-', ' '))}", indent)


def _value(text: str) -> str:
    """A value behind its colon, in quotes where YAML or a number could mislead."""
    return f" {_key(text)}" if text else ""


def _key(text: str) -> str:
    misleading = text.casefold() in _NOT_TEXT or not _PLAIN.fullmatch(text) or text.endswith(" ")
    number = bool(re.match(r"[0-9]", text)) and not re.fullmatch(r"[1-9][0-9]{0,5}", text)
    return json.dumps(text, ensure_ascii=False) if misleading or number else text


def _slug(kind: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", kind.casefold()).strip("-") or "instrument"
