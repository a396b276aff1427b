"""Turns a decision into the sentence a customer reads: what was measured, what is allowed, what follows."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from inspect_report.judge.decision import Decision
from inspect_report.judge.finding import Limit, Verdict
from inspect_report.judge.limits import Shown, nominal_only, number, within
from inspect_report.measure import budget
from inspect_report.measure.budget import coverage
from inspect_report.mechanics.metrology import expanded
from inspect_report.records.quantity import Quantity, difference_from_si
from inspect_report.records.workshop import DecisionRule

_PLAIN: Final = ("", "1", "pcs", "pc")
# A gauge that resolves r and errs by r at most: u² = r²/12 + r²/3.
_MOST_REPEATS: Final = 30
"""Repeats above which asking for them is no advice."""
_PRACTICAL: Final = 0.1
"""Share of the present uncertainty below which asking for a better gauge is no advice."""
_STEP_PER_U: Final = 1.0 / math.sqrt(1.0 / 12.0 + 1.0 / 3.0)


def amount(value: float, shown: Shown) -> str:
    """An SI value with its unit, ``0.46 mm``."""
    return with_unit(plain(value, shown), shown.unit)


def plain(value: float, shown: Shown) -> str:
    """An SI value as figures, with a true minus and no negative zero."""
    return _figures(number(value, shown.unit), shown.decimals)


def with_unit(figures: str, unit: str) -> str:
    """Figures before their unit; counts and plain ratios have none."""
    if unit in _PLAIN:
        return figures
    return f"{figures}°" if unit == "°" else f"{figures} {unit}"


def _figures(value: float, decimals: int) -> str:
    written = f"{value:.{decimals}f}"
    if float(written) == 0.0:
        return written.lstrip("-")
    return written.replace("-", "−")


def span(low: float | None, high: float | None, shown: Shown) -> str:
    """A range in words: ``0.10 to 0.20 mm``, ``at most 0.40 mm``, ``at least 12.0 mm``."""
    if low is None or high is None:
        end = high if low is None else low
        return "" if end is None else f"{'at most' if low is None else 'at least'} {amount(end, shown)}"
    if low == high:
        return amount(low, shown)
    return f"{plain(low, shown)} to {amount(high, shown)}"


def doubt(u: float, shown: Shown, k: float = 2.0) -> str:
    """
    The expanded uncertainty (k times the standard one), rounded up: ``±0.021 mm``.

    Two figures at most, and one place more than the value is written with, unless one figure takes more.
    """
    value = _difference(expanded(u, coverage=k), shown.unit)
    return f"±{_rounded_up(value, _places_of_doubt(u, shown, k), shown.unit)}"


def _places_of_doubt(u: float, shown: Shown, k: float) -> int:
    first = -math.floor(math.log10(_difference(expanded(u, coverage=k), shown.unit)))
    return max(0, first, min(first + 1, shown.decimals + 1))


def as_fine_as_its_doubt(u: float, shown: Shown, k: float = 2.0) -> Shown:
    """The writing of a value whose verdict turns on its uncertainty: to the last place of that."""
    return replace(shown, decimals=max(shown.decimals, _places_of_doubt(u, shown, k))) if u else shown


def _difference(value: float, unit: str) -> float:
    return difference_from_si(value, unit) if unit else value


def _rounded_up(value: float, decimals: int, unit: str) -> str:
    step = 10.0**-decimals
    return with_unit(_figures(math.ceil(value / step - 1e-9) * step, decimals), unit)


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
    value, limit = amount(told.quantity.value, _value_shown(told)), told.limit
    if limit is None:
        return f"{value}: no limit is published for it"
    if limit.disputed or (limit.low is None and limit.high is None):
        return value + _without_limit(limit, told)
    allowed = span(limit.low, limit.high, told.shown)
    return f"{value}, limit {allowed}{_whose(limit)}: {_WORDS[told.decision.verdict](limit, told)}"


def _value_shown(told: Told) -> Shown:
    if told.decision.verdict is not Verdict.UNDECIDED:
        return told.shown
    return as_fine_as_its_doubt(told.quantity.u, told.shown, coverage(told.quantity))


def _whose(limit: Limit) -> str:
    return " (common practice, not the maker's)" if limit.origin == "common practice" else ""


def _without_limit(limit: Limit, told: Told) -> str:
    new = span(limit.standard_low, limit.standard_high, told.shown)
    if limit.disputed:
        return f": printed limit disputed: {limit.disputed}; not judged"
    if not new:
        return ": no limit is published for it"
    if nominal_only(limit):
        return f", nominal size {new}: no limit is published for it, so it cannot be judged"
    if told.decision.verdict is Verdict.AS_NEW:
        return f", when new {new}: as new; no service limit is published"
    return f", when new {new}: {told.decision.side} that range, and no service limit says how far it may go"


def _as_new(limit: Limit, told: Told) -> str:
    if (limit.low, limit.high) == (limit.standard_low, limit.standard_high):
        return "as when new"
    return f"as new (when new {span(limit.standard_low, limit.standard_high, told.shown)})"


def _serviceable(limit: Limit, told: Told) -> str:
    new = span(limit.standard_low, limit.standard_high, told.shown)
    if told.decision.used:
        return f"inside, {percent(told.decision.used)} of the wear allowance used"
    if not new:
        return "inside; what it measures when new is not published, so the share of wear is not known"
    return f"inside; {told.decision.side} its range when new ({new}), which is not the way it wears"


def _marginal(limit: Limit, told: Told) -> str:
    used = percent(told.decision.used or 0.0)
    return f"inside, but {used} of the wear allowance is used (to be watched from {percent(limit.watch)})"


def _beyond(limit: Limit, told: Told) -> str:
    where = _which_side(limit, told.quantity.value)
    if told.rule.kind == "simple acceptance" or told.quantity.u == 0.0:
        return where
    if told.rule.kind == "guard band":
        return f"{where} by more than {_guard(told.rule)}"
    return f"{where} with at least {told.rule.confidence * 100:g} % confidence"


def _guard(rule: DecisionRule) -> str:
    times = "" if rule.guard == 1.0 else f"{rule.guard:g} times "
    return f"the guard band of {times}the measuring uncertainty"


def _which_side(limit: Limit, value: float) -> str:
    """Where a value beyond lies; of two limits, which of them it breaks."""
    if limit.low is None or limit.high is None:
        return "beyond the limit"
    return "below the lower limit" if value < limit.low else "above the upper limit"


def _undecided(limit: Limit, told: Told) -> str:
    value = told.quantity.value
    uncertainty = doubt(told.quantity.u, told.shown, coverage(told.quantity))
    where, over = (
        ("inside", "over the limit") if within(value, limit.low, limit.high) else ("beyond", "back inside")
    )
    if told.decision.deciding is None:
        return f"right at the limit; with a measuring uncertainty of {uncertainty} it may lie on either side"
    if told.rule.kind != "guard band" and _reaches_over(limit, told):
        return f"{where}, but the measuring uncertainty of {uncertainty} reaches {over}; {_remedy(told)}"
    if told.rule.kind == "guard band":
        return f"{where}, but by less than {_guard(told.rule)}, {uncertainty}; {_remedy(told)}"
    unsure = (
        f"not with {told.rule.confidence * 100:g} % confidence at a measuring uncertainty of {uncertainty}"
    )
    return f"{where}, but {unsure}; {_remedy(told)}"


def _reaches_over(limit: Limit, told: Told) -> bool:
    ends = (end for end in (limit.low, limit.high) if end is not None)
    return min(abs(told.quantity.value - end) for end in ends) <= budget.expanded(told.quantity)


def _remedy(told: Told) -> str:
    """What would decide it: the gauge needed for a direct reading, else the uncertainty; or more repeats."""
    return f"{_finer(told)}{_oftener(told)}"


def _oftener(told: Told) -> str:
    if told.repeats is None or told.repeats > _MOST_REPEATS:
        return ""
    return f", and so would {told.repeats} repeats of the reading"


def _finer(told: Told) -> str:
    u = told.decision.deciding or 0.0
    if u < told.quantity.u * _PRACTICAL:
        return "it lies so close to the limit that no ordinary gauge would decide it"
    if told.direct:
        step = with_unit(_stepped_down(_difference(u * _STEP_PER_U, told.shown.unit)), told.shown.unit)
        return f"a gauge that resolves {step} and errs by no more than that would decide it"
    reach = expanded(u, coverage=coverage(told.quantity))
    needed = with_unit(_stepped_down(_difference(reach, told.shown.unit)), told.shown.unit)
    return f"measured to within ±{needed} it would be decided"


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
