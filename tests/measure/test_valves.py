"""Checks the shim plan of a case against sums done by hand."""

from math import atan, degrees, hypot, sqrt
from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import t as student

from inspect_report.measure.derived import ShimChoice
from inspect_report.measure.measuring import measure
from inspect_report.measure.shim_plan import (
    BETWEEN,
    GONE,
    HELD_OPEN,
    NEAR_EDGE,
    NO_BETTER,
    PARTS,
    TOO_THICK,
    TOO_THIN,
    UNSURE,
)
from tests.cases import a_case, a_sheet, read, some_books
from tests.measure.finds import found, lacking, u, value

SPRING: Final = hypot(1 / (2 * sqrt(3)), 2 / sqrt(3))
EXHAUST, INLET = "1.exhaust", "1.inlet-2"


def _choice(
    gap: float,
    shim: float,
    *,
    at: str = EXHAUST,
    sheet: dict[str, Any] | None = None,
    shop: dict[str, Any] | None = None,
) -> ShimChoice:
    """The plan for one valve; exhaust gaps belong between 0.20 and 0.30, inlet between 0.10 and 0.20 mm."""
    case = a_case(
        read(f"valve-clearance.{at}", gap),
        read(f"shim-fitted.{at}", shim),
        books=some_books(a_sheet(**(sheet or {})), **(shop or {})),
    )
    (choice,) = measure(case).shims
    return choice


def test_tight_valve_gets_a_thinner_shim() -> None:
    """Gap 0.12, aim 0.25, shim 2.60: wanted 2.47, on sale 2.45, which leaves a gap of 0.27."""
    choice = _choice(0.12, 2.60)
    assert choice.position.labels == ("1", "exhaust")
    assert choice.aim == pytest.approx(0.25e-3)
    assert choice.exact == pytest.approx(2.47e-3)
    assert (choice.size, choice.predicted) == pytest.approx((2.45e-3, 0.27e-3))
    assert choice.change


def test_wide_valve_gets_a_thicker_shim() -> None:
    """Inlet gap 0.26, aim 0.15, shim 1.80: wanted 1.91, on sale 1.90, which leaves 0.16."""
    choice = _choice(0.26, 1.80, at=INLET)
    assert (choice.low, choice.high) == pytest.approx((0.10e-3, 0.20e-3))
    assert (choice.size, choice.predicted) == pytest.approx((1.90e-3, 0.16e-3))


def test_gap_in_range_keeps_its_shim() -> None:
    """0.25 in 0.20 to 0.30: nothing is changed."""
    choice = _choice(0.25, 2.60)
    assert not choice.change
    assert choice.size == choice.fitted
    assert choice.note == ""


def test_gap_at_the_edge_is_brought_to_the_middle() -> None:
    """0.20 is in range, but the blade cannot show it: a shim one size thinner leaves 0.25."""
    choice = _choice(0.20, 2.60)
    assert choice.change
    assert choice.note == f"{NEAR_EDGE}; to buy"
    assert (choice.size, choice.predicted) == pytest.approx((2.55e-3, 0.25e-3))


def test_gap_at_the_wide_edge_is_brought_to_the_middle() -> None:
    """0.30 is the other edge: a shim one size thicker leaves 0.25."""
    choice = _choice(0.30, 2.60)
    assert (choice.change, choice.note) == (True, f"{NEAR_EDGE}; to buy")
    assert choice.size == pytest.approx(2.65e-3)


def test_gap_at_the_edge_stays_where_no_shim_makes_it_sure() -> None:
    """With sizes 0.1 apart the next would go to the other edge: the fitted shim stays, and why is told."""
    sheet = {"on_sale": {"shims": {"first": 1.2, "last": 3.5, "step": 0.1}}}
    choice = _choice(0.20, 2.60, sheet=sheet)
    assert (choice.change, choice.note, choice.source) == (False, NO_BETTER, "")
    assert choice.size == choice.fitted


def test_gap_at_the_edge_stays_under_simple_acceptance() -> None:
    """Under simple acceptance a gap at its limit is inside."""
    choice = _choice(0.20, 2.60, shop={"decision-rule": {"kind": "simple acceptance"}})
    assert not choice.change


def test_size_from_the_box_goes_before_an_equal_one_to_buy() -> None:
    """Gap 0.125, shim 2.60: wanted 2.475, as far from 2.45 as from 2.50; the box has 2.50."""
    assert _choice(0.125, 2.60).size == pytest.approx(2.45e-3)
    boxed = _choice(0.125, 2.60, shop={"shims-in-stock": [2.50]})
    assert boxed.size == pytest.approx(2.50e-3)
    assert boxed.note == "from the workshop's box"


