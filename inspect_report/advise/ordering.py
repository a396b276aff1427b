"""
Turns planned work into the order it is told in.

Most urgent first; within an urgency jobs that only test come last; of the others those that answer a finding
for which the engine must not be run, then those that answer one beyond its limit, each by cost, the dearest
first. Cost is a job's own hours and parts, without access, as far as prices are known, of a range the low
end.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from decimal import Decimal

from inspect_report.advise.advice import Diagnosis, WorkItem
from inspect_report.advise.counting import count_of
from inspect_report.judge.finding import Finding, Verdict
from inspect_report.judge.grades import calls_for
from inspect_report.knowledge.case import Books
from inspect_report.knowledge.catalogue import URGENCIES
from inspect_report.knowledge.workbook import PartUse
from inspect_report.records.position import Position


def in_telling_order(
    items: Iterable[WorkItem], books: Books, findings: Iterable[Finding], diagnoses: Iterable[Diagnosis]
) -> tuple[WorkItem, ...]:
    """Work as it is told, the most serious first; equals stay in the order of the workbook."""
    gravities = {f.id: _gravity(f, books) for f in findings}
    behind = {d.id: tuple(f for e in d.evidence for f in e.findings) for d in diagnoses}

    def key(item: WorkItem) -> tuple[int, bool, int, Decimal]:
        job = books.workbook.job(item.job)
        tests = job is not None and job.check
        return URGENCIES.index(item.urgency), tests, _gravest(item, gravities, behind), -_cost(item, books)

    return tuple(sorted(items, key=key))


def _gravity(finding: Finding, books: Books) -> int:
    """0 where the engine must not be run, 1 beyond a limit, 2 otherwise."""
    if any(cap.do_not_run and calls_for(finding, cap) for cap in books.scoring.caps):
        return 0
    return 1 if finding.verdict is Verdict.BEYOND_LIMIT else 2


def _gravest(item: WorkItem, gravities: Mapping[str, int], behind: Mapping[str, Collection[str]]) -> int:
    """The gravity of the worst finding a job answers, itself or by way of a diagnosis."""
    named = (f for why in item.why for f in behind.get(why, (why,)))
    return min((gravities.get(f, 2) for f in named), default=2)


def _cost(item: WorkItem, books: Books) -> Decimal:
    job = books.workbook.job(item.job)
    parts = (_part_cost(use, item.positions, books) for use in (job.parts if job else ()))
    return item.hours * books.workshop.labour_rate + sum(parts, Decimal(0))


def _part_cost(use: PartUse, places: Sequence[Position], books: Books) -> Decimal:
    price = books.workshop.price(use.part)
    return (price.low if price else Decimal(0)) * use.quantity * (count_of(use.per, places, books) or 0)
