"""Turns work that needs itself into problems: a step behind itself, a job done otherwise by itself."""

from collections.abc import Iterable, Iterator, Mapping

from inspect_report.knowledge.workbook import Workbook
from inspect_report.records.problem import Problem
from inspect_report.records.yaml import Document, Path

Ways = Mapping[str, Iterable[str]]
"""What each thing leads to, by id."""


def circles(document: Document, workbook: Workbook) -> Iterator[Problem]:
    """
    A problem for each step or job that comes back to itself, at the key by which it does.

    Args:
        document: The workbook's file.
        workbook: What was read of it.
    """
    behind = {s.id: s.behind for s in workbook.access}
    otherwise = {j.id: (j.otherwise,) for j in workbook.jobs}
    for i, step in enumerate(workbook.access):
        if step.id in reached(step.id, behind):
            yield _step_behind_itself(document, ("access", i, "behind"), step.id)
    for i, job in enumerate(workbook.jobs):
        if job.id in reached(job.id, otherwise):
            yield _job_by_itself(document, ("jobs", i, "otherwise"), job.id)
        if job.id in job.covers:
            at = ("jobs", i, "covers", job.covers.index(job.id))
            yield _job_covers_itself(document, at, job.id)


def reached(start: str, ways: Ways) -> frozenset[str]:
    """Everything some thing leads to, also by way of others; itself only where the way goes round."""
    found: set[str] = set()
    waiting = [*ways.get(start, ())]
    while waiting:
        one = waiting.pop()
        if one and one not in found:
            found.add(one)
            waiting.extend(ways.get(one, ()))
    return frozenset(found)


def _step_behind_itself(document: Document, path: Path, step: str) -> Problem:
    title, mend = "access step behind itself", "take one of the steps out of 'behind'"
    return document.problem("K362", title, path, step, "steps that form a tree", mend)


def _job_by_itself(document: Document, path: Path, job: str) -> Problem:
    title, mend = "job that stands in for itself", "end the row with a job that every such engine admits"
    return document.problem("K380", title, path, job, "jobs that form a row with an end", mend)


def _job_covers_itself(document: Document, path: Path, job: str) -> Problem:
    title, mend = "job that makes itself needless", "take it out of its own 'covers'"
    return document.problem("K381", title, path, job, "other jobs", mend)