def test_size_between_those_on_sale_is_taken_from_the_box() -> None:
    """The box's 2.47 brings the gap exactly to its aim."""
    choice = _choice(0.12, 2.60, shop={"shims-in-stock": [2.47, 3.0]})
    assert (choice.size, choice.predicted) == pytest.approx((2.47e-3, 0.25e-3))


@pytest.mark.parametrize(
    ("gap", "shim", "note"), [(0.05, 1.20, TOO_THICK), (0.60, 3.50, TOO_THIN), (0.12, 2.60, BETWEEN)]
)
def test_valve_that_no_size_reaches_is_told_with_the_likely_cause(gap: float, shim: float, note: str) -> None:
    """Shut with the thinnest, open with the thickest, or stepped over: 2.47 lies between 2.4 and 2.7."""
    step = 0.3 if note == BETWEEN else 0.05
    choice = _choice(gap, shim, sheet={"on_sale": {"shims": {"first": 1.2, "last": 3.5, "step": step}}})
    assert (choice.size, choice.predicted, choice.predicted_u, choice.inside) == (None, None, None, None)
    assert (choice.change, choice.source, choice.note) == (True, "", note)


def test_valve_without_a_gap_may_be_held_open() -> None:
    """No gap at all says how much is missing only at least: fit and measure again."""
    assert _choice(0.0, 2.60).note == f"{HELD_OPEN}; to buy"


def test_lever_counts_where_the_gap_is_taken_at_the_cam() -> None:
    """Ratio 1.5: 0.10 of gap at the cam is 0.15 of shim, so 2.60 becomes 2.45."""
    sheet = {"geometry": {"lever-ratio": 1.5}, "layout": {"valve-actuation": "finger follower"}}
    choice = _choice(0.15, 2.60, sheet=sheet)
    assert choice.exact == pytest.approx(2.45e-3)
    assert choice.predicted == pytest.approx(0.25e-3)


def test_screw_adjusters_need_no_shims() -> None:
    """A rocker with a screw has no shim plan."""
    case = a_case(
        read("valve-clearance.1.exhaust", 0.1),
        read("shim-fitted.1.exhaust", 2.6),
        books=some_books(a_sheet(layout={"valve-actuation": "rocker with screw"})),
    )
    assert measure(case).shims == ()


def test_no_plan_without_the_fitted_shim() -> None:
    """A gap alone does not tell the size to fit."""
    assert measure(a_case(read("valve-clearance.1.exhaust", 0.1))).shims == ()


def test_no_sizes_on_sale_is_told() -> None:
    """A spec sheet without shims names what is missing."""
    choice = _choice(0.12, 2.60, sheet={"on_sale": {"shims": None}})
    assert choice.note == "shims on sale are not in the spec sheet"


def test_workshop_may_aim_above_the_middle() -> None:
    """80 % of 0.20 to 0.30 is 0.28: from 0.12 with 2.60 that wants 2.44, and 2.45 leaves 0.27."""
    choice = _choice(0.12, 2.60, shop={"valve-gap-aim": 80})
    assert choice.aim == pytest.approx(0.28e-3)
    assert choice.exact == pytest.approx(2.44e-3)
    assert choice.size == pytest.approx(2.45e-3)


def test_gap_after_fitting_carries_the_gauges_and_the_new_shims_tolerance() -> None:
    """Blade 0.01 and ±0.005, micrometer 0.001 and ±0.002, new shim ±0.005 mm: root sum of squares."""
    blade = hypot(0.01 / (2 * sqrt(3)), 0.005 / sqrt(3))
    micrometer = hypot(0.001 / (2 * sqrt(3)), 0.002 / sqrt(3))
    choice = _choice(0.12, 2.60)
    assert choice.exact_u * 1e3 == pytest.approx(hypot(blade, micrometer))
    assert choice.predicted_u is not None
    assert choice.predicted_u * 1e3 == pytest.approx(hypot(blade, micrometer, 0.005 / sqrt(3)))
    assert choice.formula == "mechanics.valvetrain.predicted_gap"
    assert choice.readings == ("valve-clearance.1.exhaust", "shim-fitted.1.exhaust")


