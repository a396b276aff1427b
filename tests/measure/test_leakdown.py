"""Checks the leak-down quantities of a case against sums done by hand."""

from dataclasses import replace
from math import sqrt
from typing import Any

import pytest

from inspect_report.knowledge.case import Case
from inspect_report.measure.leakdown import NO_LEAK, NO_SEAL
from inspect_report.measure.measuring import measure
from inspect_report.mechanics import gasflow
from inspect_report.records.inspection import Reading
from tests.cases import a_case, an_instrument, read, read_each
from tests.measure.finds import found, lacking, u, value

SUPPLY = {1: 6.0, 2: 6.0, 3: 6.0, 4: 6.0}
CYLINDER = {1: 5.4, 2: 5.58, 3: 3.0, 4: 5.7}


def _gauges(cylinder: dict[int, float] | None = None) -> tuple[Reading, ...]:
    return read_each("leak-down-supply", SUPPLY) + read_each("leak-down-cylinder", cylinder or CYLINDER)


def _case(cylinder: dict[int, float] | None = None, **head: Any) -> Case:
    return a_case(*_gauges(cylinder), **head)


def test_percent_is_a_fraction_of_the_supply() -> None:
    """5.4 of 6 bar: a tenth is lost; 3 of 6 bar: half."""
    case = _case()
    assert [value(case, f"leak-down.{n}") for n in (1, 2, 3, 4)] == pytest.approx([0.1, 0.07, 0.5, 0.05])


def test_percent_carries_both_gauges() -> None:
    """Each gauge: 0.02 bar steps and ±0.05 bar; ∂L/∂pc = 1/6, ∂L/∂ps = 5.4/36 per bar."""
    gauge = sqrt((0.02 / (2 * sqrt(3))) ** 2 + (0.05 / sqrt(3)) ** 2)
    assert u(_case(), "leak-down.1") == pytest.approx(gauge * sqrt((1 / 6) ** 2 + (5.4 / 36) ** 2), rel=1e-3)


def test_percent_names_readings_lines_and_instrument() -> None:
    """A quantity can name every line it came from."""
    leak = found(_case(), "leak-down.1")
    assert leak.formula == "mechanics.gasflow.leak_percent"
    assert leak.readings == ("leak-down-supply.1", "leak-down-cylinder.1")
    assert [p.path for p in leak.inputs] == ["readings.leak-down-supply.1", "readings.leak-down-cylinder.1"]
    assert leak.instruments == ("tester",)


def test_leak_bore_uses_the_testers_orifice_and_the_air_of_the_day() -> None:
    """6 bar before and 2 behind 1 mm, at 1000 hPa: both nozzles choke, so d² = 7/3 mm²."""
    case = _case({1: 5.4, 2: 5.4, 3: 2.0, 4: 5.4}, conditions={"ambient-pressure": 1000})
    assert value(case, "leak-bore.3") == pytest.approx(sqrt(7 / 3) * 1e-3)
    assert "1000 hPa as read" in found(case, "leak-bore.3").note


def test_air_pressure_comes_from_the_altitude_where_none_was_read() -> None:
    """At 1500 m the standard atmosphere has 845.6 hPa (from memory); the note says where it is from."""
    note = found(_case(conditions={"altitude": 1500}), "leak-bore.3").note
    assert "846 hPa by the standard atmosphere at 1500 m" in note


def test_air_pressure_taken_is_told() -> None:
    """Without pressure or altitude the standard pressure is taken, and said to be."""
    assert "not noted, 1013 hPa taken" in found(_case(), "leak-bore.3").note


def test_percent_on_the_reference_tester_equals_the_testers_own() -> None:
    """This tester is the reference tester, 1.0 mm at 6 bar, so both percents are the same."""
    case = _case()
    assert value(case, "leak-down-reference.1") == pytest.approx(value(case, "leak-down.1"))
    assert "1.0 mm orifice at 6 bar" in found(case, "leak-down-reference.1").note


def test_larger_orifice_shows_a_larger_leak_for_one_percent() -> None:
    """The same percent behind an orifice of twice the bore is a leak of twice the bore."""
    tester = an_instrument("tester")
    wide = an_instrument("tester", orifice=2e-3)
    small, large = (a_case(*_gauges(), instruments=(tool,)) for tool in (tester, wide))
    assert value(large, "leak-bore.1") == pytest.approx(2 * value(small, "leak-bore.1"))
    assert value(large, "leak-down.1") == value(small, "leak-down.1")


