"""Turns diameters of journals, housings and shells into oil clearances and the journals' form errors."""

import math

from inspect_report.mechanics import bore
from inspect_report.mechanics.arrays import Grid
from inspect_report.mechanics.errors import require


def oil_clearance(bearing_bore: float, journal: float) -> float:
    r"""
    Play of a journal in its bearing with the shells fitted.

    .. math:: c = d_b - d_j

    Args:
        bearing_bore: Bore of the bearing, shells in and cap bolts at their torque. [m]
        journal: Diameter of the journal. [m]

    Returns:
        Oil clearance on the diameter, below 0 an interference. [m]

    Raises:
        OutOfRange: an argument not above 0.

    Shapes: scalars. Holds for: plain bearings, both parts at one temperature.
    Source: definition. Checked in: tests/mechanics/test_bearing.py.

    >>> round(oil_clearance(36.036e-3, 35.992e-3) * 1e3, 3)
    0.044
    """
    require("bearing_bore", bearing_bore, "m", above=0.0)
    require("journal", journal, "m", above=0.0)
    return bearing_bore - journal


def oil_clearance_from_shells(housing: float, shell_thickness: float, journal: float) -> float:
    r"""
    Play of a journal in its bearing, from the housing and the shells' thickness.

    .. math:: c = d_h - 2 t - d_j

    Args:
        housing: Bore of the housing without shells, cap bolts at their torque. [m]
        shell_thickness: Wall of one shell at its crown. [m]
        journal: Diameter of the journal. [m]

    Returns:
        Oil clearance on the diameter, below 0 an interference. [m]

    Raises:
        OutOfRange: an argument not above 0.

    Shapes: scalars. Holds for: two like shells; the crush of the shells is ignored.
    Source: definition. Checked in: tests/mechanics/test_bearing.py.

    >>> round(oil_clearance_from_shells(39.016e-3, 1.490e-3, 35.992e-3) * 1e3, 3)
    0.044
    """
    require("housing", housing, "m", above=0.0)
    require("shell_thickness", shell_thickness, "m", above=0.0)
    require("journal", journal, "m", above=0.0)
    return housing - 2.0 * shell_thickness - journal


def difference_of_ways(second: float, first: float) -> float:
    r"""
    One way to a quantity less another.

    .. math:: \Delta = x_2 - x_1

    Args:
        second: What the second way shows. [x]
        first: What the first way shows. [x]

    Returns:
        Difference; its uncertainty leaves out what both ways share. [x]

    Raises:
        OutOfRange: a number that is not finite.

    Shapes: scalars. Holds for: two ways to one quantity, at one place and one temperature.
    Source: definition. Checked in: tests/mechanics/test_bearing.py.

    >>> round(difference_of_ways(0.051e-3, 0.044e-3) * 1e6, 1)
    7.0
    """
    require("second", second, "1")
    require("first", first, "1")
    return second - first


def disagreement(difference: float, u: float) -> float:
    r"""
    Difference of two ways to one quantity, in joint standard uncertainties.

    .. math:: E = |x_1 - x_2| / u(x_1 - x_2)

    Args:
        difference: One way less the other. [x]
        u: Standard uncertainty of that difference, what both ways share left out. [x]

    Returns:
        Disagreement; up to 2 the ways agree, infinite where exact ways differ. [1]

    Raises:
        OutOfRange: ``u`` below 0, or a number that is not finite.

    Shapes: scalars. Holds for: differences near normal.
    Source: the comparison score of ISO 13528 and ISO/IEC 17043, there with expanded uncertainties and a bound
    of 1, from memory. Checked in: tests/mechanics/test_bearing.py.

    >>> round(disagreement(0.007e-3, 0.004e-3), 3)
    1.75
    """
    require("difference", difference, "1")
    require("u", u, "1", at_least=0.0)
    if u == 0.0:
        return 0.0 if difference == 0.0 else math.inf
    return abs(difference) / u


def journal_taper(diameters: Grid) -> float:
    r"""
    Worst change of a journal's diameter from one end to the other along one axis.

    .. math:: t = \max_a (\max_e d_{ea} - \min_e d_{ea})

    Args:
        diameters: Readings, ends by axes. [m]

    Returns:
        Taper as a difference of diameters. [m]

    Raises:
        OutOfRange: a diameter not above 0, or fewer than two ends.

    Shapes: ``(n_ends, n_axes)``. Holds for: main and crankpin journals.
    Source: as `inspect_report.mechanics.bore.taper`. Checked in: tests/mechanics/test_bearing.py.

    >>> round(journal_taper([[35.992e-3, 35.990e-3], [35.989e-3, 35.988e-3]]) * 1e3, 3)
    0.003
    """
    return bore.taper(diameters)


def journal_out_of_round(diameters: Grid) -> float:
    r"""
    Worst difference between two axes at one end of a journal.

    .. math:: o = \max_e (\max_a d_{ea} - \min_a d_{ea})

    Args:
        diameters: Readings, ends by axes. [m]

    Returns:
        Two-point out-of-round as a difference of diameters. [m]

    Raises:
        OutOfRange: a diameter not above 0, or fewer than two axes.

    Shapes: ``(n_ends, n_axes)``. Holds for: as `inspect_report.mechanics.bore.out_of_round`.
    Source: as `inspect_report.mechanics.bore.out_of_round`. Checked in: tests/mechanics/test_bearing.py.

    >>> round(journal_out_of_round([[35.992e-3, 35.990e-3], [35.989e-3, 35.988e-3]]) * 1e3, 3)
    0.002
    """
    return bore.out_of_round(diameters)
