"""
Turns what sets of causes have done into what each set costs, every shared cost once.

A set costs what ``estimate`` bills for its jobs done together: a step or a part that two jobs need is paid
once, a place gets a part of one kind once. Only rounding differs: here it is left to whoever tells the sum.
Money is whole millionths of the currency in floats, which add them exactly, in whatever order, up to nine
thousand million of the currency. So the same sets cost the same to the last digit on every machine.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from functools import cached_property
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from inspect_report.advise.advice import WorkItem
from inspect_report.advise.bundles import Bundles, Done, Sets, Unit
from inspect_report.advise.counting import hours_of
from inspect_report.advise.desk import Desk
from inspect_report.advise.priced import EstimateLine
from inspect_report.advise.uses import Use
from inspect_report.knowledge.workbook import SHIM_TO_BUY
from inspect_report.records.position import Position

Amounts = NDArray[np.float64]
End = Literal["low", "high"]
MILLIONTHS: Final = 10**6


@dataclass(frozen=True, slots=True)
class Charge:
    """What one thing, by its row, adds at either end; without a price both are None."""

    row: int
    low: float | None
    high: float | None

    def at(self, end: End) -> float:
        """The amount at one end; nothing where there is no price."""
        return (self.low if end == "low" else self.high) or 0.0


@dataclass(frozen=True, slots=True)
class Kind:
    """
    Parts of one kind: those that add up, those fitted once at each place, and those taken along an axis.

    What is fitted along an axis includes what is fitted at single places of it.
    """

    adding: tuple[Charge, ...]
    at_places: tuple[tuple[Charge, ...], ...]
    along: tuple[Charge, ...]

    def cost(self, things: Sets, end: End) -> Amounts:
        """What the kind costs in each set."""
        none = np.zeros(things.shape[1])
        by_place = sum((_most(place, things, end) for place in self.at_places), none)
        return np.maximum(by_place, _most(self.along, things, end)) + sum(
            (things[c.row] * c.at(end) for c in self.adding), none
        )

    @property
    def charges(self) -> tuple[Charge, ...]:
        """Every charge of the kind."""
        return (*self.adding, *(c for place in self.at_places for c in place), *self.along)

    @property
    def adds_up(self) -> bool:
        """Whether no charge of the kind depends on another."""
        return not self.along and all(len(place) == 1 for place in self.at_places)


def _most(charges: Sequence[Charge], things: Sets, end: End) -> Amounts:
    """The dearest of some charges that comes true in each set."""
    most = np.zeros(things.shape[1])
    for charge in charges:
        np.maximum(most, things[charge.row] * charge.at(end), out=most)
    return most


@dataclass(frozen=True)
class BundlePrices:
    """Puts a price on what sets of causes have done; ``desk`` prices one thing at a time."""

    bundles: Bundles
    desk: Desk

    def cost(self, done: Done, end: End) -> Amounts:
        """What each set costs before tax, at one end of its prices, in millionths of the currency."""
        things = self._things(done)
        flat = np.zeros(len(things))
        for charge in self._flat:
            flat[charge.row] += charge.at(end)
        net = np.zeros(things.shape[1])
        for row in np.flatnonzero(flat):
            net += things[row] * flat[row]
        for kind in self._kinds:
            net += kind.cost(things, end)
        return net

    def on_request(self, done: Done) -> NDArray[np.int64]:
        """How many lines of each set have no price."""
        things = self._things(done)
        count = np.zeros(things.shape[1], np.int64)
        for charge in self._labour:
            count += things[charge.row] if charge.low is None else 0
        for kind in self._all_kinds.values():
            rows = [c.row for c in kind.charges if c.low is None]
            count += things[rows].any(axis=0) if rows else 0
        return count

    def _things(self, done: Done) -> Sets:
        return np.vstack((done.units, done.jobs, done.steps))

    @cached_property
    def _flat(self) -> tuple[Charge, ...]:
        """Charges that add up, whatever else is done."""
        alone = (c for k in self._all_kinds.values() if k.adds_up for c in k.charges)
        return (*self._labour, *alone)

    @cached_property
    def _kinds(self) -> tuple[Kind, ...]:
        return tuple(k for k in self._all_kinds.values() if not k.adds_up)

    @cached_property
    def _labour(self) -> tuple[Charge, ...]:
        """Hours of jobs, by place or once, and of opening and closing steps."""
        return (*self._work(), *self._access())

    def _work(self) -> Iterator[Charge]:
        """A job by place with a price at the rows of its units, any other at its own row."""
        apart = {j for j in self.bundles.jobs if self._per(j) == "place" and self._is_priced(j)}
        for n, unit in enumerate(self.bundles.units):
            if unit.job in apart:
                yield _labour(n, self._line(unit))
        for n, job in enumerate(self.bundles.jobs):
            if job not in apart:
                yield _labour(self._after_units + n, self._line(self._first(job)))

    def _is_priced(self, job: str) -> bool:
        return self._line(self._first(job)).unit_price is not None

    def _per(self, job: str) -> str:
        known = self.bundles.books.workbook.job(job)
        return known.per if known else "job"

    def _access(self) -> Iterator[Charge]:
        for n, step in enumerate(self.bundles.steps):
            for line in self.desk.lines((), (step,), ()):
                yield _labour(self._after_jobs + n, line)

    @cached_property
    def _after_units(self) -> int:
        return len(self.bundles.units)

    @cached_property
    def _after_jobs(self) -> int:
        return self._after_units + len(self.bundles.jobs)

    def _first(self, job: str) -> Unit:
        return next(u for u in self.bundles.units if u.job == job)

    def _line(self, unit: Unit) -> EstimateLine:
        (line,) = self.desk.lines((self._item(unit),), (), ())
        return line

    def _item(self, unit: Unit) -> WorkItem:
        """A job as if it were done at one of its places alone."""
        item, job = self.bundles.items[unit.job], self.bundles.books.workbook.job(unit.job)
        here = (unit.position,)
        hours = hours_of(job, here, self.bundles.books) if job else item.hours
        return replace(item, positions=here, hours=hours, covered_by="")

    @cached_property
    def _all_kinds(self) -> dict[tuple[str, bool], Kind]:
        gathered: dict[tuple[str, bool], list[tuple[int, Use, Position]]] = {}
        for row, use, place in (*self._unit_uses(), *self._step_uses()):
            gathered.setdefault(use.kind, []).append((row, use, place))
        return {name: self._kind(uses) for name, uses in gathered.items()}

    def _unit_uses(self) -> Iterator[tuple[int, Use, Position]]:
        """Parts by place with the row of the unit; others with that of the job, once."""
        jobs, seen = {job: n for n, job in enumerate(self.bundles.jobs)}, set[str]()
        for n, unit in enumerate(self.bundles.units):
            for use in self.desk.uses((self._item(unit),), ()):
                if use.use.per in ("place", SHIM_TO_BUY):
                    yield n, use, unit.position
                elif unit.job not in seen:
                    yield self._after_units + jobs[unit.job], use, unit.position
            seen.add(unit.job)

    def _step_uses(self) -> Iterator[tuple[int, Use, Position]]:
        for n, step in enumerate(self.bundles.steps):
            for use in self.desk.uses((), (step,)):
                yield self._after_jobs + n, use, use.places[0]

    def _kind(self, uses: Iterable[tuple[int, Use, Position]]) -> Kind:
        adding: list[Charge] = []
        along: list[Charge] = []
        places: dict[tuple[Position, int | None], list[Charge]] = {}
        for row, use, place in uses:
            if use.quantity == 0:
                continue
            if use.everywhere:
                along.append(self._charge(row, use))
            elif use.use.per == "place":
                # The engine as a whole is no one place: whatever is used there adds up.
                own = None if place.axes else len(places)
                places.setdefault((place, own), []).append(self._charge(row, use))
            else:
                adding.append(self._charge(row, use))
        return Kind(tuple(adding), tuple(map(tuple, places.values())), tuple(along))

    def _charge(self, row: int, use: Use) -> Charge:
        price = self.bundles.books.workshop.price(use.use.part)
        if price is None or use.quantity is None:
            return Charge(row, None, None)
        certain = Decimal(0) if use.depends_on else use.quantity
        return Charge(row, _millionths(certain * price.low), _millionths(use.quantity * price.high))


def _labour(row: int, line: EstimateLine) -> Charge:
    if line.unit_price is None:
        return Charge(row, None, None)
    most = line.quantities.high * (line.unit_high or line.unit_price)
    return Charge(row, _millionths(line.quantity * line.unit_price), _millionths(most))


def _millionths(amount: Decimal) -> float:
    return float((amount * MILLIONTHS).to_integral_value(ROUND_HALF_UP))