def test_lever_divides_the_shims_share_of_the_doubt() -> None:
    """With a ratio of 1.5 a shim's error is two thirds at the cam; the blade's stays whole."""
    sheet = {"geometry": {"lever-ratio": 1.5}, "layout": {"valve-actuation": "finger follower"}}
    blade = hypot(0.01 / (2 * sqrt(3)), 0.005 / sqrt(3))
    shims = hypot(0.001 / (2 * sqrt(3)), 0.002 / sqrt(3), 0.005 / sqrt(3))
    choice = _choice(0.15, 2.60, sheet=sheet)
    assert choice.predicted_u is not None
    assert choice.predicted_u * 1e3 == pytest.approx(hypot(blade, shims / 1.5))
    assert choice.exact_u * 1e3 == pytest.approx(hypot(1.5 * blade, 0.001 / (2 * sqrt(3)), 0.002 / sqrt(3)))


def _plan(
    *readings: tuple[str, float, float], box: tuple[float, ...] = (), **sheet: Any
) -> dict[str, ShimChoice]:
    """The plan for valves given with gap and shim, by place."""
    taken = (
        reading
        for at, gap, shim in readings
        for reading in (read(f"valve-clearance.{at}", gap), read(f"shim-fitted.{at}", shim))
    )
    case = a_case(*taken, books=some_books(a_sheet(**sheet), **{"shims-in-stock": list(box)}))
    return {choice.position.id: choice for choice in measure(case).shims}


def test_shim_of_one_valve_serves_another_by_its_measured_thickness() -> None:
    """2.604 gives cylinder 2 a gap of 0.36 + 2.50 - 2.604 = 0.256, and 2.50 gives cylinder 1 one of 0.224."""
    plan = _plan(("1.exhaust", 0.12, 2.604), ("2.exhaust", 0.36, 2.50))
    moved = plan["2.exhaust"]
    assert (moved.size, moved.predicted) == pytest.approx((2.604e-3, 0.256e-3))
    assert (moved.source, moved.note) == ("moved", "moved from cylinder 1, exhaust valve")
    assert moved.readings[-1] == "shim-fitted.1.exhaust"
    assert plan["1.exhaust"].source == "moved"
    assert plan["1.exhaust"].predicted == pytest.approx(0.224e-3)


def test_one_micrometers_error_drops_out_between_two_shims_it_read() -> None:
    """Only its step stays, twice, beside the blade."""
    blade = hypot(0.01 / (2 * sqrt(3)), 0.005 / sqrt(3))
    moved = _plan(("1.exhaust", 0.12, 2.604), ("2.exhaust", 0.36, 2.50))["2.exhaust"]
    assert moved.predicted_u is not None
    assert moved.predicted_u * 1e3 == pytest.approx(hypot(blade, sqrt(2) * 0.001 / (2 * sqrt(3))))


def test_a_good_valve_lends_its_shim_where_that_saves_one() -> None:
    """Cylinder 2 wants 2.63: the box's 2.57 does not do, but it does for cylinder 1, whose 2.60 then does."""
    saved = _plan(("1.exhaust", 0.25, 2.60), ("2.inlet-1", 0.38, 2.40), box=(2.57,))
    assert [saved[at].source for at in ("1.exhaust", "2.inlet-1")] == ["box", "moved"]
    assert saved["1.exhaust"].note == f"{PARTS}; from the workshop's box"
    assert saved["1.exhaust"].predicted == pytest.approx(0.28e-3)


def test_a_good_valve_keeps_its_shim_where_nothing_is_saved() -> None:
    """A gap that is in its range is left alone, though the box could bring it nearer to its aim."""
    plan = _plan(("1.exhaust", 0.23, 2.60), box=(2.58,))
    assert not plan["1.exhaust"].change


def test_a_valve_no_size_reaches_keeps_its_shim() -> None:
    """Its shim is not promised to another before its seat is done."""
    sheet: dict[str, Any] = {"on_sale": {"shims": {"first": 2.5, "last": 3.5, "step": 0.05}}}
    plan = _plan(("1.exhaust", 0.05, 2.50), ("2.exhaust", 0.33, 2.42), **sheet)
    assert plan["1.exhaust"].note == TOO_THICK
    assert plan["2.exhaust"].source == "buy"
    assert plan["2.exhaust"].size == pytest.approx(2.50e-3)


def test_shims_that_fit_but_serve_others_are_told() -> None:
    """One shim in the box, two valves that want it, none on sale near it."""
    sheet: dict[str, Any] = {"on_sale": {"shims": {"sizes": [1.2]}}}
    plan = _plan(("1.exhaust", 0.12, 2.60), ("2.exhaust", 0.12, 2.60), box=(2.47,), **sheet)
    assert sorted(choice.note for choice in plan.values()) == ["from the workshop's box", GONE]


