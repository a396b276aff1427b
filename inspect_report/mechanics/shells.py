"""Turns the size of a housing or journal into its class in a table by which bearing shells are selected."""

from collections.abc import Sequence

import numpy as np

from inspect_report.mechanics.arrays import Array, row
from inspect_report.mechanics.errors import require

NOISE = 1e-9


def size_class(size: float, lows: Sequence[float], highs: Sequence[float]) -> int | None:
    r"""
    Which class of a selection table a size belongs to.

    .. math:: \min \{ i : l_i \le d \le h_i \}

    Args:
        size: Diameter of a housing or a journal. [m]
        lows: Least diameter of each class, itself inside. [m]
        highs: Greatest diameter of each class, itself inside. [m]

    Returns:
        Number of the first class that holds the size, from 0; None where none does. [count]

    Raises:
        OutOfRange: ``size`` not above 0, no class, other than one upper for each lower end, or an upper end
            below its lower one.

    Shapes: ``(n_classes,)``, one out. Holds for: classes of one part, in the order of the table.
    Source: selection tables of repair manuals, common practice. Checked in: tests/mechanics/test_shells.py.

    >>> size_class(31.987e-3, [31.992e-3, 31.984e-3], [32.000e-3, 31.992e-3])
    1
    """
    low, high = _ends(size, lows, highs)
    inside = (size >= low - NOISE * size) & (size <= high + NOISE * size)
    return int(np.argmax(inside)) if inside.any() else None


def class_margin(size: float, lows: Sequence[float], highs: Sequence[float]) -> float:
    r"""
    How far a size lies inside its class, or outside every class of a selection table.

    .. math:: m = \max_i \min(d - l_i, h_i - d)

    Args:
        size: Diameter of a housing or a journal. [m]
        lows: Least diameter of each class. [m]
        highs: Greatest diameter of each class. [m]

    Returns:
        Distance to the nearest edge of the class; below 0 how far the size is from every class. [m]

    Raises:
        OutOfRange: as `size_class`.

    Shapes: ``(n_classes,)``, one out. Holds for: as `size_class`.
    Source: definition. Checked in: tests/mechanics/test_shells.py.

    >>> round(class_margin(31.987e-3, [31.992e-3, 31.984e-3], [32.000e-3, 31.992e-3]) * 1e3, 3)
    0.003
    """
    low, high = _ends(size, lows, highs)
    return float(np.minimum(size - low, high - size).max())


def _ends(size: float, lows: Sequence[float], highs: Sequence[float]) -> tuple[Array, Array]:
    require("size", size, "m", above=0.0)
    low, high = row("lows", lows, "m"), row("highs", highs, "m")
    require("number of highs", high.size, "1", at_least=low.size, at_most=low.size)
    require("highs", high, "m", at_least=low)
    return low, high
