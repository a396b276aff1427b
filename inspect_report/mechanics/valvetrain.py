"""Turns readings of the valve gear into the shim to fit, its gap, the shims left, and how springs stand."""

import math
from decimal import Decimal

from inspect_report.mechanics.errors import require

# Readings and sizes are decimals: a difference below this part of a shim's thickness is float noise.
_MOST_SIZES = 10_000


def shim_needed(fitted: float, measured: float, aim: float, *, lever: float = 1.0) -> float:
    r"""
    Shim thickness that would bring a valve clearance exactly to its aim.

    .. math:: t_{new} = t_{fitted} + k (g_{measured} - g_{aim})

    Args:
        fitted: Thickness of the shim in place. [m]
        measured: Clearance found. [m]
        aim: Clearance wanted. [m]
        lever: Valve lift over cam lift where a follower's gap is taken at the cam, else 1. [1]

    Returns:
        Thickness wanted, in general between two sizes on sale. [m]

    Raises:
        OutOfRange: ``fitted`` or ``lever`` not above 0, ``measured`` or ``aim`` below 0.

    Shapes: scalars. Holds for: cold engine, cam on its base circle. A valve with no gap at all may be held
    open, and needs a thinner shim than this says: fit a thin one and measure again.
    Source: shim rule of repair manuals. Checked in: tests/published/test_valve_shims.py.

    >>> round(shim_needed(2.80e-3, 0.45e-3, 0.25e-3) * 1e3, 6)
    3.0
    """
    require("fitted", fitted, "m", above=0.0)
    require("measured", measured, "m", at_least=0.0)
    require("aim", aim, "m", at_least=0.0)
    require("lever", lever, "1", above=0.0)
    return fitted + lever * (measured - aim)


def predicted_gap(fitted: float, measured: float, new: float, *, lever: float = 1.0) -> float:
    r"""
    Clearance to expect after one shim is exchanged for another.

    .. math:: g_{new} = g_{measured} + (t_{fitted} - t_{new}) / k

    Args:
        fitted: Thickness of the shim in place. [m]
        measured: Clearance found with it. [m]
        new: Thickness of the shim to fit. [m]
        lever: Valve lift over cam lift where a follower's gap is taken at the cam, else 1. [1]

    Returns:
        Clearance to expect; 0 or less means the valve would be held open. [m]

    Raises:
        OutOfRange: ``fitted``, ``new`` or ``lever`` not above 0, ``measured`` below 0.

    Shapes: scalars. Holds for: as `shim_needed`.
    Source: shim rule of repair manuals. Checked in: tests/published/test_valve_shims.py.

    >>> round(predicted_gap(2.95e-3, 0.47e-3, 3.15e-3) * 1e3, 6)
    0.27
    """
    require("fitted", fitted, "m", above=0.0)
    require("measured", measured, "m", at_least=0.0)
    require("new", new, "m", above=0.0)
    require("lever", lever, "1", above=0.0)
    return measured + (fitted - new) / lever


def shim_sizes(first: float, last: float, step: float) -> tuple[float, ...]:
    r"""
    Every shim thickness on sale, from a first, a last and a step.

    .. math:: t_i = t_{first} + i \, \Delta t \le t_{last}

    Args:
        first: Thinnest size. [m]
        last: Thickest size. [m]
        step: Difference between neighbours. [m]

    Returns:
        Sizes as exact decimals, thinnest first, ``last`` included where the steps meet it. [m]

    Raises:
        OutOfRange: ``first`` or ``step`` not above 0, ``last`` below ``first``, or above 10 000 sizes.

    Shapes: scalars in, ``(n_sizes,)`` out. Holds for: evenly stepped sizes.
    Source: definition. Checked in: tests/published/test_valve_shims.py.

    >>> [round(size * 1e3, 3) for size in shim_sizes(1.2e-3, 1.3e-3, 0.025e-3)]
    [1.2, 1.225, 1.25, 1.275, 1.3]
    """
    require("first", first, "m", above=0.0)
    require("last", last, "m", at_least=first)
    require("step", step, "m", above=0.0)
    start, stop, stride = (_decimal(value) for value in (first, last, step))
    # A last size that the steps miss by a hair of binary noise is met all the same.
    count = int((stop - start) / stride + Decimal("1e-6")) + 1
    require("number of sizes", count, "1", at_most=_MOST_SIZES)
    return tuple(float(start + i * stride) for i in range(count))


def _decimal(value: float) -> Decimal:
    """The decimal a person wrote, freed of binary noise (twelve digits are far beyond any shim)."""
    return Decimal(f"{value:.12g}")


def shim_range_left(
    fitted: float, measured: float, *, aim: float, thinnest: float, lever: float = 1.0
) -> float:
    r"""
    How much thinner shims can still become before no size on sale closes on the aim.

    The shim wanted does not change when shims are changed, as the gap does: over inspections it follows the
    valve alone, so that its fall is the speed at which face and seat wear.

    .. math:: s = t_{fitted} + k (g_{measured} - g_{aim}) - t_{thinnest}

    Args:
        fitted: Thickness of the shim in place. [m]
        measured: Clearance found with it. [m]
        aim: Clearance wanted. [m]
        thinnest: Thinnest size on sale. [m]
        lever: Valve lift over cam lift where a follower's gap is taken at the cam, else 1. [1]

    Returns:
        Thickness left; 0 or less means that face, seat or stem tip need work. [m]

    Raises:
        OutOfRange: ``thinnest`` not above 0, or as `shim_needed`.

    Shapes: scalars. Holds for: as `shim_needed`; valves that move towards their camshaft as they wear.
    Source: shim rule of repair manuals. Checked in: tests/published/test_valve_shims.py.

    >>> round(shim_range_left(2.80e-3, 0.45e-3, aim=0.25e-3, thinnest=2.50e-3) * 1e3, 6)
    0.5
    """
    require("thinnest", thinnest, "m", above=0.0)
    return shim_needed(fitted, measured, aim, lever=lever) - thinnest


def spring_lean(out_of_square: float, free_length: float) -> float:
    r"""
    Angle by which a spring that stands on a plate leans.

    .. math:: \alpha = \arctan(s / L_0)

    Args:
        out_of_square: Gap between a square and the spring's upper end. [m]
        free_length: Length of the spring without load. [m]

    Returns:
        Lean. [deg]

    Raises:
        OutOfRange: ``out_of_square`` below 0, ``free_length`` not above 0.

    Shapes: scalars. Holds for: the upper end read against a square on the plate the lower end stands on.
    Source: geometry. Checked in: tests/published/test_valve_springs.py.

    >>> round(spring_lean(1.7e-3, 38.9e-3), 2)
    2.5
    """
    require("out_of_square", out_of_square, "m", at_least=0.0)
    require("free_length", free_length, "m", above=0.0)
    return math.degrees(math.atan2(out_of_square, free_length))


def spring_loss(found: float, new: float) -> float:
    r"""
    Share of its load, or of its free length, that a spring has lost.

    .. math:: l = 1 - x / x_{new}

    Args:
        found: Load at the fitted length, or free length. [x]
        new: The same when new. [x]

    Returns:
        Loss; below 0 for a spring above its new size. [1]

    Raises:
        OutOfRange: ``found`` below 0, ``new`` not above 0.

    Shapes: scalars. Holds for: both read at one length, or both without load.
    Source: definition. Checked in: tests/published/test_valve_springs.py.

    >>> round(spring_loss(180.0, 200.0), 6)
    0.1
    """
    require("found", found, "1", at_least=0.0)
    require("new", new, "1", above=0.0)
    return 1.0 - found / new
