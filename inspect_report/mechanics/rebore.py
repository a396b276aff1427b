"""Turns a worn bore and the oversizes on sale into the metal each step leaves, and the step to bore to."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from inspect_report.mechanics.errors import require

HONING_ALLOWANCE = 0.05e-3
"""Diameter to be left for honing once the boring bar has cut everywhere; common practice. [m]"""


@dataclass(frozen=True, slots=True)
class Oversize:
    """
    What boring to one oversize would leave to cut.

    Attributes:
        step: Oversize over the nominal bore. [m]
        bore: Finished diameter. [m]
        metal: Diameter left to cut at the most worn place. [m]
        metal_one_sided: The same where all wear lies on one side and the old axis is kept. [m]
        cleans_up: Whether the most worn place still has the honing allowance. [yes or no]
    """

    step: float
    bore: float
    metal: float
    metal_one_sided: float
    cleans_up: bool


def least_oversize(largest: float, unworn: float, *, allowance: float = HONING_ALLOWANCE) -> float:
    r"""
    Smallest growth of a bore that leaves metal to cut at its most worn place.

    .. math:: g = \max d - d_0 + a

    Args:
        largest: Largest reading of the bore. [m]
        unworn: Diameter when new, at the standard size. [m]
        allowance: Diameter to be left for honing. [m]

    Returns:
        Growth needed over the unworn diameter. [m]

    Raises:
        OutOfRange: a diameter not above 0, or ``allowance`` below 0.

    Shapes: scalars. Holds for: wear that lies evenly on both sides, or a bar centred on the worn bore.
    Source: common practice. Checked in: tests/mechanics/test_rebore.py.

    >>> round(least_oversize(67.097e-3, 67e-3) * 1e3, 3)
    0.147
    """
    require("largest", largest, "m", above=0.0)
    require("unworn", unworn, "m", above=0.0)
    require("allowance", allowance, "m", at_least=0.0)
    return largest - unworn + allowance


def oversizes(
    steps: Iterable[float], *, largest: float, unworn: float, allowance: float = HONING_ALLOWANCE
) -> tuple[Oversize, ...]:
    r"""
    What every oversize on sale would leave to cut, smallest first.

    .. math:: m = d_0 + s - \max d, \quad m_1 = d_0 + s + d_0 - 2 \max d

    A gauge of two points cannot tell wear on one side from wear on both; the second figure is the worst case.

    Args:
        steps: Oversizes on sale. [m]
        largest: Largest reading of the bore. [m]
        unworn: Diameter when new, at the standard size. [m]
        allowance: Diameter to be left for honing, itself enough. [m]

    Returns:
        One row for each step. [Oversize]

    Raises:
        OutOfRange: a step not above 0, or as `least_oversize`.

    Shapes: ``(n_steps,)`` in and out. Holds for: one bore; take the most worn one of an engine.
    Source: definitions; allowance common practice. Checked in: tests/mechanics/test_rebore.py.

    >>> [row.cleans_up for row in oversizes([0.5e-3, 0.1e-3], largest=67.097e-3, unworn=67e-3)]
    [False, True]
    """
    needed = least_oversize(largest, unworn, allowance=allowance)

    def row(step: float) -> Oversize:
        require("step", step, "m", above=0.0)
        bore = unworn + step
        enough = step >= needed or math.isclose(step, needed, rel_tol=1e-9)
        return Oversize(step, bore, bore - largest, bore + unworn - 2.0 * largest, cleans_up=enough)

    return tuple(row(step) for step in sorted(steps))


def oversize_to_fit(rows: Iterable[Oversize]) -> Oversize | None:
    r"""
    Smallest oversize that leaves metal everywhere.

    .. math:: \min \{ s : d_0 + s - \max d \ge a \}

    Args:
        rows: Rows of `oversizes`. [Oversize]

    Returns:
        The row to bore to, None where no step cleans the bore up. [Oversize]

    Shapes: ``(n_steps,)`` in, one out. Holds for: as `oversizes`.
    Source: common practice. Checked in: tests/mechanics/test_rebore.py.

    >>> oversize_to_fit(oversizes([0.05e-3], largest=67.097e-3, unworn=67e-3)) is None
    True
    """
    return min((row for row in rows if row.cleans_up), key=lambda row: row.step, default=None)
