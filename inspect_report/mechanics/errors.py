"""Turns a number a formula cannot take into an error that says what was found and what is allowed.

ValueError
└── OutOfRange        the only error a formula raises
"""

import math

import numpy as np
from numpy.typing import NDArray


class OutOfRange(ValueError):
    """
    A number lies outside the range in which a formula holds.

    Attributes:
        name: Name of the argument.
        value: What was found.
        low: Least value allowed, or None.
        high: Greatest value allowed, or None.
        unit: Unit of the three numbers, "1" for none.
        low_open: Whether `low` itself is not allowed.
        high_open: Whether `high` itself is not allowed.
    """

    def __init__(
        self,
        name: str,
        value: float,
        low: float | None,
        high: float | None,
        unit: str,
        low_open: bool = False,
        high_open: bool = False,
    ) -> None:
        """Keep every field in `args` too, so that the error survives a trip between processes."""
        super().__init__(name, value, low, high, unit, low_open, high_open)
        self.name = name
        self.value = value
        self.low = low
        self.high = high
        self.unit = unit
        self.low_open = low_open
        self.high_open = high_open

    @property
    def allowed(self) -> str:
        """The allowed range in words, such as "above 0 Pa and at most 600000 Pa"."""
        ends = []
        if self.low is not None:
            ends.append(f"{'above' if self.low_open else 'at least'} {self._with_unit(self.low)}")
        if self.high is not None:
            ends.append(f"{'below' if self.high_open else 'at most'} {self._with_unit(self.high)}")
        return " and ".join(ends) or "a finite number"

    def _with_unit(self, number: float) -> str:
        return f"{number:.12g}" if self.unit == "1" else f"{number:.12g} {self.unit}"

    def __str__(self) -> str:
        """Say the argument, the number found and the range allowed, in that order."""
        return f"{self.name}: found {self._with_unit(self.value)}, allowed {self.allowed}"


Bound = float | NDArray[np.float64]


def require(
    name: str,
    value: float | NDArray[np.float64],
    unit: str,
    *,
    at_least: Bound = -math.inf,
    above: Bound = -math.inf,
    at_most: Bound = math.inf,
    below: Bound = math.inf,
) -> None:
    """Raise `OutOfRange` for the first number that is not finite or lies outside the bounds."""
    if type(value) is float and _is_within(value, at_least, above, at_most, below):
        return
    for number, low, lowest, high, highest in np.broadcast(value, at_least, above, at_most, below):
        if not (math.isfinite(number) and low <= number <= high and lowest < number < highest):
            raise _out_of_range(name, float(number), unit, (low, lowest), (high, highest))


def _is_within(value: float, at_least: Bound, above: Bound, at_most: Bound, below: Bound) -> bool:
    """Whether a single number keeps single bounds: the usual case, told without building arrays."""
    bounds = (at_least, above, at_most, below)
    if any(type(bound) is not float and type(bound) is not int for bound in bounds):
        return False
    return bool(math.isfinite(value) and at_least <= value <= at_most and above < value < below)


def _out_of_range(
    name: str, value: float, unit: str, lows: tuple[float, float], highs: tuple[float, float]
) -> OutOfRange:
    closed_low, open_low = lows
    closed_high, open_high = highs
    low, high = max(lows), min(highs)
    return OutOfRange(
        name,
        value,
        None if low == -math.inf else float(low),
        None if high == math.inf else float(high),
        unit,
        low_open=open_low >= closed_low and low != -math.inf,
        high_open=open_high <= closed_high and high != math.inf,
    )
