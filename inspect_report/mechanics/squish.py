"""Turns gasket thicknesses and deck height into squish gaps, gasket volumes, grades and spreads."""

import math

from inspect_report.mechanics.arrays import Readings, row
from inspect_report.mechanics.errors import require


def squish_gap(gasket_thickness: float, deck_height: float) -> float:
    r"""
    Least distance between the piston's edge and the head at top dead centre.

    .. math:: s = t_g + h

    Args:
        gasket_thickness: Compressed thickness of the head gasket. [m]
        deck_height: Depth of the piston below the barrel's face, negative where it stands above. [m]

    Returns:
        Squish gap; 0 or less means the piston would touch. [m]

    Raises:
        OutOfRange: ``gasket_thickness`` not above 0.

    Shapes: scalars. Holds for: flat squish band in line with the head's face, engine at rest.
    Source: definition. Checked in: tests/published/test_engine_geometry.py.

    >>> round(squish_gap(0.0005, 0.0004) * 1e3, 3)
    0.9
    """
    require("gasket_thickness", gasket_thickness, "m", above=0.0)
    require("deck_height", deck_height, "m")
    return gasket_thickness + deck_height


def grade_difference(measured: float, nominal: float) -> float:
    r"""
    How much thicker a crushed gasket is than its grade is sold as.

    .. math:: \Delta t = t_m - t_n

    Args:
        measured: Thickness of the gasket that was clamped, mean of several places. [m]
        nominal: Thickness when clamped, as its grade is sold. [m]

    Returns:
        Difference; below 0 the gasket was crushed to less. [m]

    Raises:
        OutOfRange: a thickness not above 0.

    Shapes: scalars. Holds for: gaskets that keep their shape when the head comes off; soft ones spring back.
    Source: definition. Checked in: tests/mechanics/test_squish.py.

    >>> round(grade_difference(0.548e-3, 0.55e-3) * 1e3, 3)
    -0.002
    """
    require("measured", measured, "m", above=0.0)
    require("nominal", nominal, "m", above=0.0)
    return measured - nominal


def nearest_grade(measured: float, thicknesses: Readings) -> float:
    r"""
    Thickness on sale that is nearest to a measured one, the thinner of two as near.

    .. math:: \arg\min_t |t_m - t|

    Args:
        measured: Thickness of the gasket that was clamped. [m]
        thicknesses: Thicknesses on sale. [m]

    Returns:
        The nearest thickness. [m]

    Raises:
        OutOfRange: a thickness not above 0, or none on sale.

    Shapes: ``(n_grades,)``, one out. Holds for: as `grade_difference`.
    Source: definition. Checked in: tests/mechanics/test_squish.py.

    >>> nearest_grade(0.58e-3, [0.50e-3, 0.55e-3, 0.65e-3])
    0.00055
    """
    require("measured", measured, "m", above=0.0)
    on_sale = row("thicknesses", thicknesses, "m")
    require("thicknesses", on_sale, "m", above=0.0)
    nearest: float = min(sorted(on_sale.tolist()), key=lambda thickness: abs(measured - thickness))
    return nearest


def spread(values: Readings) -> float:
    r"""
    Greatest less least of some like values: chambers, ratios, points of one deck.

    .. math:: s = \max x_i - \min x_i

    Args:
        values: One value for each part or place. [x]

    Returns:
        Spread. [x]

    Raises:
        OutOfRange: fewer than two values.

    Shapes: ``(n,)``. Holds for: any like values.
    Source: definition. Checked in: tests/mechanics/test_squish.py.

    >>> round(spread([12.6, 12.5, 12.7]), 3)
    0.2
    """
    array = row("values", values, "1", at_least=2)
    return float(array.max() - array.min())


def gasket_volume(gasket_bore: float, gasket_thickness: float) -> float:
    r"""
    Volume inside the fire ring of a compressed head gasket.

    .. math:: V_g = \frac{\pi}{4} d_g^2 t_g

    Args:
        gasket_bore: Diameter inside the fire ring. [m]
        gasket_thickness: Compressed thickness. [m]

    Returns:
        Gasket volume. [m3]

    Raises:
        OutOfRange: ``gasket_bore`` or ``gasket_thickness`` not above 0.

    Shapes: scalars. Holds for: round fire ring.
    Source: definition. Checked in: tests/published/test_engine_geometry.py.

    >>> round(gasket_volume(0.0872, 0.0015) * 1e6, 3)
    8.958
    """
    require("gasket_bore", gasket_bore, "m", above=0.0)
    require("gasket_thickness", gasket_thickness, "m", above=0.0)
    return math.pi / 4.0 * gasket_bore**2 * gasket_thickness
