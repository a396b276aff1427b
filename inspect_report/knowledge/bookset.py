"""Turns the books an inspection names, and those every inspection needs, into one set."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any, Final

from inspect_report.knowledge.bookread import Book, named_book, read_book, shipped_book
from inspect_report.knowledge.case import BookFile, Books, Practice
from inspect_report.knowledge.catalogue import Catalogue, Cautions, Scales, Scoring
from inspect_report.knowledge.rulebook import Rulebook
from inspect_report.knowledge.workbook import Workbook
from inspect_report.records.checklist import Checklist
from inspect_report.records.further import with_further_items
from inspect_report.records.problem import Problem, Read
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.vocabulary import Vocabulary
from inspect_report.records.workshop import Workshop
from inspect_report.records.yaml import Document

DEFAULT_RULEBOOK: Final = "engine-builder"


@dataclass(frozen=True, slots=True)
class BookSet:
    """Every book of one inspection, each with its document."""

    sheet: Book[SpecSheet]
    checklist: Book[Checklist]
    workshop: Book[Workshop]
    catalogue: Book[Catalogue]
    scales: Book[Scales]
    scoring: Book[Scoring]
    practice: Book[Practice]
    rulebook: Book[Rulebook]
    workbook: Book[Workbook]
    cautions: Book[Cautions]
    library: Path | None = None
    """Folder of the shipped books; None for that of this release."""

    @property
    def each(self) -> tuple[Book[Any], ...]:
        """The books, in one order."""
        return tuple(getattr(self, f.name) for f in fields(Books))

    def books(self) -> Books:
        """The books alone, the checklist with items for what only the spec sheet knows."""
        records = {f.name: getattr(self, f.name).record for f in fields(Books)}
        return Books(**{**records, "checklist": self.full_checklist()})

    def files(self) -> tuple[BookFile, ...]:
        """Kind, id, version and digest of every book."""
        return tuple(book.file for book in self.each)

    def paths(self) -> tuple[str, ...]:
        """Where each of ``files`` lies."""
        return tuple(book.document.file for book in self.each)

    def full_checklist(self) -> Checklist:
        """The checklist with items for what only the spec sheet knows."""
        return full_checklist(self.checklist.record, self.sheet.record, self.catalogue.record)


def full_checklist(checklist: Checklist, sheet: SpecSheet, catalogue: Catalogue) -> Checklist:
    """The checklist with items for what only the spec sheet knows."""
    computed = (k.id for k in catalogue.characteristics if k.needs)
    return with_further_items(checklist, sheet, computed)


def vocabulary_of(catalogue: Catalogue, scales: Scales, workbook: Workbook) -> Vocabulary:
    """Words an inspection may use."""
    return Vocabulary(
        damage={w.damage: w.even for w in scales.words},
        characteristics=frozenset(k.id for k in catalogue.characteristics),
        parts=frozenset(k.part for k in catalogue.characteristics if k.part),
        steps=frozenset(s.id for s in workbook.access),
        jobs=frozenset(j.id for j in workbook.jobs),
    )


Reads = Mapping[str, Read[Any]]
"""What came of reading each book, by its name in ``BookSet``."""


def read_books(naming: Document, library: Path | None = None) -> Reads:
    """
    The books that an inspection needs, each with every fault in it.

    Args:
        naming: The inspection; a key that is missing in it is told where its head is read.
        library: Folder of the shipped books; that of this release when left out.
    """
    names = naming.data if isinstance(naming.data, dict) else {}
    rules = {"rulebook": DEFAULT_RULEBOOK, **names}
    asked = {
        "sheet": _named(SpecSheet, names, "spec-sheet", "", naming, library),
        "workshop": _named(Workshop, names, "workshop", "", naming, library),
        "checklist": _named(Checklist, names, "checklist", "checklists", naming, library),
        "rulebook": _named(Rulebook, rules, "rulebook", "rulebooks", naming, library),
    }
    return {**with_common(asked, library), **_own(asked["workshop"], naming)}


def with_common(asked: Reads, library: Path | None = None) -> Reads:
    """The books asked for and those that every inspection needs."""
    return {
        **asked,
        "workbook": _workbook(asked["checklist"], library),
        **{key: shipped_book(model, name, library) for name, (key, model) in _COMMON.items()},
    }


_COMMON: Final[dict[str, tuple[str, Any]]] = {
    "characteristics": ("catalogue", Catalogue),
    "scales": ("scales", Scales),
    "scoring": ("scoring", Scoring),
    "practice": ("practice", Practice),
    "cautions": ("cautions", Cautions),
}
"""Books that every inspection needs, by their file and their key below ``books``: name in a set, kind."""


def _own(workshop: Read[Book[Workshop]], naming: Document) -> dict[str, Read[Any]]:
    """Books that stand in for shipped ones: the workshop's, and before those the inspection's own."""
    common = _named_below(workshop.value.document, _COMMON) if workshop.value else {}
    return {**common, **_named_below(naming, {**_COMMON, "workbook": ("workbook", Workbook)})}


def _named_below(naming: Document, kinds: Mapping[str, tuple[str, Any]]) -> dict[str, Read[Any]]:
    """The books that a file names below ``books``; what is no text there is told when that file is read."""
    names = naming.data.get("books") if isinstance(naming.data, dict) else None
    return {
        kinds[key][0]: named_book(kinds[key][1], written, "", naming, ("books", key))
        for key, written in (names.items() if isinstance(names, dict) else ())
        if key in kinds and isinstance(written, str) and written
    }


def as_set(reads: Reads, library: Path | None = None) -> BookSet | None:
    """The set, where every book could be read."""
    values: dict[str, Any] = {name: read.value for name, read in reads.items()}
    return None if any(v is None for v in values.values()) else BookSet(**values, library=library)


def problems_in(reads: Reads) -> tuple[Problem, ...]:
    """The faults of every book."""
    return tuple(p for read in reads.values() for p in read.problems)


def _named(
    model: Any, names: dict[str, Any], key: str, shelf: str, naming: Document, library: Path | None
) -> Read[Any]:
    written = names.get(key)
    if not isinstance(written, str):
        return Read(None)
    return named_book(model, written, shelf, naming, (key,), library)


def _workbook(checklist: Read[Book[Checklist]], library: Path | None) -> Read[Any]:
    """The workbook a checklist names: of the workshop's own beside the checklist, else the shipped one."""
    if checklist.value is None:
        return Read(None)
    book = checklist.value
    name = f"workbooks/{book.record.workbook}"
    own = next((p for p in _beside(book.document, name) if p.is_file()), None)
    if own is not None:
        return read_book(Workbook, own)
    return named_book(Workbook, book.record.workbook, "workbooks", book.document, ("workbook",), library)


def _beside(document: Document, name: str) -> Iterator[Path]:
    folder = Path(document.file).parent
    yield folder / f"{name}.yaml"
    yield folder.parent / f"{name}.yaml"
