"""Checks the compression quantities of a case against sums done by hand."""

from math import sqrt

import pytest

from tests.cases import a_case, read, read_each
from tests.measure.finds import found, lacking, u, value

DRY = read_each("compression-dry", {1: 12.0, 2: 9.0, 3: 12.6, 4: 11.4})


def test_spread_is_below_the_best() -> None:
    """Best 12.6 bar: 9.0 lies 3.6/12.6 below it, the best 0."""
    case = a_case(*DRY)
    assert value(case, "compression-spread.2") == pytest.approx(3.6 / 12.6)
    assert value(case, "compression-spread.3") == 0.0


def test_spread_carries_the_gauges_error_only_in_proportion() -> None:
    """The common ±0.4 bar moves 9.0 and 12.6 alike: (p - b)/b changes by (b - p)/b² of it."""
    step, error = 0.2 / (2 * sqrt(3)), 0.4 / sqrt(3)
    own = step * sqrt((1 / 12.6) ** 2 + (9.0 / 12.6**2) ** 2)
    shared = error * 3.6 / 12.6**2
    assert u(a_case(*DRY), "compression-spread.2") == pytest.approx(sqrt(own**2 + shared**2), rel=1e-3)


def test_spread_of_part_of_the_cylinders_is_told_for_those() -> None:
    """A cylinder that was not read has no spread; the others are held against the best read."""
    case = a_case(*DRY[:2])
    assert value(case, "compression-spread.2") == pytest.approx(0.25)
    reasons = [r.why for r in lacking(case, "compression-spread")]
    assert reasons == [f"compression dry not read on cylinder {n}" for n in (3, 4)]


def test_wet_gain_is_the_rise_over_dry() -> None:
    """From 9.0 to 11.7 bar: 30 per cent more."""
    case = a_case(*DRY, read("compression-wet.2", 11.7))
    assert value(case, "wet-gain.2") == pytest.approx(0.3)
    assert found(case, "wet-gain.2").readings == ("compression-dry.2", "compression-wet.2")


def test_missing_wet_reading_is_named_with_its_cylinder() -> None:
    """Where one cylinder's wet reading is missing, the reason says which."""
    wet = read_each("compression-wet", {1: 12, 3: 13, 4: 12})
    assert [r.why for r in lacking(a_case(*DRY, *wet), "wet-gain")] == [
        "compression wet not read on cylinder 2"
    ]


def test_corrected_reading_names_its_method() -> None:
    """At 5000 ft the pressure ratio is 0.832 (trade handbooks): 10.4 bar there is 12.5 bar at sea level."""
    case = a_case(*read_each("compression-dry", {1: 10.4}), conditions={"altitude": "5000 ft"})
    assert value(case, "compression-corrected.1") == pytest.approx(10.4e5 / 0.832, rel=1e-3)
    assert "pressure ratio" in found(case, "compression-corrected.1").note


def test_reading_of_nothing_has_no_gain() -> None:
    """A dry reading of 0 gives a reason in words instead of a division by zero."""
    case = a_case(*read_each("compression-dry", {1: 0}), read("compression-wet.1", 3))
    (reason, *_) = lacking(case, "wet-gain")
    assert reason.why == "dry: found 0 Pa, allowed above 0 Pa, so no value can be stated"
