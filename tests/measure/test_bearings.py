"""Checks oil clearances and journals of a case against sums done by hand."""

from math import sqrt

import pytest

from inspect_report.records.inspection import Reading
from tests.cases import a_case, read, read_each
from tests.measure.finds import found, lacking, u, value

PIN = {"left.along": 33.990, "left.across": 33.986, "right.along": 33.992, "right.across": 33.991}
STEP = 0.001e-3 / (2 * sqrt(3))


def _pin(pin: int = 1) -> tuple[Reading, ...]:
    return read_each("crankpin-diameter", {f"{pin}.{at}": d for at, d in PIN.items()})


def test_clearance_is_the_bore_less_the_smallest_journal() -> None:
    """34.030 less 33.986: 0.044 mm, with bore gauge and micrometer."""
    case = a_case(*_pin(), read("big-end-bore.1", 34.030))
    joint = sqrt(2 * STEP**2 + (0.003e-3) ** 2 / 3 + (0.002e-3) ** 2 / 3)
    assert value(case, "big-end-clearance.1") == pytest.approx(0.044e-3)
    assert u(case, "big-end-clearance.1") == pytest.approx(joint, rel=1e-3)
    assert found(case, "big-end-clearance.1").note == "from the smallest of 4 journal readings"


def test_taper_and_out_of_round_of_a_journal() -> None:
    """Across: 33.991 - 33.986 = 0.005 from end to end; left end: 33.990 - 33.986 = 0.004."""
    case = a_case(*_pin())
    assert value(case, "crankpin-taper.1") == pytest.approx(0.005e-3)
    assert value(case, "crankpin-out-of-round.1") == pytest.approx(0.004e-3)
    assert u(case, "crankpin-taper.1") == pytest.approx(STEP * sqrt(2), rel=1e-3)


def test_journal_without_any_difference_is_as_unsure_as_one_with() -> None:
    """Four equal readings: taper and out-of-round of 0, each a difference of two readings."""
    case = a_case(*read_each("crankpin-diameter", {f"1.{at}": 33.990 for at in PIN}))
    for name in ("crankpin-taper.1", "crankpin-out-of-round.1"):
        assert value(case, name) == 0.0
        assert u(case, name) == pytest.approx(STEP * sqrt(2), rel=1e-3)


def test_clearance_over_equal_journal_readings_is_as_unsure_as_over_one() -> None:
    """Four equal readings have one smallest, and its uncertainty counts once."""
    pin = read_each("crankpin-diameter", {f"1.{at}": 33.990 for at in PIN})
    joint = sqrt(2 * STEP**2 + (0.003e-3) ** 2 / 3 + (0.002e-3) ** 2 / 3)
    case = a_case(*pin, read("big-end-bore.1", 34.030))
    assert u(case, "big-end-clearance.1") == pytest.approx(joint, rel=1e-3)


def test_strip_that_agrees_is_a_second_opinion() -> None:
    """0.051 by strip and 0.044 by gauge agree within their uncertainty, and the value is the gauge's."""
    case = a_case(*_pin(), read("big-end-bore.1", 34.030), read("big-end-strip.1", 0.051))
    clearance = found(case, "big-end-clearance.1")
    assert clearance.quantity.value == pytest.approx(0.044e-3)
    assert "plastic strip shows 0.051 mm, which agrees" in clearance.note
    assert clearance.doubt == ""
    assert "big-end-strip.1" in clearance.readings


def test_strip_that_contradicts_is_told_and_not_averaged() -> None:
    """0.076 by strip against 0.044 by gauge: measure again."""
    case = a_case(*_pin(), read("big-end-bore.1", 34.030), read("big-end-strip.1", 0.076))
    assert value(case, "big-end-clearance.1") == pytest.approx(0.044e-3)
    assert "plastic strip" not in found(case, "big-end-clearance.1").note
    doubt = found(case, "big-end-clearance.1").doubt
    assert doubt.startswith("0.044 mm by bore gauge and micrometer, 0.076 mm by plastic strip")
    assert doubt.endswith("Measure again before ordering shells.")


def test_strip_alone_gives_the_clearance() -> None:
    """Where no bore was gauged the strip is the reading."""
    case = a_case(read("big-end-strip.2", 0.051))
    assert value(case, "big-end-clearance.2") == pytest.approx(0.051e-3)
    assert found(case, "big-end-clearance.2").formula == "reading"


def test_bore_alone_is_not_enough() -> None:
    """A bore without its journal names the journal that is missing."""
    case = a_case(*_pin(2), read("big-end-bore.1", 34.030), read("big-end-bore.2", 34.030))
    assert {r.why for r in lacking(case, "big-end-clearance") if r.position.id == "1"} == {
        "crankpin diameter not read on crankpin 1"
    }


def test_stem_clearance_is_guide_less_stem() -> None:
    """4.030 guide, 3.975 stem: 0.055 mm."""
    case = a_case(read("guide-bore.2.exhaust", 4.030), read("stem-diameter.2.exhaust", 3.975))
    assert value(case, "stem-clearance.2.exhaust") == pytest.approx(0.055e-3)


def test_part_of_the_journal_is_enough_for_its_clearance_and_not_for_its_taper() -> None:
    """Two readings at one end give a clearance, and say that they were two; taper needs both ends."""
    case = a_case(*_pin()[:2], read("big-end-bore.1", 34.030))
    assert value(case, "big-end-clearance.1") == pytest.approx(0.044e-3)
    assert found(case, "big-end-clearance.1").note == "from the smallest of 2 journal readings"
    (reason,) = lacking(case, "crankpin-taper")
    assert reason.why == "crankpin diameter read only in part; crankpin diameter not read"
