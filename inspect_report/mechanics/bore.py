"""Turns diameters taken at several heights and axes into wear, taper, out-of-round and clearances."""

import math

import numpy as np

from inspect_report.mechanics.arrays import Grid, diameter_grid
from inspect_report.mechanics.errors import require


def wear(diameters: Grid, unworn: float) -> float:
    r"""
    Growth of a bore at its most worn place.

    .. math:: w = \max d_{ha} - d_0

    Args:
        diameters: Bore readings, heights by axes. [m]
        unworn: Diameter to compare with: nominal, or read below the ring travel. [m]

    Returns:
        Wear; below 0 the bore is smaller than what it is compared with. [m]

    Raises:
        OutOfRange: a diameter not above 0, or no reading.

    Shapes: ``(n_heights, n_axes)``. Holds for: any round bore.
    Source: definition. Checked in: tests/published/test_bore_geometry.py.

    >>> round(wear([[67.06e-3, 67.04e-3], [67.02e-3, 67.01e-3]], 67e-3) * 1e3, 3)
    0.06
    """
    require("unworn", unworn, "m", above=0.0)
    return float(diameter_grid(diameters).max()) - unworn


def taper(diameters: Grid) -> float:
    r"""
    Worst change of diameter along one axis.

    .. math:: t = \max_a (\max_h d_{ha} - \min_h d_{ha})

    Args:
        diameters: Readings, heights by axes. [m]

    Returns:
        Taper as a difference of diameters. [m]

    Raises:
        OutOfRange: a diameter not above 0, or fewer than two heights.

    Shapes: ``(n_heights, n_axes)``. Holds for: bores and journals.
    Source: two-point method of repair manuals. Checked in: tests/published/test_bore_geometry.py.

    >>> round(taper([[67.06e-3, 67.04e-3], [67.02e-3, 67.01e-3]]) * 1e3, 3)
    0.04
    """
    return float(np.ptp(diameter_grid(diameters, heights=2), axis=0).max())


def out_of_round(diameters: Grid) -> float:
    r"""
    Worst difference between axes at one height.

    .. math:: o = \max_h (\max_a d_{ha} - \min_a d_{ha})

    Args:
        diameters: Readings, heights by axes. [m]

    Returns:
        Two-point out-of-round as a difference of diameters. [m]

    Raises:
        OutOfRange: a diameter not above 0, or fewer than two axes.

    Shapes: ``(n_heights, n_axes)``. Holds for: bores and journals. Two points do not see a form with an odd
    number of lobes, and show twice the radial roundness deviation of an oval.
    Source: two-point method of repair manuals. Checked in: tests/published/test_bore_geometry.py.

    >>> round(out_of_round([[67.06e-3, 67.04e-3], [67.02e-3, 67.01e-3]]) * 1e3, 3)
    0.02
    """
    return float(np.ptp(diameter_grid(diameters, axes=2), axis=1).max())


def piston_clearance(diameters: Grid, skirt: float) -> float:
    r"""
    Play of a piston in its bore, square to its pin, where the skirt is widest.

    .. math:: c = \min d_{ha} - d_p

    Args:
        diameters: Bore readings square to the pin, at the height the maker names; the least counts. [m]
        skirt: Diameter of the skirt square to the pin, at the height the maker names. [m]

    Returns:
        Clearance, below 0 an interference. [m]

    Raises:
        OutOfRange: a diameter not above 0, or no reading.

    Shapes: ``(n_heights, n_axes)``. Holds for: piston and bore at one temperature.
    Source: definition; direction: repair manuals. Checked in: tests/published/test_bore_geometry.py.

    >>> round(piston_clearance([[67.02e-3]], 66.97e-3) * 1e3, 3)
    0.05
    """
    require("skirt", skirt, "m", above=0.0)
    return float(diameter_grid(diameters).min()) - skirt


def ring_gap_growth(diameter_growth: float) -> float:
    r"""
    How much a ring's end gap opens when its bore grows.

    .. math:: \Delta g = \pi \, \Delta d

    Args:
        diameter_growth: Growth of the bore's diameter, not of its radius. [m]

    Returns:
        Growth of the end gap; negative for a smaller bore. [m]

    Raises:
        OutOfRange: ``diameter_growth`` is not a finite number.

    Shapes: scalars. Holds for: the ring itself unworn.
    Source: circumference of a circle. Checked in: tests/published/test_ring_gaps.py.

    >>> round(ring_gap_growth(0.05e-3) * 1e3, 3)
    0.157
    """
    require("diameter_growth", diameter_growth, "m")
    return math.pi * diameter_growth


def side_clearance(groove_width: float, ring_thickness: float) -> float:
    r"""
    Play of a ring in the height of its groove.

    .. math:: c = b_{groove} - b_{ring}

    Args:
        groove_width: Height of the groove, clean. [m]
        ring_thickness: Height of the ring. [m]

    Returns:
        Side clearance, below 0 an interference. [m]

    Raises:
        OutOfRange: an argument not above 0.

    Shapes: scalars. Holds for: rings and grooves with parallel sides.
    Source: definition. Checked in: tests/mechanics/test_bore.py.

    >>> round(side_clearance(1.03e-3, 0.98e-3) * 1e3, 3)
    0.05
    """
    require("groove_width", groove_width, "m", above=0.0)
    require("ring_thickness", ring_thickness, "m", above=0.0)
    return groove_width - ring_thickness