def test_flow_says_that_the_tester_s_hole_is_taken_as_ideal() -> None:
    """
    A sharp edge passes 20 to 40 % less (common practice); the printed factor for one lies within.

    Factors printed with the handbook table "Discharge of air through an orifice" that
    tests/published/test_orifice_flow.py holds the flow against: 0.97 well rounded, 0.65 sharp-edged.
    """
    note = found(_case(), "leak-flow.1").note
    assert "discharge coefficient 1; one with a sharp edge passes 20 to 40 % less" in note
    ideal, sharp = (gasflow.free_air_flow(1e-3, 7e5, 6e5, discharge=c) for c in (1.0, 0.65))
    assert 0.20 <= 1.0 - float(sharp) / float(ideal) <= 0.40


def test_flow_through_the_leak_equals_flow_through_the_orifice() -> None:
    """What the tester lets in, the leak lets out: the flow taken at the leak is the same."""
    case = _case(conditions={"ambient-pressure": 1000})
    at_leak = gasflow.free_air_flow(value(case, "leak-bore.1"), 5.4e5 + 1e5, 1e5)
    assert value(case, "leak-flow.1") == pytest.approx(at_leak)


def test_tight_cylinder_has_no_leak_and_says_so() -> None:
    """Both gauges the same: leak of 0, told in words, with the uncertainty the gauges leave."""
    case = _case({1: 6.0, 2: 5.5, 3: 5.5, 4: 5.5})
    assert value(case, "leak-bore.1") == 0.0
    assert NO_LEAK in found(case, "leak-bore.1").note
    assert 0.1e-3 < u(case, "leak-bore.1") < 1e-3


def test_cylinder_without_pressure_has_no_finite_leak() -> None:
    """0 bar in the cylinder: 100 % and the orifice's own flow, but no leak bore."""
    case = _case({1: 0.0, 2: 5.5, 3: 5.5, 4: 5.5})
    assert value(case, "leak-down.1") == 1.0
    assert value(case, "leak-flow.1") > 0.0
    (reason,) = lacking(case, "leak-bore")
    assert (reason.position.id, reason.why) == ("1", NO_SEAL)
    assert reason.applies
    assert not reason.outside_depth


def test_spread_is_worst_less_best() -> None:
    """50 % at cylinder 3 less 5 % at cylinder 4; a supply read once for all is one reading."""
    case = _case()
    assert value(case, "leak-down-spread") == pytest.approx(0.45)
    assert found(case, "leak-down-spread").note == "worst less best of 4 cylinders"


def test_spread_does_not_carry_the_error_all_cylinders_share() -> None:
    """The cylinder gauge's permissible error moves all cylinders alike: its steps remain."""
    supply = read("leak-down-supply.1", 6)
    shared = [replace(supply, position=r.position) for r in _gauges()[:4]]
    case = a_case(*shared, *read_each("leak-down-cylinder", {1: 5.4, 2: 5.4, 3: 5.2, 4: 5.4}))
    step = 0.02 / (2 * sqrt(3)) / 6
    supply_u = 0.2 / 36 * sqrt((0.02 / (2 * sqrt(3))) ** 2 + (0.05 / sqrt(3)) ** 2)
    assert u(case, "leak-down-spread") == pytest.approx(sqrt(2 * step**2 + supply_u**2), rel=1e-3)


def test_spread_needs_two_cylinders() -> None:
    """One cylinder has nothing to differ from."""
    case = a_case(read("leak-down-supply.1", 6), read("leak-down-cylinder.1", 5))
    assert [r.why for r in lacking(case, "leak-down-spread")] == ["leak-down read on one cylinder only"]


def test_tester_without_orifice_gives_percent_but_no_bore() -> None:
    """An unknown orifice leaves the percent, and a reason for the rest, told once for the engine."""
    case = a_case(*_gauges(), instruments=(an_instrument("tester", orifice=None),))
    assert value(case, "leak-down.1") == pytest.approx(0.1)
    assert [r.why for r in lacking(case, "leak-bore")] == ["bore of the leak-down tester's orifice not given"]


def test_cylinder_above_supply_is_told_in_words() -> None:
    """A gauge above its supply is no leak-down: the reason names both."""
    (reason, *_) = lacking(_case({1: 6.5, 2: 5, 3: 5, 4: 5}), "leak-down")
    assert reason.position.id == "1"
    assert reason.why.startswith("p cylinder: found 650000 Pa")


def test_order_of_cylinders_does_not_matter() -> None:
    """Exchanging two cylinders' gauges exchanges their results and changes no others."""
    one, other = _case(), _case({1: CYLINDER[3], 2: CYLINDER[2], 3: CYLINDER[1], 4: CYLINDER[4]})
    for name in ("leak-down", "leak-bore", "leak-flow", "leak-down-reference"):
        assert value(one, f"{name}.1") == value(other, f"{name}.3")
        assert value(one, f"{name}.2") == value(other, f"{name}.2")
    assert value(one, "leak-down-spread") == value(other, "leak-down-spread")
    assert not measure(one).failed
