"""
Turns what a customer decided into the choice about each job, and into the order given so far.

A choice changes no verdict, no grade and none of the three sums: they say what is needed. What it changes is
the order.
"""

from collections.abc import Iterable, Sequence
from typing import Final

from inspect_report.advise.advice import Chosen, Option, WorkItem
from inspect_report.advise.covering import WATCH
from inspect_report.advise.options import Till, option
from inspect_report.knowledge.case import Case
from inspect_report.records.inspection import CustomerChoice
from inspect_report.telling.manner import message

ORDERED: Final = ("ordered", message("As ordered"))
WITH_OPEN: Final = ("ordered-and-open", message("As ordered, with what is not decided yet"))


def choices(case: Case, planned: Iterable[WorkItem]) -> tuple[Chosen, ...]:
    """The choice that holds about each job: first those about work that is planned, in its order."""
    last = _last(case.inspection.head.choices)
    work = {w.job: w for w in planned}
    told = [*(j for j in work if j in last), *(j for j in last if j not in work)]
    return tuple(_chosen(case, last[job], work.get(job)) for job in told)


def _last(made: Iterable[CustomerChoice]) -> dict[str, CustomerChoice]:
    """Of several choices about a job the one of the last day."""
    return {choice.job: choice for choice in sorted(made, key=lambda c: c.date)}


def _chosen(case: Case, made: CustomerChoice, item: WorkItem | None) -> Chosen:
    job = case.books.workbook.job(made.job)
    name = item.name if item else job.name if job else made.job
    asked = item is not None and not item.covered_by
    return Chosen(
        job=made.job,
        name=name,
        decision=made.decision,
        day=made.date,
        by=made.name,
        note=made.note,
        urgency=item.urgency if item and asked else "",
        risk=item.if_left if item and asked else "",
    )


def to_decide(planned: Iterable[WorkItem]) -> tuple[WorkItem, ...]:
    """Jobs with a price of their own: what a customer can say yes or no to."""
    return tuple(w for w in planned if not w.covered_by and w.urgency != WATCH)


def undecided(made: Iterable[Chosen], planned: Iterable[WorkItem]) -> tuple[WorkItem, ...]:
    """Jobs with a price of their own that were not decided while others were: found since, or passed over."""
    decided = {c.job for c in made}
    return tuple(w for w in to_decide(planned) if decided and w.job not in decided)


def order_so_far(
    till: Till,
    made: Iterable[Chosen],
    ordered: Sequence[WorkItem],
    planned: Sequence[WorkItem],
    called: tuple[str, str] = ORDERED,
) -> Option | None:
    """
    What was ordered, as an order with what it costs and leaves undone; None where nothing was.

    Args:
        till: Puts a price on it.
        made: The choices.
        ordered: The jobs ordered, settled among themselves: what a declined job would have done is done.
        planned: All work, in the order it is told in.
        called: Id and title of the order.
    """
    if not any(c.decision == "ordered" for c in made):
        return None
    place = {w.job: n for n, w in enumerate(planned)}
    return option(till, *called, sorted(ordered, key=lambda w: place.get(w.job, -1)), planned)
