"""Turns the file of the issue that an inspection replaces into that issue, as sent out or as a case."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path as FilePath
from typing import Any, Final

from inspect_report.knowledge.bookread import is_book_file
from inspect_report.knowledge.case import BookFile, Case, IssuedReport
from inspect_report.records.problem import InvalidInput, Problem, Read
from inspect_report.records.shape import raw_file
from inspect_report.records.yaml import Document, Path

_AT: Final[Path] = ("replaces", "file")


@dataclass(frozen=True, slots=True)
class Before:
    """An earlier issue: its report as sent out, or its inspection; neither where none is named."""

    report: IssuedReport | None = None
    case: Case | None = None


def read_replaced(document: Document, case_of: Callable[[FilePath], Read[Case]]) -> Read[Before]:
    """
    The issue that an inspection replaces, where its file is named.

    Args:
        document: The inspection that replaces it; what is no text is told when its head is read.
        case_of: Reads an inspection with its books.
    """
    named = _of(document.data, "replaces", "file")
    if not isinstance(named, str) or not named:
        return Read(Before())
    file = FilePath(document.file).parent / named
    if file.suffix == ".json" and file.is_file():
        return _report(document, file)
    if not is_book_file(file):
        title, mend = "replaced issue that is not there", "check name and folder, or delete 'file'"
        allowed = "its report ending in .json or its inspection ending in .yaml, named from this folder"
        return Read(None, (document.problem("V383", title, _AT, named, allowed, mend),))
    read = case_of(file)
    if read.value is None:
        return Read(None, read.problems)
    head = read.value.inspection.head
    wrong = _mistaken(document, head.inspection, head.issue)
    return Read(Before(case=read.value), (*read.problems, *wrong))


def _report(document: Document, file: FilePath) -> Read[Before]:
    try:
        raw = raw_file(file)
        data = json.loads(raw)
    except (ValueError, InvalidInput):
        return Read(None, (no_report(document, file.name),))
    number, issue = (_of(data, "inspection", "head", key) for key in ("inspection", "issue"))
    if not isinstance(number, str) or not isinstance(issue, int):
        return Read(None, (no_report(document, file.name),))
    named = BookFile("report of the issue replaced", number, issue, sha256(raw).hexdigest())
    report = IssuedReport(str(file), json.dumps(data), named)
    return Read(Before(report), _mistaken(document, number, issue))


def no_report(document: Document, named: str) -> Problem:
    """The problem that a file is no report this program can read."""
    title, mend = "no report of this program", "name the JSON file that was made with that issue"
    return document.problem("V385", title, _AT, named, "a JSON report of format 1", mend)


def _mistaken(document: Document, number: str, issue: int) -> tuple[Problem, ...]:
    """A file of another inspection, or of another issue than the one said to be replaced."""
    wanted = _of(document.data, "inspection"), _of(document.data, "replaces", "issue")
    if (str(wanted[0]), str(wanted[1])) == (number, str(issue)):
        return ()
    title, mend = "file of another issue", "name the file of the issue that this one replaces"
    found, allowed = f"{number}, issue {issue}", f"{wanted[0]}, issue {wanted[1]}"
    return (document.problem("V384", title, _AT, found, allowed, mend),)


def _of(data: Any, *keys: str) -> Any:
    """What stands at some keys, one below the other; None where nothing does."""
    for key in keys:
        data = data.get(key) if isinstance(data, dict) else None
    return data
