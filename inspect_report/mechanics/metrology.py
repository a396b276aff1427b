"""Turns what is known of an instrument and its readings into standard uncertainties and probabilities."""

import math
from collections.abc import Callable, Iterable

import numpy as np

from inspect_report.mechanics.arrays import Array, Readings, row
from inspect_report.mechanics.errors import OutOfRange, require
from inspect_report.mechanics.student import t_quantile, t_tail

Formula = Callable[..., float]

TWO_SIGMA = math.erf(math.sqrt(2.0))
"""Probability of the normal law within two standard deviations: what k = 2 covers, about 95.45 %."""


def u_from_resolution(resolution: float) -> float:
    r"""
    Standard uncertainty from the step of a scale or display.

    .. math:: u = d / (2 \sqrt 3)

    Args:
        resolution: Smallest step that is read. [x]

    Returns:
        Standard uncertainty. [x]

    Raises:
        OutOfRange: ``resolution`` below 0.

    Shapes: scalars. Holds for: every value within the step equally likely.
    Source: JCGM 100:2008 F.2.2.1, from memory. Checked in: tests/published/test_measurement_uncertainty.py.

    >>> round(u_from_resolution(0.01), 6)
    0.002887
    """
    require("resolution", resolution, "1", at_least=0.0)
    return resolution / (2.0 * math.sqrt(3.0))


def u_from_permissible_error(error: float) -> float:
    r"""
    Standard uncertainty from an instrument's maximum permissible error.

    .. math:: u = a / \sqrt 3

    Args:
        error: Half-width of the permissible band, the a of plus or minus a. [x]

    Returns:
        Standard uncertainty. [x]

    Raises:
        OutOfRange: ``error`` below 0.

    Shapes: scalars. Holds for: an instrument found within its limits; every error within them equally likely.
    Source: JCGM 100:2008 4.3.7, from memory. Checked in: tests/published/test_measurement_uncertainty.py.

    >>> round(u_from_permissible_error(0.004), 6)
    0.002309
    """
    require("error", error, "1", at_least=0.0)
    return error / math.sqrt(3.0)


def u_from_repeats(values: Readings) -> float:
    r"""
    Standard uncertainty of the mean of repeated readings.

    .. math:: u = s / \sqrt n

    Args:
        values: Readings of one thing, taken anew each time. [x]

    Returns:
        Standard uncertainty of their mean. [x]

    Raises:
        OutOfRange: fewer than two readings.

    Shapes: ``(n,)``. Holds for: independent readings; few of them say little about s.
    Source: JCGM 100:2008 4.2.3, from memory. Checked in: tests/published/test_measurement_uncertainty.py.

    >>> round(u_from_repeats([10.0, 10.2, 10.4]), 6)
    0.11547
    """
    array = row("values", values, "1", at_least=2)
    return float(array.std(ddof=1)) / math.sqrt(array.size)


def combine(us: Readings) -> float:
    r"""
    Joint standard uncertainty of independent contributions.

    .. math:: u = \sqrt{\sum u_i^2}

    Args:
        us: Standard uncertainties, already in the unit of the result. [x]

    Returns:
        Combined standard uncertainty. [x]

    Raises:
        OutOfRange: no contribution, or one below 0.

    Shapes: ``(n,)``. Holds for: independent contributions.
    Source: JCGM 100:2008 5.1.2, from memory.
    Checked in: tests/published/test_measurement_uncertainty.py.

    >>> combine([3.0, 4.0])
    5.0
    """
    array = row("us", us, "1")
    require("us", array, "1", at_least=0.0)
    return math.hypot(*array.tolist())


def contributions(formula: Formula, values: Readings, us: Readings, *, step: float = 1.0) -> Array:
    r"""
    What each input's standard uncertainty adds to a result, sign kept.

    .. math:: Z_i = \frac{f(x_i + h u_i) - f(x_i - h u_i)}{2 h}

    Args:
        formula: Function of the values, one argument each. [x -> y]
        values: Its inputs. [x]
        us: Their standard uncertainties. [x]
        step: Width of the difference in standard uncertainties, the h above. [1]

    Returns:
        Contributions in the unit of the result. [y]

    Raises:
        OutOfRange: an uncertainty below 0, other than one for each value, or a formula that does not hold on
            either side of a value.

    Shapes: ``(n,)`` in and out. Holds for: formulas nearly straight within an uncertainty. At the edge of a
    formula's range the difference is taken on the side on which it holds.
    Source: JCGM 100:2008 5.1.3 note 2, from memory.
    Checked in: tests/published/test_measurement_uncertainty.py.

    >>> contributions(lambda bore, piston: bore - piston, [82.03, 81.97], [0.003, 0.002]).round(6).tolist()
    [0.003, -0.002]
    """
    inputs, widths = row("values", values, "1"), row("us", us, "1")
    require("number of us", widths.size, "1", at_least=inputs.size, at_most=inputs.size)
    require("us", widths, "1", at_least=0.0)
    require("step", step, "1", above=0.0)
    return np.array([_contribution(formula, inputs, widths, i, step) for i in range(inputs.size)])


def _contribution(formula: Formula, values: Array, us: Array, i: int, step: float) -> float:
    shift = step * float(us[i])
    if shift == 0.0:
        return 0.0
    above, below = _shifted(formula, values, i, shift), _shifted(formula, values, i, -shift)
    if above is not None and below is not None:
        return (above - below) / (2.0 * step)
    here = formula(*values.tolist())
    if below is not None:
        return (here - below) / step
    # A formula that holds on neither side tells so here.
    return (formula(*_moved(values, i, shift)) - here) / step


def _moved(values: Array, i: int, shift: float) -> Iterable[float]:
    return (float(value) + shift * (place == i) for place, value in enumerate(values))


