"""Turns jobs that are asked for into those this engine admits: a plated bore is not bored but plated anew."""

from collections.abc import Iterable

from inspect_report.judge.finding import Finding
from inspect_report.knowledge.case import Books
from inspect_report.knowledge.workbook import Job
from inspect_report.mechanics import rebore
from inspect_report.records.checklist import applies_to

BORE_WEAR = "bore-wear"
_ANY_BORE = 0.1
"""A bore to count wear from: what a step leaves does not depend on its size. [m]"""


def jobs_here(books: Books, findings: Iterable[Finding]) -> dict[str, Job]:
    """
    What each job of the workbook comes to on this engine: itself, or the one that is done otherwise.

    A job that this kind of engine does not take, and that nothing stands in for, is left out. One that needs
    an oversize is not possible without any on sale, nor where a bore is worn so far that the largest of them
    leaves nothing to hone.
    """
    wear = max(
        (f.quantity.value for f in findings if f.characteristic == BORE_WEAR and f.quantity), default=0.0
    )
    rows = rebore.oversizes(books.sheet.on_sale.oversizes, largest=_ANY_BORE + wear, unworn=_ANY_BORE)
    room = rebore.oversize_to_fit(rows) is not None
    jobs = {job.id: job for job in books.workbook.jobs}
    possible = {i for i, job in jobs.items() if _is_possible(job, books, oversize=room)}
    found = {i: _standing_in(i, jobs, possible) for i in jobs}
    return {i: job for i, job in found.items() if job is not None}


def _is_possible(job: Job, books: Books, *, oversize: bool) -> bool:
    return applies_to(job.applies, books.sheet.layout) and (oversize or not job.oversize)


def _standing_in(name: str, jobs: dict[str, Job], possible: set[str]) -> Job | None:
    """The first possible job along ``otherwise``; a row that runs in a circle leads to none."""
    tried: set[str] = set()
    while name in jobs and name not in possible and name not in tried:
        tried.add(name)
        name = jobs[name].otherwise
    return jobs[name] if name in possible else None
