"""Turns a fault found in somebody's file into data, and that data into the one text everybody sees."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Generic, Literal, TypeVar

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
    """A file is at fault; carries every problem found, not only the first."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = in_file_order(problems)
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


def told(problem: Problem) -> str:
    """The text of a problem, the same on the terminal, in a log and on a page."""
    place = problem.place
    lines = [f"{place.file}:{place.line}:{place.column}: {problem.weight} {problem.code}: {problem.title}"]
    if place.path:
        lines.append(f"  at       {place.path}")
    lines += [
        f"  found    {problem.found}",
        f"  allowed  {problem.allowed}",
        f"  to mend  {problem.mend}",
    ]
    if problem.excerpt:
        number = f"{place.line:>4} | "
        lines.append(f"{number}{problem.excerpt}")
        lines.append(" " * (len(number) + place.column - 1) + "^")
    return "\n".join(lines)


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
