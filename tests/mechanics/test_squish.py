"""Squish and the choice of a gasket."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.squish import (
    GasketGrade,
    gasket_grades,
    gasket_to_fit,
    gasket_volume,
    grade_difference,
    nearest_grade,
    spread,
    squish_gap,
)

THICKNESSES = (0.65e-3, 0.50e-3, 0.55e-3, 0.60e-3)
ENGINE: dict[str, Any] = {
    "deck_height": 0.20e-3,
    "gasket_bore": 0.068,
    "swept": 200e-6,
    "other_clearance": 17e-6,
}


def grades(squish: float, ratio: float) -> tuple[GasketGrade, ...]:
    """All grades of one engine for a floor and a ceiling."""
    return gasket_grades(THICKNESSES, least_squish=squish, greatest_ratio=ratio, **ENGINE)


def test_rows_stand_thinnest_first_with_their_figures() -> None:
    """Each row holds its squish and its ratio: 0.50 + 0.20 mm; 1 + 200 / (17 + 1.8158)."""
    rows = grades(0.75e-3, 11.6)
    assert [row.thickness for row in rows] == sorted(THICKNESSES)
    assert rows[0].squish == pytest.approx(0.70e-3, rel=1e-12)
    assert rows[0].ratio == pytest.approx(1 + 200 / (17 + 1.8158), rel=1e-5)


def test_thinnest_that_meets_both_is_chosen() -> None:
    """The floor rules 0.50 out, the ceiling 0.55 as well: 0.60 is fitted, not 0.65."""
    assert gasket_to_fit(grades(0.75e-3, 20.0)) == grades(0.75e-3, 20.0)[1]
    chosen = gasket_to_fit(grades(0.75e-3, 11.45))
    assert chosen is not None
    assert (chosen.thickness, chosen.fits) == (0.60e-3, True)


def test_floor_and_ceiling_themselves_are_allowed() -> None:
    """0.55 + 0.20 mm is 0.75 mm, whatever floats make of it."""
    assert [row.squish_ok for row in grades(0.75e-3, 20.0)] == [False, True, True, True]


def test_a_hair_above_the_floor_is_enough() -> None:
    """0.75 mm meets a floor of 0.7499 mm and misses one of 0.7501 mm."""
    assert [grades(floor, 20.0)[1].squish_ok for floor in (0.7499e-3, 0.7501e-3)] == [True, False]


def test_none_where_the_two_exclude_each_other() -> None:
    """No grade meets the ceiling: none is chosen, and the rows say which condition failed."""
    rows = grades(0.60e-3, 8.0)
    assert gasket_to_fit(rows) is None
    assert {(row.squish_ok, row.ratio_ok) for row in rows} == {(True, False)}


def test_nothing_on_sale_gives_nothing() -> None:
    """No thickness, no rows, no choice."""
    assert gasket_to_fit(gasket_grades((), least_squish=0.0, greatest_ratio=20.0, **ENGINE)) is None


@given(floor=st.floats(0.6e-3, 1e-3), ceiling=st.floats(11.0, 12.0))
def test_choice_is_the_least_of_those_that_fit(floor: float, ceiling: float) -> None:
    """No thinner row fits, and the chosen one does."""
    rows = grades(floor, ceiling)
    chosen = gasket_to_fit(rows)
    fitting = [row for row in rows if row.squish >= floor and row.ratio <= ceiling]
    assert chosen == (fitting[0] if fitting else None)


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
