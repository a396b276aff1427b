"""Turns a value and its uncertainty into the places both are told to, and into what is left of them there."""

import math
from dataclasses import replace

from inspect_report.measure.budget import coverage, expanded
from inspect_report.records.quantity import Quantity, difference_from_si, from_si
from inspect_report.telling.units import FINEST


def rounded_up(value: float, decimals: int) -> float:
    """An uncertainty rounded up, so that it is never told smaller than it is."""
    scale = 10.0**decimals
    return math.ceil(value * scale - 1e-6) / scale


def uncertainty_decimals(wide: float, decimals: int) -> int:
    """The characteristic's decimals, or one more where rounding up would overstate by more than half."""
    generous = rounded_up(wide, decimals) > 1.5 * wide
    return decimals + 1 if generous and decimals < FINEST else decimals


def places_of_doubt(wide: float, decimals: int) -> int:
    """Decimals of a value that its uncertainty decides on: two figures of that, and one more than its own."""
    first = -math.floor(math.log10(wide))
    return max(0, first, min(first + 1, decimals + 1))


def as_told(quantity: Quantity, unit: str, decimals: int) -> Quantity:
    """
    What a reader of a report knows of a quantity: its value and uncertainty as they stand there.

    Args:
        quantity: A value with its uncertainty, in SI.
        unit: The unit it is told in; empty for a plain number.
        decimals: Decimals asked for in that unit; one more is taken where an uncertainty asks for it.
    """
    factor = difference_from_si(1.0, unit) if unit else 1.0
    wide = abs(expanded(quantity) * factor)
    places = uncertainty_decimals(wide, decimals) if wide else decimals
    number = from_si(quantity.value, unit) if unit else quantity.value
    u = abs(rounded_up(wide, places) / factor) / coverage(quantity)
    return replace(quantity, value=quantity.value + (round(number, places) - number) / factor, u=u)
