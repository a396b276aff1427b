"""Checks how readings and instruments become values with uncertainty, against sums done by hand."""

from dataclasses import replace
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.measure.uncertainty import Input, input_of
from tests.cases import an_instrument, read

GAUGE = an_instrument("bore-gauge")
RESOLUTION, ERROR = 0.001e-3 / (2 * sqrt(3)), 0.003e-3 / sqrt(3)


def test_single_reading_has_resolution_and_permissible_error() -> None:
    """One reading of a bore gauge: d/(2√3) is its own, a/√3 is shared with the gauge's other readings."""
    taken = input_of(read("bore-diameter.1.top.along", 67.012), GAUGE)
    assert (taken.value, taken.step, taken.shared) == pytest.approx((67.012e-3, RESOLUTION, ERROR))
    assert taken.source == "bore-gauge"
    assert taken.u == pytest.approx(sqrt(RESOLUTION**2 + ERROR**2))


def test_repeats_add_their_scatter() -> None:
    """Repeats 67.010, 67.012, 67.014: mean 67.012, s = 0.002, so s/√3 beside the resolution."""
    taken = input_of(read("bore-diameter.1.top.along", 67.010, 67.012, 67.014), GAUGE)
    assert taken.value == pytest.approx(67.012e-3)
    assert (taken.step, taken.scatter) == pytest.approx((RESOLUTION, 0.002e-3 / sqrt(3)))
    assert taken.repeats == 3
    assert taken.u == pytest.approx(sqrt(RESOLUTION**2 + (0.002e-3) ** 2 / 3 + ERROR**2))


def test_reading_without_an_instrument_is_as_sure_as_its_repeats() -> None:
    """What the eye reads carries no uncertainty of an instrument."""
    taken = input_of(read("bore-diameter.1.top.along", 67.0), None)
    assert taken == Input(67.0e-3, name="bore-diameter.1.top.along", dimension="length")
    assert taken.u == 0.0


def test_gauge_without_papers_has_its_resolution_only() -> None:
    """An instrument without a permissible error adds the step of its scale and nothing shared."""
    taken = input_of(read("bore-diameter.1.top.along", 67.0), replace(GAUGE, permissible_error=None))
    assert taken.step == pytest.approx(RESOLUTION)
    assert (taken.shared, taken.source) == (0.0, "")


def test_two_gauges_of_one_tester_share_nothing() -> None:
    """The gauges of a leak-down tester err each in its own way; readings of one gauge share its error."""
    tester = an_instrument("tester")
    supply = input_of(read("leak-down-supply.1", 6), tester)
    first, second = (input_of(read(f"leak-down-cylinder.{n}", 5), tester) for n in (1, 2))
    assert supply.source != first.source
    assert first.source == second.source


@given(
    st.lists(st.floats(-2, 2), min_size=2, max_size=6),
    st.integers(2, 4),
)
def test_more_repeats_of_the_same_scatter_are_surer(scatter: list[float], times: int) -> None:
    """Repeating a set of readings never makes the mean less sure."""
    values = [67.0 + 0.01 * s for s in scatter]
    few = input_of(read("bore-diameter.1.top.along", *values), GAUGE)
    many = input_of(read("bore-diameter.1.top.along", *(values * times)), GAUGE)
    assert many.u <= few.u * (1 + 1e-9)
    assert many.value == pytest.approx(few.value)
