"""
Turns a formula and its inputs into a result with its uncertainty budget: what each cause adds to the doubt.

The causes are independent of each other by construction: the step of each reading, the scatter of each
reading's repeats, and for each gauge its permissible error once, with the sum of the sensitivities of all
that was read with it. So the root sum of squares is exact to first order and the Welch-Satterthwaite sum
holds. Kept small and of our own: a general library for uncertain numbers has either no degrees of freedom or
wants every formula written in its own functions; two of them check this one in the tests.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from inspect_report.measure.derived import BudgetLine, Cause
from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics import metrology
from inspect_report.records.quantity import Quantity

Formula = Callable[..., float]

# Width of a difference, and of the steps that part equal readings, in standard uncertainties: see `_parted`.
_HAIR, _PARTING = 1e-5, 1e-4
_CANCELLED: Final = 1e-6
"""Share of its parts below which a sum of opposite parts is float noise."""
_WELL_KNOWN: Final = 1e6
"""Degrees of freedom from which on Student's t and the normal law are one."""


@dataclass(frozen=True, slots=True)
class Propagated:
    """A formula's result and the budget of its uncertainty."""

    value: float
    budget: tuple[BudgetLine, ...] = ()

    @property
    def u(self) -> float:
        """Standard uncertainty of the result."""
        return math.hypot(*(line.contribution for line in self.budget))

    @property
    def dof(self) -> float | None:
        """Effective degrees of freedom of ``u``; None where nothing of it rests on few repeats."""
        if self.u == 0.0:
            return None
        parts = [abs(line.contribution) for line in self.budget]
        dofs = [math.inf if line.dof is None else line.dof for line in self.budget]
        effective = metrology.welch_satterthwaite(parts, dofs)
        return effective if effective < _WELL_KNOWN else None

    def quantity(self, dimension: str) -> Quantity:
        """The result as a quantity of a dimension."""
        return Quantity(self.value, self.u, dimension, self.dof)


def propagated(
    formula: Formula, inputs: Sequence[Input], *, picks: bool = False, alike: Sequence[int] = ()
) -> Propagated:
    """
    A formula's result with its uncertainty budget, to first order.

    Args:
        formula: Function of the inputs' values, one argument each.
        inputs: Its inputs.
        picks: Whether the formula takes the greatest or the least of its inputs.
        alike: Numbers of the inputs that tell one thing at several places and enter as their mean, such as
            lengths of one chain; their scatter over the places counts as well. Fewer than two have none.

    Raises:
        OutOfRange: the formula does not hold for these inputs.
    """
    values, us = [i.value for i in inputs], [i.u for i in inputs]
    result = float(formula(*values))
    spread = metrology.u_from_repeats([values[n] for n in alike]) if len(alike) > 1 else 0.0
    widths = [math.hypot(u, spread) if n in alike else u for n, u in enumerate(us)]
    if not any(widths):
        return Propagated(result)
    at, step = (_parted(values, widths), _HAIR) if picks else (values, 1.0)
    parts = metrology.contributions(formula, at, widths, step=step)
    slopes = [float(part) / width if width else 0.0 for part, width in zip(parts, widths, strict=True)]
    lines = (*_own(inputs, slopes), *_over_places(inputs, slopes, alike, spread), *_shared(inputs, slopes))
    return Propagated(result, lines)


def as_it_stands(one: Input) -> Propagated:
    """A reading that is itself the result."""
    return Propagated(one.value, (*_own([one], [1.0]), *_shared([one], [1.0])))


def _own(inputs: Sequence[Input], slopes: Sequence[float]) -> Iterator[BudgetLine]:
    """What belongs to one reading alone; a reading the result does not hang on has no line."""
    for i, slope in zip(inputs, slopes, strict=True):
        if i.step * slope:
            yield _line(i.name, "resolution", i, i.step, slope, None)
        if i.scatter * slope:
            yield _line(i.name, "repeats", i, i.scatter, slope, i.repeats - 1.0)


def _over_places(
    inputs: Sequence[Input], slopes: Sequence[float], alike: Sequence[int], spread: float
) -> Iterator[BudgetLine]:
    """The scatter of one thing over the places it was read at."""
    slope = sum(slopes[n] for n in alike)
    if spread * slope:
        first = inputs[alike[0]]
        name = first.name.partition(".")[0]
        yield _line(f"{name}, {len(alike)} places", "scatter", first, spread, slope, len(alike) - 1.0)


def _shared(inputs: Sequence[Input], slopes: Sequence[float]) -> Iterator[BudgetLine]:
    """The permissible error of each gauge, once for all that was read with it."""
    for source, members in _by_source(inputs, slopes).items():
        parts = [slope * i.shared * (-1.0 if i.mirrored else 1.0) for i, slope in members]
        net = sum(parts)
        if abs(net) <= _CANCELLED * sum(abs(part) for part in parts):
            net = 0.0
        widest = max((i for i, _ in members), key=lambda i: i.shared)
        yield _line(source, "permissible error", widest, widest.shared, net / widest.shared, None)


def _by_source(
    inputs: Sequence[Input], slopes: Sequence[float]
) -> Mapping[str, Sequence[tuple[Input, float]]]:
    """Inputs that the result hangs on with their slopes, by the gauge they share an error with."""
    found: dict[str, list[tuple[Input, float]]] = {}
    for i, slope in zip(inputs, slopes, strict=True):
        if i.shared * slope:
            found.setdefault(i.source, []).append((i, slope))
    return found


def _line(name: str, cause: Cause, of: Input, u: float, slope: float, dof: float | None) -> BudgetLine:
    value = None if cause in ("permissible error", "scatter") else of.value
    return BudgetLine(name, cause, value, u, of.dimension, slope, slope * u, dof)


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


def expanded(quantity: Quantity) -> float:
    """Expanded uncertainty of a quantity, in SI: k standard uncertainties, k by its degrees of freedom."""
    return metrology.expanded(quantity.u, coverage=coverage(quantity))


def coverage(quantity: Quantity) -> float:
    """Coverage factor of a quantity: 2, or more where few repeats tell its uncertainty."""
    return metrology.coverage_factor(math.inf if quantity.dof is None else quantity.dof)
