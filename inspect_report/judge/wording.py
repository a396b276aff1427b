"""Turns a decision into the sentence a customer reads: what was measured, what is allowed, what follows."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from inspect_report.judge.decision import Decision
from inspect_report.judge.finding import Limit, Verdict
from inspect_report.judge.limits import Shown, among, nominal_only, number, within
from inspect_report.measure import budget
from inspect_report.measure.budget import coverage
from inspect_report.measure.rounding import places_of_doubt, uncertainty_decimals
from inspect_report.mechanics.metrology import expanded
from inspect_report.records.quantity import WITHOUT_SIGN, Quantity, difference_from_si
from inspect_report.records.workshop import DecisionRule
from inspect_report.telling.manner import figure, message, say
from inspect_report.telling.units import Way, finer, sign, together, ways, within_brackets

# A gauge that resolves r and errs by r at most: u² = r²/12 + r²/3.
_MOST_REPEATS: Final = 30
"""Repeats above which asking for them is no advice."""
_PRACTICAL: Final = 0.1
"""Share of the present uncertainty below which asking for a better gauge is no advice."""
_STEP_PER_U: Final = 1.0 / math.sqrt(1.0 / 12.0 + 1.0 / 3.0)


def amount(value: float, shown: Shown) -> str:
    """An SI value with its unit, ``0.46 mm``."""
    return together(with_unit(_plain(value, way), way.unit) for way in shown.ways(value))


def _plain(value: float, way: Way) -> str:
    """An SI value as figures, with a true minus and no negative zero."""
    return _figures(number(value, way.unit), way.decimals)


def change(value: float, shown: Shown) -> str:
    """How far an SI value moved, without its sign."""
    return together(
        _moved(_figures(abs(_difference(value, way.unit)), way.decimals), way.unit)
        for way in shown.ways(value)
    )


def with_unit(figures: str, unit: str) -> str:
    """Figures before their unit; counts and plain ratios have none."""
    if unit in WITHOUT_SIGN:
        return figures
    told = sign(unit)
    return f"{figures}°" if told == "°" else f"{figures} {told}"


def _moved(figures: str, unit: str) -> str:
    """Figures of a change: one of per cent is in points, or it would read as a share of what was there."""
    return say("{figures} percentage points", figures=figures) if unit == "%" else with_unit(figures, unit)


def _figures(value: float, decimals: int) -> str:
    written = f"{value:.{decimals}f}"
    if float(written) == 0.0:
        return written.lstrip("-")
    return figure(written.replace("-", "−"))


def span(low: float | None, high: float | None, shown: Shown) -> str:
    """A range in words: ``0.10 to 0.20 mm``, ``at most 0.40 mm``, ``at least 12.0 mm``."""
    if low is None or high is None:
        end = high if low is None else low
        if end is None:
            return ""
        return say(
            message("at most {limit}") if low is None else message("at least {limit}"),
            limit=amount(end, shown),
        )
    if low == high:
        return amount(low, shown)
    return together(
        with_unit(say("{low} to {high}", low=_plain(low, way), high=_plain(high, way)), way.unit)
        for way in shown.ways(low, high)
    )


def doubt(u: float, shown: Shown, k: float = 2.0) -> str:
    """
    The expanded uncertainty (k times the standard one), rounded up: ``±0.021 mm``.

    In step with the value, as on every row of a page; finer where it would vanish.
    """
    wide = expanded(u, coverage=k)

    def told(way: Way) -> str:
        own = _difference(wide, way.unit)
        places = uncertainty_decimals(own, max(way.decimals, -math.floor(math.log10(own))))
        return f"±{_rounded_up(own, places, way.unit)}"

    return together(map(told, shown.ways(wide)))


def _difference(value: float, unit: str) -> float:
    return difference_from_si(value, unit) if unit else value


def _rounded_up(value: float, decimals: int, unit: str) -> str:
    step = 10.0**-decimals
    return with_unit(_figures(math.ceil(value / step - 1e-9) * step, decimals), unit)


def settled(shown: Shown, quantity: Quantity, limit: Limit | None, verdict: Verdict) -> Shown:
    """The writing of a value beside its limit, in the report's units: both fine enough to be told apart."""
    told = ways(shown.unit, shown.decimals, among(limit, quantity))
    if verdict is Verdict.UNDECIDED and quantity.u:
        wide = budget.expanded(quantity)
        told = tuple(_fine(w, wide) if w.converted else w for w in told)
    return replace(shown, told=told)


