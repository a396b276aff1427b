"""Turns the file of a book into the book, its document and its digest; a file is parsed once in a run."""

import os
from collections.abc import Sequence, Set
from dataclasses import dataclass
from functools import cache, lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Final, Generic, TypeVar

from inspect_report.knowledge.case import BookFile, Practice
from inspect_report.knowledge.catalogue import Catalogue, Cautions, Scales, Scoring
from inspect_report.knowledge.kept import document_of_book
from inspect_report.knowledge.rulebook import Rulebook
from inspect_report.knowledge.workbook import Workbook
from inspect_report.places import knowledge_dir
from inspect_report.records.checklist import Checklist
from inspect_report.records.complaints import kebab
from inspect_report.records.inspection import InspectionHead
from inspect_report.records.problem import InvalidInput, Problem, Read, in_file_order, nearest, some
from inspect_report.records.shape import Record, raw_file, read_as
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.workshop import Workshop
from inspect_report.records.yaml import Document
from inspect_report.records.yaml import Path as KeyPath

B = TypeVar("B", bound=Record)

KINDS: Final[dict[type[Record], str]] = {
    SpecSheet: "spec sheet",
    Checklist: "checklist",
    Workshop: "workshop file",
    Rulebook: "rulebook",
    Workbook: "workbook",
    Catalogue: "characteristics book",
    Scales: "scales",
    Scoring: "scoring",
    Practice: "practice",
    Cautions: "cautions",
}
"""What each book is called; the first key of its file is its id, named by the record's first field."""


@dataclass(frozen=True, slots=True)
class Book(Generic[B]):
    """A book as read, with its document for telling faults and its file for the report."""

    record: B
    document: Document
    file: BookFile


@lru_cache(maxsize=256)
def _parsed(model: type[B], raw: bytes, name: str) -> Read[Book[B]]:
    try:
        document = document_of_book(raw, Path(name))
    except InvalidInput as fault:
        further = _checked(model, fault.document).problems if fault.document else ()
        return Read(None, in_file_order((*fault.problems, *further)))
    read = _checked(model, document)
    if read.value is None:
        return Read(None, read.problems)
    return Read(Book(read.value, document, _book_file(read.value, raw)), read.problems)


def _checked(model: type[B], document: Document) -> Read[B]:
    """The record of a document; a file of another kind is told once, not by every key it has too much."""
    kind = kind_of(_keys(document))
    if kind in (None, model) or id_key(model) in _keys(document):
        return read_as(model, document)
    return Read(None, (_of_another_kind(model, _name_of(kind), document),))


def _of_another_kind(model: type[Record], found: str, document: Document) -> Problem:
    return document.problem(
        "K366",
        f"not a {KINDS[model]}",
        (),
        f"a file that looks like: {found}",
        f"a {KINDS[model]}, which begins with '{id_key(model)}: …'",
        f"name the {KINDS[model]}, or add its line '{id_key(model)}: …'",
    )


def _name_of(kind: type[Record] | None) -> str:
    return KINDS.get(kind, "inspection") if kind else ""


def kind_of(keys: Set[str]) -> type[Record] | None:
    """What a file is by its keys: a kind of book, an inspection, or None where that cannot be told."""
    kinds: tuple[type[Record], ...] = (InspectionHead, *KINDS)
    named = [model for model in kinds if id_key(model) in keys]
    if InspectionHead in named:
        return InspectionHead
    most = max(kinds, key=lambda model: len(keys & _taken(model)))
    return most if len(keys & _taken(most)) > len(keys) / 2 else next(iter(named), None)


def _keys(document: Document) -> set[str]:
    return set(document.data) if isinstance(document.data, dict) else set()


@cache
def _taken(model: type[Record]) -> frozenset[str]:
    return frozenset(kebab(name) for name in model.model_fields)


def id_key(model: type[Record]) -> str:
    """The key of a book's id, which is the first of its file."""
    return kebab(next(iter(model.model_fields)))


def _book_file(record: Record, raw: bytes) -> BookFile:
    first = next(iter(type(record).model_fields))
    version = int(getattr(record, "version", 1))
    return BookFile(KINDS[type(record)], str(getattr(record, first)), version, sha256(raw).hexdigest())


def read_book(model: type[B], path: Path) -> Read[Book[B]]:
    """The book in a file, or every fault in it."""
    try:
        return _parsed(model, raw_file(path), str(path))
    except InvalidInput as fault:
        return Read(None, fault.problems)


def shipped_book(model: type[B], name: str, library: Path | None = None) -> Read[Book[B]]:
    """
    A book of the package by its place in the folder of shipped books, ``checklists/four-stroke``.

    Args:
        model: Kind of book.
        name: Its place.
        library: The folder, where it is not that of this release: one kept beside an inspection.
    """
    return read_book(model, (library or knowledge_dir()) / f"{name}.yaml")


def shipped_ids(shelf: str, library: Path | None = None) -> tuple[str, ...]:
    """Ids of the shipped books of a kind, ``checklists`` for example."""
    return tuple(sorted(p.stem for p in ((library or knowledge_dir()) / shelf).glob("*.yaml")))


def named_book(
    model: type[B], written: str, shelf: str, naming: Document, at: KeyPath, library: Path | None = None
) -> Read[Book[B]]:
    """
    The book that a file names: by the id of a shipped one, or as a file beside the one that names it.

    Args:
        model: Kind of book.
        written: As named.
        shelf: Folder of shipped books of that kind; empty where they are not named by an id.
        naming: The document that names it.
        at: Where.
        library: As in ``shipped_book``.
    """
    if is_file_name(written):
        path = Path(naming.file).parent / written
        return (
            read_book(model, path)
            if is_book_file(path)
            else Read(None, (_not_there(model, written, naming, at),))
        )
    ids = shipped_ids(shelf, library) if shelf else ()
    if written in ids:
        return shipped_book(model, f"{shelf}/{written}", library)
    return Read(None, (_not_shipped(model, written, ids, naming, at),))


def is_book_file(path: Path) -> bool:
    """Whether a file that another file names may be opened: it is there, and by its ending it is YAML."""
    try:
        os.lstat(path)
    except PermissionError:
        return True  # told when it is opened
    except (OSError, ValueError):
        return False
    return path.suffix in (".yaml", ".yml")


def is_file_name(written: str) -> bool:
    """Whether a book is named by its file and not by its id."""
    return "/" in written or written.endswith((".yaml", ".yml"))


def _not_there(model: type[Record], written: str, naming: Document, at: KeyPath) -> Problem:
    folder = (Path(naming.file).parent / written).parent
    beside = _books_in(folder)
    near = nearest(Path(written).name, beside)
    return naming.problem(
        "K351",
        f"{KINDS[model]} that is not there",
        at,
        written,
        f"a file; in that folder: {some(beside)}"
        if beside
        else "a file ending in .yaml or .yml, named from the folder of this one",
        f"write {str(Path(written).parent / near)!r} if that is meant" if near else "check name and folder",
    )


def _books_in(folder: Path) -> tuple[str, ...]:
    try:
        return tuple(sorted(p.name for p in folder.glob("*.y*ml"))) if folder.is_dir() else ()
    except OSError:
        return ()


def _not_shipped(
    model: type[Record], written: str, ids: Sequence[str], naming: Document, at: KeyPath
) -> Problem:
    near = nearest(written, ids)
    return naming.problem(
        "K351",
        f"{KINDS[model]} that is not known",
        at,
        written,
        some((*ids, "a file beside this one, named like books/name.yaml")),
        f"write {near!r} if that is meant" if near else "write the file's name with its ending .yaml",
    )
