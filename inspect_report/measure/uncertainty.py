"""
Turns readings and the instruments they were taken with into values with standard uncertainty.

A reading's uncertainty has two parts. Its own: the step of the scale, d/(2√3), and the scatter of repeats,
s/√n. The shared one: the instrument's permissible error, a/√3, which moves everything read with that
instrument the same way. A difference of two readings of one bore gauge, taper for one, is therefore free of
the gauge's error; a clearance between a bore gauge and a micrometer carries both. An instrument with two
gauges, such as a leak-down tester, shares its error only among readings of the same item. A reading counted
against the sense of its scale, such as degrees before a dead centre, has the shared part with the other sign:
a degree disc set wrong shows one edge of a lobe early by as much as it shows the other late.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from inspect_report.mechanics import metrology
from inspect_report.mechanics.arrays import Array
from inspect_report.records.inspection import InstrumentUsed, Reading

Formula = Callable[..., float]

TWO_GAUGES: Final = frozenset({"leak down tester"})
# Width of a difference, and of the steps that part equal readings, in standard uncertainties: see `_parted`.
_HAIR, _PARTING = 1e-5, 1e-4


@dataclass(frozen=True, slots=True)
class Input:
    """
    One number a formula takes.

    Attributes:
        value: Its value. [x]
        own: Standard uncertainty no other input has a part in. [x]
        shared: Standard uncertainty it shares with every input of the same ``source``. [x]
        source: What the shared part comes from, an instrument or one gauge of it. [word]
        mirrored: Whether it counts against the sense of the scale: its shared part has the other sign.
    """

    value: float
    own: float = 0.0
    shared: float = 0.0
    source: str = ""
    mirrored: bool = False

    @property
    def u(self) -> float:
        """Standard uncertainty, own and shared together."""
        return metrology.combine((self.own, self.shared))


def input_of(reading: Reading, instrument: InstrumentUsed | None) -> Input:
    """A reading as a formula takes it: the mean of its repeats with both parts of its uncertainty."""
    value = float(np.mean(reading.values))
    own = _own(reading, instrument)
    if instrument is None or instrument.permissible_error is None:
        return Input(value, own)
    shared = metrology.u_from_permissible_error(instrument.permissible_error)
    return Input(value, own, shared, _source(reading, instrument))


def _own(reading: Reading, instrument: InstrumentUsed | None) -> float:
    step = metrology.u_from_resolution(instrument.resolution) if instrument else 0.0
    scatter = metrology.u_from_repeats(reading.values) if len(reading.values) > 1 else 0.0
    return metrology.combine((step, scatter))


def _source(reading: Reading, instrument: InstrumentUsed) -> str:
    kind = instrument.kind.casefold().replace("-", " ")
    return f"{instrument.id} {reading.item}" if kind in TWO_GAUGES else instrument.id


def propagated(formula: Formula, inputs: Sequence[Input], *, picks: bool = False) -> tuple[float, float]:
    """
    A formula's result and its standard uncertainty, to first order.

    Args:
        formula: Function of the inputs' values, one argument each.
        inputs: Its inputs.
        picks: Whether the formula takes the greatest or the least of its inputs.

    Raises:
        OutOfRange: the formula does not hold for these inputs.
    """
    values, us = [i.value for i in inputs], [i.u for i in inputs]
    result = float(formula(*values))
    if not any(us):
        return result, 0.0
    correlation = _correlation(inputs)
    if picks:
        values = _parted(values, us)
    step = _HAIR if picks else 1.0
    return result, metrology.propagate(formula, values, us, correlation=correlation, step=step)


def _parted(values: Sequence[float], us: Sequence[float]) -> list[float]:
    """
    The values a hair apart.

    Where two readings are equal, a greatest or least of them has a kink and no slope; parted by far less
    than their uncertainty, one of them is picked and has the slope it would have anywhere else. The steps
    grow, so that no two neighbouring pairs are equally far apart either.
    """
    return [
        value + _PARTING * number**2 * u for number, (value, u) in enumerate(zip(values, us, strict=True))
    ]


def _correlation(inputs: Sequence[Input]) -> Array:
    us, shared = [i.u for i in inputs], [i.shared for i in inputs]
    together = np.array([[_sense(a, b) for b in inputs] for a in inputs], dtype=np.float64)
    correlation: Array = metrology.shared_error_correlation(us, shared) * together
    return correlation


def _sense(one: Input, other: Input) -> float:
    """1 for inputs that a shared error moves the same way, -1 for opposite ways, 0 for none shared."""
    if one.source != other.source:
        return 0.0
    return 1.0 if one.mirrored == other.mirrored else -1.0
