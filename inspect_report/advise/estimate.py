"""
Turns work into an estimate: what must, should and can wait, each cost once, in exact decimal money.

What is charged:

- A job: its hours times the labour rate, and its parts. Jobs to watch, and jobs that another makes needless,
  are told and not priced. A job that no price can be given for yet is on request; its access and the parts
  it names are priced.
- An access step: opening and closing it and its one-use parts, once, in the most urgent class with a job
  that needs it; a later class finds it open.
- A step that stays open when the inspection ends (see ``access.left_open``): the strip-down already done, its
  closing and its one-use parts, once, in the class "must", whether or not a job needs it, since the engine
  cannot run before it is closed. At the other depths nothing of the inspection itself is charged.
- A valve shim only where it must be bought: one from the workshop's box or moved from another valve of the
  engine is fitted and not charged. Without a shim plan for a valve one is charged.
- A part that some work takes for every label of an axis, and other work at single places: once for each place
  (see ``uses``).
- A part without a price in the workshop file is on request: it counts in no sum and is never zero.

The classes are priced as done together, each on top of those before it: a job that waits and is done at
another time pays for its access then.

Rounding is once per line, halves away from zero, to the smallest coin of the currency; tax is on the sum of a
class, rounded once. Equal parts of one class share a line, so that a line that moves from one class to
another can move a sum by a coin, not more.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Final

from inspect_report.advise.access import left_open, share_out, steps_for
from inspect_report.advise.advice import Estimate, EstimateLine, Total, WorkItem
from inspect_report.advise.counting import count_of
from inspect_report.advise.uses import Use, fitted_once
from inspect_report.knowledge.case import Books, Case
from inspect_report.knowledge.catalogue import Urgency
from inspect_report.knowledge.workbook import SHIM_TO_BUY, AccessStep, PartUse
from inspect_report.measure.derived import ShimChoice
from inspect_report.records.position import ENGINE, Position
from inspect_report.records.workshop import Workshop


@dataclass(frozen=True, slots=True)
class CostClass:
    """One of the three totals."""

    id: str
    title: str
    urgency: Urgency


CLASSES: Final = (
    CostClass("must", "Must before running", "before running"),
    CostClass("advised", "Advised at this opening", "at this opening"),
    CostClass("can wait", "Can wait until the next opening", "next opening"),
)


def estimate(case: Case, work: Sequence[WorkItem], shims: Iterable[ShimChoice] = ()) -> Estimate:
    """
    What the work costs, class by class.

    Args:
        case: The inspection with its books.
        work: Jobs to do, most urgent first.
        shims: The shim plan, as far as one could be made.
    """
    books, stays_open, workshop = case.books, left_open(case), case.books.workshop
    groups = [tuple(w for w in work if w.urgency == c.urgency and not w.covered_by) for c in CLASSES]
    needs = [_needed(group, books) for group in groups]
    shared = share_out([(*stays_open, *needs[0]), *needs[1:]])
    priced = tuple(i for group in groups for i in group)
    there = frozenset(s.position for s in shims if _is_there(s))
    desk = _Desk(books, frozenset(s.id for s in stays_open), priced, there)
    uses = fitted_once([desk.uses(items, steps) for items, steps in zip(groups, shared, strict=True)])
    return Estimate(
        currency=workshop.currency,
        tax_name=workshop.tax.name if workshop.tax else "",
        tax_rate=tax_rate(workshop),
        labour_rate=workshop.labour_rate,
        totals=tuple(
            _total(cost_class, desk.lines(items, steps, used), workshop)
            for cost_class, items, steps, used in zip(CLASSES, groups, shared, uses, strict=True)
        ),
    )


def tax_rate(workshop: Workshop) -> Decimal:
    """The tax as a share of the net sum; 0 without a tax."""
    # The rate was read as a float; rounding it to eight places gives back the figures that were written.
    return Decimal(str(round(workshop.tax.rate, 8))) if workshop.tax else Decimal(0)


def rounded(amount: Decimal, currency: str) -> Decimal:
    """An amount in whole smallest coins of a currency (cents of a euro, whole yen), halves away from zero."""
    from babel.numbers import get_currency_precision  # here, because reading its tables takes time

    return amount.quantize(Decimal(1).scaleb(-get_currency_precision(currency)), rounding=ROUND_HALF_UP)


def _is_there(shim: ShimChoice) -> bool:
    return not shim.change or shim.source in ("box", "moved")


def _needed(items: Iterable[WorkItem], books: Books) -> tuple[AccessStep, ...]:
    wanted = [step for item in items for step in item.access]
    return steps_for(wanted, books.workbook, books.sheet.layout)


def _total(cost_class: CostClass, lines: tuple[EstimateLine, ...], workshop: Workshop) -> Total:
    prices = [line.price for line in lines if line.price is not None]
    net = rounded(sum(prices, Decimal(0)), workshop.currency)
    tax = rounded(net * tax_rate(workshop), workshop.currency)
    return Total(cost_class.id, cost_class.title, lines, net, tax, net + tax, len(lines) - len(prices))


@dataclass(frozen=True, slots=True)
class _Desk:
    """Where prices are put on things: by the books, the steps left open, and all jobs that are priced."""

    books: Books
    open: frozenset[str]
    priced: tuple[WorkItem, ...]
    shims_there: frozenset[Position] = frozenset()
    """Valves whose shim stays or is at hand."""

    def uses(self, items: Sequence[WorkItem], steps: Sequence[AccessStep]) -> tuple[Use, ...]:
        """Parts and machine-shop work of one class: of its steps, then of its jobs."""
        of_steps = (u for s in steps for u in self._step_uses(s))
        return (*of_steps, *(u for i in items for u in self._job_uses(i)))

    def lines(
        self, items: Sequence[WorkItem], steps: Sequence[AccessStep], uses: Sequence[Use]
    ) -> tuple[EstimateLine, ...]:
        """The lines of one class: work, then access, then parts and machine-shop work."""
        return (*map(self._work, items), *map(self._access, steps), *self._parts(uses))

    def _line(
        self,
        kind: str,
        thing: tuple[str, str],
        quantity: Decimal,
        unit: Decimal | None,
        jobs: tuple[str, ...],
    ) -> EstimateLine:
        price = None if unit is None else rounded(quantity * unit, self.books.workshop.currency)
        return EstimateLine(kind, *thing, quantity, unit, price, jobs)

    def _work(self, item: WorkItem) -> EstimateLine:
        job = self.books.workbook.job(item.job)
        rate = self.books.workshop.labour_rate if job is None or job.priced else None
        return self._line("work", (item.job, item.name), item.hours, rate, (item.job,))

    def _access(self, step: AccessStep) -> EstimateLine:
        shop = self.books.workshop
        hours = shop.hours.get(step.id, step.opening + step.closing)
        name = (
            f"{step.name}: strip-down done for this inspection, and closing"
            if step.id in self.open
            else f"{step.name}: opening and closing"
        )
        return self._line("access", (step.id, name), hours, shop.labour_rate, self._jobs_behind(step))

    def _jobs_behind(self, step: AccessStep) -> tuple[str, ...]:
        return tuple(item.job for item in self.priced if step.id in item.access)

    def _step_uses(self, step: AccessStep) -> Iterator[Use]:
        for use in step.parts:
            yield Use(use, self._quantity(use, (ENGINE,)), self._jobs_behind(step))

    def _job_uses(self, item: WorkItem) -> Iterator[Use]:
        job = self.books.workbook.job(item.job)
        for use in job.parts if job else ():
            yield Use(use, self._quantity(use, item.positions), (item.job,))

    def _quantity(self, use: PartUse, places: tuple[Position, ...]) -> Decimal | None:
        if use.per == SHIM_TO_BUY:
            return use.quantity * sum(p not in self.shims_there for p in places)
        count = count_of(use.per, places, self.books)
        return None if count is None else use.quantity * count

    def _parts(self, uses: Sequence[Use]) -> Iterator[EstimateLine]:
        """One line for each part, those of unknown count apart from the rest."""
        merged: dict[tuple[str, bool, bool], list[Use]] = {}
        for u in uses:
            if u.quantity != 0:
                merged.setdefault((u.use.part, u.use.machine_shop, u.quantity is None), []).append(u)
        for same in merged.values():
            use, counts = same[0].use, [u.quantity for u in same if u.quantity is not None]
            kind = "machine shop" if use.machine_shop else "part"
            unit = self.books.workshop.prices.get(use.part) if counts else None
            quantity = sum(counts, Decimal(0)) if counts else use.quantity
            jobs = tuple(dict.fromkeys(job for u in same for job in u.jobs))
            yield self._line(kind, (use.part, use.name), quantity, unit, jobs)
