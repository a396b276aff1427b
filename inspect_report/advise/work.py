"""
Turns diagnoses and findings into work: each job once, with its places, its reasons and its urgency.

A rule that fires asks for its own work. A finding asks for the work its characteristic names, unless a
diagnosis that rests on it has already asked for other work.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from inspect_report.advise.access import steps_for
from inspect_report.advise.advice import Diagnosis, WorkItem
from inspect_report.judge.finding import Finding
from inspect_report.knowledge.case import Books
from inspect_report.knowledge.catalogue import URGENCIES, Urgency
from inspect_report.knowledge.workbook import Job, Workbook
from inspect_report.records.checklist import applies_to, axis_labels
from inspect_report.records.position import Position

WATCH: Final[Urgency] = "watch"
PER_CYLINDER: Final = frozenset({"valve", "ring"})
"""Axes whose labels name the places of one cylinder, so that the engine has them once for each."""


@dataclass(frozen=True, slots=True)
class _Ask:
    """One reason for a job."""

    job: str
    position: Position
    why: str
    urgency: Urgency
    if_left: str


def plan_work(
    books: Books, findings: Iterable[Finding], diagnoses: Sequence[Diagnosis]
) -> tuple[WorkItem, ...]:
    """The work an engine needs, most urgent first, then in the order of the workbook."""
    jobs = [job for job in books.workbook.jobs if applies_to(job.applies, books.sheet.layout)]
    here = frozenset(job.id for job in jobs)
    asked: dict[str, list[_Ask]] = {job.id: [] for job in jobs}
    for ask in (*_by_rules(diagnoses, here), *_by_findings(books, findings, _explained(diagnoses, here))):
        asked.get(ask.job, []).append(ask)
    items = [_item(job, asked[job.id], books) for job in jobs if asked[job.id]]
    return tuple(sorted(_covered(items, books), key=lambda item: URGENCIES.index(item.urgency)))


def _by_rules(diagnoses: Iterable[Diagnosis], here: frozenset[str]) -> Iterator[_Ask]:
    """Work of the rules; a job of another kind of engine is passed over."""
    for d in diagnoses:
        yield from (_Ask(job, d.position, d.id, d.urgency, d.if_left) for job in d.work if job in here)


def _by_findings(
    books: Books, findings: Iterable[Finding], explained: Mapping[str, set[str]]
) -> Iterator[_Ask]:
    """Default work; by the ids of the findings, so that their order in memory plays no part."""
    for f in sorted(findings, key=lambda f: (f.characteristic, _in_order(f.position))):
        known = books.catalogue.known(f.characteristic)
        jobs = explained.get(f.id)
        for default in known.work if known else ():
            if known and f.verdict in default.verdicts and (jobs is None or default.job in jobs):
                yield _Ask(default.job, f.position, f.id, default.urgency, known.if_beyond)


def _explained(diagnoses: Iterable[Diagnosis], here: frozenset[str]) -> dict[str, set[str]]:
    """The jobs already asked for by the diagnoses that rest on a finding, by the finding's id."""
    explained: dict[str, set[str]] = defaultdict(set)
    for d in diagnoses:
        jobs = here.intersection(d.work)
        for finding in (f for e in d.evidence for f in e.findings if jobs):
            explained[finding].update(jobs)
    return explained


def _in_order(position: Position) -> tuple[tuple[int, str], ...]:
    """A key that sorts cylinder 2 before cylinder 10."""
    return tuple((int(label) if label.isdigit() else 0, label) for label in position.labels)


def _item(job: Job, asks: Sequence[_Ask], books: Books) -> WorkItem:
    most = min(asks, key=lambda a: URGENCIES.index(a.urgency))
    places = finest(a.position for a in asks)
    return WorkItem(
        job=job.id,
        name=job.name,
        plain=job.plain,
        positions=places,
        why=tuple(dict.fromkeys(a.why for a in asks)),
        urgency=most.urgency,
        access=tuple(s.id for s in steps_for(job.access, books.workbook, books.sheet.layout)),
        hours=hours_of(job, places, books),
        if_left=most.if_left,
    )


