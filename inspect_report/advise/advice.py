"""Defines diagnoses, work and estimates: what advising gives. Money is exact decimal, in one currency."""

from dataclasses import dataclass
from decimal import Decimal

from inspect_report.knowledge.catalogue import Urgency
from inspect_report.measure.derived import Failed
from inspect_report.records.position import Position


@dataclass(frozen=True, slots=True)
class Evidence:
    """A clause that was met, in words, with the findings that met it."""

    text: str
    findings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """A rule that fired, for one label of its axis or for the engine."""

    id: str
    """``RULE`` or ``RULE.LABEL``."""
    rule: str
    position: Position
    finding: str
    why: str
    evidence: tuple[Evidence, ...]
    could_also_be: tuple[str, ...]
    tells_them_apart: str
    work: tuple[str, ...]
    urgency: Urgency
    if_left: str
    source: str


@dataclass(frozen=True, slots=True)
class WorkItem:
    """A job to do, at which places, why (finding and diagnosis ids), how urgently, and what it takes."""

    job: str
    name: str
    plain: str
    positions: tuple[Position, ...]
    why: tuple[str, ...]
    urgency: Urgency
    access: tuple[str, ...]
    hours: Decimal
    if_left: str = ""
    covered_by: str = ""
    """Job, or access step in closing, that makes this one needless; it is then told and not priced."""
    name_says_where: bool = False
    """Whether the name says already where it is done, as that of a job done throughout does."""


@dataclass(frozen=True, slots=True)
class EstimateLine:
    """
    A priced line. ``kind``: work, access, part, machine shop. ``price`` None: on request.

    ``quantity`` times ``unit_price`` is ``price``; for work and access the quantity is hours.
    """

    kind: str
    id: str
    name: str
    quantity: Decimal
    unit_price: Decimal | None
    price: Decimal | None
    for_jobs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Total:
    """Lines of one urgency class and their sums; each cost stands in one class only."""

    id: str
    title: str
    lines: tuple[EstimateLine, ...]
    net: Decimal
    tax: Decimal
    gross: Decimal
    on_request: int
    """How many lines have no price."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """The three totals, each one on top of those before it."""

    currency: str
    tax_name: str
    tax_rate: Decimal
    labour_rate: Decimal
    totals: tuple[Total, ...]

    @property
    def gross(self) -> Decimal:
        return sum((t.gross for t in self.totals), Decimal(0))


@dataclass(frozen=True, slots=True)
class Advice:
    """Everything advising gives for one inspection."""

    diagnoses: tuple[Diagnosis, ...]
    open_questions: tuple[str, ...]
    """Rules that a missing reading keeps open, in words."""
    work: tuple[WorkItem, ...]
    estimate: Estimate
    failed: tuple[Failed, ...] = ()
    """Rules that could not be tried through a fault of ours; each is an open question as well."""
