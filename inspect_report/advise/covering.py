"""
Turns work that overlaps into work done once: what another job, or closing an access step, does anyway.

What is needless is kept, with what makes it so, and is not priced.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from inspect_report.advise.advice import WorkItem
from inspect_report.advise.counting import holds, hours_of
from inspect_report.knowledge.case import Books
from inspect_report.knowledge.catalogue import URGENCIES, Urgency
from inspect_report.knowledge.workbook import AccessStep, Workbook
from inspect_report.records.position import Position

WATCH: Final[Urgency] = "watch"


def without_needless(
    items: Sequence[WorkItem], books: Books, left_open: Iterable[AccessStep]
) -> tuple[WorkItem, ...]:
    """
    The items, those that others or the access make needless marked so.

    Args:
        items: Planned work, each job once, in the order of the workbook.
        books: The books of the inspection.
        left_open: Steps that are open when the inspection ends, and are closed before anything else.
    """
    return _by_steps(tuple(_covered(items, books)), books, frozenset(s.id for s in left_open))


def _by_steps(items: tuple[WorkItem, ...], books: Books, left_open: frozenset[str]) -> tuple[WorkItem, ...]:
    """
    The items with those marked that closing a step does anyway.

    The step must be paid for no later, and by the inspection or by work that is still to be done and that the
    step does not itself make needless: else two jobs could make each other needless.
    """
    done: dict[str, WorkItem] = {item.job: item for item in items}
    for item in items:
        steps = (s for s in books.workbook.access if item.job in s.covers and not item.covered_by)
        step = next((s for s in steps if s.id in left_open or _is_needed(s, item, done.values())), None)
        done[item.job] = replace(item, covered_by=step.id) if step else item
    return tuple(_passed_on(item, done) for item in done.values())


def _is_needed(step: AccessStep, item: WorkItem, others: Iterable[WorkItem]) -> bool:
    return any(
        step.id in o.access and o.job not in step.covers and not o.covered_by and _is_no_later(o, item)
        for o in others
    )


def _passed_on(item: WorkItem, done: dict[str, WorkItem]) -> WorkItem:
    """What a needless job would have covered is done by the same step."""
    by = done.get(item.covered_by)
    return replace(item, covered_by=by.covered_by) if by and by.covered_by else item


def _covered(items: Sequence[WorkItem], books: Books) -> Iterator[WorkItem]:
    """
    The items with what other jobs make needless taken out of them.

    A job is needless where a job that covers it, and is still to be done itself, is done no later, and at
    the same place or throughout the engine (its hours are not counted by place). Needless at some of its
    places only, it stays at the others.
    """
    covers = all_covered(books.workbook)
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


def all_covered(workbook: Workbook) -> dict[str, set[str]]:
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