def finest(places: Iterable[Position]) -> tuple[Position, ...]:
    """
    Distinct places in order, without those that others say more exactly.

    ``cylinder 3`` beside ``cylinder 3, inlet valve 1`` is one place and not two: nothing is counted twice.
    """
    distinct = sorted(set(places), key=lambda p: (p.axes, _in_order(p)))
    return tuple(p for p in distinct if not any(p != other and holds(p, other) for other in distinct))


def holds(wide: Position, narrow: Position) -> bool:
    """Whether a place lies in another: cylinder 3 holds its inlet valve 1, the engine holds every place."""
    return all(narrow.label(axis) == wide.label(axis) for axis in wide.axes)


def count_of(per: str, places: Sequence[Position], books: Books) -> int | None:
    """
    How many times something is needed: once per ``job``, per ``place`` of it, or per label of an axis.

    None where the spec sheet does not say how many of the axis the engine has.
    """
    if per in ("job", "place"):
        return 1 if per == "job" else len(places)
    try:
        labels = len(axis_labels(per, books.sheet, books.checklist))
    except KeyError:
        return None
    return labels * books.sheet.layout.cylinders if per in PER_CYLINDER else labels


def hours_of(job: Job, places: Sequence[Position], books: Books) -> Decimal:
    """Hours of a job at its places, by the workshop's own figure where it gives one, in h."""
    count = count_of(job.per, places, books)
    return books.workshop.hours.get(job.id, job.hours) * (len(places) if count is None else count)


def _covered(items: Sequence[WorkItem], books: Books) -> Iterator[WorkItem]:
    """
    The items with what other jobs make needless taken out of them.

    A job is needless where a job that covers it, and is still to be done itself, is done no later, and at
    the same place or throughout the engine (its hours are not counted by place). Needless at some of its
    places only, it stays at the others.
    """
    covers = _covers(books.workbook)
    left: dict[str, tuple[Position, ...]] = {}
    by: dict[str, str] = {}
    # A job that covers others covers more than any of them does, so that it is settled before them.
    for item in sorted(items, key=lambda i: -len(covers[i.job])):
        others = [o for o in items if item.job in covers[o.job] and left[o.job] and _is_no_later(o, item)]
        reach = {
            p: next((o.job for o in others if _reaches(o, left[o.job], p, books)), "") for p in item.positions
        }
        left[item.job] = tuple(p for p, other in reach.items() if not other)
        by[item.job] = next(filter(None, reach.values()), "")
    for item in items:
        yield _at(item, left[item.job], books) if left[item.job] else replace(item, covered_by=by[item.job])


def _at(item: WorkItem, places: tuple[Position, ...], books: Books) -> WorkItem:
    job = books.workbook.job(item.job)
    if job is None or places == item.positions:
        return item
    return replace(item, positions=places, hours=hours_of(job, places, books))


def _is_no_later(other: WorkItem, item: WorkItem) -> bool:
    return other.urgency != WATCH and URGENCIES.index(other.urgency) <= URGENCIES.index(item.urgency)


def _reaches(other: WorkItem, places: Sequence[Position], place: Position, books: Books) -> bool:
    job = books.workbook.job(other.job)
    everywhere = job is not None and job.per != "place"
    return everywhere or any(holds(p, place) for p in places)


def _covers(workbook: Workbook) -> dict[str, set[str]]:
    """Per job all it makes needless, also by way of others; of two that cover each other the first does."""
    direct = {job.id: set(job.covers) for job in workbook.jobs}
    place = {job: n for n, job in enumerate(direct)}
    reached = {job: _reached(job, direct) for job in direct}
    return {
        job: {n for n in needless & place.keys() if job not in reached[n] or place[job] < place[n]}
        for job, needless in reached.items()
    }


def _reached(job: str, direct: dict[str, set[str]]) -> set[str]:
    found: set[str] = set()
    waiting = list(direct[job])
    while waiting:
        needless = waiting.pop()
        if needless not in found and needless != job:
            found.add(needless)
            waiting.extend(direct.get(needless, ()))
    return found
