"""Defines diagnoses, work and estimates: what advising gives. Money is exact decimal, in one currency."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from inspect_report.advise.buyer import Buyer
from inspect_report.advise.explanation import Explanation, NextCheck
from inspect_report.advise.priced import NOTHING, Span, Total
from inspect_report.judge.finding import Finding
from inspect_report.knowledge.catalogue import Urgency
from inspect_report.measure.derived import Failed
from inspect_report.records.position import Position


@dataclass(frozen=True, slots=True)
class Evidence:
    """A clause that was met, in words, with the findings that met it; one met by nobody looking has none."""

    text: str
    findings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """
    A rule that fired, for one label of its axis or for the engine; with others that point to the same cause.

    ``finding``: its headline, which names a cause only as far as its odds go. ``explanations``: the cause and
    what else could be at work, weighed, the likeliest first; empty where the rule names no cause.
    ``against``: evidence that speaks against the cause that the headline names.
    """

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
    cause: str = ""
    rules: tuple[str, ...] = ()
    """Every rule that fired for it, the one that is told first."""
    against: tuple[Evidence, ...] = ()
    explanations: tuple[Explanation, ...] = ()
    next_checks: tuple[NextCheck, ...] = ()
    """The check that would settle most with what is open; then one behind further opening, if better."""
    seen: str = ""
    """What was found, without a cause; empty where the rule tells no two of them apart."""
    names: str = ""
    """The cause that its headline names; empty where it names none."""
    normal: bool = False
    """Whether it is found in sound engines, if its cause is the one its rule points to."""


@dataclass(frozen=True, slots=True)
class Asking:
    """One reason for a job: what asks for it, how urgently, and at which places."""

    why: str
    """Finding or diagnosis; empty for a valve that is well and lends its shim to another."""
    urgency: Urgency
    positions: tuple[Position, ...]
    forecast: bool = False
    """Whether a finding asks by what a forecast says of it, not by its verdict."""
    instead_of: str = ""
    """The job that was asked for, where this engine admits only this one."""


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
    where: str = ""
    """Where it is done as it was noted in the inspection; empty where its places say so."""
    awaits: tuple[str, ...] = ()
    """Characteristics nobody has looked at here, one of which beyond its limit would make it dearer."""
    opens: tuple[str, ...] = ()
    """The deepest of its access steps, which say what must be open; empty in assessments made before."""
    asked: tuple[Asking, ...] = ()
    """Its reasons one by one, each with its urgency; empty in assessments made before they were kept."""
    alters: tuple[str, ...] = ()
    """Characteristics that are others once it is done."""


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

    @property
    def span(self) -> Span:
        """All totals together, tax included."""
        return sum((t.sums[2] for t in self.totals), NOTHING)


@dataclass(frozen=True, slots=True)
class LeftUndone:
    """A job that an order leaves undone, and what follows."""

    job: str
    name: str
    urgency: Urgency
    risk: str


@dataclass(frozen=True, slots=True)
class Option:
    """An order that a customer can give: jobs, what they take and cost, and what stays undone."""

    id: str
    title: str
    jobs: tuple[str, ...]
    """What is done; without jobs that others of them make needless."""
    hours: Span
    """Hours of work and of opening and closing. [h]"""
    labour: Span
    parts: Span
    machine_shop: Span
    """Labour, parts and machine-shop work, before tax; together ``net``."""
    net: Span
    tax: Span
    gross: Span
    on_request: int
    """How many lines have no price."""
    priced: bool
    """Whether there is a price at all: False where everything is on request."""
    leaves: tuple[LeftUndone, ...]
    totals: tuple[Total, ...] = ()
    """Its lines, class by class, with their sums; empty in assessments made before they were kept."""


@dataclass(frozen=True, slots=True)
class WhileOpen:
    """
    A job that is cheap while the engine is open, tax included.

    ``added``: on top of more urgent work, ``together`` less ``before``. ``alone``: with the engine
    closed, and opened for it.
    """

    job: str
    name: str
    urgency: Urgency
    added: Span
    alone: Span
    on_request: int
    """How many of its lines have no price."""
    before: Span = NOTHING
    """What all more urgent work costs."""
    together: Span = NOTHING
    """What it costs with this job."""
    totals: tuple[Total, ...] = ()
    """The lines of the job done alone; empty in assessments made before they were kept."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """What a customer decided about a job, and what is at stake."""

    job: str
    name: str
    decision: Literal["ordered", "declined", "later"]
    day: date
    by: str
    note: str
    urgency: str
    """How urgent the job is; empty where nothing asks for it any more."""
    risk: str
    """What follows if it is not done."""

    @property
    def leaves_unsafe(self) -> bool:
        """Whether a job that must be done before the engine runs is not to be done."""
        return self.urgency == "before running" and self.decision != "ordered"


@dataclass(frozen=True, slots=True)
class JobChange:
    """A job that was not there before, is no longer, or is another; ``was`` or ``now`` is then empty."""

    job: str
    name: str
    was: str
    """How urgent, where and how long, in words."""
    now: str
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LineChange:
    """A line of one class with another price than before, or with none; None: it is not there."""

    total: str
    kind: str
    id: str
    name: str
    before: Span | None
    now: Span | None
    on_request: tuple[bool, bool]
    """Whether it had no price before, and has none now."""
    quantity: tuple[Span, Span]
    unit: tuple[Span | None, Span | None]
    jobs: tuple[str, ...]
    """Jobs that ask for it now and did not before, or the other way round, by name."""


@dataclass(frozen=True, slots=True)
class SumChange:
    """The sum of a class, an order or all of it, before and now; None: there was or is none."""

    id: str
    title: str
    net: tuple[Span | None, Span | None]
    gross: tuple[Span | None, Span | None]


@dataclass(frozen=True, slots=True)
class FindingChange:
    """One place of which an issue says otherwise than the issue it replaces; None where it says nothing."""

    before: Finding | None
    now: Finding | None
    why: str


@dataclass(frozen=True, slots=True)
class Changes:
    """What a quote says otherwise than the issue it replaces, and why."""

    since: int
    """The issue replaced."""
    as_issued: bool
    """Whether that is its report as sent out; else its inspection, judged and priced by today's books."""
    jobs: tuple[JobChange, ...]
    lines: tuple[LineChange, ...]
    sums: tuple[SumChange, ...]
    choices: tuple[Chosen, ...]
    """Choices made since."""
    tax_rates: tuple[Decimal, Decimal]
    currencies: tuple[str, str]
    """Where they differ, no prices are compared."""
    findings: tuple[FindingChange, ...] = ()
    """Findings whose verdict, value or appearance is another."""
    beyond: tuple[int, int] = (0, 0)
    """How many findings are beyond their limits, before and now."""
    graded: tuple[int, int] = (0, 0)
    """How many checks the grade of the engine rests on, before and now."""


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
    options: tuple[Option, ...] = ()
    """Orders to choose among, from the smallest on."""
    without_work: tuple[Option, ...] = ()
    """What is owed if no job is ordered: the strip-down done, and that with closing; none if it is closed."""
    while_open: tuple[WhileOpen, ...] = ()
    """Jobs that cost little because others have the engine open."""
    choices: tuple[Chosen, ...] = ()
    """What the customer decided, job by job."""
    ordered: Option | None = None
    """What the customer has ordered so far, as an order; None where nothing was."""
    ordered_and_open: Option | None = None
    """The same with every job that is not decided yet; None where all are, or nothing was ordered."""
    changes: Changes | None = None
    """What changed since the issue that this one replaces; None where that is not at hand."""
    buyer: Buyer | None = None
    """What the engine may cost its buyer; None in assessments made before there was such a view."""
