"""Defines what two assessments of one engine say otherwise, and by which cause."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from inspect_report.advise.advice import JobChange, SumChange
from inspect_report.judge.finding import Limit
from inspect_report.records.position import Position
from inspect_report.records.quantity import Quantity

Cause = Literal[
    "reading",
    "instrument",
    "computation",
    "limit",
    "decision rule",
    "what was seen",
    "answer",
    "books",
    "newly inspected",
    "no longer inspected",
    "newly asked",
    "no longer asked",
    "check of ours",
]
"""
Why a verdict is another.

``computation``: the readings are the same, and what is made of them is not: sizes of the spec sheet,
conditions, formula. ``books``: what was seen is the same and counts otherwise by scales or checklist. ``check
of ours``: a computation of ours went wrong in one of the two.
"""
Ground = Literal["findings", "rulebook", "findings or rulebook"]
"""Why a pattern is read in one and not in the other."""
Turn = Literal["worse", "better", "known now", "no longer known"]


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two assessments."""

    inspection: str
    issue: int
    day: date
    depth: str
    running_time: float | None
    """Of the engine. [s]"""
    distance: float | None
    """Of the engine. [m]"""
    program: str
    grade: str
    score: float | None


@dataclass(frozen=True, slots=True)
class Told:
    """What one of the two says of a place; a verdict of nothing where it does not speak of it."""

    verdict: str
    quantity: Quantity | None = None
    limit: Limit | None = None
    said: str = ""
    """What was seen or answered, in words."""
    instruments: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class VerdictChange:
    """
    A verdict that is another.

    ``by``: the fewest causes that turn the one into the other; several sets where any of them would do alone.
    ``changed``: everything that changed on the way to it, whether it plays a part or not.
    """

    id: str
    name: str
    position: Position
    unit: str
    decimals: int
    before: Told
    after: Told
    turn: Turn
    by: tuple[tuple[Cause, ...], ...]
    changed: tuple[Cause, ...]


@dataclass(frozen=True, slots=True)
class GradeChange:
    """A grade word that is another."""

    assembly: str
    name: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class PatternChange:
    """A diagnosis that only one of the two makes, and why."""

    id: str
    finding: str
    made_by: Literal["before", "after"]
    because: Ground


@dataclass(frozen=True, slots=True)
class BookChange:
    """A book of another version or text; empty where one of the two has none of its kind."""

    kind: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """Everything two assessments of one engine say otherwise."""

    maker: str
    model: str
    serial: str
    before: Side
    after: Side
    books: tuple[BookChange, ...]
    compared: int
    """How many places either of them speaks of."""
    verdicts: tuple[VerdictChange, ...]
    """In the order of the later assessment's findings."""
    moved: tuple[str, ...]
    """Findings whose value is another and whose verdict is not."""
    grades: tuple[GradeChange, ...]
    patterns: tuple[PatternChange, ...]
    jobs: tuple[JobChange, ...]
    sums: tuple[SumChange, ...]
    """Empty where the currencies differ."""
    currencies: tuple[str, str]

    @property
    def alike(self) -> bool:
        """Whether nothing is said otherwise but dates and books."""
        return not (self.verdicts or self.moved or self.patterns or self.jobs or self.sums)
