"""Turns a value with its uncertainty and a limit into a verdict, by the workshop's decision rule."""

import math
from dataclasses import dataclass, replace
from typing import Final

from inspect_report.judge.finding import Limit, Verdict
from inspect_report.judge.limits import NOISE, nominal_only, reaches, within
from inspect_report.measure.budget import expanded
from inspect_report.mechanics.metrology import probability_inside
from inspect_report.records.quantity import Quantity
from inspect_report.records.workshop import DecisionRule

_NOISE_OF_PROBABILITY: Final = 1e-12
_NOISE_OF_COUNT: Final = 1e-9
_HALVINGS: Final = 60


@dataclass(frozen=True, slots=True)
class Decision:
    """
    What a value is against its limit.

    ``inside``: probability that the true value keeps the limit, None without one. ``deciding``: the largest
    standard uncertainty that would decide the same value, None where it is decided or none would.
    """

    verdict: Verdict
    used: float | None = None
    inside: float | None = None
    side: str = ""
    deciding: float | None = None


def decide(quantity: Quantity, limit: Limit | None, rule: DecisionRule) -> Decision:
    """
    The verdict on a quantity.

    Beyond the limit is said only of a value that itself lies beyond: an uncertainty wider than the whole
    allowed range decides nothing, however small the probability of lying inside.
    """
    if limit is None or limit.disputed or nominal_only(limit):
        return Decision(Verdict.NO_LIMIT)
    value, verdict = quantity.value, verdict_on(quantity, limit, rule)
    if limit.low is None and limit.high is None:
        return Decision(verdict, side=side_of(value, limit))
    deciding = _deciding(quantity, limit, rule) if verdict is Verdict.UNDECIDED else None
    inside = inside_probability(quantity, limit)
    return Decision(verdict, allowance_used(value, limit), inside, side_of(value, limit), deciding)


def verdict_on(quantity: Quantity, limit: Limit, rule: DecisionRule) -> Verdict:
    """The word alone of the verdict on a quantity that has a limit, or the range of a new part."""
    value = quantity.value
    if limit.disputed or nominal_only(limit):
        return Verdict.NO_LIMIT
    if limit.low is None and limit.high is None:
        as_new = within(value, limit.standard_low, limit.standard_high)
        return Verdict.AS_NEW if as_new else Verdict.NO_LIMIT
    decided = _decided(quantity, limit, rule)
    if decided is None:
        return Verdict.UNDECIDED
    return _kept(value, allowance_used(value, limit), limit) if decided else Verdict.BEYOND_LIMIT


def _decided(quantity: Quantity, limit: Limit, rule: DecisionRule) -> bool | None:
    """True: inside; False: beyond; None: the uncertainty leaves it open."""
    value_inside = within(quantity.value, limit.low, limit.high)
    if rule.kind == "simple acceptance":
        return value_inside
    if rule.kind == "guard band":
        return _outside_the_guard(quantity, limit, rule.guard)
    probability, surely = inside_probability(quantity, limit), rule.confidence - _NOISE_OF_PROBABILITY
    if probability >= surely:
        return True
    return False if 1.0 - probability >= surely and not value_inside else None


def _outside_the_guard(quantity: Quantity, limit: Limit, guard: float) -> bool | None:
    """True where a value keeps its limit by the band's width, False where it breaks it by as much."""
    value, width = quantity.value, guard * expanded(quantity)
    if within(value, _moved(limit.low, width), _moved(limit.high, -width)):
        return True
    return None if within(value, _moved(limit.low, -width), _moved(limit.high, width)) and width else False


def _moved(end: float | None, by: float) -> float | None:
    return None if end is None else end + by


def _kept(value: float, used: float | None, limit: Limit) -> Verdict:
    """The word for a value that keeps its limit."""
    if _has_standard(limit) and within(value, limit.standard_low, limit.standard_high):
        return Verdict.AS_NEW
    if used is None:
        return Verdict.SERVICEABLE
    return Verdict.MARGINAL if reaches(used, limit.watch) else Verdict.SERVICEABLE


def _has_standard(limit: Limit) -> bool:
    return limit.standard_low is not None or limit.standard_high is not None


def inside_probability(quantity: Quantity, limit: Limit) -> float:
    """Probability that the true value keeps the limit; without uncertainty 1 or 0."""
    value, u, dof = quantity.value, quantity.u, quantity.dof
    if u == 0.0:
        return float(within(value, limit.low, limit.high))
    return probability_inside(value, u, low=limit.low, high=limit.high, dof=math.inf if dof is None else dof)


def side_of(value: float, limit: Limit) -> str:
    """``above`` or ``below`` the standard range, or the limits where there is no range; else empty."""
    low, high = limit.standard_low, limit.standard_high
    if not _has_standard(limit):
        low, high = limit.low, limit.high
    if high is not None and not reaches(high, value):
        return "above"
    return "below" if low is not None and not reaches(value, low) else ""


def allowance_used(value: float, limit: Limit) -> float | None:
    """
    Share of the wear allowance used: from the edge of the standard range on the wear side to the limit.

    0 inside the standard range; None where nothing is printed that wear could be counted from, or where the
    range of new parts ends at the limit and the value lies outside.
    """
    if not _has_standard(limit):
        return None
    if within(value, limit.standard_low, limit.standard_high):
        return 0.0
    towards_high = _share(value, limit.standard_high, limit.high)
    towards_low = _share(value, limit.standard_low, limit.low)
    return max((share for share in (towards_high, towards_low) if share is not None), default=None)


def _share(value: float, edge: float | None, end: float | None) -> float | None:
    """How far a value has gone from an edge to an end; 0 on the other side of the edge."""
    if edge is None or end is None:
        return None
    way, gone = end - edge, value - edge
    if abs(way) <= NOISE * max(abs(end), abs(edge)):
        return None
    return max(0.0, gone / way)


def _deciding(quantity: Quantity, limit: Limit, rule: DecisionRule) -> float | None:
    """The largest standard uncertainty that would decide this value, by halving; None if none would."""
    value, ends = quantity.value, (limit.low, limit.high)
    if any(e is not None and reaches(value, e) and reaches(e, value) for e in ends):
        return None
    low, high = 0.0, quantity.u
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        enough = _decided(replace(quantity, u=middle), limit, rule) is not None
        low, high = (middle, high) if enough else (low, middle)
    return low


def repeats_to_decide(quantity: Quantity, deciding: float | None, scatter: float, repeats: int) -> int | None:
    """
    How often a reading has to be repeated until its scatter leaves a value decided.

    Args:
        quantity: The undecided quantity.
        deciding: Standard uncertainty that would decide it, in its unit.
        scatter: Part of its standard uncertainty that comes from the scatter of repeats, in its unit.
        repeats: How often it was read for that.

    Returns:
        The number of repeats; None where no number would do, or nothing is known of the scatter. That more
        repeats also tell the scatter better is left out: the number is a safe one.
    """
    if deciding is None or scatter <= 0.0 or repeats < 2:
        return None
    room = deciding**2 - max(0.0, quantity.u**2 - scatter**2)
    return math.ceil(repeats * scatter**2 / room - _NOISE_OF_COUNT) if room > 0.0 else None
