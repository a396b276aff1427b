"""Turns what is known of an instrument and its readings into standard uncertainties and probabilities."""

import math
from collections.abc import Callable, Iterable, Sequence

import numpy as np

from inspect_report.mechanics.arrays import Array, Readings, row
from inspect_report.mechanics.errors import OutOfRange, require

Formula = Callable[..., float]
Correlation = Sequence[Sequence[float]] | Array


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


def shared_error_correlation(us: Readings, shared: Readings) -> Array:
    r"""
    Correlation of readings that have a part of their error in common, such as one gauge's zero error.

    .. math:: r_{ij} = s_i s_j / (u_i u_j), \quad r_{ii} = 1

    Args:
        us: Standard uncertainties of the readings. [x]
        shared: Part of each that comes from the common error, 0 for a reading that has none of it. [x]

    Returns:
        Correlation matrix for `propagate`. [1]

    Raises:
        OutOfRange: a share not in 0 to the uncertainty it is part of, or other than one for each reading.

    Shapes: ``(n,)`` in, ``(n, n)`` out. Holds for: one common error, the rest independent.
    Source: JCGM 100:2008 F.1.2.3, from memory. Checked in: tests/mechanics/test_metrology.py.

    >>> shared_error_correlation([2.0, 2.0], [1.0, 1.0]).tolist()
    [[1.0, 0.25], [0.25, 1.0]]
    """
    wholes, parts = row("us", us, "1"), row("shared", shared, "1")
    require("number of shared", parts.size, "1", at_least=wholes.size, at_most=wholes.size)
    require("us", wholes, "1", at_least=0.0)
    require("shared", parts, "1", at_least=0.0, at_most=wholes)
    share = np.divide(parts, wholes, out=np.zeros_like(parts), where=wholes > 0.0)
    correlation = np.outer(share, share)
    np.fill_diagonal(correlation, 1.0)
    return correlation


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


def propagate(
    formula: Formula,
    values: Readings,
    us: Readings,
    *,
    correlation: Correlation | None = None,
    step: float = 1.0,
) -> float:
    r"""
    Standard uncertainty of a formula's result from those of its inputs, to first order.

    .. math:: u^2 = \sum_{ij} Z_i r_{ij} Z_j

    Args:
        formula: Function of the values, one argument each. [x -> y]
        values: Its inputs. [x]
        us: Their standard uncertainties. [x]
        correlation: Correlation of the inputs' errors, None for independent ones. [1]
        step: Width of the difference in standard uncertainties. [1]

    Returns:
        Standard uncertainty of the result. [y]

    Raises:
        OutOfRange: as `contributions`; a correlation of another size, not in -1 to 1, or not 1 of itself.

    Shapes: ``(n,)`` and ``(n, n)``. Holds for: as `contributions`; first order is not enough where a formula
    multiplies two values that are both near 0.
    Source: JCGM 100:2008 5.1.2, 5.2.2, from memory.
    Checked in: tests/published/test_measurement_uncertainty.py.

    >>> round(propagate(lambda bore, piston: bore - piston, [82.03, 81.97], [0.003, 0.002]), 6)
    0.003606
    """
    parts = contributions(formula, values, us, step=step)
    matrix = np.eye(parts.size) if correlation is None else _checked_correlation(correlation, parts.size)
    # Rounding may leave a variance that is truly 0 a little below it.
    return math.sqrt(max(0.0, float(parts @ matrix @ parts)))


def _checked_correlation(correlation: Correlation, n: int) -> Array:
    matrix = np.asarray(correlation, dtype=np.float64)
    require("size of correlation", np.array(matrix.shape, dtype=np.float64), "1", at_least=n, at_most=n)
    require("dimensions of correlation", matrix.ndim, "1", at_least=2, at_most=2)
    require("correlation", matrix, "1", at_least=-1.0, at_most=1.0)
    require("correlation of a value with itself", matrix.diagonal(), "1", at_least=1.0)
    require("asymmetry of correlation", float(np.abs(matrix - matrix.T).max()), "1", at_most=1e-9)
    return matrix


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
    value: float, u: float, *, low: float | None = None, high: float | None = None
) -> float:
    r"""
    Probability that the true value lies inside its limits.

    .. math:: p = \Phi((h - y) / u) - \Phi((l - y) / u)

    Args:
        value: Measured value. [x]
        u: Its standard uncertainty; 0 asks only on which side of the limit the value lies. [x]
        low: Lower limit, itself inside; None for none. [x]
        high: Upper limit, itself inside; None for none. [x]

    Returns:
        Conformance probability. [1]

    Raises:
        OutOfRange: ``u`` below 0, ``high`` below ``low``, or no limit at all.

    Shapes: scalars. Holds for: normal law, no earlier knowledge of the part.
    Source: JCGM 106:2012 7, from memory. Checked in: tests/published/test_conformance_probability.py.

    >>> round(probability_inside(13.6, 1.8, low=12.5, high=16.3), 5)
    0.66263
    """
    require("value", value, "1")
    require("u", u, "1", at_least=0.0)
    require("number of limits", (low is not None) + (high is not None), "1", at_least=1)
    if low is not None:
        require("low", low, "1")
    if high is not None:
        require("high", high, "1", at_least=-math.inf if low is None else low)
    lowest, highest = -math.inf if low is None else low, math.inf if high is None else high
    if u == 0.0:
        return float(lowest <= value <= highest)
    return _normal_between((lowest - value) / u, (highest - value) / u)


def _normal_between(low: float, high: float) -> float:
    """Probability of the normal law between two points, taken in the tail where it loses no digits."""
    if low + high < 0.0:
        low, high = -high, -low
    return (math.erfc(low / math.sqrt(2.0)) - math.erfc(high / math.sqrt(2.0))) / 2.0
