"""
Turns diagnoses and findings into work: each job once, with its places, its reasons and its urgency.

A rule that fires asks for its own work. A finding asks for the work its characteristic names, unless a
diagnosis that rests on it has already asked for other work; what its characteristic always asks for stays.
One that a forecast puts at its limit before the next inspection asks as one that is undecided would: by then
it may lie on either side.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from inspect_report.advise.access import deepest, steps_for
from inspect_report.advise.advice import Asking, Diagnosis, WorkItem
from inspect_report.advise.awaiting import with_awaited
from inspect_report.advise.counting import holds, hours_of, in_order, places_of
from inspect_report.advise.covering import without_needless
from inspect_report.advise.naming import named
from inspect_report.advise.ordering import in_telling_order
from inspect_report.advise.standing_in import jobs_here
from inspect_report.judge.finding import Finding, Verdict
from inspect_report.knowledge.case import Books
from inspect_report.knowledge.catalogue import URGENCIES, Urgency
from inspect_report.knowledge.workbook import SHIM_TO_BUY, AccessStep, Job
from inspect_report.records.position import Position


@dataclass(frozen=True, slots=True)
class _Ask:
    """One reason for a job."""

    job: str
    position: Position
    why: str
    urgency: Urgency
    if_left: str
    forecast: bool = False
    """Whether a forecast asks for it, since its verdict would not."""
    noted: str = ""
    """What was noted with the finding that asks for it."""


def plan_work(
    books: Books,
    findings: Iterable[Finding],
    diagnoses: Sequence[Diagnosis],
    left_open: Iterable[AccessStep] = (),
    due: Collection[str] = (),
    shims_to_change: Iterable[Position] = (),
) -> tuple[WorkItem, ...]:
    """
    The work an engine needs, in the order it is told; see ``ordering``.

    Args:
        books: The books of the inspection.
        findings: What was judged, in any order.
        diagnoses: The rules that fired.
        left_open: Steps that are open when the inspection ends.
        due: Ids of findings that will be at their limit before the next inspection.
        shims_to_change: Valves whose shim the plan changes, those too that only lend theirs to another.
    """
    seen, still_open = tuple(findings), tuple(left_open)
    asked = asked_work(books, seen, diagnoses, still_open, due, shims_to_change)
    return in_telling_order(settled(asked, books, seen, still_open), books, seen, diagnoses)


def settled(
    items: Sequence[WorkItem], books: Books, findings: Iterable[Finding], left_open: Iterable[AccessStep]
) -> tuple[WorkItem, ...]:
    """Some jobs as one order: what they make needless marked so, and what keeps a price open named."""
    return with_awaited(without_needless(items, books, left_open), books.workbook, findings)


def asked_work(
    books: Books,
    findings: Iterable[Finding],
    diagnoses: Sequence[Diagnosis],
    left_open: Iterable[AccessStep] = (),
    due: Collection[str] = (),
    shims_to_change: Iterable[Position] = (),
    gone: Collection[str] = (),
) -> tuple[WorkItem, ...]:
    """
    Every job that something asks for, in the order of the workbook, whatever another makes needless.

    Args are those of ``plan_work``; ``gone``: ids of findings of parts that left the engine, which ask for
    nothing, and neither does a rule that rests on such findings alone.
    """
    seen = tuple(findings)
    jobs = jobs_here(books, seen)
    asking = [d for d in diagnoses if not _rests_on(d, gone)]
    by_rules = _by_rules(asking, jobs, {f.id: f.position for f in seen})
    explained = _explained(diagnoses, frozenset(jobs))
    by_findings = _by_findings(books, [f for f in seen if f.id not in gone], explained, due)
    asked: dict[str, list[_Ask]] = {job.id: [] for job in books.workbook.jobs}
    for ask in (*by_rules, *by_findings):
        if ask.job in jobs:
            asked[jobs[ask.job].id].append(ask)
    _along(asked, books, tuple(shims_to_change))
    still_open = tuple(left_open)
    return tuple(_item(j, asked[j.id], books, still_open) for j in books.workbook.jobs if asked[j.id])


def _rests_on(diagnosis: Diagnosis, gone: Collection[str]) -> bool:
    """Whether a rule fired by findings of parts that left the engine, and by no others."""
    behind = [f for e in diagnosis.evidence for f in e.findings]
    return bool(behind) and all(f in gone for f in behind)


def _along(asked: Mapping[str, list[_Ask]], books: Books, valves: Iterable[Position]) -> None:
    """Valves that are well and lend their shim are work too, wherever shims are changed at all."""
    for job in books.workbook.jobs:
        if asked[job.id] and any(use.per == SHIM_TO_BUY for use in job.parts):
            asked[job.id].extend(_Ask(job.id, valve, "", URGENCIES[-1], "") for valve in valves)


def _by_rules(
    diagnoses: Iterable[Diagnosis], jobs: Mapping[str, Job], at: Mapping[str, Position]
) -> Iterator[_Ask]:
    """Work of the rules, or what stands in for it; a job of another kind of engine is passed over."""
    for d in diagnoses:
        for job in (jobs[name] for name in d.work if name in jobs):
            for position in _meant(d, job, at):
                yield _Ask(job.id, position, d.id, d.urgency, d.if_left)


def _meant(diagnosis: Diagnosis, job: Job, at: Mapping[str, Position]) -> tuple[Position, ...]:
    """Where a rule means a job to be done: at the places of its evidence, if as fine as the job's."""
    if not job.places:
        return (diagnosis.position,)
    known = [at[f] for e in diagnosis.evidence for f in e.findings if f in at]
    fine = (
        p.only(*job.places) for p in known if set(job.places) <= set(p.axes) and holds(diagnosis.position, p)
    )
    return tuple(dict.fromkeys(fine)) or (diagnosis.position,)


