"""Turns the name of a file into a case: the inspection, its books, and the inspections it follows."""

import os
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from graphlib import CycleError, TopologicalSorter
from hashlib import sha256
from pathlib import Path
from typing import Final

from inspect_report.knowledge.agreement import alone, disagreements
from inspect_report.knowledge.as_used import changed_since, library_beside
from inspect_report.knowledge.bookread import KINDS, is_book_file, kind_of, read_book
from inspect_report.knowledge.bookset import (
    Reads,
    as_set,
    full_checklist,
    problems_in,
    read_books,
    vocabulary_of,
)
from inspect_report.knowledge.case import BookFile, Case
from inspect_report.knowledge.replaced import Before, read_replaced
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
    _refuse_book(Path(path))
    reader = _Reader(today or date.today(), library_beside(Path(path).parent))
    chain = _chain(Path(path), reader)
    before = _before(chain[-1], reader)
    problems = in_file_order((*(p for link in chain for p in link.read.problems), *before.problems))
    _raise_errors((*reader.changed(), *problems), _named_in(chain, before))
    *earlier, newest = [link.read.value for link in chain if link.read.value is not None]
    by_day = sorted(earlier, key=lambda case: case.inspection.head.dates.inspected)
    known = before.value or Before()
    return replace(newest, earlier=tuple(by_day), warnings=problems, issued=known.report, replaced=known.case)


@dataclass(frozen=True, slots=True)
class _Reader:
    """By which day and by which shipped books files are read; those of this release where none are named."""

    today: date
    library: Path | None = None

    def changed(self) -> tuple[Problem, ...]:
        """What of the books kept beside the inspection is no longer as it was."""
        return changed_since(self.library) if self.library else ()


def _named_in(chain: Sequence["_Link"], before: Read[Before]) -> set[str]:
    """The inspections, by the name under which their faults are told."""
    return {str(link.path) for link in chain} | {p.place.file for p in before.problems}


def _before(link: "_Link", reader: _Reader) -> Read[Before]:
    """The issue that the newest inspection replaces."""
    if link.document is None:
        return Read(None)
    return read_replaced(link.document, lambda file: _link(file, reader).read)


def _refuse_book(path: Path) -> None:
    """A spec sheet or another book given as an inspection is told in one problem, not key by key."""
    model = _book_model(path)
    if model is None:
        return
    document = read_file(path)
    raise InvalidInspection(
        [
            document.problem(
                "V370",
                f"this is a {KINDS[model]}, not an inspection",
                (),
                f"a file that begins like a {KINDS[model]}",
                "an inspection, which has a line 'inspection: NUMBER'",
                "name the inspection that uses it; 'inspect-report check' takes books alone",
            )
        ]
    )


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


@dataclass(frozen=True, slots=True)
class _Followed:
    """A file named behind ``follows``, and where it is named."""

    file: Path
    path: tuple[str | int, ...]
    written: str

    @property
    def real(self) -> str:
        return os.path.realpath(self.file)


def _chain(path: Path, reader: _Reader) -> list[_Link]:
    """An inspection and all it follows, each once; every one stands behind those that it follows."""
    links = _found(path, reader)
    before = {real: [f.real for f in _followed(link) if f.real in links] for real, link in links.items()}
    try:
        return [links[real] for real in TopologicalSorter(before).static_order()]
    except CycleError as fault:
        _tell_circle(links, fault.args[1])
        return [*reversed(links.values())]


def _found(path: Path, reader: _Reader) -> dict[str, _Link]:
    """An inspection and all it follows by their real path, the newest first."""
    found = {os.path.realpath(path): _link(path, reader)}
    waiting = [*found.items()]
    for real, link in waiting:
        for followed in _followed(link):
            if followed.real not in found and (problem := _cannot_follow(link, followed, len(found))):
                found[real] = _with_problem(found[real], problem)
            elif followed.real not in found:
                found[followed.real] = _link(followed.file, reader)
                waiting.append((followed.real, found[followed.real]))
            late = _later_than(found[followed.real], link, followed) if followed.real in found else None
            found[real] = _with_problem(found[real], late) if late else found[real]
    return found


