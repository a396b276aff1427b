"""Turns findings still to be made into what keeps the price of a job open."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from inspect_report.advise.advice import WorkItem
from inspect_report.advise.counting import holds
from inspect_report.judge.finding import Finding, Verdict
from inspect_report.knowledge.workbook import Workbook

NOT_MADE: Final = frozenset({Verdict.NOT_INSPECTED, Verdict.CHECK_FAILED})


def with_awaited(
    items: Iterable[WorkItem], workbook: Workbook, findings: Iterable[Finding]
) -> tuple[WorkItem, ...]:
    """
    The items, each with the characteristics that decide what else it needs and that nobody has looked at.

    A characteristic counts where it is not inspected at a place of the job, or nowhere is there a word of it.

    Args:
        items: Planned work.
        workbook: Says what each job may need.
        findings: All findings of the inspection.
    """
    seen = tuple(findings)
    return tuple(replace(i, awaits=tuple(dict.fromkeys(_awaited(i, workbook, seen)))) for i in items)


def _awaited(item: WorkItem, workbook: Workbook, findings: tuple[Finding, ...]) -> Iterator[str]:
    job = workbook.job(item.job)
    for need in job.may_need if job else ():
        yield from (c for c in need.depends_on if _is_open(c, item, findings))


def _is_open(characteristic: str, item: WorkItem, findings: tuple[Finding, ...]) -> bool:
    known = [f for f in findings if f.characteristic == characteristic]
    here = [f for f in known if any(holds(p, f.position) or holds(f.position, p) for p in item.positions)]
    return any(f.verdict in NOT_MADE for f in here) or not known
