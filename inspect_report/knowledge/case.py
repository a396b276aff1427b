"""Defines the books an inspection is judged by, and the case: an inspection with its books."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field

from inspect_report.knowledge.catalogue import Catalogue, Cautions, Known, Scales, Scoring
from inspect_report.knowledge.rulebook import Rulebook
from inspect_report.knowledge.workbook import Workbook
from inspect_report.records.checklist import Checklist, in_group
from inspect_report.records.inspection import Inspection
from inspect_report.records.position import Position
from inspect_report.records.problem import Problem
from inspect_report.records.shape import Id, Record
from inspect_report.records.specsheet import Characteristic, SpecSheet
from inspect_report.records.workshop import Workshop

Origin = Literal["spec sheet", "common practice"]


class Practice(Record):
    """Starting limits of common practice, used where the spec sheet has none; never a maker's."""

    practice: Id
    version: Annotated[int, Field(ge=1)]
    characteristics: tuple[Characteristic, ...]


@dataclass(frozen=True, slots=True)
class Books:
    """All that is known before the engine is looked at."""

    sheet: SpecSheet
    checklist: Checklist
    workshop: Workshop
    catalogue: Catalogue
    scales: Scales
    scoring: Scoring
    practice: Practice
    rulebook: Rulebook
    workbook: Workbook
    cautions: Cautions


@dataclass(frozen=True, slots=True)
class BookFile:
    """
    A book, or another file an assessment rests on: kind, id, version and the SHA-256 of its file.

    Of an inspection the id is its number, and the version its issue.
    """

    kind: str
    id: str
    version: int
    digest: str


@dataclass(frozen=True, slots=True)
class IssuedReport:
    """The JSON report of an earlier issue as it was sent out: its path, its text and what it is."""

    file: str
    text: str
    named: BookFile | None = None


@dataclass(frozen=True, slots=True)
class Case:
    """
    One inspection with the books it is judged by.

    ``earlier`` holds the inspections it follows, oldest first, each with its own books and without its own
    ``earlier``; ``folder`` is the inspection's own folder, the only one photos may lie in. The issue it
    replaces, where its file is named, is ``issued`` as it was sent out, or ``replaced``, to be judged anew.
    ``paths`` says where each of ``files`` lies, and ``library`` where the shipped books were taken from:
    empty for those of this release. ``named``: the inspection file itself.
    """

    inspection: Inspection
    books: Books
    files: tuple[BookFile, ...] = ()
    earlier: tuple["Case", ...] = ()
    folder: str = ""
    warnings: tuple[Problem, ...] = ()
    issued: IssuedReport | None = None
    replaced: "Case | None" = None
    paths: tuple[str, ...] = ()
    library: str = ""
    named: BookFile | None = None

    def beside_books(self) -> tuple[BookFile, ...]:
        """What it is judged by beside its books: inspection, those before it, books of theirs alone."""
        before = (*self.earlier, *((self.replaced,) if self.replaced else ()))
        issued = self.issued.named if self.issued else None
        named = (self.named, *(case.named for case in before), issued)
        theirs = (file for case in before for file in case.files if file not in self.files)
        return tuple(dict.fromkeys((*(file for file in named if file), *theirs)))


def row_for(books: Books, characteristic: str, position: Position) -> tuple[Characteristic, Origin] | None:
    """The limit row that holds at a place: the spec sheet's, else that of common practice, else None."""
    for rows, origin in _shelves(books):
        for row in rows:
            if row.id == characteristic and _row_sees(row, position):
                return row, origin
    return None


def _shelves(books: Books) -> Iterator[tuple[tuple[Characteristic, ...], Origin]]:
    yield books.sheet.characteristics, "spec sheet"
    yield books.practice.characteristics, "common practice"


def _row_sees(row: Characteristic, position: Position) -> bool:
    return all(in_group(position.label(axis) or "", group) for axis, group in row.where.items())


def known_or_row(books: Books, characteristic: str) -> Known | None:
    """The catalogue's entry; for a characteristic only the spec sheet knows, one made from its row."""
    known = books.catalogue.known(characteristic)
    if known is not None:
        return known
    row = next(iter(books.sheet.rows(characteristic)), None)
    return None if row is None else _from_row(row, books)


def _from_row(row: Characteristic, books: Books) -> Known:
    name = row.name or row.id.replace("-", " ")
    item = books.checklist.item(row.id)
    section = books.checklist.section_of(row.id)
    assembly = row.assembly or (section.assembly if section else "")
    names = {a.id for a in books.catalogue.assemblies}
    return Known(
        id=row.id,
        name=name,
        unit=row.unit,
        decimals=3,
        axes=row.axes or (item.axes if item else ()),
        assembly=assembly if assembly in names else books.catalogue.assemblies[-1].id,
        plain=f"{name[:1].upper()}{name[1:]}.",
    )
