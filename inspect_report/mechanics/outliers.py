"""Turns the readings of like parts, such as an engine's cylinders, into a test for one that stands apart."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from inspect_report.mechanics.arrays import Array, Readings, row
from inspect_report.mechanics.errors import require
from inspect_report.mechanics.student import t_quantile

Side = Literal["both", "high", "low"]


@dataclass(frozen=True, slots=True)
class GrubbsTest:
    """
    The reading farthest from the mean, and whether that is farther than chance explains.

    Attributes:
        index: Place of that reading in the row, from 0. [count]
        statistic: Its distance from the mean in standard deviations. [1]
        critical: Distance that chance alone exceeds with probability alpha. [1]
    """

    index: int
    statistic: float
    critical: float

    @property
    def is_outlier(self) -> bool:
        """Whether the reading stands apart at the stated significance."""
        return self.statistic > self.critical


def _distances(values: Array, side: Side) -> Array:
    """Distances from the mean in standard deviations, counted towards the side asked for."""
    offsets = values - values.mean()
    spread = values.std(ddof=1)
    # Equal readings differ by rounding alone: none stands apart.
    if spread <= 1e-12 * np.abs(values).max():
        return np.zeros_like(values)
    sign = {"both": np.sign(offsets), "high": 1.0, "low": -1.0}[side]
    distances: Array = sign * offsets / spread
    return distances


def grubbs_statistic(values: Readings, *, side: Side = "both") -> float:
    r"""
    Distance from the mean of the reading farthest from it, in standard deviations.

    .. math:: G = \max_i |x_i - \bar x| / s

    Args:
        values: Readings of like parts. [x]
        side: Which end is looked at: "both", "high" or "low". [word]

    Returns:
        Grubbs' statistic, 0 for equal readings. [1]

    Raises:
        OutOfRange: fewer than three readings.

    Shapes: ``(n,)``. Holds for: readings that would follow a normal law if none stood apart.
    Source: NIST/SEMATECH e-Handbook 1.3.5.17.1. Checked in: tests/published/test_grubbs.py.

    >>> round(grubbs_statistic([3.0, 3.1, 2.9, 12.5]), 4)
    1.4998
    """
    return float(_distances(row("values", values, "1", at_least=3), side).max())


def grubbs_critical(n: int, *, alpha: float = 0.05, side: Side = "both") -> float:
    r"""
    Grubbs' statistic that chance alone exceeds with probability alpha.

    .. math:: G_c = \frac{n - 1}{\sqrt n} \sqrt{\frac{t^2}{n - 2 + t^2}},
        \quad t = t_{1 - \alpha / (2n), n - 2}

    Args:
        n: Number of readings. [count]
        alpha: Significance: chance of calling a good set bad. [1]
        side: Which end is looked at; one end alone takes alpha / n in place of alpha / (2n). [word]

    Returns:
        Critical value. [1]

    Raises:
        OutOfRange: ``n`` below 3, or ``alpha`` not between 0 and 1.

    Shapes: scalars. Holds for: one suspect reading. With four readings the statistic cannot exceed 1.5.
    Source: NIST/SEMATECH e-Handbook 1.3.5.17.1. Checked in: tests/published/test_grubbs.py.

    >>> round(grubbs_critical(4), 4)
    1.4813
    """
    require("n", n, "1", at_least=3)
    require("alpha", alpha, "1", above=0.0, below=1.0)
    ends = 2 if side == "both" else 1
    t = t_quantile(1.0 - alpha / (ends * n), n - 2)
    return (n - 1) / math.sqrt(n) * math.sqrt(t * t / (n - 2 + t * t))


def grubbs_test(values: Readings, *, alpha: float = 0.05, side: Side = "both") -> GrubbsTest | None:
    r"""
    Whether one reading among like parts stands apart.

    .. math:: G > G_c(n, \alpha)

    Args:
        values: Readings of like parts. [x]
        alpha: Significance: chance of calling a good set bad. [1]
        side: Which end is looked at: "both", "high" or "low". [word]

    Returns:
        The farthest reading with its verdict; None, no test at all, for fewer than three. [GrubbsTest]

    Raises:
        OutOfRange: ``alpha`` not between 0 and 1, or a reading that is not a finite number.

    Shapes: ``(n,)``. Holds for: as `grubbs_statistic`. Use it once; repeating it on what is left is another
    test with other critical values.
    Source: NIST/SEMATECH e-Handbook 1.3.5.17.1. Checked in: tests/published/test_grubbs.py.

    >>> grubbs_test([3.0, 3.1, 2.9, 12.5]).is_outlier
    True
    >>> grubbs_test([3.0, 12.5]) is None
    True
    """
    array = row("values", values, "1")
    if array.size < 3:
        return None
    distances = _distances(array, side)
    critical = grubbs_critical(array.size, alpha=alpha, side=side)
    return GrubbsTest(int(distances.argmax()), float(distances.max()), critical)


def scatter_seen_through(n: int, *, alpha: float = 0.05, side: Side = "both") -> float:
    r"""
    How much the others may scatter for the odd one to stand apart: what so few readings can tell.

    .. math:: \frac{s_r}{D} = \sqrt{\frac{1}{n - 2}
        \left(\frac{(n - 1)^3}{n^2 G_c^2} - \frac{n - 1}{n}\right)}

    Args:
        n: Number of readings, the odd one among them. [count]
        alpha: Significance: chance of calling a good set bad. [1]
        side: Which end is looked at: "both", "high" or "low". [word]

    Returns:
        Standard deviation of the others over the distance of the odd one from their mean; with less of it
        the odd one stands apart. [1]

    Raises:
        OutOfRange: ``n`` below 3, or ``alpha`` not between 0 and 1.

    Shapes: scalars. Holds for: one odd reading.
    Source: Grubbs' statistic of a set with one odd reading, solved for the scatter of the rest.
    Checked in: tests/published/test_grubbs.py.

    >>> round(scatter_seen_through(4), 3)
    0.098
    """
    critical = grubbs_critical(n, alpha=alpha, side=side)
    share = (n - 1) ** 3 / (n * critical) ** 2 - (n - 1) / n
    return math.sqrt(max(0.0, share) / (n - 2))
