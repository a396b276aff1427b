"""
Turns planned work into orders a customer can choose among, each costed alone, and what each leaves undone.

An option is a set of jobs, costed by the same function as the estimate. The three are nested by urgency: what
must be done, that with what is advised, and all that is asked for. So each costs what the classes of the
estimate up to it cost together, to the coin, and a larger one never costs less.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from inspect_report.advise.access import left_open
from inspect_report.advise.advice import LeftUndone, Option, WhileOpen, WorkItem
from inspect_report.advise.estimate import CLASSES, estimate, total_of
from inspect_report.advise.priced import NOTHING, EstimateLine, Span, Total
from inspect_report.knowledge.case import Case
from inspect_report.knowledge.catalogue import URGENCIES
from inspect_report.knowledge.workbook import AccessStep
from inspect_report.measure.derived import ShimChoice
from inspect_report.telling.manner import message, say

TITLES: Final = (
    ("least", message("Must be done")),
    ("advised", message("With what is advised")),
    ("complete", message("With what can wait")),
)
"""Options from the smallest on; each takes in one class of the estimate more than the one before it."""
STRIP_DOWN: Final = ("strip-down", message("No work: strip-down done, left in parts"))
CLOSING: Final = ("closing", message("No work: strip-down done, closed again"))
"""What an engine that lies open costs if no job is ordered: left as it lies, or closed."""
_OF_HOURS: Final = ("work", "strip-down", "access")


@dataclass(frozen=True, slots=True)
class Till:
    """Puts one price on any set of jobs of an inspection."""

    case: Case
    shims: Sequence[ShimChoice] = ()

    def cost(self, jobs: Sequence[WorkItem], stays_open: Sequence[AccessStep] | None = None) -> "Bill":
        """
        What some jobs cost as one order.

        Args:
            jobs: Jobs as planned; those that another makes needless are not priced.
            stays_open: Steps open before any work; those the inspection leaves open when left out.
        """
        return bill_of(estimate(self.case, jobs, self.shims, stays_open=stays_open).totals)


@dataclass(frozen=True, slots=True)
class Bill:
    """What an order costs, and its lines, class by class."""

    totals: tuple[Total, ...]
    net: Span
    tax: Span
    gross: Span
    on_request: int

    @property
    def lines(self) -> tuple[EstimateLine, ...]:
        return tuple(line for total in self.totals for line in total.lines)

    def hours(self) -> Span:
        """Hours of work and of opening and closing."""
        return sum((line.quantities for line in self.lines if line.kind in _OF_HOURS), NOTHING)

    def of(self, *kinds: str) -> Span:
        """Money of some kinds of lines, before tax."""
        return sum((line.prices for line in self.lines if line.kind in kinds), NOTHING)


def bill_of(totals: tuple[Total, ...]) -> Bill:
    """The classes of an order added up."""
    net, tax, gross = (sum((t.sums[n] for t in totals), NOTHING) for n in range(3))
    return Bill(totals, net, tax, gross, sum(t.on_request for t in totals))


def options(till: Till, planned: Sequence[WorkItem]) -> tuple[Option, ...]:
    """
    The three orders to choose among, from the smallest on.

    Args:
        till: Puts a price on them.
        planned: All work, with what is needless marked so.
    """
    return tuple(
        option(till, name, title, [w for w in planned if URGENCIES.index(w.urgency) <= n], planned)
        for n, (name, title) in enumerate(TITLES)
    )


def option(
    till: Till, name: str, title: str, jobs: Sequence[WorkItem], planned: Iterable[WorkItem]
) -> Option:
    """
    One order with what it costs and what it leaves undone.

    Args:
        till: Puts a price on it.
        name: Its id.
        title: What it is called.
        jobs: What is ordered, settled as one order.
        planned: All work of the inspection.
    """
    return _option(till.cost(jobs), name, title, jobs, planned)


def without_work(till: Till, planned: Sequence[WorkItem]) -> tuple[Option, ...]:
    """
    What an engine that lies open costs if no job is ordered: left as it lies, and closed; else nothing.

    Args:
        till: Puts a price on both.
        planned: All work, which both leave undone.
    """
    if not left_open(till.case):
        return ()
    closed = till.cost(())
    lines = tuple(line for line in closed.lines if line.kind == "strip-down")
    done = bill_of((total_of(CLASSES[0], lines, till.case.books.workshop),))
    return _option(done, *STRIP_DOWN, (), planned), _option(closed, *CLOSING, (), planned)


def _option(
    bill: Bill, name: str, title: str, jobs: Sequence[WorkItem], planned: Iterable[WorkItem]
) -> Option:
    return Option(
        id=name,
        title=say(title),
        jobs=tuple(w.job for w in jobs if not w.covered_by),
        hours=bill.hours(),
        labour=bill.of(*_OF_HOURS),
        parts=bill.of("part"),
        machine_shop=bill.of("machine shop"),
        net=bill.net,
        tax=bill.tax,
        gross=bill.gross,
        on_request=bill.on_request,
        priced=any(line.price is not None for line in bill.lines) or not bill.lines,
        leaves=_left_undone(planned, {w.job for w in jobs}),
        totals=bill.totals,
    )


def _left_undone(planned: Iterable[WorkItem], ordered: Collection[str]) -> tuple[LeftUndone, ...]:
    left = (w for w in planned if not w.covered_by and w.job not in ordered)
    return tuple(LeftUndone(w.job, w.name, w.urgency, w.if_left) for w in left)


def while_open(till: Till, planned: Sequence[WorkItem]) -> tuple[WhileOpen, ...]:
    """
    Jobs that are cheap because others have the engine open already, in the order they are told in.

    What a job adds is held against what it costs when the engine is opened for it alone. It is added to all
    work more urgent than itself; a job to watch is added to everything else.

    Args:
        till: Puts a price on each.
        planned: All work, with what is needless marked so.
    """
    told = []
    for n, urgency in enumerate(URGENCIES[1:], 1):
        before = [w for w in planned if URGENCIES.index(w.urgency) < n]
        paid = till.cost(before)
        for item in (w for w in planned if w.urgency == urgency and not w.covered_by):
            told.append(_beside(till, before, paid, item))
    return tuple(one for one in told if one.added.low < one.alone.low)


def _beside(till: Till, before: Sequence[WorkItem], paid: Bill, item: WorkItem) -> WhileOpen:
    done = replace(item, urgency=CLASSES[min(URGENCIES.index(item.urgency), len(CLASSES) - 1)].urgency)
    together, alone = till.cost([*before, done]), till.cost([done], ())
    return WhileOpen(
        job=item.job,
        name=item.name,
        urgency=item.urgency,
        added=together.gross - paid.gross,
        alone=alone.gross,
        on_request=together.on_request - paid.on_request,
        before=paid.gross,
        together=together.gross,
        totals=alone.totals,
    )
