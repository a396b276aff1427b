"""Turns chances into all that can happen, or draws of it, alike on every machine, and these into points."""

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from inspect_report.mechanics.arrays import Readings, row
from inspect_report.mechanics.errors import require

Happens = NDArray[np.bool_]
Fractions = NDArray[np.float64]
_HALF_WORD: Final = 2**32


def happenings(chances: Readings, draws: int, seed: int) -> Happens:
    r"""
    Which of several independent events happen in each of many draws.

    .. math:: e_{ij} = (u_{ij} < p_i), \quad u_{ij} \sim U(0, 1)

    The bits of the generator, 32 a draw, are compared with the chance as whole numbers, so that no library's
    way of making fractions plays a part. A higher chance keeps every draw in which the event
    happened with a lower one.

    Args:
        chances: Probability of each event. [1]
        draws: How many draws. [count]
        seed: Start of the generator; one seed gives one answer. [count]

    Returns:
        Whether each event happens in each draw. [yes or no]

    Raises:
        OutOfRange: a chance outside 0 … 1, no chance at all, fewer than one draw, or a seed below 0.

    Shapes: ``(n_events,)`` in, ``(n_events, n_draws)`` out. Holds for: events that do not depend on each
    other; a chance counts to 2⁻³². The relative frequency of an event scatters by ``sqrt(p (1 - p) / n)``
    around its chance.
    Source: plain Monte Carlo simulation, as in JCGM 101:2008 chapter 7 (from memory); generator PCG64
    (O'Neill 2014, from memory), whose stream of bits numpy promises to keep.
    Checked in: tests/mechanics/test_draws.py.

    >>> happenings([0.0, 1.0], 3, 1).tolist()
    [[False, False, False], [True, True, True]]
    """
    p = row("chances", chances, "1")
    require("chances", p, "1", at_least=0.0, at_most=1.0)
    require("draws", draws, "1", at_least=1)
    require("seed", seed, "1", at_least=0)
    # Imported here: the generators take longer to load than most calls that need none.
    from numpy.random import PCG64

    count = p.size * int(draws)
    words = PCG64(int(seed)).random_raw((count + 1) // 2).astype("<u8").view("<u4")[:count]
    halves = words.reshape(p.size, int(draws))
    below = np.minimum(p * _HALF_WORD, _HALF_WORD - 1).astype(np.uint32)
    happens: Happens = (halves < below[:, np.newaxis]) | (p == 1.0)[:, np.newaxis]
    return happens


def outcomes(chances: Readings) -> tuple[Happens, Fractions]:
    r"""
    Every set of some independent events that can happen, with its probability.

    .. math:: P(S) = \prod_{i \in S} p_i \prod_{i \notin S} (1 - p_i)

    Sets that cannot happen are left out.

    Args:
        chances: Probability of each event. [1]

    Returns:
        Whether each event happens in each set, and the probability of each set. [1]

    Raises:
        OutOfRange: a chance outside 0 … 1, no chance at all, or more than 16 of them.

    Shapes: ``(n_events,)`` in, ``(n_events, n_sets)`` and ``(n_sets,)`` out, at most 2 to the power of
    n_events sets. Holds for: events that do not depend on each other.
    Source: product rule for independent events. Checked in: tests/mechanics/test_draws.py.

    >>> outcomes([0.25, 1.0])
    (array([[False,  True],
           [ True,  True]]), array([0.75, 0.25]))
    """
    p = row("chances", chances, "1")
    require("chances", p, "1", at_least=0.0, at_most=1.0)
    require("number of chances", p.size, "1", at_most=16)
    sets = (np.arange(2**p.size) >> np.arange(p.size)[:, np.newaxis]) & 1 == 1
    weights = np.where(sets, p[:, np.newaxis], 1.0 - p[:, np.newaxis]).prod(axis=0)
    return sets[:, weights > 0.0], weights[weights > 0.0]


def weighted_point(values: Readings, weights: Readings, share: float) -> float:
    r"""
    The smallest of several values that at least a share of their weight does not exceed.

    .. math:: \min \left\{ x_k : \sum_{x_i \le x_k} w_i \ge s \sum_i w_i \right\}

    Args:
        values: Values in any order. [x]
        weights: The weight of each. [1]
        share: Share that does not exceed the point: 0.9 for the 90 percent point. [1]

    Returns:
        That value. [x]

    Raises:
        OutOfRange: no value, one that is no finite number, a weight of 0 or below, or a share not
            above 0 and at most 1.

    Shapes: ``(n,)`` and ``(n,)`` in, scalar out. Holds for: any values.
    Source: inverse of a distribution function. Checked in: tests/mechanics/test_draws.py.

    >>> weighted_point([5.0, 1.0, 4.0], [0.1, 0.6, 0.3], 0.9)
    4.0
    """
    require("share", share, "1", above=0.0, at_most=1.0)
    numbers, heavy = row("values", values, "x"), row("weights", weights, "1")
    require("weights", heavy, "1", above=0.0)
    order = np.argsort(numbers, kind="stable")
    reached = np.cumsum(heavy[order])
    # Sums of floats end a hair beside their decimal value; that must not move the point by one.
    place = int(np.searchsorted(reached, (share - 1e-9) * reached[-1]))
    return float(numbers[order][place])


def point_of_order(values: Readings, share: float) -> float:
    r"""
    The smallest of several values that at least a share of them does not exceed.

    .. math:: x_{(k)}, \quad k = \lceil n s \rceil

    It is one of the values, never one between two of them.

    Args:
        values: Values in any order. [x]
        share: Share that does not exceed the point: 0.9 for the 90 percent point. [1]

    Returns:
        That value. [x]

    Raises:
        OutOfRange: no value, one that is no finite number, or a share not above 0 and at most 1.

    Shapes: ``(n,)`` in, scalar out. Holds for: any values.
    Source: inverse of the empirical distribution function, definition 1 of Hyndman and Fan 1996 (from
    memory). Checked in: tests/mechanics/test_draws.py.

    >>> point_of_order([5.0, 1.0, 4.0, 2.0, 3.0], 0.9)
    5.0
    """
    require("share", share, "1", above=0.0, at_most=1.0)
    numbers = np.asarray(values, dtype=np.float64)
    if numbers.ndim != 1 or not numbers.size or not np.isfinite(numbers).all():
        row("values", values, "x")  # looks at one number after the other, to say which is at fault
    # A share such as 0.1 lies a hair above its decimal value; that must not move the point by one.
    rank = max(1, math.ceil(numbers.size * share - 1e-9))
    return float(np.partition(numbers, rank - 1)[rank - 1])