def _shifted(formula: Formula, values: Array, i: int, shift: float) -> float | None:
    """The formula with one input shifted, None where it does not hold there."""
    try:
        return formula(*_moved(values, i, shift))
    except OutOfRange:
        return None


def coverage_factor(dof: float = math.inf, *, probability: float = TWO_SIGMA) -> float:
    r"""
    How many standard uncertainties cover a given probability, by what is known of the uncertainty itself.

    .. math:: k = t_{(1 + p) / 2}(\nu)

    Args:
        dof: Effective degrees of freedom of the standard uncertainty, infinite where it is known well. [1]
        probability: Probability to be covered; left out, that which 2 covers under the normal law. [1]

    Returns:
        Coverage factor; 2 for infinite degrees of freedom, more where few repeats tell the scatter. [1]

    Raises:
        OutOfRange: ``dof`` not above 0, or ``probability`` not between 0 and 1.

    Shapes: scalars. Holds for: a result near Student's t, whose freedom is that of `welch_satterthwaite`.
    Source: JCGM 100:2008 G.3.2, G.6.4 and table G.2, from memory.
    Checked in: tests/published/test_measurement_uncertainty.py.

    >>> round(coverage_factor(), 6), round(coverage_factor(2), 2)
    (2.0, 4.53)
    """
    require("probability", probability, "1", above=0.0, below=1.0)
    return t_quantile((1.0 + probability) / 2.0, dof)


def expanded(u: float, *, coverage: float = 2.0) -> float:
    r"""
    Expanded uncertainty.

    .. math:: U = k u

    Args:
        u: Standard uncertainty. [x]
        coverage: Coverage factor; 2 covers about 95 % under the normal law. [1]

    Returns:
        Expanded uncertainty. [x]

    Raises:
        OutOfRange: ``u`` below 0 or ``coverage`` not above 0.

    Shapes: scalars. Holds for: a result near normal.
    Source: JCGM 100:2008 6.2.1, from memory. Checked in: tests/published/test_measurement_uncertainty.py.

    >>> expanded(0.25)
    0.5
    """
    require("u", u, "1", at_least=0.0)
    require("coverage", coverage, "1", above=0.0)
    return coverage * u


def welch_satterthwaite(us: Readings, dofs: Readings) -> float:
    r"""
    Effective degrees of freedom of a combined uncertainty.

    .. math:: \nu = u^4 / \sum (u_i^4 / \nu_i)

    Args:
        us: Contributions, in the unit of the result. [x]
        dofs: Degrees of freedom of each, infinite where it is known exactly. [1]

    Returns:
        Effective degrees of freedom, infinite where every contribution is known exactly. [1]

    Raises:
        OutOfRange: an uncertainty below 0, a number not above 0, or other than one for each uncertainty.

    Shapes: ``(n,)``. Holds for: independent contributions.
    Source: JCGM 100:2008 G.4.1, from memory. Checked in: tests/published/test_measurement_uncertainty.py.

    >>> round(welch_satterthwaite([1.0, 1.0], [5.0, 5.0]), 6)
    10.0
    """
    total = combine(us)
    freedoms = np.asarray(dofs, dtype=np.float64)
    require("number of dofs", freedoms.size, "1", at_least=len(us), at_most=len(us))
    require("dofs", np.minimum(freedoms, 1e300), "1", above=0.0)
    doubt = float(np.sum(np.asarray(us, dtype=np.float64) ** 4 / freedoms))
    return total**4 / doubt if doubt > 0.0 else math.inf


def probability_inside(
    value: float, u: float, *, low: float | None = None, high: float | None = None, dof: float = math.inf
) -> float:
    r"""
    Probability that the true value lies inside its limits.

    .. math:: p = F_\nu((h - y) / u) - F_\nu((l - y) / u)

    Args:
        value: Measured value. [x]
        u: Its standard uncertainty; 0 asks only on which side of the limit the value lies. [x]
        low: Lower limit, itself inside; None for none. [x]
        high: Upper limit, itself inside; None for none. [x]
        dof: Effective degrees of freedom of ``u``; infinite for the normal law. [1]

    Returns:
        Conformance probability. [1]

    Raises:
        OutOfRange: ``u`` below 0, ``dof`` not above 0, ``high`` below ``low``, or no limit at all.

    Shapes: scalars. Holds for: the normal law, or Student's t where few repeats tell the scatter; no earlier
    knowledge of the part.
    Source: JCGM 106:2012 7, and JCGM 101:2008 6.4.9 for t; both from memory.
    Checked in: tests/published/test_conformance_probability.py.

    >>> round(probability_inside(13.6, 1.8, low=12.5, high=16.3), 5)
    0.66263
    """
    require("value", value, "1")
    require("u", u, "1", at_least=0.0)
    require("dof", min(dof, 1e300), "1", above=0.0)
    require("number of limits", (low is not None) + (high is not None), "1", at_least=1)
    if low is not None:
        require("low", low, "1")
    if high is not None:
        require("high", high, "1", at_least=-math.inf if low is None else low)
    lowest, highest = -math.inf if low is None else low, math.inf if high is None else high
    if u == 0.0:
        return float(lowest <= value <= highest)
    return _between((lowest - value) / u, (highest - value) / u, dof)


def _between(low: float, high: float, dof: float) -> float:
    """Probability of Student's t between two points, taken in the tail where it loses no digits."""
    if low + high < 0.0:
        low, high = -high, -low
    return _tail(low, dof) - _tail(high, dof)


def _tail(t: float, dof: float) -> float:
    """Probability above a point, which may be endless."""
    return float(t < 0.0) if math.isinf(t) else t_tail(t, dof)
