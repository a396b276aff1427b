"""Turns a spec sheet that does not hold together with checklist and catalogue into problems."""

from collections.abc import Iterator
from difflib import get_close_matches

from inspect_report.knowledge.bookset import BookSet
from inspect_report.knowledge.words import unknown, unknown_each
from inspect_report.records.checklist import LAYOUT_AXES, axis_labels, in_group
from inspect_report.records.problem import Problem
from inspect_report.records.quantity import unit_named
from inspect_report.records.specsheet import Characteristic, SpecSheet
from inspect_report.records.yaml import Document, Path


def sheet_disagreements(books: BookSet) -> Iterator[Problem]:
    """Rows without source, in a unit of another kind, at places the engine does not have, or given twice."""
    document, sheet = books.sheet.document, books.sheet.record
    yield from rows_by_themselves(document, sheet)
    yield from _clearance_height(document, books)
    for i, row in enumerate(sheet.characteristics):
        path: Path = ("characteristics", i)
        yield from _row_places(document, row, path, books)
        yield from _row_axes(document, row, path, books)
        yield from row_unit(document, row, path, books)
        yield from _row_name(document, row, path, books)


def _clearance_height(document: Document, books: BookSet) -> Iterator[Problem]:
    """A height of the bore that the checklist does not read would leave the piston without a clearance."""
    height = books.sheet.record.geometry.clearance_height
    if height:
        heights = books.checklist.record.axes.get("height", ())
        path: Path = ("geometry", "clearance-height")
        yield from unknown(document, "K360", "height", height, path, heights)


def rows_by_themselves(document: Document, sheet: SpecSheet) -> Iterator[Problem]:
    """Rows without a source, and rows given twice: what needs no other book to be seen."""
    yield from _unsourced(document, sheet)
    yield from _twice(document, sheet)


def _unsourced(document: Document, sheet: SpecSheet) -> Iterator[Problem]:
    """Rows said to be seen in print, without saying where."""
    for i, row in enumerate(sheet.characteristics):
        if row.sure == "seen" and not row.source and not (row.page and sheet.manual):
            yield document.problem(
                "K303",
                "limit without its source",
                ("characteristics", i),
                f"{row.id} without 'source', and without 'page'"
                if not row.page
                else f"{row.id}, page {row.page} of no manual",
                "'page' of the sheet's 'manual', or a 'source' of its own",
                "add the page; a value nobody saw in print is 'sure: from memory' or 'sure: common practice'",
            )


def _twice(document: Document, sheet: SpecSheet) -> Iterator[Problem]:
    seen: dict[tuple[str, tuple[tuple[str, str], ...]], int] = {}
    for i, row in enumerate(sheet.characteristics):
        key = (row.id, tuple(sorted(row.where.items())))
        if key in seen:
            first = document.place(("characteristics", seen[key])).line
            yield document.problem(
                "K363",
                "two rows for one place",
                ("characteristics", i),
                f"{row.id}, first on line {first}",
                "one row of a characteristic for each place",
                "delete one of them, or tell them apart with 'where'",
            )
        seen.setdefault(key, i)


def _row_places(document: Document, row: Characteristic, path: Path, books: BookSet) -> Iterator[Problem]:
    axes = _known_axes(books)
    yield from unknown_each(document, "K359", "axis", row.axes, (*path, "axes"), axes)
    for axis, group in row.where.items():
        at: Path = (*path, "where", axis)
        yield from unknown(document, "K359", "axis", axis, at, axes)
        labels = axis_labels(axis, books.sheet.record, books.checklist.record) if axis in axes else ()
        if axis in axes and not any(in_group(label, group) for label in labels):
            yield from unknown(document, "K360", axis, group, at, labels)


def _row_axes(document: Document, row: Characteristic, path: Path, books: BookSet) -> Iterator[Problem]:
    """A row narrowed along an axis its item does not have would never be met."""
    item = books.checklist.record.item(row.id)
    if item is None:
        return
    reach = {*item.axes, *row.axes, *(("cam",) if "valve" in item.axes else ())}
    for axis in row.where:
        if axis in _known_axes(books) and axis not in reach:
            yield document.problem(
                "K367",
                f"{row.id} is not read along that axis",
                (*path, "where", axis),
                f"{axis}: {row.where[axis]}",
                " · ".join(item.axes) or "no 'where': it is read at one place",
                "name the places as the checklist does, or take 'where' out",
            )


def _row_name(document: Document, row: Characteristic, path: Path, books: BookSet) -> Iterator[Problem]:
    """A name a letter off a known one would be something new, and the known one go without limit."""
    catalogue = books.catalogue.record
    known = {k.id for k in catalogue.characteristics}
    known |= {i.id for s in books.checklist.record.sections for i in s.items}
    if row.id in known or row.axes or row.name:
        return
    near = get_close_matches(row.id, sorted(known), n=1, cutoff=0.9)
    if near:
        place = document.told_at((*path, "id"))
        yield Problem(
            "K368",
            "warning",
            "name almost like a known one",
            place,
            row.id,
            f"{near[0]}, or something else with a 'name' of its own",
            f"write {near[0]!r} if that is meant; else add 'name: …'",
            document.excerpt(place),
        )


def _known_axes(books: BookSet) -> tuple[str, ...]:
    layout = books.sheet.record.layout
    return (*LAYOUT_AXES, *layout.counts, *books.checklist.record.axes)


def row_unit(document: Document, row: Characteristic, path: Path, books: BookSet) -> Iterator[Problem]:
    """A row measures what its item or formula measures."""
    unit = _unit_asked(row.id, books)
    if not unit or unit_named(unit).dimension == unit_named(row.unit).dimension:
        return
    yield document.problem(
        "K361",
        f"{row.id} in a unit of another kind",
        (*path, "unit"),
        f"{row.unit}, {unit_named(row.unit).dimension}",
        f"a unit of {unit_named(unit).dimension}, such as {unit}",
        "correct 'unit', or the name of the characteristic",
    )


def _unit_asked(characteristic: str, books: BookSet) -> str:
    known = books.catalogue.record.known(characteristic)
    item = books.checklist.record.item(characteristic)
    return (known.unit if known else "") or (item.unit if item else "")
