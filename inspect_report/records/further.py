"""Turns limits of a spec sheet that no checklist item asks for into items, so that they can be read."""

from collections.abc import Iterable
from typing import Final

from inspect_report.records.checklist import Checklist, Item, Section
from inspect_report.records.quantity import difference_from_si
from inspect_report.records.specsheet import Band, Characteristic, SpecSheet

FURTHER: Final = "further-readings"
_TITLE: Final = "Further readings the spec sheet gives limits for"


def with_further_items(checklist: Checklist, sheet: SpecSheet, computed: Iterable[str]) -> Checklist:
    """
    The checklist, with an item for each characteristic of the sheet that is neither asked for nor computed.

    Args:
        checklist: As the book has it.
        sheet: The spec sheet; a row says by ``section`` and ``axes`` where its item belongs.
        computed: Ids of characteristics that are computed from other readings.
    """
    known = {i.id for s in checklist.sections for i in s.items} | set(computed)
    rows = {r.id: r for r in reversed(sheet.characteristics) if r.id not in known}
    if not rows:
        return checklist
    ordered = [rows[i] for i in dict.fromkeys(r.id for r in sheet.characteristics) if i in rows]
    sections = {s.id: s for s in checklist.sections}
    for row in ordered:
        home = sections.get(row.section or FURTHER) or _new_section(row)
        item = _item(row, sheet)
        sections[home.id] = home.model_copy(update={"items": (*home.items, item)})
    return checklist.model_copy(update={"sections": tuple(sections.values())})


def _new_section(row: Characteristic) -> Section:
    section = row.section or FURTHER
    title = section.replace("-", " ").capitalize() if row.section else _TITLE
    return Section(
        id=section, title=title, assembly=row.assembly, depths=("fully stripped", "after assembly"), items=()
    )


def _item(row: Characteristic, sheet: SpecSheet) -> Item:
    name = row.name or row.id.replace("-", " ")
    return Item(
        id=row.id,
        asks=name[:1].upper() + name[1:],
        kind="reading",
        axes=row.axes,
        unit=row.unit,
        range=_range(row, sheet),
    )


def _range(row: Characteristic, sheet: SpecSheet) -> tuple[float, float] | None:
    """A fit may be negative: where a row of this characteristic goes below nothing, so may its readings."""
    ends = [e for r in sheet.rows(row.id) for e in _ends(r)]
    if not ends or min(ends) >= 0:
        return None
    widest = 10 * max(abs(difference_from_si(e, row.unit)) for e in ends)
    return (-widest, widest)


def _ends(row: Characteristic) -> tuple[float, ...]:
    bands = [b for b in (row.standard, row.limit) if isinstance(b, Band)]
    ends = [e for b in bands for e in (b.low, b.high)]
    return tuple(e for e in (*ends, row.nominal) if e is not None)