def _fine(way: Way, wide: float) -> Way:
    return finer(way, places_of_doubt(_difference(wide, way.unit), way.decimals))


@dataclass(frozen=True, slots=True)
class Told:
    """All that the reason for a verdict is told from; ``direct``: one gauge showed the value as it is."""

    quantity: Quantity
    limit: Limit | None
    decision: Decision
    rule: DecisionRule
    shown: Shown
    direct: bool = True
    repeats: int | None = None
    """How many repeats would decide it, where that is known."""


def reason(told: Told) -> str:
    """Why a finding has its verdict, in a sentence."""
    value, limit = amount(told.quantity.value, told.shown), told.limit
    if limit is None:
        return say("{value}: no limit is published for it", value=value)
    if limit.disputed or (limit.low is None and limit.high is None):
        return value + _without_limit(limit, told)
    allowed = span(limit.low, limit.high, told.shown)
    return say(
        "{value}, limit {allowed}{whose}: {verdict}",
        value=value,
        allowed=allowed,
        whose=_whose(limit),
        verdict=_WORDS[told.decision.verdict](limit, told),
    )


def _whose(limit: Limit) -> str:
    return say(" (common practice, not the maker's)") if limit.origin == "common practice" else ""


def _without_limit(limit: Limit, told: Told) -> str:
    new = span(limit.standard_low, limit.standard_high, told.shown)
    if limit.disputed:
        return say(": printed limit disputed: {disputed}; not judged", disputed=limit.disputed)
    if not new:
        return say(": no limit is published for it")
    if nominal_only(limit):
        return say(", nominal size {new}: no limit is published for it, so it cannot be judged", new=new)
    if told.decision.verdict is Verdict.AS_NEW:
        return say(", when new {new}: as new; no service limit is published", new=new)
    pattern = (
        message(", when new {new}: above that range, and no service limit says how far it may go")
        if told.decision.side == "above"
        else message(", when new {new}: below that range, and no service limit says how far it may go")
    )
    return say(pattern, new=new)


def _as_new(limit: Limit, told: Told) -> str:
    if (limit.low, limit.high) == (limit.standard_low, limit.standard_high):
        return say("as when new")
    new = span(limit.standard_low, limit.standard_high, told.shown)
    return say("as new (when new {new})", new=within_brackets(new))


def _serviceable(limit: Limit, told: Told) -> str:
    new = span(limit.standard_low, limit.standard_high, told.shown)
    if told.decision.used:
        return say("inside, {used} of the wear allowance used", used=percent(told.decision.used))
    if not new:
        return say("inside; what it measures when new is not published, so the share of wear is not known")
    pattern = (
        message("inside; above its range when new ({new}), which is not the way it wears")
        if told.decision.side == "above"
        else message("inside; below its range when new ({new}), which is not the way it wears")
    )
    return say(pattern, new=within_brackets(new))


def _marginal(limit: Limit, told: Told) -> str:
    used = percent(told.decision.used or 0.0)
    return say(
        "inside, but {used} of the wear allowance is used (to be watched from {watch})",
        used=used,
        watch=percent(limit.watch),
    )


def _beyond(limit: Limit, told: Told) -> str:
    where = _which_side(limit, told.quantity.value)
    if told.rule.kind == "simple acceptance" or told.quantity.u == 0.0:
        return where
    if told.rule.kind == "guard band":
        return say("{where} by more than {guard}", where=where, guard=_guard(told.rule))
    return say(
        "{where} with at least {confidence} % confidence",
        where=where,
        confidence=figure(f"{told.rule.confidence * 100:g}"),
    )


def _guard(rule: DecisionRule) -> str:
    if rule.guard == 1.0:
        return say("the guard band of the measuring uncertainty")
    times = figure(f"{rule.guard:g}")
    return say("the guard band of {times} times the measuring uncertainty", times=times)


def _which_side(limit: Limit, value: float) -> str:
    """Where a value beyond lies; of two limits, which of them it breaks."""
    if limit.low is None or limit.high is None:
        return say("beyond the limit")
    return say("below the lower limit") if value < limit.low else say("above the upper limit")


