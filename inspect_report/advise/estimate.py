"""
Turns work into an estimate: what must, should and can wait, each cost once, in exact decimal money.

What is charged:

- A job: its hours times the labour rate, and its parts. Jobs to watch, and jobs that another makes needless,
  are told and not priced. A job that no price can be given for yet is on request; its access and the parts
  it names are priced.
- An access step: opening and closing it and its one-use parts, once, in the most urgent class with a job
  that needs it; a later class finds it open.
- A step that stays open when the inspection ends (see ``access.left_open``): the strip-down already done, in
  a line of its own, since it is owed whatever is ordered; its closing and its one-use parts, once, in the
  class "must", whether or not a job needs it, since the engine cannot run before it is closed. At the other
  depths nothing of the inspection itself is charged.
- A valve shim only where it must be bought: one from the workshop's box or moved from another valve of the
  engine is fitted and not charged. Without a shim plan for a valve one is charged.
- A part that some work takes for every label of an axis, and other work at single places: once for each place
  (see ``uses``).
- A part without a price in the workshop file is on request: it counts in no sum and is never zero.
- What a job may need besides, as long as a finding that decides it is not made: nothing at the low end, all
  of it at the high end. What an earlier class may need and a later one needs for certain is paid in the later
  one at the low end and in the earlier one at the high end, so that the sums up to any class run from the
  cheapest outcome to the dearest. A price that the workshop file gives as a range: from its low to its high
  end.

The classes are priced as done together, each on top of those before it: a job that waits and is done at
another time pays for its access then.

Rounding is once per line, halves away from zero, to the smallest coin of the currency; tax is on the sum of a
class, rounded once, at either end of a range. Equal parts of one class share a line, so that a line that
moves from one class to another can move a sum by a coin, not more.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from inspect_report.advise.access import left_open, share_out, steps_for
from inspect_report.advise.advice import Estimate, WorkItem
from inspect_report.advise.desk import Desk, rounded
from inspect_report.advise.priced import NOTHING, EstimateLine, Sum, Total
from inspect_report.advise.uses import fitted_once
from inspect_report.knowledge.case import Books, Case
from inspect_report.knowledge.catalogue import Urgency
from inspect_report.knowledge.workbook import AccessStep
from inspect_report.measure.derived import ShimChoice
from inspect_report.records.workshop import Workshop
from inspect_report.telling.manner import lowered, message, say, word


@dataclass(frozen=True, slots=True)
class CostClass:
    """One of the three totals."""

    id: str
    title: str
    urgency: Urgency


CLASSES: Final = (
    CostClass("must", message("Must be done"), "before running"),
    CostClass("advised", message("Advised now"), "at this opening"),
    CostClass("can wait", message("Can wait"), "next opening"),
)


def urgency_words(urgency: Urgency) -> str:
    """How urgent a job is, within a sentence: by the name of its class; ``watch`` has none."""
    title = next((c.title for c in CLASSES if c.urgency == urgency), "")
    return lowered(say(title)) if title else word(urgency)


def estimate(
    case: Case,
    work: Sequence[WorkItem],
    shims: Iterable[ShimChoice] = (),
    *,
    stays_open: Sequence[AccessStep] | None = None,
) -> Estimate:
    """
    What the work costs, class by class.

    Args:
        case: The inspection with its books.
        work: Jobs to do, most urgent first.
        shims: The shim plan, as far as one could be made.
        stays_open: Steps open before any work; those this inspection leaves open when left out.
    """
    books, workshop = case.books, case.books.workshop
    stays_open = left_open(case) if stays_open is None else stays_open
    groups = [tuple(w for w in work if w.urgency == c.urgency and not w.covered_by) for c in CLASSES]
    needs = [_needed(group, books) for group in groups]
    shared = share_out([(*stays_open, *needs[0]), *needs[1:]])
    priced = tuple(i for group in groups for i in group)
    there = frozenset(s.position for s in shims if s.is_there)
    desk = Desk(books, frozenset(s.id for s in stays_open), priced, there)
    fits = fitted_once([desk.uses(items, steps) for items, steps in zip(groups, shared, strict=True)])
    return Estimate(
        currency=workshop.currency,
        tax_name=workshop.tax.name if workshop.tax else "",
        tax_rate=tax_rate(workshop),
        labour_rate=workshop.labour_rate,
        totals=tuple(
            total_of(cost_class, desk.lines(items, steps, fitted), workshop)
            for cost_class, items, steps, fitted in zip(CLASSES, groups, shared, fits, strict=True)
        ),
    )


def tax_rate(workshop: Workshop) -> Decimal:
    """The tax as a share of the net sum; 0 without a tax."""
    # The rate was read as a float; rounding it to eight places gives back the figures that were written.
    return Decimal(str(round(workshop.tax.rate, 8))) if workshop.tax else Decimal(0)


def _needed(items: Iterable[WorkItem], books: Books) -> tuple[AccessStep, ...]:
    wanted = [step for item in items for step in item.access]
    return steps_for(wanted, books.workbook, books.sheet.layout)


def total_of(cost_class: CostClass, lines: tuple[EstimateLine, ...], workshop: Workshop) -> Total:
    """The sums of some lines; those at most only where they differ."""
    prices = sum((line.prices for line in lines), NOTHING)
    low, high = _sum(prices.low, workshop), _sum(prices.high, workshop)
    on_request = sum(line.price is None for line in lines)
    sums, most = (low.net, low.tax, low.gross), None if low == high else high
    return Total(cost_class.id, say(cost_class.title), lines, *sums, on_request, most)


def _sum(prices: Decimal, workshop: Workshop) -> Sum:
    net = rounded(prices, workshop.currency)
    tax = rounded(net * tax_rate(workshop), workshop.currency)
    return Sum(net, tax, net + tax)
