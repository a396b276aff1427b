"""Shims, cams and chains under change: cylinders exchanged, wear going on, an engine of many valves."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_report.measure.derived import ShimChoice
from inspect_report.measure.measuring import measure
from inspect_report.mechanics import camshaft, chain, valvetrain
from tests.cases import a_case, a_sheet, read, some_books

GAPS = st.lists(st.integers(5, 45), min_size=4, max_size=4)
SHIMS = st.lists(st.integers(240, 270), min_size=4, max_size=4)
BOX = st.lists(st.integers(240, 270), max_size=3)


def plan(gaps: list[int], shims: list[int], box: list[int], **sheet: Any) -> tuple[ShimChoice, ...]:
    """The plan for one exhaust valve a cylinder; gaps and shims in hundredths of a millimetre."""
    readings = [read(f"valve-clearance.{n}.exhaust", gap / 100) for n, gap in enumerate(gaps, 1)]
    readings += [read(f"shim-fitted.{n}.exhaust", shim / 100) for n, shim in enumerate(shims, 1)]
    books = some_books(a_sheet(**sheet), **{"shims-in-stock": [size / 100 for size in box]})
    return measure(a_case(*readings, books=books)).shims


def bought(choices: tuple[ShimChoice, ...]) -> int:
    """How many shims are bought."""
    return sum(choice.source == "buy" for choice in choices)


@given(GAPS, SHIMS, BOX, st.permutations(range(4)))
@settings(max_examples=25, deadline=None)
def test_exchanged_cylinders_buy_as_many(
    gaps: list[int], shims: list[int], box: list[int], order: list[int]
) -> None:
    """What is best does not depend on which cylinder is called the first."""
    other = plan([gaps[n] for n in order], [shims[n] for n in order], box)
    assert bought(other) == bought(plan(gaps, shims, box))


@given(GAPS, SHIMS, BOX)
@settings(max_examples=25, deadline=None)
def test_a_fuller_box_buys_no_more(gaps: list[int], shims: list[int], box: list[int]) -> None:
    """One shim more in the box saves one or none."""
    assert bought(plan(gaps, shims, [*box, 255])) <= bought(plan(gaps, shims, box))


@given(GAPS, SHIMS, BOX)
@settings(max_examples=25, deadline=None)
def test_no_shim_is_in_two_places(gaps: list[int], shims: list[int], box: list[int]) -> None:
    """Shims moved come from valves that change theirs, each once; the box gives no more than it has."""
    choices = plan(gaps, shims, box)
    moved = [choice.readings[-1] for choice in choices if choice.source == "moved"]
    changed = {f"shim-fitted.{choice.position.id}" for choice in choices if choice.change}
    assert len(set(moved)) == len(moved)
    assert set(moved) <= changed
    boxed = [round((choice.size or 0.0) * 1e5) for choice in choices if choice.source == "box"]
    assert all(boxed.count(size) <= box.count(size) for size in boxed)


@given(GAPS, SHIMS, BOX)
@settings(max_examples=25, deadline=None)
def test_every_gap_expected_lies_in_its_range(gaps: list[int], shims: list[int], box: list[int]) -> None:
    """A shim to fit leaves a gap in range, stated with its doubt; no shim says why."""
    for choice in plan(gaps, shims, box):
        if choice.predicted is None:
            assert choice.note
        else:
            assert choice.low - 1e-9 <= choice.predicted <= choice.high + 1e-9
            assert choice.predicted_u is not None
            assert choice.predicted_u > 0.0


def test_an_engine_of_many_valves_is_planned() -> None:
    """Twelve cylinders of four valves, all tight: each gets a shim, those that come out are used again."""
    layout = {"cylinders": 12, "valves": {"inlet": 2, "exhaust": 2}}
    places = [f"{c}.{v}" for c in range(1, 13) for v in ("inlet-1", "inlet-2", "exhaust-1", "exhaust-2")]
    readings = [read(f"valve-clearance.{at}", 0.06 + 0.1 * ("exhaust" in at)) for at in places]
    readings += [read(f"shim-fitted.{at}", 2.40 + 0.025 * (n % 8)) for n, at in enumerate(places)]
    choices = measure(a_case(*readings, books=some_books(a_sheet(layout=layout)))).shims
    assert len(choices) == 48
    assert all(choice.size is not None and choice.inside is not None for choice in choices)
    assert sum(choice.source == "moved" for choice in choices) > 24


@given(st.floats(0.0, 0.4), st.floats(0.0, 0.4), st.floats(1.0, 1.8))
def test_wear_takes_from_the_range_of_shims(gap: float, less: float, lever: float) -> None:
    """A gap that closes leaves less, by the lever times the closing."""
    wide, tight = max(gap, less) * 1e-3, min(gap, less) * 1e-3
    at = {"aim": 0.15e-3, "thinnest": 1.2e-3, "lever": lever}
    before, after = (valvetrain.shim_range_left(2e-3, g, **at) for g in (wide, tight))
    assert before - after == pytest.approx(lever * (wide - tight), abs=1e-15)


@given(st.floats(-0.01, 0.03), st.floats(0.0, 0.3), st.floats(0.0, 0.3), st.floats(0.02, 0.1))
def test_retards_along_one_chain_add_up(long: float, first: float, second: float, radius: float) -> None:
    """A camshaft behind another is late by that one and by the strand between them."""
    parts = [chain.cam_retard(long, span_length=span, sprocket_radius=radius) for span in (first, second)]
    whole = chain.cam_retard(long, span_length=first + second, sprocket_radius=radius)
    assert whole == pytest.approx(sum(parts), abs=1e-9)


@given(st.floats(0.0, 719.0), st.floats(80.0, 130.0), st.floats(80.0, 130.0), st.floats(-20.0, 20.0))
def test_full_lift_read_by_eye_does_not_hide_half_a_turn(
    start: float, inlet: float, exhaust: float, error: float
) -> None:
    """Whatever the start and some degrees of error, a right pair stays within 90, a wrong one beyond it."""
    centres = {"inlet_centre": inlet, "exhaust_centre": exhaust}
    right, wrong = ((start + inlet + exhaust + error + turn) % 720.0 for turn in (0.0, 360.0))
    assert abs(camshaft.stroke_misfit(right, start, **centres)) < 90.0
    assert abs(camshaft.stroke_misfit(wrong, start, **centres)) > 90.0
