"""Turns a verdict into the decimals by which a reader who has the page alone comes to the same verdict."""

import math
from dataclasses import replace
from typing import Final

from inspect_report.judge.decision import verdict_on
from inspect_report.judge.finding import Limit, Verdict
from inspect_report.judge.limits import NOISE, Shown
from inspect_report.measure.budget import expanded
from inspect_report.measure.rounding import as_told, places_of_doubt
from inspect_report.records.quantity import Quantity, difference_from_si
from inspect_report.records.workshop import DecisionRule
from inspect_report.telling.units import FINEST

_FIGURES: Final = 3
"""Figures of an uncertainty up to which it is told finer, that it may end where it ends beside the limit."""


def agreeing(
    shown: Shown, quantity: Quantity, limit: Limit | None, verdict: Verdict, rule: DecisionRule
) -> Shown:
    """
    The writing of a value by which its verdict can be seen to be right.

    Decimals grow until the rule gives the same verdict for value and uncertainty as they are printed, and
    until the printed uncertainty reaches over the limit if, and only if, the uncertainty itself does.

    Args:
        shown: Unit and decimals to begin with.
        quantity: What was judged.
        limit: What it was held against, None without one.
        verdict: What was said of it.
        rule: The workshop's decision rule.
    """
    if limit is None or verdict is Verdict.NO_LIMIT:
        return shown
    for decimals in range(_least(shown, quantity, verdict), FINEST + 1):
        told = as_told(quantity, shown.unit, decimals)
        if verdict_on(told, limit, rule) is verdict and (
            _reaches(told, limit) == _reaches(quantity, limit)
            or rule.kind == "simple acceptance"
            or decimals >= _finest_of_doubt(quantity, shown.unit)
        ):
            return replace(shown, decimals=decimals)
    return shown


def _least(shown: Shown, quantity: Quantity, verdict: Verdict) -> int:
    """Decimals to begin with: where the uncertainty leaves a verdict open, enough to show that."""
    wide = _wide(quantity, shown.unit)
    if verdict is not Verdict.UNDECIDED or not wide:
        return shown.decimals
    return min(FINEST, max(shown.decimals, places_of_doubt(wide, shown.decimals)))


def _wide(quantity: Quantity, unit: str) -> float:
    """The expanded uncertainty in a unit."""
    return abs(difference_from_si(expanded(quantity), unit) if unit else expanded(quantity))


def _reaches(quantity: Quantity, limit: Limit) -> bool:
    """Whether the uncertainty of a value reaches an end of its limit."""
    value, wide = quantity.value, expanded(quantity)
    ends = (end for end in (limit.low, limit.high) if end is not None)
    return any(abs(value - end) <= wide + NOISE * max(abs(value), abs(end)) for end in ends)


def _finest_of_doubt(quantity: Quantity, unit: str) -> int:
    """Decimals that show as many figures of an uncertainty as help."""
    wide = _wide(quantity, unit)
    return FINEST if wide <= 0.0 else _FIGURES - 1 - math.floor(math.log10(wide))
