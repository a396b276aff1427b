"""Turns the name of a file into a case: the inspection, its books, and the inspections it follows."""

import os
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any, Final

from inspect_report.knowledge.agreement import alone, disagreements
from inspect_report.knowledge.bookread import is_book_file, kind_of, read_book
from inspect_report.knowledge.bookset import (
    Reads,
    as_set,
    full_checklist,
    problems_in,
    read_books,
    vocabulary_of,
)
from inspect_report.knowledge.case import Case
from inspect_report.records.inspection import Inspection, InspectionHead
from inspect_report.records.inspection_file import read_inspection
from inspect_report.records.problem import (
    InvalidInput,
    InvalidInspection,
    InvalidKnowledge,
    Problem,
    Read,
    in_file_order,
)
from inspect_report.records.shape import Record, raw_file, read_as, read_file
from inspect_report.records.yaml import Document

MOST_EARLIER: Final = 500
_MARGIN_KEY: Final = re.compile(r"^([a-z-]+)[ \t]*:", re.MULTILINE)


def load(path: Path | str, *, today: date | None = None) -> Case:
    """
    One inspection with its books and the inspections it follows.

    Args:
        path: The inspection file.
        today: No day in the files may be later; the day of the computer when left out.

    Raises:
        InvalidInspection: an inspection file is at fault; carries every problem of every file involved.
        InvalidKnowledge: only books are at fault.
    """
    chain = _chain(Path(path), today or date.today())
    problems = in_file_order(p for link in chain for p in link.read.problems)
    _raise_errors(problems, {str(link.path) for link in chain})
    newest, *earlier = [link.read.value for link in chain if link.read.value is not None]
    return replace(newest, earlier=tuple(reversed(earlier)), warnings=problems)


def load_all(paths: Iterable[Path | str], *, today: date | None = None) -> tuple[Case, ...]:
    """
    Several inspections, each with its books and the inspections it follows.

    Args:
        paths: The inspection files.
        today: As in ``load``.

    Raises:
        InvalidInspection: an inspection file is at fault; carries every problem of every file.
        InvalidKnowledge: only books are at fault.
    """
    cases: list[Case] = []
    problems: list[Problem] = []
    kind: type[InvalidInput] = InvalidKnowledge
    for path in paths:
        try:
            cases.append(load(path, today=today))
        except InvalidInput as fault:
            problems.extend(fault.problems)
            kind = kind if isinstance(fault, InvalidKnowledge) else InvalidInspection
    if problems:
        raise kind(problems)
    return tuple(cases)


def check(path: Path | str, *, today: date | None = None) -> tuple[Problem, ...]:
    """
    The warnings of an inspection, or of a book that stands alone.

    Args:
        path: An inspection, spec sheet, checklist, workshop file, rulebook or workbook.
        today: As in ``load``.

    Raises:
        InvalidInspection: the inspection is at fault.
        InvalidKnowledge: a book is at fault.
    """
    model = _book_model(Path(path))
    if model is None:
        return load(path, today=today).warnings
    read = read_book(model, Path(path))
    problems = read.problems + (alone(read.value) if read.value else ())
    _raise_errors(problems, set())
    return problems


def _book_model(path: Path) -> type[Record] | None:
    """The kind of book a file is by the keys at its margin; None for an inspection and the untellable."""
    try:
        text = raw_file(path).decode("utf-8-sig", errors="replace")
    except InvalidInput:
        return None
    kind = kind_of(set(_MARGIN_KEY.findall(text)))
    return None if kind is InspectionHead else kind


def _raise_errors(problems: tuple[Problem, ...], inspections: set[str]) -> None:
    errors = [p for p in problems if p.weight == "error"]
    if not errors:
        return
    if inspections and any(p.place.file in inspections for p in errors):
        raise InvalidInspection(problems)
    raise InvalidKnowledge(problems)


@dataclass(frozen=True, slots=True)
class _Link:
    """One inspection of a chain; without a document where the file cannot be read."""

    path: Path
    document: Document | None
    read: Read[Case]


