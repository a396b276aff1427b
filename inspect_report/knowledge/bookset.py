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

    def books(self) -> Books:
        """The books alone, the checklist with items for what only the spec sheet knows."""
        records = {f.name: getattr(self, f.name).record for f in fields(self)}
        return Books(**{**records, "checklist": self.full_checklist()})

    def files(self) -> tuple[BookFile, ...]:
        """Kind, id, version and digest of every book."""
        return tuple(getattr(self, f.name).file for f in fields(self))

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


def read_books(naming: Document) -> Reads:
    """
    The books that an inspection needs, each with every fault in it.

    Args:
        naming: The inspection; a key that is missing in it is told where its head is read.
    """
    names = naming.data if isinstance(naming.data, dict) else {}
    rules = {"rulebook": DEFAULT_RULEBOOK, **names}
    return with_common({
        "sheet": _named(SpecSheet, names, "spec-sheet", "", naming),
        "workshop": _named(Workshop, names, "workshop", "", naming),
        "checklist": _named(Checklist, names, "checklist", "checklists", naming),
        "rulebook": _named(Rulebook, rules, "rulebook", "rulebooks", naming),
    })  # fmt: skip


def with_common(asked: Reads) -> Reads:
    """The books asked for and those that every inspection needs."""
    return {
        **asked,
        "workbook": _workbook(asked["checklist"]),
        "catalogue": shipped_book(Catalogue, "characteristics"),
        "scales": shipped_book(Scales, "scales"),
        "scoring": shipped_book(Scoring, "scoring"),
        "practice": shipped_book(Practice, "practice"),
        "cautions": shipped_book(Cautions, "cautions"),
    }


def as_set(reads: Reads) -> BookSet | None:
    """The set, where every book could be read."""
    values: dict[str, Any] = {name: read.value for name, read in reads.items()}
    return None if any(v is None for v in values.values()) else BookSet(**values)


def problems_in(reads: Reads) -> tuple[Problem, ...]:
    """The faults of every book."""
    return tuple(p for read in reads.values() for p in read.problems)


def _named(model: Any, names: dict[str, Any], key: str, shelf: str, naming: Document) -> Read[Any]:
    written = names.get(key)
    return named_book(model, written, shelf, naming, (key,)) if isinstance(written, str) else Read(None)


def _workbook(checklist: Read[Book[Checklist]]) -> Read[Any]:
    """The workbook a checklist names: of the workshop's own beside the checklist, else the shipped one."""
    if checklist.value is None:
        return Read(None)
    book = checklist.value
    name = f"workbooks/{book.record.workbook}"
    own = next((p for p in _beside(book.document, name) if p.is_file()), None)
    if own is not None:
        return read_book(Workbook, own)
    return named_book(Workbook, book.record.workbook, "workbooks", book.document, ("workbook",))


def _beside(document: Document, name: str) -> Iterator[Path]:
    folder = Path(document.file).parent
    yield folder / f"{name}.yaml"
    yield folder.parent / f"{name}.yaml"
