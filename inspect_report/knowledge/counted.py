"""Turns a workbook that counts hours or parts by what no engine has into problems at the word."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from inspect_report.knowledge.words import unknown, unknown_each
from inspect_report.knowledge.workbook import SHIM_TO_BUY, Job, PartUse, Workbook
from inspect_report.records.problem import Problem
from inspect_report.records.yaml import Document, Path

_ONCE: Final = ("job", "place")


def counting_words(document: Document, workbook: Workbook, axes: Iterable[str]) -> Iterator[Problem]:
    """
    A problem for each ``per`` and each place of a job that is no axis.

    Args:
        document: The workbook's file.
        workbook: What was read of it.
        axes: Every axis an engine can have.
    """
    known = (*_ONCE, *axes)
    for i, step in enumerate(workbook.access):
        once = tuple(word for word in known if word != "place")
        yield from unknown(document, "K382", "word to count by", step.per, ("access", i, "per"), once)
        yield from _uses(document, step.parts, ("access", i, "parts"), known)
    for i, job in enumerate(workbook.jobs):
        yield from _job(document, job, ("jobs", i), known)


def _job(document: Document, job: Job, path: Path, known: Sequence[str]) -> Iterator[Problem]:
    yield from unknown(document, "K382", "word to count by", job.per, (*path, "per"), known)
    axes = known[len(_ONCE) :]
    yield from unknown_each(document, "K359", "axis", job.places, (*path, "places"), axes)
    yield from _uses(document, job.parts, (*path, "parts"), known)
    for n, need in enumerate(job.may_need):
        yield from _uses(document, need.parts, (*path, "may-need", n, "parts"), known)


def _uses(
    document: Document, parts: Sequence[PartUse], path: Path, known: Sequence[str]
) -> Iterator[Problem]:
    words = (*known, SHIM_TO_BUY)
    for n, use in enumerate(parts):
        yield from unknown(document, "K382", "word to count by", use.per, (*path, n, "per"), words)
