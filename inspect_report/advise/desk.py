"""Turns jobs, access steps and the parts they use into priced lines, in exact decimal money."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal

from inspect_report.advise.advice import WorkItem
from inspect_report.advise.counting import count_of, opening_hours, strip_down_hours
from inspect_report.advise.priced import NOTHING, EstimateLine, Span
from inspect_report.advise.uses import Fit, Use
from inspect_report.knowledge.case import Books
from inspect_report.knowledge.workbook import SHIM_TO_BUY, AccessStep, MayNeed, PartUse
from inspect_report.records.position import ENGINE, Position
from inspect_report.telling.manner import say


def rounded(amount: Decimal, currency: str) -> Decimal:
    """An amount in whole smallest coins of a currency (cents of a euro, whole yen), halves away from zero."""
    from babel.numbers import get_currency_precision  # here, because reading its tables takes time

    return amount.quantize(Decimal(1).scaleb(-get_currency_precision(currency)), rounding=ROUND_HALF_UP)


@dataclass(frozen=True, slots=True)
class _Thing:
    """What a line is for."""

    kind: str
    id: str
    name: str
    jobs: tuple[str, ...]
    depends_on: tuple[str, ...] = ()

    @property
    def told(self) -> tuple[str, str, str]:
        return self.kind, self.id, self.name


@dataclass(frozen=True, slots=True)
class Desk:
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
        self, items: Sequence[WorkItem], steps: Sequence[AccessStep], fits: Sequence[Fit]
    ) -> tuple[EstimateLine, ...]:
        """The lines of one class: work, strip-down done, access, then parts and machine-shop work."""
        done = (self._strip_down(s) for s in steps if s.id in self.open)
        return (*map(self._work, items), *done, *map(self._access, steps), *self._parts(fits))

    def _line(self, thing: _Thing, hours_or_pieces: Span, each: Span | None) -> EstimateLine:
        """A line; its upper ends are told only where they differ from the lower."""
        low, high = hours_or_pieces.low, hours_or_pieces.high
        if each is None:
            line = EstimateLine(*thing.told, low, None, None, thing.jobs, depends_on=thing.depends_on)
            return line if low == high else replace(line, quantity_high=high)
        price, most = self._rounded(low * each.low), self._rounded(high * each.high)
        line = EstimateLine(*thing.told, low, each.low, price, thing.jobs, depends_on=thing.depends_on)
        if (low, each.low) == (high, each.high):
            return line
        return replace(line, quantity_high=high, unit_high=each.high, price_high=most)

    def _rounded(self, amount: Decimal) -> Decimal:
        return rounded(amount, self.books.workshop.currency)

    def _work(self, item: WorkItem) -> EstimateLine:
        job = self.books.workbook.job(item.job)
        more = [(need, _awaited(need, item)) for need in (job.may_need if job else ())]
        waiting = tuple(dict.fromkeys(c for need, awaited in more if need.hours for c in awaited))
        count = 0 if job is None else count_of(job.per, item.positions, self.books)
        extra = sum((need.hours for need, awaited in more if awaited), Decimal(0))
        extra *= len(item.positions) if count is None else count
        thing = _Thing("work", item.job, item.name, (item.job,), waiting)
        return self._line(
            thing, Span(item.hours, item.hours + extra), self._labour if job is None or job.priced else None
        )

    @property
    def _labour(self) -> Span:
        return Span(self.books.workshop.labour_rate, self.books.workshop.labour_rate)

    def _strip_down(self, step: AccessStep) -> EstimateLine:
        """What was done before anything is ordered, and is owed whatever is."""
        hours = strip_down_hours(step, self.books)
        name = say("{name}: strip-down done for this inspection, owed in any case", name=step.name)
        thing = _Thing("strip-down", step.id, name, ())
        return self._line(thing, Span(hours, hours), self._labour)

    def _access(self, step: AccessStep) -> EstimateLine:
        hours, name = opening_hours(step, self.books), say("{name}: opening and closing", name=step.name)
        if step.id in self.open:
            hours -= strip_down_hours(step, self.books)
            name = say("{name}: closing", name=step.name)
        thing = _Thing("access", step.id, name, self._jobs_behind(step))
        return self._line(thing, Span(hours, hours), self._labour)

    def _jobs_behind(self, step: AccessStep) -> tuple[str, ...]:
        return tuple(item.job for item in self.priced if step.id in item.access)

    def _step_uses(self, step: AccessStep) -> Iterator[Use]:
        for use in step.parts:
            yield Use(use, self._quantity(use, (ENGINE,)), self._jobs_behind(step), (ENGINE,))

    def _job_uses(self, item: WorkItem) -> Iterator[Use]:
        """What a job uses, then what it may need besides as long as nobody knows."""
        job = self.books.workbook.job(item.job)
        for use in job.parts if job else ():
            yield Use(use, self._quantity(use, item.positions), (item.job,), item.positions)
        for need in job.may_need if job else ():
            awaited = _awaited(need, item)
            for use in need.parts if awaited else ():
                quantity = self._quantity(use, item.positions)
                yield Use(use, quantity, (item.job,), item.positions, awaited)

    def _quantity(self, use: PartUse, places: tuple[Position, ...]) -> Decimal | None:
        if use.per == SHIM_TO_BUY:
            return use.quantity * sum(p not in self.shims_there for p in places)
        count = count_of(use.per, places, self.books)
        return None if count is None else use.quantity * count

    def _parts(self, fits: Sequence[Fit]) -> Iterator[EstimateLine]:
        """One line for each part, those of unknown count apart from the rest."""
        merged: dict[tuple[str, bool, bool], list[Fit]] = {}
        for fit in fits:
            if fit.pieces != NOTHING:
                merged.setdefault((*fit.use.kind, fit.pieces is None), []).append(fit)
        return (self._part(same) for same in merged.values())

    def _part(self, same: Sequence[Fit]) -> EstimateLine:
        use, counts = same[0].use.use, [fit.pieces for fit in same if fit.pieces is not None]
        price = self.books.workshop.price(use.part) if counts else None
        pieces = sum(counts, NOTHING) if counts else Span(use.quantity, use.quantity)
        doubts = () if counts and pieces.low == pieces.high else (c for fit in same for c in fit.depends_on)
        thing = _Thing(
            "machine shop" if use.machine_shop else "part",
            use.part,
            use.name,
            tuple(dict.fromkeys(job for fit in same for job in fit.use.jobs)),
            tuple(dict.fromkeys(doubts)),
        )
        return self._line(thing, pieces, Span(price.low, price.high) if price else None)


def _awaited(need: MayNeed, item: WorkItem) -> tuple[str, ...]:
    """The characteristics behind a further need that nobody has looked at."""
    return tuple(c for c in need.depends_on if c in item.awaits)
