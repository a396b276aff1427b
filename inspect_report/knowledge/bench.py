"""Turns a spec sheet and a checklist into what an inspection begins with: its books and its blank file."""

import os
from pathlib import Path
from typing import Any, Final

from inspect_report.knowledge.agreement import disagreements, shipped_checklists
from inspect_report.knowledge.bookread import Book, is_file_name, named_book, read_book, shipped_book
from inspect_report.knowledge.bookset import DEFAULT_RULEBOOK, Reads, as_set, problems_in, with_common
from inspect_report.knowledge.case import BookFile, Books
from inspect_report.knowledge.catalogue import Catalogue
from inspect_report.knowledge.rulebook import Rulebook
from inspect_report.places import schemas_dir
from inspect_report.records.blank import BlankOrder, blank_inspection
from inspect_report.records.checklist import Checklist, Depth, applies_to
from inspect_report.records.problem import InvalidKnowledge, Read, in_file_order
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.workshop import Workshop
from inspect_report.records.yaml import Document

_COMMAND: Final = Document("command line", None)
"""Stands for the file that names a book where a person names it."""


def bench_books(spec_sheet: Path, checklist: str = "", workshop: Path | None = None) -> Books:
    """
    The books for an engine that is still to be inspected.

    Args:
        spec_sheet: The engine's spec sheet.
        checklist: A shipped checklist or a file; by the engine's layout when empty.
        workshop: The workshop file; a nameless workshop without prices when left out.

    Raises:
        InvalidKnowledge: a book is at fault, or books disagree.
    """
    sheet = read_book(SpecSheet, spec_sheet)
    reads = with_common({
        "sheet": sheet,
        "checklist": _checklist(checklist, sheet),
        "workshop": read_book(Workshop, workshop) if workshop else Read(_nameless()),
        "rulebook": shipped_book(Rulebook, f"rulebooks/{DEFAULT_RULEBOOK}"),
    })  # fmt: skip
    return _agreed(reads)


def _agreed(reads: Reads) -> Books:
    books = as_set(reads)
    problems = in_file_order((*problems_in(reads), *(disagreements(books) if books else ())))
    if books is None or any(p.weight == "error" for p in problems):
        raise InvalidKnowledge(problems)
    return books.books()


def _checklist(named: str, sheet: Read[Book[SpecSheet]]) -> Read[Any]:
    if is_file_name(named):
        return read_book(Checklist, Path(named))
    wanted = named or (_fitting(sheet.value.record) if sheet.value else "")
    return named_book(Checklist, wanted, "checklists", _COMMAND, ()) if wanted else Read(None)


def _fitting(sheet: SpecSheet) -> str:
    """The first shipped checklist for an engine of this layout; a name no book has where there is none."""
    fitting = (c.checklist for c in shipped_checklists() if applies_to(c.applies, sheet.layout))
    return next(fitting, "none for this engine")


def _nameless() -> Book[Workshop]:
    record = Workshop.model_validate({"workshop": "", "version": 1, "labour-rate": 0})
    return Book(record, Document("", {}), BookFile("workshop file", "", 1, ""))


def new_inspection(
    spec_sheet: Path, depth: Depth, checklist: str = "", workshop: Path | None = None, out: Path | None = None
) -> str:
    """
    The text of an inspection file that waits to be filled in.

    Args:
        spec_sheet: The engine's spec sheet.
        depth: How deep the engine will be opened.
        checklist: A shipped checklist or a file; by the engine's layout when empty.
        workshop: The workshop file.
        out: Where the text will be written; it names its books from there.

    Raises:
        InvalidKnowledge: a book is at fault, or books disagree.
    """
    books = bench_books(spec_sheet, checklist, workshop)
    folder = (out or Path("inspection.yaml")).parent
    shipped = books.checklist.checklist
    names = {
        "checklist": _seen_from(folder, Path(checklist)) if is_file_name(checklist) else shipped,
        "spec-sheet": _seen_from(folder, spec_sheet),
        "workshop": _seen_from(folder, workshop) if workshop else "",
    }
    cautions = {c.id: c.text for c in books.cautions.list}
    schema = (schemas_dir() / "inspection.schema.json").as_uri()
    return blank_inspection(
        BlankOrder(books.sheet, books.checklist, depth, names, cautions, _computed(books.catalogue), schema)
    )


def _seen_from(folder: Path, file: Path) -> str:
    """A file named from a folder, always with a slash, by which a file's name is told from an id."""
    relative = Path(os.path.relpath(file.resolve(), folder.resolve())).as_posix()
    return relative if "/" in relative or relative.endswith((".yaml", ".yml")) else f"./{relative}"


def _computed(catalogue: Catalogue) -> dict[str, tuple[str, ...]]:
    """For an item, the computed characteristics that are told at it: those whose first need it is."""
    found: dict[str, tuple[str, ...]] = {}
    for known in catalogue.characteristics:
        if known.needs:
            found[known.needs[0]] = (*found.get(known.needs[0], ()), known.id)
    return found
