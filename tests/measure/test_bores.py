"""Checks bores, pistons and rings of a case against sums done by hand."""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.knowledge.case import Case
from inspect_report.measure.measuring import measure
from inspect_report.records.inspection import Reading
from tests.cases import a_case, a_sheet, read, read_each, some_books
from tests.measure.finds import found, lacking, u, value

# Along and across at top, middle and bottom of one bore. [mm]
GRID = {
    "top.along": 67.050,
    "top.across": 67.062,
    "middle.along": 67.030,
    "middle.across": 67.038,
    "bottom.along": 67.012,
    "bottom.across": 67.015,
}
STEP, ERROR = 0.001e-3 / (2 * sqrt(3)), 0.003e-3 / sqrt(3)


def _bore(cylinder: int = 1, more: float = 0.0) -> tuple[Reading, ...]:
    return read_each("bore-diameter", {f"{cylinder}.{at}": d + more for at, d in GRID.items()})


def test_wear_is_the_largest_over_nominal() -> None:
    """67.062 over the nominal 67: 0.062 mm, with the whole uncertainty of one reading."""
    case = a_case(*_bore())
    assert value(case, "bore-wear.1") == pytest.approx(0.062e-3)
    assert u(case, "bore-wear.1") == pytest.approx(sqrt(STEP**2 + ERROR**2), rel=1e-3)
    assert found(case, "bore-wear.1").note == "over the nominal 67.000 mm"


def test_taper_is_the_worst_axis_and_free_of_the_gauges_error() -> None:
    """Across: 67.062 - 67.015 = 0.047, along: 0.038; the gauge's ±0.003 is common and cancels."""
    case = a_case(*_bore())
    assert value(case, "bore-taper.1") == pytest.approx(0.047e-3)
    assert u(case, "bore-taper.1") == pytest.approx(STEP * sqrt(2), rel=1e-3)


def test_out_of_round_is_the_worst_height() -> None:
    """Top: 67.062 - 67.050 = 0.012 mm."""
    case = a_case(*_bore())
    assert value(case, "bore-out-of-round.1") == pytest.approx(0.012e-3)
    assert found(case, "bore-out-of-round.1").formula == "mechanics.bore.out_of_round"


def test_piston_clearance_carries_both_instruments() -> None:
    """Middle height, across: 67.038 less skirt 66.960; bore gauge and micrometer err each in its own way."""
    case = a_case(*_bore(), read("skirt-diameter.1", 66.960))
    micrometer = sqrt(STEP**2 + (0.002e-3 / sqrt(3)) ** 2)
    assert value(case, "piston-clearance.1") == pytest.approx(0.078e-3)
    expected = sqrt(STEP**2 + ERROR**2 + micrometer**2)
    assert u(case, "piston-clearance.1") == pytest.approx(expected, rel=1e-3)
    assert found(case, "piston-clearance.1").instruments == ("bore-gauge", "micrometer")


def test_cell_that_was_not_read_is_named() -> None:
    """A grid with a hole gives no taper, and says which place is missing."""
    case = a_case(*_bore(1)[:-1], *_bore(2))
    (reason,) = [r for r in lacking(case, "bore-taper") if r.position.id == "1"]
    assert reason.why == "bore diameter not read on cylinder 1, bottom height, across axis"


def test_nominal_comes_from_the_limit_table_where_geometry_has_none() -> None:
    """A printed nominal of the bore serves where the geometry gives none."""
    row = {"id": "bore-diameter", "nominal": 67.01}
    sheet = a_sheet(geometry={"bore": None}, characteristics=[row])
    assert value(a_case(*_bore(), books=some_books(sheet)), "bore-wear.1") == pytest.approx(0.052e-3)


def test_upper_end_of_the_standard_range_stands_for_a_nominal() -> None:
    """A range of new bores only: wear counts from its upper end."""
    row = {"id": "bore-diameter", "standard": [67.0, 67.02]}
    sheet = a_sheet(geometry={"bore": None}, characteristics=[row])
    assert value(a_case(*_bore(), books=some_books(sheet)), "bore-wear.1") == pytest.approx(0.042e-3)


def test_bore_without_any_difference_is_as_unsure_as_one_with() -> None:
    """Six equal readings: taper and out-of-round of 0, each a difference of two; wear as one reading."""
    case = a_case(*read_each("bore-diameter", {f"1.{at}": 67.010 for at in GRID}))
    for name in ("bore-taper.1", "bore-out-of-round.1"):
        assert value(case, name) == 0.0
        assert u(case, name) == pytest.approx(STEP * sqrt(2), rel=1e-3)
    assert u(case, "bore-wear.1") == pytest.approx(sqrt(STEP**2 + ERROR**2), rel=1e-3)


def test_wear_without_a_nominal_has_a_reason() -> None:
    """No nominal anywhere: no wear, but taper all the same."""
    books = some_books(a_sheet(geometry={"bore": None}, characteristics=[]))
    case = a_case(*(r for n in (1, 2, 3, 4) for r in _bore(n)), books=books)
    assert [r.why for r in lacking(case, "bore-wear")] == ["nominal bore is not in the spec sheet"]
    assert value(case, "bore-taper.1") == pytest.approx(0.047e-3)


def test_ring_side_clearance_is_groove_less_ring() -> None:
    """1.04 mm groove, 0.985 mm ring: 0.055 mm."""
    case = a_case(read("ring-groove-width.3.second", 1.04), read("ring-thickness.3.second", 0.985))
    assert value(case, "ring-side-clearance.3.second") == pytest.approx(0.055e-3)


@pytest.mark.parametrize("item", ["ring-thickness", "ring-groove-width"])
def test_ring_needs_both_readings(item: str) -> None:
    """Either reading alone gives no clearance and one reason for the engine."""
    (reason,) = lacking(a_case(read(f"{item}.3.second", 1.0)), "ring-side-clearance")
    assert reason.position.id == ""


@given(st.permutations([1, 2, 3, 4]))
def test_exchanging_cylinders_exchanges_results(order: list[int]) -> None:
    """A bore's wear belongs to its readings, whichever cylinder they stand at."""
    case = _engine(order)
    for place, bore in enumerate(order, start=1):
        assert value(case, f"bore-wear.{place}") == pytest.approx(0.062e-3 + bore * 0.01e-3)
    assert len(measure(case).quantities) == 12


def _engine(order: list[int]) -> Case:
    readings = [r for place, bore in enumerate(order, start=1) for r in _bore(place, bore * 0.01)]
    return a_case(*readings)