def _chain(path: Path, today: date) -> list[_Link]:
    """An inspection and those it follows, the newest first."""
    links = [_link(path, today)]
    seen = {os.path.realpath(path)}
    while (before := _followed(links[-1])) is not None:
        problem = _cannot_follow(links[-1], before, seen, len(links))
        if problem is not None:
            links[-1] = _with_problem(links[-1], problem)
            break
        seen.add(os.path.realpath(before))
        links.append(_link(before, today))
        late = _later_than(links[-1], links[-2])
        if late is not None:
            links[-2] = _with_problem(links[-2], late)
    return links


def _with_problem(link: _Link, problem: Problem) -> _Link:
    return replace(link, read=Read(link.read.value, (*link.read.problems, problem)))


def _followed(link: _Link) -> Path | None:
    data = link.document.data if link.document else None
    name = data.get("follows") if isinstance(data, dict) else None
    return link.path.parent / name if isinstance(name, str) and name else None


def _cannot_follow(link: _Link, before: Path, seen: set[str], length: int) -> Problem | None:
    found = str(_written(link, "follows"))
    if os.path.realpath(before) in seen:
        allowed, mend = (
            "an inspection before this one",
            "name the inspection before this one, or delete the line",
        )
        return _problem(link, "V345", "inspection that follows itself in a circle", found, allowed, mend)
    if length > MOST_EARLIER:
        return _problem(
            link,
            "V345",
            "too many earlier inspections",
            found,
            f"at most {MOST_EARLIER}",
            "end the chain here",
        )
    if not is_book_file(before):
        return _problem(
            link,
            "V358",
            "earlier inspection that is not there",
            found,
            "a file ending in .yaml or .yml, named from the folder of this one",
            "check name and folder",
        )
    return None


def _later_than(before: _Link, link: _Link) -> Problem | None:
    if not before.read.value or not link.read.value:
        return None
    earlier = before.read.value.inspection.head.dates.inspected
    later = link.read.value.inspection.head.dates.inspected
    if earlier <= later:
        return None
    return _problem(
        link,
        "V359",
        "follows an inspection made later",
        f"inspected {earlier}",
        f"{later} or before",
        "exchange the two, or correct the day",
    )


def _problem(link: _Link, code: str, title: str, found: str, allowed: str, mend: str) -> Problem:
    document = link.document or Document(str(link.path), None, {}, ())
    return document.problem(code, title, ("follows",), found, allowed, mend)


def _written(link: _Link, key: str) -> Any:
    data = link.document.data if link.document else None
    return data.get(key) if isinstance(data, dict) else None


def _link(path: Path, today: date) -> _Link:
    try:
        document = read_file(path)
    except InvalidInput as fault:
        return _faulty_link(path, fault, today)
    return _Link(path, document, _case(document, path.parent, today))


def _faulty_link(path: Path, fault: InvalidInput, today: date) -> _Link:
    """Of a file that is not good YAML, but can be read on, the further faults are told as well."""
    data = fault.document.data if fault.document else None
    if fault.document is None or not isinstance(data, dict) or "inspection" not in data:
        return _Link(path, None, Read(None, fault.problems))
    further = _case(fault.document, path.parent, today).problems
    return _Link(path, fault.document, Read(None, (*fault.problems, *further)))


def _case(document: Document, folder: Path, today: date) -> Read[Case]:
    reads = read_books(document)
    books = as_set(reads)
    inspection = _inspection(document, reads, folder, today)
    disagreed = disagreements(books, document) if books else ()
    problems = in_file_order((*problems_in(reads), *inspection.problems, *disagreed))
    if books is None or inspection.value is None or any(p.weight == "error" for p in problems):
        return Read(None, problems)
    case = Case(inspection.value, books.books(), books.files(), folder=str(folder), warnings=problems)
    return Read(case, problems)


def _inspection(document: Document, reads: Reads, folder: Path, today: date) -> Read[Inspection]:
    """The inspection; only its head is read where a book it is read by cannot be."""
    names = ("checklist", "sheet", "catalogue", "scales", "workbook")
    found = [book.record for book in (reads[name].value for name in names) if book is not None]
    if len(found) < len(names):
        return Read(None, read_as(InspectionHead, document).problems)
    checklist, sheet, catalogue, scales, workbook = found
    return read_inspection(
        document,
        full_checklist(checklist, sheet, catalogue),
        sheet,
        vocabulary_of(catalogue, scales, workbook),
        folder=folder,
        today=today,
    )
