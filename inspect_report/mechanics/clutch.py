"""Turns the plates of a clutch into the thickness of the pack and what it has lost."""

from inspect_report.mechanics.arrays import Readings, row
from inspect_report.mechanics.errors import require


def pack_thickness(plates: Readings) -> float:
    r"""
    Thickness of all plates laid on each other.

    .. math:: H = \sum_i t_i

    Args:
        plates: Thickness of each plate. [m]

    Returns:
        Thickness of the pack. [m]

    Raises:
        OutOfRange: no plate, or one not above 0.

    Shapes: ``(n_plates,)``. Holds for: flat plates; warp and oil film add to a pack that is not pressed.
    Source: definition. Checked in: tests/mechanics/test_clutch.py.

    >>> round(pack_thickness([2.9e-3, 2.8e-3, 1.6e-3]) * 1e3, 3)
    7.3
    """
    thicknesses = row("plates", plates, "m")
    require("plates", thicknesses, "m", above=0.0)
    return float(thicknesses.sum())


def pack_wear(plates: Readings, new: float) -> float:
    r"""
    What a pack has lost of its thickness when new.

    .. math:: w = H_0 - \sum_i t_i

    Args:
        plates: Thickness of each plate. [m]
        new: Thickness of the whole pack when new. [m]

    Returns:
        Wear of the pack; below 0 it is thicker than new. [m]

    Raises:
        OutOfRange: ``new`` not above 0, or as `pack_thickness`.

    Shapes: ``(n_plates,)``. Holds for: as `pack_thickness`.
    Source: definition. Checked in: tests/mechanics/test_clutch.py.

    >>> round(pack_wear([2.9e-3, 2.8e-3], 6e-3) * 1e3, 3)
    0.3
    """
    require("new", new, "m", above=0.0)
    return new - pack_thickness(plates)
