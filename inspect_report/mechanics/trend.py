"""Turns readings over running hours into a straight line, its band for the next reading and its crossing."""

import math
from dataclasses import dataclass

import numpy as np

from inspect_report.mechanics.arrays import Array, Readings, row
from inspect_report.mechanics.errors import require
from inspect_report.mechanics.student import t_quantile


@dataclass(frozen=True, slots=True)
class StraightLine:
    """
    A weighted least-squares line with what is needed to tell how well it is known.

    Attributes:
        slope: Slope. [y/x]
        intercept: Value at 0. [y]
        u_slope: Standard error of the slope. [y/x]
        u_intercept: Standard error of the intercept. [y]
        deviation: Standard deviation of a reading of weight 1 about the line. [y]
        dof: Degrees of freedom, the number of readings less two. [count]
        centre_x: Weighted mean of x. [x]
        centre_y: Weighted mean of y. [y]
        total_weight: Sum of the weights. [1]
        spread_x: Weighted sum of squares of x about its mean. [x2]
    """

    slope: float
    intercept: float
    u_slope: float
    u_intercept: float
    deviation: float
    dof: int
    centre_x: float
    centre_y: float
    total_weight: float
    spread_x: float


@dataclass(frozen=True, slots=True)
class Prediction:
    """
    Where a reading is to be expected.

    Attributes:
        value: On the line. [y]
        low: Lower end of the band. [y]
        high: Upper end of the band. [y]
    """

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Crossing:
    """
    Where a line meets a limit.

    Attributes:
        x: Where the line itself meets it, None for a level line. [x]
        low: Where the band first touches it, None for no bound. [x]
        high: Where the band leaves it behind, None for no bound. [x]
    """

    x: float | None
    low: float | None
    high: float | None


def weights_from_uncertainties(us: Readings) -> Array:
    r"""
    Weights for readings of unequal uncertainty.

    .. math:: w_i = (\min u / u_i)^2

    Args:
        us: Standard uncertainties of the readings. [y]

    Returns:
        Weights, 1 for the best reading. [1]

    Raises:
        OutOfRange: no uncertainty, or one not above 0.

    Shapes: ``(n,)`` in and out. Holds for: independent readings.
    Source: weighted least squares. Checked in: tests/mechanics/test_trend.py.

    >>> weights_from_uncertainties([0.001, 0.002]).tolist()
    [1.0, 0.25]
    """
    array = row("us", us, "1")
    require("us", array, "1", above=0.0)
    weights: Array = (array.min() / array) ** 2
    return weights


def straight_line(
    x: Readings, y: Readings, *, weights: Readings | None = None, least_deviation: float = 0.0
) -> StraightLine:
    r"""
    Straight line through readings by weighted least squares.

    .. math:: \min_{a, b} \sum w_i (y_i - a - b x_i)^2

    Args:
        x: Running hours, or another measure of use. [x]
        y: Readings. [y]
        weights: Weights of the readings, None for equal ones. [1]
        least_deviation: Standard uncertainty of a reading of weight 1; the deviation is not taken smaller,
            because three readings may lie on a line by luck. [y]

    Returns:
        The line. [StraightLine]

    Raises:
        OutOfRange: fewer than three readings, all at one x, a weight not above 0, or other than one y and
            one weight for each x.

    Shapes: ``(n,)``. Holds for: wear that goes on evenly. Where wear speeds up, a line finds the limit too
    late: the band tells of scatter, not of that.
    Source: weighted least squares; NIST StRD. Checked in: tests/published/test_straight_lines.py.

    >>> line = straight_line([0.0, 10.0, 20.0, 30.0], [1.0, 1.9, 3.1, 4.0])
    >>> round(line.slope, 6), round(line.intercept, 6)
    (0.102, 0.97)
    """
    xs, ys = row("x", x, "1", at_least=3), row("y", y, "1")
    ws = np.ones_like(xs) if weights is None else row("weights", weights, "1")
    for name, array in (("y", ys), ("weights", ws)):
        require(f"number of {name}", array.size, "1", at_least=xs.size, at_most=xs.size)
    require("weights", ws, "1", above=0.0)
    require("least_deviation", least_deviation, "1", at_least=0.0)
    require("spread of x", float(np.ptp(xs)), "1", above=0.0)
    return _fitted(xs, ys, ws, least_deviation)


def _fitted(x: Array, y: Array, weights: Array, least_deviation: float) -> StraightLine:
    total = float(weights.sum())
    centre_x, centre_y = float(weights @ x) / total, float(weights @ y) / total
    across, up = x - centre_x, y - centre_y
    spread = float(weights @ across**2)
    slope = float(weights @ (across * up)) / spread
    dof = x.size - 2
    scatter = math.sqrt(float(weights @ (up - slope * across) ** 2) / dof)
    deviation = max(scatter, least_deviation)
    return StraightLine(
        slope=slope,
        intercept=centre_y - slope * centre_x,
        u_slope=deviation / math.sqrt(spread),
        u_intercept=deviation * math.sqrt(1.0 / total + centre_x**2 / spread),
        deviation=deviation,
        dof=dof,
        centre_x=centre_x,
        centre_y=centre_y,
        total_weight=total,
        spread_x=spread,
    )


