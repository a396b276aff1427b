"""Turns past and present readings into trends over running time, with a forecast from three points on."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise
from typing import Final

from inspect_report.judge.finding import Limit, PastReading, Trend
from inspect_report.judge.limits import Shown, limit_at, shown
from inspect_report.judge.past import fitted_part, of_part_taken_out, past_readings
from inspect_report.judge.wording import change
from inspect_report.knowledge.case import Case, known_or_row
from inspect_report.knowledge.catalogue import Known
from inspect_report.measure.derived import Derived, Failed
from inspect_report.measure.guard import guarded
from inspect_report.mechanics.trend import (
    Crossing,
    StraightLine,
    crossing,
    prediction,
    straight_line,
    weights_from_uncertainties,
)
from inspect_report.records.quantity import from_si, si
from inspect_report.telling.manner import message, say

__all__ = ["past_readings", "trends"]

FEWEST: Final = 3
"""Points of one part that a forecast takes."""
REACH: Final = 5.0
"""How far ahead a line is believed at all, in stretches of running time covered by its points."""
_STEPS: Final = 24
EVEN = message("the line takes wear to go on evenly; wear that speeds up meets the limit sooner")


@dataclass(frozen=True, slots=True)
class _Place:
    """A characteristic at one place of this engine, its limit and the points that lead up to now."""

    known: Known
    limit: Limit | None
    points: tuple[PastReading, ...]
    """Of earlier parts at this place, then of the part now fitted."""
    taken_out: bool = False
    """Whether that part leaves the engine at this inspection."""

    @property
    def now(self) -> PastReading:
        return self.points[-1]

    @property
    def own(self) -> tuple[PastReading, ...]:
        """Points of the part now fitted."""
        return tuple(p for p in self.points if p.part == self.now.part)

    @property
    def first(self) -> float:
        """Least running time [s] of its points."""
        return min(_time(p) for p in self.own)

    @property
    def last(self) -> float:
        """Greatest running time [s] of its points."""
        return max(_time(p) for p in self.own)


def trends(
    case: Case, quantities: Sequence[Derived], past: Sequence[PastReading], failed: list[Failed]
) -> tuple[Trend, ...]:
    """
    A trend for each place of a followed characteristic that was read before, here or on this part.

    A part is followed by its id from engine to engine; its running time counts, not the engine's. Another
    part at the place starts a new line. A fault of ours in one of them is noted in ``failed``.
    """
    places = tuple(_places(case, quantities, past))
    return tuple(t for place in places for t in _guarded_trend(place, failed))


def _guarded_trend(place: _Place, failed: list[Failed]) -> tuple[Trend, ...]:
    return guarded(place.known.id, lambda: [_trend(place)], failed, place.now.position)


def _places(case: Case, quantities: Sequence[Derived], past: Sequence[PastReading]) -> Iterator[_Place]:
    others = [p for p in past if p.inspection != case.inspection.number]
    for now in past_readings(case, quantities):
        known = known_or_row(case.books, now.characteristic)
        if known is None or not known.trend or now.part_time is None:
            continue
        # A cold engine leaks otherwise than a hot one, and another tester shows another percent.
        before = [p for p in others if p.compares(now.state, now.basis)]
        points = (*_of_earlier_parts(now, before), *_of_this_part(now, before, known, case), now)
        if len(points) > 1:
            gone = of_part_taken_out(case, known.id, now.position)
            yield _Place(known, limit_at(case.books, known.id, now.position), points, gone)


def _of_earlier_parts(now: PastReading, before: Iterable[PastReading]) -> list[PastReading]:
    here = [
        p
        for p in before
        if (p.engine, p.characteristic, p.position) == (now.engine, now.characteristic, now.position)
        and p.part != now.part
        and p.part_time is not None
    ]
    return sorted(here, key=lambda p: p.day)


def _of_this_part(
    now: PastReading, before: Iterable[PastReading], known: Known, case: Case
) -> list[PastReading]:
    """Earlier points of the part now fitted, wherever it was fitted then."""
    part = fitted_part(known, now.position, case.inspection.head.fitted_parts)
    moves = tuple(part.at) if part else ()
    own = [
        p
        for p in before
        if (p.part, p.characteristic) == (now.part, now.characteristic)
        and p.position.without(*moves) == now.position.without(*moves)
        and p.part_time is not None
    ]
    return sorted(own, key=lambda p: (p.part_time, p.day))


def _trend(place: _Place) -> Trend:
    wording = shown(place.known, place.limit)
    points = Trend(
        characteristic=place.known.id,
        name=place.known.name,
        position=place.now.position,
        part=place.now.part,
        unit=wording.unit,
        decimals=wording.decimals,
        times=tuple(_time(p) for p in place.points),
        values=tuple(p.quantity.value for p in place.points),
        us=tuple(p.quantity.u for p in place.points),
        inspections=tuple(p.inspection for p in place.points),
        starts=_starts(place.points),
    )
    if place.taken_out:
        gone = say("no forecast: {part} was taken out at this opening", part=place.now.part)
        return replace(points, note=gone)
    if len(place.own) < FEWEST:
        return replace(points, note=_last_differences(place.own, wording))
    if place.first == place.last:
        return replace(points, note=say("every reading was taken at one running time: no forecast"))
    return _with_line(points, place)


def _time(point: PastReading) -> float:
    return 0.0 if point.part_time is None else point.part_time


def _starts(points: Sequence[PastReading]) -> tuple[int, ...]:
    runs = [len(tuple(run)) for _, run in groupby(points, key=lambda p: p.part)]
    return tuple(sum(runs[:n]) for n in range(1, len(runs)))


def _last_differences(own: Sequence[PastReading], wording: Shown) -> str:
    count = say("no forecast: {count} of {fewest} readings", count=len(own), fewest=FEWEST)
    told = [_difference(a, b, wording) for a, b in pairwise(own)][-2:]
    return "; ".join((count, *(say("change {change}", change=one) for one in told)))


def _difference(before: PastReading, after: PastReading, wording: Shown) -> str:
    moved = after.quantity.value - before.quantity.value
    return say(
        "{sign}{change} in {hours}",
        sign="−" if moved < 0 else "+",
        change=change(moved, wording),
        hours=_hours(_time(after) - _time(before)),
    )


def _hours(seconds: float) -> str:
    return f"{from_si(seconds, 'h'):.0f} h"


def _with_line(points: Trend, place: _Place) -> Trend:
    line, weight = _line(place.own)
    limit = _limit_ahead(place.limit, line)
    met = _met(place, line, weight, limit)
    times = _steps(place.first, max((place.last, *(t for t in (met.x, met.high) if t is not None))))
    band = [prediction(line, t, weight=weight) for t in times]
    return replace(
        points,
        intercept=line.intercept,
        slope=line.slope,
        band_times=times,
        band_low=tuple(b.low for b in band),
        band_high=tuple(b.high for b in band),
        limit=limit,
        meets_limit=met.x,
        meets_early=met.low,
        meets_late=met.high,
        note=_told(place, limit, met),
    )


def _line(own: Sequence[PastReading]) -> tuple[StraightLine, float]:
    """The line through the points of one part, and the weight of the latest of them."""
    times, values = [_time(p) for p in own], [p.quantity.value for p in own]
    us = [p.quantity.u for p in own]
    if min(us) <= 0.0:
        return straight_line(times, values), 1.0
    weights = weights_from_uncertainties(us)
    return straight_line(times, values, weights=weights, least_deviation=min(us)), float(weights[-1])


def _limit_ahead(limit: Limit | None, line: StraightLine) -> float | None:
    """The limit the line runs towards."""
    if limit is None or limit.disputed or line.slope == 0.0:
        return None
    return limit.high if line.slope > 0.0 else limit.low


def _met(place: _Place, line: StraightLine, weight: float, limit: float | None) -> Crossing:
    """Where the line meets the limit, as far ahead as it is believed."""
    if limit is None:
        return Crossing(None, None, None)
    met = crossing(line, limit, weight=weight)
    reach = place.last + REACH * (place.last - place.first)
    low = place.last if _perhaps_now(place, line, weight, limit) else met.low
    return Crossing(*(None if t is None or t > reach else t for t in (met.x, low, met.high)))


def _perhaps_now(place: _Place, line: StraightLine, weight: float, limit: float) -> bool:
    """Whether a reading taken now could already be at the limit."""
    now = prediction(line, place.last, weight=weight)
    return now.low <= limit <= now.high


def _steps(first: float, last: float) -> tuple[float, ...]:
    return tuple(first + (last - first) * n / _STEPS for n in range(_STEPS + 1))


def _told(place: _Place, limit: float | None, met: Crossing) -> str:
    if place.limit is None or (place.limit.low is None and place.limit.high is None) or place.limit.disputed:
        return say("no limit is known that it could meet")
    if limit is None:
        return say("it does not move towards its limit")
    if met.x is not None and met.x <= place.last:
        return say("the line is at its limit already")
    return f"{_ahead(place, met)}; {say(EVEN)}"


def _ahead(place: _Place, met: Crossing) -> str:
    """When the limit is met, counted in running from now, with the stretch in which a reading may meet it."""
    x, low, high = (None if t is None else max(0.0, t - place.last) for t in (met.x, met.low, met.high))
    if not low and high is None and (low is not None or x is not None):
        return _untold(x)
    bounds = _bounds(low, high)
    if x is None:
        far = _hours(REACH * (place.last - place.first))
        return say("limit expected beyond {time}{bounds}", time=far, bounds=bounds)
    return say("limit expected in about {time}{bounds}", time=_some_hours(x), bounds=bounds)


def _untold(x: float | None) -> str:
    """What is said where the limit may be met at any time from now on."""
    if x is None:
        return say("cannot be told yet from these readings")
    return say("cannot be told yet; by the line alone in about {time}", time=_some_hours(x))


def _bounds(low: float | None, high: float | None) -> str:
    """Between which running times from now [s] the limit is met, as far as bounds are known."""
    if high is None:
        return "" if low is None else say(" (95 %: not before {early})", early=_hours(low))
    late = _some_hours(high)
    if low is None or from_si(low, "h") < 0.5:
        return say(" (95 %: within {late})", late=late)
    return say(" (95 %: {early} to {late})", early=f"{from_si(low, 'h'):.0f}", late=late)


def _some_hours(seconds: float) -> str:
    """Running time in whole hours, one at least."""
    return _hours(max(seconds, si(1.0, "h")))
