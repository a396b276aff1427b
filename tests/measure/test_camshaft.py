"""Checks cam timing of a case against sums done by hand."""

from math import hypot, sqrt

import pytest

from inspect_report.knowledge.case import Case
from tests.cases import a_case, a_sheet, read, read_each, some_books
from tests.measure.finds import found, lacking, u, value


def _case() -> Case:
    opening, closing = {"inlet": 6, "exhaust": 48}, {"inlet": 42, "exhaust": 8}
    readings = (*read_each("cam-opening", opening), *read_each("cam-closing", closing))
    return a_case(*readings, read("cam-check-lift", 1.0))


def test_inlet_and_exhaust_have_each_their_own_centre() -> None:
    """Inlet 6/42: 228 open, centre 108 after top; exhaust 48/8: 236 open, centre 110 before top."""
    case = _case()
    assert [value(case, f"cam-duration.{cam}") for cam in ("inlet", "exhaust")] == [228.0, 236.0]
    assert [value(case, f"cam-lobe-centre.{cam}") for cam in ("inlet", "exhaust")] == [108.0, 110.0]
    assert found(case, "cam-lobe-centre.exhaust").formula == "mechanics.camshaft.exhaust_lobe_centre"


def test_overlap_takes_inlet_opening_and_exhaust_closing() -> None:
    """6 before and 8 after top dead centre overlap by 14 degrees."""
    case = _case()
    assert value(case, "cam-overlap") == 14.0
    assert found(case, "cam-overlap").readings == ("cam-opening.inlet", "cam-closing.exhaust")


def test_check_lift_is_told() -> None:
    """Angles mean nothing without the lift they were taken at."""
    assert found(_case(), "cam-duration.inlet").note == "at a lift of 1 mm"


def test_disc_set_wrong_moves_the_centre_by_all_of_it() -> None:
    """Opening counts before, closing after dead centre: a disc set late takes from one, adds to the other."""
    step, zero = 0.5 / (2 * sqrt(3)), 0.5 / sqrt(3)
    centre = hypot(zero, step / sqrt(2))
    assert u(_case(), "cam-lobe-centre.inlet") == pytest.approx(centre)
    assert u(_case(), "cam-lobe-centre.exhaust") == pytest.approx(centre)


@pytest.mark.parametrize("name", ["cam-duration.inlet", "cam-duration.exhaust", "cam-overlap"])
def test_disc_set_wrong_leaves_duration_and_overlap(name: str) -> None:
    """Between two events of one disc its setting drops out; half a step of each end stays."""
    assert u(_case(), name) == pytest.approx(sqrt(2) * 0.5 / (2 * sqrt(3)))


def test_one_camshaft_for_both_has_no_overlap_of_its_own() -> None:
    """A single camshaft without inlet and exhaust marks says that overlap does not apply."""
    books = some_books(a_sheet(layout={"camshafts": ["single"]}))
    (reason,) = lacking(a_case(books=books), "cam-overlap")
    assert not reason.applies
