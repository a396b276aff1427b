"""The form of a bore: named only where it is beyond doubt, and by the ends and what lies between them."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from inspect_report.mechanics.boreform import bulge, flare, form
from inspect_report.mechanics.errors import OutOfRange

UM = 1e-6
grids = arrays(np.float64, (3, 2), elements=st.integers(0, 60).map(lambda n: 67e-3 + n * UM))


def bore(*microns: float) -> list[list[float]]:
    """A bore of 67 mm and so many µm at its heights, round everywhere."""
    return [[67e-3 + n * UM, 67e-3 + n * UM] for n in microns]


@pytest.mark.parametrize(
    ("heights", "name"),
    [
        ((10, 40, 12), "barrel"),
        ((40, 10, 35), "waist"),
        ((10, 12, 11), "straight"),
        ((60, 12, 4), "bell at the top"),
        ((4, 12, 60), "bell at the bottom"),
        ((50, 30, 10), "taper, wide at the top"),
        ((10, 30, 50), "taper, wide at the bottom"),
        ((50, 48, 10), "taper, wide at the top"),
    ],
)
def test_forms_by_name(heights: tuple[float, ...], name: str) -> None:
    """Three heights and a doubt of 3 µm give each name its bore."""
    assert form(bore(*heights), 3 * UM) == name


@pytest.mark.parametrize(
    ("heights", "at_it", "beyond_it"),
    [
        ((10, 15, 10), "straight", "barrel"),
        ((15, 10, 15), "straight", "waist"),
        ((15, 12.5, 10), "straight", "taper, wide at the top"),
        ((35, 10, 0), "taper, wide at the top", "bell at the top"),
    ],
)
def test_difference_no_greater_than_the_doubt_has_no_name(
    heights: tuple[float, ...], at_it: str, beyond_it: str
) -> None:
    """5 µm and a little doubt more is nothing yet; 5 µm and a little less is a form; a bell wants 2 to 1."""
    assert form(bore(*heights), 5.01 * UM) == at_it
    assert form(bore(*heights), 4.99 * UM) == beyond_it


def test_bell_widens_more_than_twice_as_much_at_its_end() -> None:
    """29 µm above 10 µm and 31 µm above 10 µm stand on either side of a bell, but for the doubt."""
    assert form(bore(29 + 10 - 10, 10, 0), 0.0) == "taper, wide at the top"
    assert form(bore(31, 10, 0), 0.0) == "bell at the top"


def test_more_heights_than_three_are_averaged_between_the_ends() -> None:
    """Heights 20 and 40 between ends of 10 and 14 bulge by 30 - 12 = 18 µm; flare is 10 - 14."""
    assert bulge(bore(10, 20, 40, 14)) == pytest.approx(18 * UM, rel=1e-6)
    assert flare(bore(10, 20, 40, 14)) == pytest.approx(-4 * UM, rel=1e-6)


def test_axes_of_a_height_are_averaged() -> None:
    """An oval of 20 µm that is the same at all heights neither bulges nor flares."""
    oval = [[67e-3, 67.02e-3]] * 3
    assert bulge(oval) == pytest.approx(0.0, abs=1e-15)
    assert flare(oval) == 0.0
    assert form(oval, 1 * UM) == "straight"


@given(grid=grids)
def test_upside_down_bore_is_the_same_bore(grid: np.ndarray) -> None:
    """Heights from below give the same bulge, the other flare, and the same form with its ends exchanged."""
    turned = grid[::-1]
    assert bulge(turned) == pytest.approx(bulge(grid), abs=1e-12)
    assert flare(turned) == pytest.approx(-flare(grid), abs=1e-12)
    swap = {"top": "bottom", "bottom": "top"}
    words = form(grid, 2.5 * UM).split()
    assert form(turned, 2.5 * UM) == " ".join(swap.get(word, word) for word in words)


@given(grid=grids, more=st.floats(0.0, 5e-3))
def test_form_does_not_depend_on_the_size(grid: np.ndarray, more: float) -> None:
    """A wider bore of the same wear has the same form."""
    assert form(grid + more, 2.5 * UM) == form(grid, 2.5 * UM)


def test_two_heights_have_no_form() -> None:
    """Barrel and taper are not to be told apart from two heights; a doubt below 0 is none."""
    for formula in (bulge, flare, lambda grid: form(grid, 0.0)):
        with pytest.raises(OutOfRange, match="heights of diameters: found 2, allowed at least 3"):
            formula(bore(1, 2))
    with pytest.raises(OutOfRange, match="doubt"):
        form(bore(1, 2, 3), -1 * UM)


def test_oval_only_between_the_ends_bulges_by_its_mean() -> None:
    """An oval of 67.00 and 67.04 between round ends of 67.00 bulges by 0.02 mm, not by the wider axis."""
    grid = [[67e-3, 67e-3], [67e-3, 67.04e-3], [67e-3, 67e-3]]
    assert bulge(grid) == pytest.approx(20 * UM, rel=1e-6)
