"""Squish, gaskets and their grades."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.squish import (
    gasket_volume,
    grade_difference,
    nearest_grade,
    spread,
    squish_gap,
)

THICKNESSES = (0.65e-3, 0.50e-3, 0.55e-3, 0.60e-3)


def test_piston_above_the_face_takes_from_the_gap() -> None:
    """A deck height below 0 lessens the squish, down to a touch."""
    assert squish_gap(0.5e-3, -0.6e-3) == pytest.approx(-0.1e-3, rel=1e-9)


def test_gasket_without_thickness() -> None:
    """A thickness of 0 is a slip of the pen."""
    with pytest.raises(OutOfRange, match="gasket_thickness"):
        gasket_volume(0.068, 0.0)


def test_crushed_thinner_than_its_grade_is_negative() -> None:
    """0.53 of a grade of 0.55 is 0.02 mm less."""
    assert grade_difference(0.53e-3, 0.55e-3) == pytest.approx(-0.02e-3)


@pytest.mark.parametrize("name", ["measured", "nominal"])
def test_no_gasket_has_no_grade(name: str) -> None:
    """Thicknesses are above 0."""
    with pytest.raises(OutOfRange, match=name):
        grade_difference(**{"measured": 0.5e-3, "nominal": 0.5e-3} | {name: 0.0})


def test_nearest_grade_on_sale() -> None:
    """0.58 is nearest to 0.60; midway between two the thinner is meant, in whatever order they stand."""
    assert nearest_grade(0.58e-3, THICKNESSES) == 0.60e-3
    assert nearest_grade(0.9e-3, THICKNESSES) == 0.65e-3
    assert nearest_grade(1.5, [2.0, 1.0]) == nearest_grade(1.5, [1.0, 2.0]) == 1.0


def test_nearest_of_none() -> None:
    """Without a grade on sale, or without a thickness, none is near."""
    with pytest.raises(OutOfRange, match="number of thicknesses"):
        nearest_grade(0.5e-3, [])
    with pytest.raises(OutOfRange, match="thicknesses: found 0"):
        nearest_grade(0.5e-3, [0.0])
    with pytest.raises(OutOfRange, match="measured"):
        nearest_grade(0.0, THICKNESSES)


@given(st.lists(st.floats(-5.0, 5.0), min_size=2, max_size=8), st.floats(-3.0, 3.0))
def test_spread_knows_no_order_and_no_zero(values: list[float], more: float) -> None:
    """Turned round or moved as a whole the values spread alike, and never below 0."""
    assert spread(values) == max(values) - min(values) >= 0.0
    assert spread(values[::-1]) == spread(values)
    assert spread([value + more for value in values]) == pytest.approx(spread(values), abs=1e-9)


def test_one_value_has_no_spread() -> None:
    """A single cylinder has none to differ from."""
    with pytest.raises(OutOfRange, match="number of values"):
        spread([12.6])