def _by_findings(
    books: Books, findings: Iterable[Finding], explained: Mapping[str, set[str]], due: Collection[str]
) -> Iterator[_Ask]:
    """Default work; by the ids of the findings, so that their order in memory plays no part."""
    for f in sorted(findings, key=lambda f: (f.characteristic, in_order(f.position))):
        known = books.catalogue.known(f.characteristic)
        jobs, verdicts = explained.get(f.id), _asking(f, due)
        for default in known.work if known else ():
            asked = verdicts.intersection(default.verdicts) and default.side in ("", f.side)
            if known and asked and (jobs is None or default.always or default.job in jobs):
                forecast = f.verdict not in default.verdicts
                noted = "; ".join(dict.fromkeys(s.note for s in f.seen if s.note))
                yield _Ask(default.job, f.position, f.id, default.urgency, known.if_beyond, forecast, noted)


def _asking(finding: Finding, due: Collection[str]) -> frozenset[str]:
    """The verdicts a finding asks for work by."""
    if finding.id in due and finding.verdict != Verdict.BEYOND_LIMIT:
        return frozenset((finding.verdict, Verdict.UNDECIDED))
    return frozenset((finding.verdict,))


def _explained(diagnoses: Iterable[Diagnosis], here: frozenset[str]) -> dict[str, set[str]]:
    """The jobs already asked for by the diagnoses that rest on a finding, by the finding's id."""
    explained: dict[str, set[str]] = defaultdict(set)
    for d in diagnoses:
        jobs = here.intersection(d.work)
        for finding in (f for e in d.evidence for f in e.findings if jobs):
            explained[finding].update(jobs)
    return explained


def _item(job: Job, asks: Sequence[_Ask], books: Books, left_open: Iterable[AccessStep]) -> WorkItem:
    most = min(asks, key=lambda a: URGENCIES.index(a.urgency))
    places = places_of(job, (a.position for a in asks), books.sheet.layout)
    steps = steps_for(job.access, books.workbook, books.sheet.layout)
    access = tuple(s.id for s in steps)
    is_open = any(s.id not in access for s in left_open)
    name = named(job, places, books)
    return WorkItem(
        job=job.id,
        name=name,
        name_says_where=name != job.name,
        plain=(job.plain_open if is_open else "") or job.plain,
        positions=places,
        why=tuple(dict.fromkeys(a.why for a in asks if a.why)),
        urgency=most.urgency,
        access=access,
        opens=tuple(s.id for s in deepest(steps, books.workbook)),
        hours=hours_of(job, places, books),
        if_left=job.if_left or most.if_left,
        where="; ".join(dict.fromkeys(a.noted for a in asks if a.noted)) if job.where_noted else "",
        asked=_askings(job, asks),
        alters=job.alters,
    )


def _askings(job: Job, asks: Sequence[_Ask]) -> tuple[Asking, ...]:
    """The reasons of a job, each once: as it asks most urgently, at all its places."""
    gathered: dict[str, list[_Ask]] = {}
    asked = {ask.position for ask in asks if ask.why}
    for ask in asks:
        if ask.why or ask.position not in asked:
            gathered.setdefault(ask.why, []).append(ask)
    return tuple(_asking_of(same, job) for same in gathered.values())


def _asking_of(same: Sequence[_Ask], job: Job) -> Asking:
    most = min(same, key=lambda a: URGENCIES.index(a.urgency))
    places = tuple(dict.fromkeys(a.position for a in same))
    return Asking(most.why, most.urgency, places, most.forecast, most.job if most.job != job.id else "")
