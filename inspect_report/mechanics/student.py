"""Turns probabilities into points of Student's t distribution, and back, for small numbers of readings."""

import math
from functools import lru_cache
from statistics import NormalDist

from inspect_report.mechanics.errors import require

_SMALLEST = 1e-300
_MOST_TERMS = 10_000
_MOST_STEPS = 200
_CLOSE = 1e-13


def _beta_fraction(x: float, a: float, b: float) -> float:
    """Continued fraction of the incomplete beta function, by Lentz's method."""
    c, d = 1.0, 1.0 / _not_zero(1.0 - (a + b) * x / (a + 1.0))
    value = d
    for m in range(1, _MOST_TERMS):
        even = m * (b - m) * x / ((a + 2 * m - 1.0) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1.0))
        before = value
        for term in (even, odd):
            c = _not_zero(1.0 + term / c)
            d = 1.0 / _not_zero(1.0 + term * d)
            value *= c * d
        if math.isclose(value, before, rel_tol=1e-15):
            break
    return value


def _not_zero(value: float) -> float:
    return value if abs(value) > _SMALLEST else _SMALLEST


def _incomplete_beta(x: float, rest: float, a: float, b: float) -> float:
    """
    Regularised incomplete beta function at x, where rest is 1 - x without loss of digits.

    The continued fraction converges fast on the shorter side alone.
    """
    if x == 0.0 or rest == 0.0:
        return float(rest == 0.0)
    if x > (a + 1.0) / (a + b + 2.0):
        return 1.0 - _incomplete_beta(rest, x, b, a)
    log_power = a * math.log(x) + b * math.log(rest)
    front = math.exp(math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + log_power)
    return front * _beta_fraction(x, a, b) / a


def t_tail(t: float, dof: float) -> float:
    r"""
    Probability that Student's t exceeds a value.

    .. math:: P(T > t) = \tfrac12 I_{\nu / (\nu + t^2)}(\nu/2, 1/2), \quad t \ge 0

    Args:
        t: Value of t. [1]
        dof: Degrees of freedom, need not be whole; infinite for the normal law. [1]

    Returns:
        Upper tail probability. [1]

    Raises:
        OutOfRange: ``dof`` not above 0, or ``t`` is not a finite number.

    Shapes: scalars. Holds for: 0 to about a million degrees of freedom, and infinity.
    Source: Abramowitz and Stegun 26.7.1, from memory. Checked in: tests/published/test_student_t.py.

    >>> round(t_tail(2.921, 16), 4)
    0.005
    """
    require("t", t, "1")
    require("dof", min(dof, 1e300), "1", above=0.0)
    if math.isinf(dof):
        return math.erfc(t / math.sqrt(2.0)) / 2.0
    total = dof + t * t
    half = _incomplete_beta(dof / total, t * t / total, dof / 2.0, 0.5) / 2.0
    return half if t >= 0.0 else 1.0 - half


def t_quantile(probability: float, dof: float) -> float:
    r"""
    Value that Student's t stays below with a given probability.

    .. math:: P(T \le t_p) = p

    Args:
        probability: Probability. [1]
        dof: Degrees of freedom, need not be whole; infinite for the normal law. [1]

    Returns:
        Quantile. [1]

    Raises:
        OutOfRange: ``probability`` not between 0 and 1, or ``dof`` not above 0.

    Shapes: scalars. Holds for: as `t_tail`.
    Source: inverse of `t_tail`. Checked in: tests/published/test_student_t.py.

    >>> round(t_quantile(0.995, 16), 3)
    2.921
    """
    require("probability", probability, "1", above=0.0, below=1.0)
    require("dof", min(dof, 1e300), "1", above=0.0)
    if math.isinf(dof):
        return NormalDist().inv_cdf(probability)
    size = _upper_point(min(probability, 1.0 - probability), dof)
    return size if probability >= 0.5 else -size


@lru_cache(maxsize=4096)
def _upper_point(tail: float, dof: float) -> float:
    """The t at or above 0 with the given upper tail: Newton's steps, halved where they leave the bracket."""
    low, high = 0.0, 1.0
    while t_tail(high, dof) > tail:
        low, high = high, 2.0 * high
    t = (low + high) / 2.0
    for _ in range(_MOST_STEPS):
        over = t_tail(t, dof) - tail
        low, high = (t, high) if over > 0.0 else (low, t)
        before, t = t, t + over / _density(t, dof)
        if not low <= t <= high:
            t = (low + high) / 2.0
        if abs(t - before) <= _CLOSE * t:
            break
    return t


def _density(t: float, dof: float) -> float:
    log_front = math.lgamma((dof + 1.0) / 2.0) - math.lgamma(dof / 2.0) - math.log(dof * math.pi) / 2.0
    return max(_SMALLEST, math.exp(log_front - (dof + 1.0) / 2.0 * math.log1p(t * t / dof)))
