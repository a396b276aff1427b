"""Turns the widths of grooves and of what runs in them into the play of selector forks and their pins."""

from inspect_report.mechanics.errors import require


def groove_clearance(groove: float, part: float) -> float:
    r"""
    Play of a fork in the groove of its gear, or of a fork's pin in the track of the drum.

    .. math:: c = b_g - b_p

    Args:
        groove: Width of the groove or track. [m]
        part: Thickness of the fork's finger, or diameter of the pin. [m]

    Returns:
        Clearance, below 0 an interference. [m]

    Raises:
        OutOfRange: an argument not above 0.

    Shapes: scalars. Holds for: faces that are parallel; worn ones are read at the widest and thinnest place.
    Source: definition. Checked in: tests/mechanics/test_gearbox.py.

    >>> round(groove_clearance(6.12e-3, 5.93e-3) * 1e3, 3)
    0.19
    """
    require("groove", groove, "m", above=0.0)
    require("part", part, "m", above=0.0)
    return groove - part
