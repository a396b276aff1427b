"""Checks the shim plan of a case against sums done by hand."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.measure.derived import ShimChoice
from inspect_report.measure.measuring import measure
from inspect_report.measure.valves import HELD_OPEN, NEAR_EDGE, NONE_REACHES
from tests.cases import a_case, a_sheet, read, some_books

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


def test_gap_at_the_edge_stays_where_no_size_is_nearer() -> None:
    """With sizes 0.1 apart the next would go to the other edge: the fitted shim stays, and why is told."""
    sheet = {"on_sale": {"shims": {"first": 1.2, "last": 3.5, "step": 0.1}}}
    choice = _choice(0.20, 2.60, sheet=sheet)
    assert not choice.change
    assert choice.size == choice.fitted
    assert choice.note == f"{NEAR_EDGE}; no size on sale is nearer"


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


def test_valve_that_no_size_reaches_is_told() -> None:
    """Shim 1.20 is the thinnest on sale and the gap still shut: the seat has to be worked on."""
    choice = _choice(0.05, 1.20)
    assert (choice.size, choice.predicted) == (None, None)
    assert choice.change
    assert choice.note == NONE_REACHES


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


@given(st.integers(0, 60), st.integers(60, 65))
def test_every_shim_planned_keeps_the_range(gap: int, shim: int) -> None:
    """Whatever the gap: a size is predicted to lie in range, or the plan says that none does."""
    choice = _choice(gap / 100, shim * 0.05)
    if choice.size is None:
        assert choice.note == NONE_REACHES
    else:
        assert choice.predicted is not None
        assert 0.20e-3 - 1e-9 <= choice.predicted <= 0.30e-3 + 1e-9