def _reach(line: StraightLine, probability: float) -> float:
    """Half-width of the band that a reading of weight 1 needs on its own account."""
    require("probability", probability, "1", above=0.0, below=1.0)
    return t_quantile((1.0 + probability) / 2.0, line.dof) * line.deviation


def prediction(line: StraightLine, x: float, *, probability: float = 0.95, weight: float = 1.0) -> Prediction:
    r"""
    Band in which a further reading is to be expected.

    .. math:: a + b x \pm t s \sqrt{1/w + 1/W + (x - \bar x)^2 / S_{xx}}

    Args:
        line: Line through the readings so far. [StraightLine]
        x: Where the further reading is taken. [x]
        probability: Probability that the band holds it. [1]
        weight: Weight of the further reading; infinite gives the band of the line itself. [1]

    Returns:
        Expected value and band. [Prediction]

    Raises:
        OutOfRange: ``probability`` not between 0 and 1, or ``weight`` not above 0.

    Shapes: scalars. Holds for: as `straight_line`; least of all far beyond the readings.
    Source: Berthouex and Brown, Statistics for Environmental Engineers, ch. 34.
    Checked in: tests/published/test_straight_lines.py.

    >>> band = prediction(straight_line([0.0, 10.0, 20.0, 30.0], [1.0, 1.9, 3.1, 4.0]), 40.0)
    >>> round(band.low, 3), round(band.value, 3), round(band.high, 3)
    (4.405, 5.05, 5.695)
    """
    require("x", x, "1")
    require("weight", min(weight, 1e300), "1", above=0.0)
    value = line.intercept + line.slope * x
    own, mean = 1.0 / weight, 1.0 / line.total_weight
    width = _reach(line, probability) * math.sqrt(own + mean + (x - line.centre_x) ** 2 / line.spread_x)
    return Prediction(value, value - width, value + width)


def crossing(line: StraightLine, limit: float, *, probability: float = 0.95, weight: float = 1.0) -> Crossing:
    r"""
    Where a line meets a limit, with the stretch in which a reading may meet it.

    .. math:: (a + b x - L)^2 = t^2 s^2 (1/w + 1/W + (x - \bar x)^2 / S_{xx}) \quad \text{solved for } x

    Args:
        line: Line through the readings so far. [StraightLine]
        limit: Value to be met. [y]
        probability: Probability of the band. [1]
        weight: Weight of a further reading; infinite gives the band of the line itself. [1]

    Returns:
        Where the line meets the limit, with bounds. A bound is missing where the slope is not established:
        then the band never leaves the limit behind. [Crossing]

    Raises:
        OutOfRange: ``probability`` not between 0 and 1, or ``weight`` not above 0.

    Shapes: scalars. Holds for: as `prediction`. May lie before the readings: compare with the last one.
    Source: Fieller's way of inverting a band, from memory. Checked in: tests/mechanics/test_trend.py.

    >>> met = crossing(straight_line([0.0, 10.0, 20.0, 30.0], [1.0, 1.9, 3.1, 4.0]), 6.0)
    >>> round(met.low, 2), round(met.x, 2), round(met.high, 2)
    (42.64, 49.31, 58.25)
    """
    require("limit", limit, "1")
    require("weight", min(weight, 1e300), "1", above=0.0)
    reach = _reach(line, probability)
    beyond = line.centre_y - limit
    low, high = _band_meets_limit(
        square=line.slope**2 - reach**2 / line.spread_x,
        half=beyond * line.slope,
        constant=beyond**2 - reach**2 * (1.0 / weight + 1.0 / line.total_weight),
    )
    return Crossing(
        None if line.slope == 0.0 else line.centre_x - beyond / line.slope,
        None if low is None else line.centre_x + low,
        None if high is None else line.centre_x + high,
    )


def _band_meets_limit(*, square: float, half: float, constant: float) -> tuple[float | None, float | None]:
    """Ends, from the centre of x, of the stretch where square d^2 + 2 half d + constant is not above 0."""
    if square <= 0.0 and constant <= 0.0:
        return None, None
    # The root of larger size by addition alone, the other from their product: no digits are lost.
    root = math.sqrt(max(0.0, half**2 - square * constant))
    far = -(half + math.copysign(root, half))
    if square > 0.0:
        ends = sorted((far / square, constant / far if far else 0.0))
        return ends[0], ends[1]
    # The slope is not established: the stretch on the line's own side of the centre has no far end.
    if half == 0.0:
        return None, None
    near = constant / far
    return (near, None) if near > 0.0 else (None, near)