def _tell_circle(links: dict[str, _Link], circle: Sequence[str]) -> None:
    """Told once, at the oldest inspection of the circle: the last one found."""
    order = list(links)
    last = max(circle, key=order.index)
    followed = next(f for f in _followed(links[last]) if f.real in circle)
    mend = "name the inspection before this one, or delete the line"
    title, allowed = "inspection that follows itself in a circle", "an inspection before this one"
    links[last] = _with_problem(links[last], _problem(links[last], "V345", title, followed, allowed, mend))


def _with_problem(link: _Link, problem: Problem) -> _Link:
    return replace(link, read=Read(link.read.value, (*link.read.problems, problem)))


def _followed(link: _Link) -> tuple[_Followed, ...]:
    """What stands behind ``follows``; what is no text is told when the head is read."""
    data = link.document.data if link.document else None
    written = data.get("follows") if isinstance(data, dict) else None
    names = enumerate(written) if isinstance(written, list) else [(None, written)]
    return tuple(
        _Followed(link.path.parent / name, ("follows",) if n is None else ("follows", n), name)
        for n, name in names
        if isinstance(name, str) and name
    )


def _cannot_follow(link: _Link, followed: _Followed, length: int) -> Problem | None:
    if length > MOST_EARLIER:
        title, allowed = "too many earlier inspections", f"at most {MOST_EARLIER}"
        return _problem(link, "V345", title, followed, allowed, "end the chain here")
    if not is_book_file(followed.file):
        title, mend = "earlier inspection that is not there", "check name and folder"
        allowed = "a file ending in .yaml or .yml, named from the folder of this one"
        return _problem(link, "V358", title, followed, allowed, mend)
    return None


def _later_than(before: _Link, link: _Link, followed: _Followed) -> Problem | None:
    if not before.read.value or not link.read.value:
        return None
    earlier = before.read.value.inspection.head.dates.inspected
    later = link.read.value.inspection.head.dates.inspected
    if earlier <= later:
        return None
    title, mend = "follows an inspection made later", "exchange the two, or correct the day"
    problem = _problem(link, "V359", title, followed, f"{later} or before", mend)
    return replace(problem, found=f"inspected {earlier}")


def _problem(link: _Link, code: str, title: str, followed: _Followed, allowed: str, mend: str) -> Problem:
    document = link.document or Document(str(link.path), None)
    return document.problem(code, title, followed.path, followed.written, allowed, mend)


def _link(path: Path, reader: _Reader) -> _Link:
    try:
        document = read_file(path)
    except InvalidInput as fault:
        return _faulty_link(path, fault, reader)
    return _Link(path, document, _case(document, path.parent, reader))


def _faulty_link(path: Path, fault: InvalidInput, reader: _Reader) -> _Link:
    """Of a file that is not good YAML, but can be read on, the further faults are told as well."""
    data = fault.document.data if fault.document else None
    if fault.document is None or not isinstance(data, dict) or "inspection" not in data:
        return _Link(path, None, Read(None, fault.problems))
    further = _case(fault.document, path.parent, reader).problems
    return _Link(path, fault.document, Read(None, (*fault.problems, *further)))


def _case(document: Document, folder: Path, reader: _Reader) -> Read[Case]:
    reads = read_books(document, reader.library)
    books = as_set(reads, reader.library)
    inspection = _inspection(document, reads, folder, reader.today)
    disagreed = disagreements(books, document) if books else ()
    problems = in_file_order((*problems_in(reads), *inspection.problems, *disagreed))
    if books is None or inspection.value is None or any(p.weight == "error" for p in problems):
        return Read(None, problems)
    case = Case(
        inspection.value,
        books.books(),
        books.files(),
        folder=str(folder),
        warnings=problems,
        paths=books.paths(),
        library=str(reader.library or ""),
        named=_named(inspection.value, Path(document.file)),
    )
    return Read(case, problems)


def _named(inspection: Inspection, path: Path) -> BookFile:
    head, digest = inspection.head, sha256(raw_file(path)).hexdigest()
    return BookFile("inspection", head.inspection, head.issue, digest)


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
