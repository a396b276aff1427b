"""Turns what a laboratory finds in used oil into how fast a metal is worn into it."""

from inspect_report.mechanics.errors import require


def wear_metal_rate(found: float, running_time: float, fresh: float = 0.0) -> float:
    r"""
    How fast a metal gathers in the oil.

    .. math:: r = (c - c_0) / t

    Args:
        found: Share of the metal in the used oil, by mass. [1]
        running_time: Time run on this oil. [s]
        fresh: Share of it in the oil as it was filled in. [1]

    Returns:
        Share gathered for each time run; below 0 there was more in the fresh oil. [1/s]

    Raises:
        OutOfRange: a share not in 0 to 1, or ``running_time`` not above 0.

    Shapes: scalars. Holds for: oil neither changed nor much topped up meanwhile; topping up thins the metal.
    Source: definition; the trend of used-oil analysis, common practice.
    Checked in: tests/mechanics/test_oil.py.

    >>> round(wear_metal_rate(84e-6, 40 * 3600.0) * 3600 * 1e6, 2)
    2.1
    """
    require("found", found, "1", at_least=0.0, at_most=1.0)
    require("fresh", fresh, "1", at_least=0.0, at_most=1.0)
    require("running_time", running_time, "s", above=0.0)
    return (found - fresh) / running_time
