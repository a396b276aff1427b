"""Checks readings and counts that are judged as they stand."""

import pytest

from inspect_report.measure.measuring import measure
from tests.cases import a_case, read, read_each
from tests.measure.finds import found, lacking, u, value


def test_reading_is_taken_as_it_stands() -> None:
    """A clearance is a quantity of its own place, read with its instrument."""
    gap = found(a_case(read("valve-clearance.2.inlet-1", 0.16)), "valve-clearance.2.inlet-1")
    assert gap.quantity.value == pytest.approx(0.16e-3)
    assert (gap.formula, gap.readings) == ("reading", ("valve-clearance.2.inlet-1",))
    assert gap.quantity.dimension == "length"


def test_repeats_are_averaged_and_told() -> None:
    """Three compression strokes: their mean, and how many there were."""
    case = a_case(read("compression-dry.1", 12.0, 12.2, 12.4))
    assert value(case, "compression-dry.1") == pytest.approx(12.2e5)
    assert found(case, "compression-dry.1").note == "mean of 3 readings"


def test_row_that_only_the_spec_sheet_knows_is_measured() -> None:
    """A limit in the spec sheet makes a reading count, with no entry in the characteristics book."""
    assert value(a_case(read("starter-brush-length", 9.5)), "starter-brush-length") == pytest.approx(9.5e-3)


def test_reading_that_only_serves_others_is_no_quantity_of_its_own() -> None:
    """A shim's thickness has neither an entry nor a limit."""
    names = {q.characteristic for q in measure(a_case(read("shim-fitted.1.exhaust", 2.6))).quantities}
    assert names == set()


def test_worst_place_counts_for_what_grows_with_wear() -> None:
    """Flatness judged for the head as one: the greater of two lines, with both lines named."""
    case = a_case(*read_each("head-flatness", {1: 0.03, 2: 0.05}))
    flat = found(case, "head-flatness")
    assert flat.quantity.value == pytest.approx(0.05e-3)
    assert flat.readings == ("head-flatness.1", "head-flatness.2")
    assert flat.note == "greatest of 2 places"


def test_places_without_a_direction_of_wear_are_averaged() -> None:
    """A gasket is as thick as the mean of its points; the micrometer's error does not average out."""
    case = a_case(*read_each("gasket-thickness", {1: 0.60, 2: 0.62}))
    assert value(case, "gasket-thickness") == pytest.approx(0.61e-3)
    assert u(case, "gasket-thickness") == pytest.approx(((0.001**2 / 12) / 2 + 0.002**2 / 3) ** 0.5 * 1e-3)
    assert found(case, "gasket-thickness").formula == "reading"


def test_optional_reading_that_was_not_taken_is_not_missed() -> None:
    """What the checklist asks for only where there is time leaves no gap in the report."""
    assert lacking(a_case(), "cranking-speed") == ()
    assert value(a_case(read("cranking-speed", 300)), "cranking-speed") == pytest.approx(5.0)