def _undecided(limit: Limit, told: Told) -> str:
    value = told.quantity.value
    uncertainty = doubt(told.quantity.u, told.shown, coverage(told.quantity))
    is_inside = within(value, limit.low, limit.high)
    if told.decision.deciding is None:
        return say(
            "right at the limit; with a measuring uncertainty of {uncertainty} it may lie on either side",
            uncertainty=uncertainty,
        )
    if told.rule.kind != "guard band" and _reaches_over(limit, told):
        reaching = (
            message("inside, but the measuring uncertainty of {uncertainty} reaches over the limit; {remedy}")
            if is_inside
            else message(
                "beyond, but the measuring uncertainty of {uncertainty} reaches back inside; {remedy}"
            )
        )
        return say(reaching, uncertainty=uncertainty, remedy=_remedy(told))
    if told.rule.kind == "guard band":
        less = (
            message("inside, but by less than {guard}, {uncertainty}; {remedy}")
            if is_inside
            else message("beyond, but by less than {guard}, {uncertainty}; {remedy}")
        )
        return say(
            less,
            guard=_guard(told.rule),
            uncertainty=uncertainty,
            remedy=_remedy(told),
        )
    return _unsure(told, uncertainty, is_inside=is_inside)


def _unsure(told: Told, uncertainty: str, *, is_inside: bool) -> str:
    """That a value lies clear of its limit, and yet not as surely as the rule asks."""
    unsure = (
        message(
            "inside, but not with {confidence} % confidence at a measuring uncertainty of {uncertainty};"
            " {remedy}"
        )
        if is_inside
        else message(
            "beyond, but not with {confidence} % confidence at a measuring uncertainty of {uncertainty};"
            " {remedy}"
        )
    )
    sure = figure(f"{told.rule.confidence * 100:g}")
    return say(unsure, confidence=sure, uncertainty=uncertainty, remedy=_remedy(told))


def _reaches_over(limit: Limit, told: Told) -> bool:
    ends = (end for end in (limit.low, limit.high) if end is not None)
    return min(abs(told.quantity.value - end) for end in ends) <= budget.expanded(told.quantity)


def _remedy(told: Told) -> str:
    """What would decide it: the gauge needed for a direct reading, else the uncertainty; or more repeats."""
    return f"{_finer(told)}{_oftener(told)}"


def _oftener(told: Told) -> str:
    if told.repeats is None or told.repeats > _MOST_REPEATS:
        return ""
    return say(", and so would {repeats} repeats of the reading", repeats=told.repeats)


def _finer(told: Told) -> str:
    u = told.decision.deciding or 0.0
    if u < told.quantity.u * _PRACTICAL:
        return say("it lies so close to the limit that no ordinary gauge would decide it")
    if told.direct:
        step = _steps(u * _STEP_PER_U, told.shown)
        return say("a gauge that resolves {step} and errs by no more than that would decide it", step=step)
    reach = expanded(u, coverage=coverage(told.quantity))
    return say("measured to within ±{needed} it would be decided", needed=_steps(reach, told.shown))


def _steps(value: float, shown: Shown) -> str:
    """The next step at or below an SI value, in each unit it is told in."""
    return together(
        with_unit(_stepped_down(_difference(value, way.unit)), way.unit) for way in shown.ways(value)
    )


def _stepped_down(value: float) -> str:
    """The next step of 1, 2, 5, 10 … at or below a value, as gauges have."""
    decade = math.floor(math.log10(value) + 1e-9)
    leading = value / 10.0**decade
    step = next(step for step in (5, 2, 1) if leading >= step * (1 - 1e-9) or step == 1)
    return _figures(step * 10.0**decade, max(0, -decade))


def percent(share: float) -> str:
    """A share as whole per cent, rounded down so that 74.9 never reads as the 75 it has not reached."""
    return f"{math.floor(share * 100 + 1e-6)} %"


_WORDS: Final[dict[Verdict, Callable[[Limit, Told], str]]] = {
    Verdict.AS_NEW: _as_new,
    Verdict.SERVICEABLE: _serviceable,
    Verdict.MARGINAL: _marginal,
    Verdict.BEYOND_LIMIT: _beyond,
    Verdict.UNDECIDED: _undecided,
}
