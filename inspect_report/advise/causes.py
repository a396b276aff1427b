"""
Turns findings into causes of cost: what is needed already, what may turn out so, and what nobody looked at.

A finding that was measured and is not shown to be beyond its limit is beyond it all the same with the
probability that its value and uncertainty leave. What it would then ask for is what the books say of one
beyond its limit. A pattern that stands only if undecided findings are really beyond their limits comes true
with them. All else that work was planned for is taken as needed: what was shown beyond, seen, answered or
forecast, and what was read out of that.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from inspect_report.advise.advice import Diagnosis, WorkItem
from inspect_report.advise.bundles import Ask
from inspect_report.advise.buyer import Ground
from inspect_report.advise.counting import by_cylinder, told_alike
from inspect_report.advise.looked import NOT_LOOKED_AT
from inspect_report.advise.standing_in import jobs_here
from inspect_report.advise.work import asked_work
from inspect_report.judge.asked import places_along
from inspect_report.judge.finding import Finding, Limit, Verdict
from inspect_report.knowledge.case import Books, known_or_row
from inspect_report.knowledge.catalogue import URGENCIES, Urgency, judged_along
from inspect_report.knowledge.workbook import AccessStep
from inspect_report.records.position import Position, finding_id

LEAST: Final = 1e-6
"""A chance below this is not drawn: ten thousand draws would meet it once in a hundred such simulations."""
_MEASURED_AND_KEPT: Final = frozenset(
    {Verdict.AS_NEW, Verdict.SERVICEABLE, Verdict.MARGINAL, Verdict.UNDECIDED}
)
_SILENT: Final = Verdict.NO_LIMIT
"""A verdict that asks for nothing, for findings that are left out of a plan but still describe the engine."""


@dataclass(frozen=True)
class Sighted:
    """What planning starts from: books, findings, patterns, and what else bears on the plan."""

    books: Books
    findings: tuple[Finding, ...]
    diagnoses: tuple[Diagnosis, ...]
    left_open: tuple[AccessStep, ...] = ()
    due: frozenset[str] = frozenset()
    shims_to_change: tuple[Position, ...] = ()

    def asked(self, findings: Iterable[Finding], diagnoses: Sequence[Diagnosis]) -> tuple[WorkItem, ...]:
        """Every job that some findings and patterns ask for, whatever another makes needless."""
        seen = tuple(findings)
        due = self.due - {f.id for f in seen if f.verdict is _SILENT}
        return asked_work(self.books, seen, diagnoses, self.left_open, due, self.shims_to_change)

    @cached_property
    def undecided(self) -> frozenset[str]:
        """Findings that may or may not be beyond their limits, by their chance."""
        return frozenset(f.id for f in self.findings if f.verdict is Verdict.UNDECIDED and chance_of(f))

    @cached_property
    def standing(self) -> tuple[Finding, ...]:
        """Findings with those that are undecided made silent."""
        return tuple(silent(f) if f.id in self.undecided else f for f in self.findings)


@dataclass(frozen=True, slots=True)
class Cause:
    """Something that may be beyond its limit, with how likely that is; ``findings`` as if it were."""

    id: str
    name: str
    position: Position
    ground: Ground
    chance: float
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Unseen:
    """A characteristic nobody has looked at, at some places or at all; ``findings`` as if it were faulty."""

    characteristic: str
    positions: tuple[Position, ...]
    findings: tuple[Finding, ...]
    reason: str
    outside_depth: bool

    @property
    def first(self) -> Finding:
        """The first of its places."""
        return self.findings[0]


@dataclass(frozen=True, slots=True)
class Joint:
    """A pattern that stands where of each of its groups of findings at least one comes true."""

    diagnosis: Diagnosis
    groups: tuple[tuple[str, ...], ...]


def chance_of(finding: Finding) -> float:
    """Probability that a measured value is beyond its limit; 0 without a limit, or below ``LEAST``."""
    chance = 0.0 if finding.inside is None else 1.0 - finding.inside
    return chance if chance >= LEAST else 0.0


def silent(finding: Finding) -> Finding:
    """A finding that asks for nothing and still says what was measured."""
    return replace(finding, verdict=_SILENT)


def as_beyond(finding: Finding) -> Finding:
    """A finding as if its true value were beyond the limit, at the end its value lies nearer to."""
    return replace(finding, verdict=Verdict.BEYOND_LIMIT, side=finding.side or _nearer_end(finding))


def _nearer_end(finding: Finding) -> str:
    ends, value = _ends(finding.limit), finding.quantity.value if finding.quantity else 0.0
    return min(ends, key=lambda side: abs(value - ends[side]), default="")


def _ends(limit: Limit | None) -> dict[str, float]:
    both = {"below": limit.low, "above": limit.high} if limit else {}
    return {side: end for side, end in both.items() if end is not None}


def measured_causes(findings: Iterable[Finding]) -> tuple[Cause, ...]:
    """Measured findings that are not shown to be beyond their limits, and may be; by their ids."""
    told = [f for f in findings if f.verdict in _MEASURED_AND_KEPT and chance_of(f)]
    return tuple(
        Cause(f.id, f.name, f.position, "measured", chance_of(f), (as_beyond(f),))
        for f in sorted(told, key=lambda f: f.id)
    )


def unseen(findings: Iterable[Finding], books: Books) -> tuple[Unseen, ...]:
    """What nobody has looked at, by characteristic, in the order of the findings."""
    gathered: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.verdict in NOT_LOOKED_AT:
            gathered.setdefault(finding.characteristic, []).append(finding)
    return tuple(_unseen(name, same, books) for name, same in gathered.items())


def _unseen(characteristic: str, same: Sequence[Finding], books: Books) -> Unseen:
    known, first = known_or_row(books, characteristic), same[0]
    item = books.checklist.item(characteristic)
    whole = places_along(judged_along(known, item), books) if known and not first.position.labels else ()
    places = whole or tuple(f.position for f in same)
    faulty = tuple(
        replace(first, id=finding_id(characteristic, p), position=p, verdict=Verdict.BEYOND_LIMIT)
        for p in places
    )
    reasons = "; ".join(dict.fromkeys(f.reason for f in same))
    return Unseen(
        characteristic, tuple(f.position for f in same), faulty, reasons, all(f.outside_depth for f in same)
    )


def shared_causes(hidden: Iterable[Unseen], shares: Mapping[str, float]) -> tuple[Cause, ...]:
    """What nobody has looked at and the workshop knows a share of; a fault then counts at one place."""
    told = sorted((h for h in hidden if shares.get(h.characteristic)), key=lambda h: h.characteristic)
    return tuple(
        Cause(
            h.characteristic,
            h.first.name,
            h.positions[0],
            "share of the workshop",
            shares[h.characteristic],
            (h.first,),
        )
        for h in told
    )


def joints(diagnoses: Iterable[Diagnosis], undecided: Collection[str]) -> tuple[Joint, ...]:
    """Patterns that rest on undecided findings alone in any of their clauses."""
    found = (Joint(d, tuple(_open_groups(d, undecided))) for d in diagnoses)
    return tuple(joint for joint in found if joint.groups)


def _open_groups(diagnosis: Diagnosis, undecided: Collection[str]) -> Iterator[tuple[str, ...]]:
    for evidence in diagnosis.evidence:
        if evidence.findings and all(f in undecided for f in evidence.findings):
            yield evidence.findings


class Asking:
    """What causes ask for: the jobs of one plan in which all of them have come true, told apart by cause."""

    def __init__(self, sighted: Sighted, causes: Sequence[Cause], patterns: Sequence[Joint]) -> None:
        """
        Plan once with every cause come true.

        Args:
            sighted: What planning starts from.
            causes: What may come true.
            patterns: Patterns that come true with several causes; they explain none of them alone.
        """
        self._sighted = sighted
        self._jobs = jobs_here(sighted.books, sighted.findings)
        faulty = {f.id: f for c in causes for f in c.findings}
        at = {f.id: f for f in sighted.standing} | faulty
        together = {j.diagnosis.id for j in patterns if len({i for g in j.groups for i in g}) > 1}
        self.items = {
            item.job: item
            for item in sighted.asked(at.values(), [d for d in sighted.diagnoses if d.id not in together])
        }
        self._why = {job: frozenset(item.why) for job, item in self.items.items()}

    def of_cause(self, number: int, cause: Cause) -> Iterator[Ask]:
        """What one cause asks for."""
        for finding in cause.findings:
            for job, why in self._why.items():
                if finding.id in why:
                    yield Ask(number, job, finding.position, self._urgency(job, finding))

    def _urgency(self, job: str, finding: Finding) -> Urgency:
        known = known_or_row(self._sighted.books, finding.characteristic)
        asked = [
            default.urgency
            for default in (known.work if known else ())
            if default.job in self._jobs
            and self._jobs[default.job].id == job
            and finding.verdict in default.verdicts
            and default.side in ("", finding.side)
        ]
        return min(asked, key=URGENCIES.index, default=self.items[job].urgency)

    def of_items(self, number: int, items: Iterable[WorkItem]) -> Iterator[Ask]:
        """What planned work asks for, under one number."""
        for item in items:
            for place in item.positions:
                yield Ask(number, item.job, place, item.urgency)


def in_one_way(asks: Sequence[Ask], books: Books) -> tuple[Ask, ...]:
    """The asks with the places of each job told along the same axes: a crankpin as its cylinder."""
    places: dict[str, dict[Position, None]] = {}
    for ask in asks:
        places.setdefault(ask.job, {})[ask.position] = None
    told = {
        (job, before): after
        for job, listed in places.items()
        for before, after in zip(listed, _told(job, tuple(listed), books), strict=True)
    }
    return tuple(replace(a, position=told[a.job, a.position]) for a in asks)


def _told(job: str, places: Sequence[Position], books: Books) -> tuple[Position, ...]:
    """Places as work tells them; those of a job the workbook does not have by cylinder alone."""
    known, layout = books.workbook.job(job), books.sheet.layout
    return told_alike(known, places, layout) if known else by_cylinder(places, layout)