def test_a_shim_that_leaves_doubt_says_so() -> None:
    """The only size in reach leaves 0.205 of 0.20 to 0.30: in range, and not surely."""
    choice = _choice(0.12, 2.60, sheet={"on_sale": {"shims": {"sizes": [2.515]}}})
    assert choice.predicted == pytest.approx(0.205e-3)
    assert choice.inside is not None
    assert 0.5 < choice.inside < 0.95
    assert choice.note == f"{UNSURE}; to buy"


def test_chance_of_a_kept_gap_is_told() -> None:
    """0.25 read with u = 0.0041 lies twelve of them from either edge."""
    choice = _choice(0.25, 2.60)
    assert choice.inside == pytest.approx(1.0)
    assert choice.formula == "reading"
    assert choice.predicted_u == pytest.approx(4.0825e-6, rel=1e-3)


@given(st.integers(0, 60), st.integers(60, 65))
def test_every_shim_planned_keeps_the_range(gap: int, shim: int) -> None:
    """Whatever the gap: a size is predicted to lie in range, or the plan says that none does."""
    choice = _choice(gap / 100, shim * 0.05)
    if choice.size is None:
        assert choice.note in (TOO_THICK, TOO_THIN)
    else:
        assert choice.predicted is not None
        assert 0.20e-3 - 1e-9 <= choice.predicted <= 0.30e-3 + 1e-9


def test_range_left_counts_from_the_thinnest_on_sale() -> None:
    """2.60 with 0.12 for 0.25 wants 2.47; the thinnest is 1.20, so 1.27 is left, whatever shim is fitted."""
    case = a_case(read("valve-clearance.1.exhaust", 0.12), read("shim-fitted.1.exhaust", 2.60))
    left = found(case, "shim-range-left.1.exhaust")
    assert left.quantity.value == pytest.approx(1.27e-3)
    assert (left.formula, left.note) == ("mechanics.valvetrain.shim_range_left", "thinnest on sale 1.2 mm")
    other = a_case(read("valve-clearance.1.exhaust", 0.27), read("shim-fitted.1.exhaust", 2.45))
    assert value(other, "shim-range-left.1.exhaust") == pytest.approx(1.27e-3)


def test_range_left_carries_both_gauges() -> None:
    """Blade and micrometer, root sum of squares."""
    case = a_case(read("valve-clearance.1.exhaust", 0.12), read("shim-fitted.1.exhaust", 2.60))
    blade = hypot(0.01 / (2 * sqrt(3)), 0.005 / sqrt(3))
    micrometer = hypot(0.001 / (2 * sqrt(3)), 0.002 / sqrt(3))
    assert u(case, "shim-range-left.1.exhaust") * 1e3 == pytest.approx(hypot(blade, micrometer))


@pytest.mark.parametrize(
    ("sheet", "why"),
    [
        ({"on_sale": {"shims": None}}, "shims on sale are not in the spec sheet"),
        ({"characteristics": []}, "the range of the valve clearance is not in the spec sheet"),
    ],
)
def test_range_left_says_what_is_missing(sheet: dict[str, Any], why: str) -> None:
    """Without sizes on sale, or without a range to set, nothing can be said."""
    readings = read("valve-clearance.1.exhaust", 0.12), read("shim-fitted.1.exhaust", 2.60)
    case = a_case(*readings, books=some_books(a_sheet(**sheet)))
    assert any(why in reason.why for reason in lacking(case, "shim-range-left"))


def test_spring_lean_is_told_as_an_angle() -> None:
    """1.7 mm in 38.9 mm are 2.5 degrees."""
    case = a_case(read("valve-spring-squareness.1.exhaust", 1.7), read("valve-spring-length.1.exhaust", 38.9))
    assert value(case, "valve-spring-lean.1.exhaust") == pytest.approx(degrees(atan(1.7 / 38.9)))
    assert found(case, "valve-spring-lean.1.exhaust").formula == "mechanics.valvetrain.spring_lean"


def test_spring_lean_is_left_to_the_maker_where_the_gap_has_a_limit() -> None:
    """A limit for the gap judges the lean already; a second verdict would count it twice."""
    row = {"id": "valve-spring-squareness", "limit": {"high": 1.7}, "wears": "up", "page": "1"}
    readings = (read("valve-spring-squareness.1.exhaust", 1.0), read("valve-spring-length.1.exhaust", 38.9))
    case = a_case(*readings, books=some_books(a_sheet(characteristics=[row])))
    assert not [q for q in measure(case).quantities if q.characteristic == "valve-spring-lean"]
    assert lacking(case, "valve-spring-lean") == ()


