"""Turns diameters taken at several heights into the form of a bore: barrel, waist, bell or taper."""

from inspect_report.mechanics.arrays import Array, Grid, diameter_grid
from inspect_report.mechanics.errors import require


def bulge(diameters: Grid) -> float:
    r"""
    How much wider a bore is between its ends than at them, the axes of each height averaged.

    .. math:: b = \bar d_{inner} - (\bar d_{top} + \bar d_{bottom}) / 2

    Args:
        diameters: Readings, heights from top to bottom by axes. [m]

    Returns:
        Bulge as a difference of diameters; below 0 the bore is narrower between its ends. [m]

    Raises:
        OutOfRange: a diameter not above 0, or fewer than three heights.

    Shapes: ``(n_heights, n_axes)``. Holds for: heights spread evenly over the ring travel.
    Source: definition; barrel and waist are words of the trade. Checked in: tests/mechanics/test_boreform.py.

    >>> round(bulge([[67.01e-3, 67.01e-3], [67.04e-3, 67.03e-3], [67.00e-3, 67.01e-3]]) * 1e6, 1)
    27.5
    """
    top, inner, bottom = _levels(diameters)
    return inner - (top + bottom) / 2.0


def flare(diameters: Grid) -> float:
    r"""
    How much wider a bore is at its top than at its bottom, the axes of each height averaged.

    .. math:: f = \bar d_{top} - \bar d_{bottom}

    Args:
        diameters: Readings, heights from top to bottom by axes. [m]

    Returns:
        Flare as a difference of diameters; below 0 the bore is wider at its bottom. [m]

    Raises:
        OutOfRange: a diameter not above 0, or fewer than three heights.

    Shapes: ``(n_heights, n_axes)``. Holds for: heights in order from top to bottom.
    Source: definition. Checked in: tests/published/test_bore_geometry.py.

    >>> round(flare([[67.04e-3, 67.05e-3], [67.02e-3, 67.02e-3], [67.00e-3, 67.01e-3]]) * 1e6, 1)
    40.0
    """
    top, _, bottom = _levels(diameters)
    return top - bottom


def form(diameters: Grid, doubt: float) -> str:
    r"""
    Name of a bore's form along its axis.

    .. math:: \bar d_{inner} > \max(\bar d_{top}, \bar d_{bottom}) + \delta \Rightarrow \text{barrel}

    Below the lesser of the two ends by more than the doubt it is a waist. Else the ends decide: no further
    apart than the doubt they make a straight bore; a bell widens mostly at one end, by more than twice what
    it widens before; a taper widens evenly.

    Args:
        diameters: Readings, heights from top to bottom by axes. [m]
        doubt: Difference of two heights that is no difference yet. [m]

    Returns:
        "straight", "barrel", "waist", "bell at the top", "bell at the bottom", "taper, wide at the top" or
        "taper, wide at the bottom". [word]

    Raises:
        OutOfRange: a diameter not above 0, fewer than three heights, or ``doubt`` below 0.

    Shapes: ``(n_heights, n_axes)``. Holds for: as `bulge`.
    Source: words of the trade, common practice; the bounds between them are ours.
    Checked in: tests/mechanics/test_boreform.py.

    >>> form([[67.02e-3], [67.05e-3], [67.01e-3]], 0.005e-3)
    'barrel'
    """
    require("doubt", doubt, "m", at_least=0.0)
    top, inner, bottom = _levels(diameters)
    wide, narrow = max(top, bottom), min(top, bottom)
    if inner > wide + doubt:
        return "barrel"
    if inner < narrow - doubt:
        return "waist"
    if wide - narrow <= doubt:
        return "straight"
    end = "top" if top > bottom else "bottom"
    is_bell = wide - inner > 2.0 * (inner - narrow) + doubt
    return f"bell at the {end}" if is_bell else f"taper, wide at the {end}"


def _levels(diameters: Grid) -> tuple[float, float, float]:
    """Mean diameter at the top, between the ends, and at the bottom."""
    grid: Array = diameter_grid(diameters, heights=3)
    heights = grid.mean(axis=1)
    return float(heights[0]), float(heights[1:-1].mean()), float(heights[-1])
