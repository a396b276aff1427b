"""Turns a fault found in somebody's file into data, and that data into the one text everybody sees."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING, Final, Generic, Literal, TypeVar

if TYPE_CHECKING:
    from inspect_report.records.yaml import Document

T = TypeVar("T")

Weight = Literal["error", "warning"]


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where something stands in a file; line and column count from 1, path is like ``notes[2].text``."""

    file: str
    line: int
    column: int
    path: str = ""


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault: its code, where it is, what stands there, what is allowed there and how to mend it."""

    code: str
    weight: Weight
    title: str
    place: Place
    found: str
    allowed: str
    mend: str
    excerpt: str = ""


@dataclass(frozen=True, slots=True)
class Read(Generic[T]):
    """The outcome of reading: a value unless an error forbids one, and every problem in file order."""

    value: T | None
    problems: tuple[Problem, ...] = ()

    @property
    def errors(self) -> tuple[Problem, ...]:
        return tuple(p for p in self.problems if p.weight == "error")


class InspectReportError(Exception):
    """
    Root of what this package raises on purpose.

    InspectReportError
    ├── InvalidInput(problems)      a file that people write is at fault; exit code 2
    │   ├── InvalidInspection       the inspection file
    │   └── InvalidKnowledge        a spec sheet, checklist, rulebook, workshop file or shipped book
    └── CannotRender(message)       a page could not be made or written; exit code 3
    """


class InvalidInput(InspectReportError):
    """A file is at fault; carries every problem found, and the document if it can be read all the same."""

    def __init__(self, problems: Iterable[Problem], document: "Document | None" = None) -> None:
        self.problems = in_file_order(problems)
        self.document = document
        super().__init__("\n".join(told(p) for p in self.problems))


class InvalidInspection(InvalidInput):
    """The inspection file is at fault."""


class InvalidKnowledge(InvalidInput):
    """A spec sheet, checklist, rulebook, workshop file or shipped book is at fault."""


class CannotRender(InspectReportError):
    """A page could not be made or written: the message says what and what to do."""


def in_file_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Problems by file, line and column, each told once."""
    return tuple(sorted(dict.fromkeys(problems), key=lambda p: (p.place, p.code)))


MOST_SHOWN: Final = 200
"""Characters of a file that a message repeats."""


def told(problem: Problem) -> str:
    """The text of a problem, the same on the terminal, in a log and on a page."""
    place = problem.place
    where = f"{printable(place.file)}:{place.line}:{place.column}"
    lines = [f"{where}: {problem.weight} {problem.code}: {problem.title}"]
    if place.path:
        lines.append(f"  at       {printable(place.path)}")
    lines += [
        f"  found    {_shown(problem.found)}",
        f"  allowed  {problem.allowed}",
        f"  to mend  {problem.mend}",
    ]
    if problem.excerpt:
        lines += _pointed(problem.excerpt, place)
    return "\n".join(lines)


def _pointed(excerpt: str, place: Place) -> list[str]:
    """The line as written with a sign below the fault; of a very long line the part around it."""
    number, column = f"{place.line:>4} | ", place.column - 1
    first = max(0, column - MOST_SHOWN // 2) if len(excerpt) > MOST_SHOWN else 0
    before, behind = "…" if first else "", "…" if len(excerpt) > first + MOST_SHOWN else ""
    part = printable(excerpt[first : first + MOST_SHOWN].replace("\t", " "))
    return [f"{number}{before}{part}{behind}", " " * (len(number) + len(before) + column - first) + "^"]


def _shown(text: str) -> str:
    """What stands in a file on one line, cut where it is long."""
    line = printable(text)
    return line if len(line) <= MOST_SHOWN else f"{line[:MOST_SHOWN]}… ({len(text)} characters)"


def printable(text: str) -> str:
    """Nothing a file holds may command the terminal or break the message's lines."""
    return "".join(c if c.isprintable() else "␤" if c == "\n" else "\N{REPLACEMENT CHARACTER}" for c in text)


def printable_lines(text: str) -> str:
    """As ``printable``, line by line: for a text of ours in which no line is a stranger's."""
    return "\n".join(map(printable, text.split("\n")))


def nearest(word: str, known: Sequence[str]) -> str | None:
    """The known word nearest to the one written, or None when none is near."""
    folded = {k.casefold().replace("_", "-"): k for k in known}
    wanted = word.casefold().replace("_", "-").replace(" ", "-")
    if wanted in folded:
        return folded[wanted]
    matches = get_close_matches(wanted, list(folded), n=1, cutoff=0.6)
    return folded[matches[0]] if matches else None


def some(words: Iterable[str], most: int = 12) -> str:
    """A list of words for a message, cut where it would grow too long to read."""
    listed = list(words)
    more = f" … and {len(listed) - most} more" if len(listed) > most else ""
    return ", ".join(listed[:most]) + more