def test_spring_load_lost_counts_from_the_middle_of_the_new_range() -> None:
    """180 N of 190 to 210 when new: a tenth lost, in doubt by the tester and half the range over √3."""
    row = {"id": "valve-spring-load", "unit": "N", "standard": [190, 210], "page": "1"}
    case = a_case(read("valve-spring-load.1.exhaust", 180), books=some_books(a_sheet(characteristics=[row])))
    lost = found(case, "valve-spring-load-loss.1.exhaust")
    assert lost.quantity.value == pytest.approx(0.1)
    assert lost.quantity.u == pytest.approx(hypot(SPRING / 200, 180 / 200**2 * 10 / sqrt(3)), rel=1e-3)
    assert lost.note == "against 200 N when new"


@pytest.mark.parametrize("limit", [{"limit": {"low": 185}, "wears": "down"}, {"wear": 20, "wears": "down"}])
def test_spring_load_with_a_limit_of_its_own_has_no_loss(limit: dict[str, Any]) -> None:
    """The maker's limit judges the load, as a dimension or as an amount; no second verdict beside it."""
    row = {"id": "valve-spring-load", "unit": "N", "standard": [190, 210], "page": "1", **limit}
    case = a_case(read("valve-spring-load.1.exhaust", 180), books=some_books(a_sheet(characteristics=[row])))
    assert not [q for q in measure(case).quantities if q.characteristic == "valve-spring-load-loss"]
    assert lacking(case, "valve-spring-load-loss") == ()


def test_stem_clearance_is_bore_less_stem() -> None:
    """4.020 less 3.980 mm; micrometer and bore gauge both count."""
    case = a_case(read("guide-bore.1.exhaust", 4.020), read("stem-diameter.1.exhaust", 3.980))
    assert value(case, "stem-clearance.1.exhaust") == pytest.approx(0.040e-3)
    step = 0.001 / (2 * sqrt(3))
    assert u(case, "stem-clearance.1.exhaust") * 1e3 == pytest.approx(
        hypot(step, step, 0.002 / sqrt(3), 0.003 / sqrt(3))
    )


def test_range_may_be_printed_as_a_limit_alone() -> None:
    """A manual that prints the gap as a limit and no standard range is set by that."""
    row = {"id": "valve-clearance", "limit": [0.20, 0.30], "wears": "either", "page": "1"}
    choice = _choice(0.12, 2.60, sheet={"characteristics": [row]})
    assert (choice.low, choice.high, choice.size) == pytest.approx((0.20e-3, 0.30e-3, 2.45e-3))


@pytest.mark.parametrize("sizes", [[2.3, 2.7], [2.2, 2.3, 2.7], [2.3, 2.7, 2.8]])
def test_few_sizes_that_step_over_the_range_are_told_as_such(sizes: list[float]) -> None:
    """2.47 is wanted: the thinnest leaves too wide a gap and the thickest too narrow a one."""
    assert _choice(0.12, 2.60, sheet={"on_sale": {"shims": {"sizes": sizes}}}).note == BETWEEN


def test_few_repeats_count_in_the_plan_as_in_the_finding() -> None:
    """
    Three repeats tell their scatter badly: by the normal law the gap is surely in range, by Student's t not.

    0.207, 0.222 and 0.237: s 0.015, over √3 0.00866, with the blades' 0.00408 u 0.00957. The edge at 0.20
    lies 2.30 of them below: 98.9 % by the normal law, 94.8 % with the 2.99 degrees of freedom (scipy).
    """
    case = a_case(
        read("valve-clearance.1.exhaust", 0.207, 0.222, 0.237),
        read("shim-fitted.1.exhaust", 2.60),
        books=some_books(a_sheet()),
    )
    (choice,) = measure(case).shims
    (gap,) = (q.quantity for q in measure(case).quantities if q.id == "valve-clearance.1.exhaust")
    assert gap.u == pytest.approx(9.574e-6, rel=1e-3)
    assert gap.dof == pytest.approx(2.99, abs=0.01)
    assert float(student.cdf((gap.value - 0.20e-3) / gap.u, gap.dof)) < 0.95
    assert choice.change
    assert choice.size == pytest.approx(2.55e-3)
