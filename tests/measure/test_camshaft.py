"""Checks cam timing of a case against sums done by hand."""

from math import hypot, sqrt
from typing import Any, Final

import pytest

from inspect_report.knowledge.case import Case
from inspect_report.measure.measuring import measure
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


TARGET: Final[list[dict[str, Any]]] = [
    {"id": "cam-lobe-centre", "unit": "°", "where": {"cam": "inlet"}, "standard": [102, 106], "page": "1"},
    {"id": "cam-lobe-centre", "unit": "°", "where": {"cam": "exhaust"}, "nominal": 112, "page": "1"},
    {"id": "cam-lobe-height", "where": {"cam": "inlet"}, "standard": [35.6, 35.7], "page": "2"},
    {"id": "cam-lobe-height", "where": {"cam": "exhaust"}, "nominal": 35.2, "page": "2"},
]


def _timed(**more: float) -> Case:
    """The case above with targets, and the crank angles at full lift where they are given."""
    opening, closing = {"inlet": 6, "exhaust": 48}, {"inlet": 42, "exhaust": 8}
    readings = (*read_each("cam-opening", opening), *read_each("cam-closing", closing))
    full = read_each("cam-full-lift", more) if more else ()
    return a_case(*readings, *full, books=some_books(a_sheet(characteristics=TARGET)))


def test_late_is_after_the_target_on_both_sides() -> None:
    """Inlet 108 after top for 104 is 4 late; exhaust 110 before top for 112 is 2 late."""
    case = _timed()
    assert [value(case, f"cam-lateness.{cam}") for cam in ("inlet", "exhaust")] == [4.0, 2.0]
    assert found(case, "cam-lateness.exhaust").formula == "mechanics.camshaft.exhaust_lateness"
    assert found(case, "cam-lateness.inlet").note.startswith("target 104°; ")
    assert u(case, "cam-lateness.exhaust") == pytest.approx(u(case, "cam-lobe-centre.exhaust"))


def test_no_lateness_without_a_target() -> None:
    """A sheet that prints no lobe centre leaves nothing to be late against, and nothing is missed."""
    assert lacking(_case(), "cam-lateness") == ()
    assert not [q for q in measure(_case()).quantities if q.characteristic == "cam-lateness"]


def test_separation_is_half_the_sum_of_the_centres() -> None:
    """108 and 110 stand 109 camshaft degrees apart, and a disc set wrong does not change that."""
    case = _case()
    assert value(case, "cam-lobe-separation") == 109.0
    assert u(case, "cam-lobe-separation") == pytest.approx(0.5 / (2 * sqrt(3)) / 2)


def test_camshafts_on_one_stroke_fit() -> None:
    """From the firing dead centre: exhaust 360 - 110, inlet 360 + 108."""
    case = _timed(inlet=468, exhaust=250)
    assert value(case, "cam-stroke-misfit") == pytest.approx(0.0)
    assert found(case, "cam-stroke-misfit").readings[:2] == ("cam-full-lift.inlet", "cam-full-lift.exhaust")
    assert u(case, "cam-stroke-misfit") == pytest.approx(0.5 / (2 * sqrt(3)) * sqrt(2 + 4 / 4))


@pytest.mark.parametrize(("inlet", "exhaust"), [(108, 250), (468, 610), (475, 615)])
def test_camshaft_half_a_turn_out_is_caught(inlet: float, exhaust: float) -> None:
    """Whichever of the two stands a crank turn away, and by a reading some degrees off, all marks in line."""
    assert value(_timed(inlet=inlet, exhaust=exhaust), "cam-stroke-misfit") == pytest.approx(360.0, abs=10.0)


def test_both_half_a_turn_out_are_on_one_stroke() -> None:
    """Counted from the other dead centre, both full lifts move together."""
    assert value(_timed(inlet=108, exhaust=610), "cam-stroke-misfit") == pytest.approx(0.0)


def test_greatest_overlap_of_several_banks() -> None:
    """Front 6 and 8, rear 7 and 9: the rear bank overlaps more."""
    cams = ["inlet-front", "exhaust-front", "inlet-rear", "exhaust-rear"]
    opening = dict(zip(cams, (6, 48, 7, 48), strict=True))
    closing = dict(zip(cams, (42, 8, 42, 9), strict=True))
    readings = (*read_each("cam-opening", opening), *read_each("cam-closing", closing))
    case = a_case(*readings, books=some_books(a_sheet(layout={"camshafts": cams})))
    assert value(case, "cam-overlap") == 16.0
    assert found(case, "cam-overlap").readings == ("cam-opening.inlet-rear", "cam-closing.exhaust-rear")
    assert value(case, "cam-lobe-centre.exhaust-rear") == pytest.approx(109.5)


def test_a_camshaft_whose_side_is_not_told_is_not_guessed() -> None:
    """A single camshaft marked as carrying one side gives a reason, and not an inlet's numbers."""
    readings = (read("cam-opening.single", 6), read("cam-closing.single", 42))
    case = a_case(*readings, books=some_books(a_sheet(layout={"camshafts": ["single"]})))
    (reason,) = lacking(case, "cam-lobe-centre")
    assert reason.why.startswith(
        "whether the single camshaft opens inlet or exhaust valves is not in the spec"
    )
    assert value(case, "cam-duration.single") == 228.0


def test_one_camshaft_for_both_sides_is_read_by_side() -> None:
    """The same four angles, read on one camshaft, give the same centres, overlap and lateness."""
    rows = [
        {**row, "id": "cam-lobe-centre-by-side", "where": {"valve-side": row["where"]["cam"]}}
        for row in TARGET[:2]
    ]
    angles = {"inlet": (6, 42), "exhaust": (48, 8)}
    readings = [read(f"cam-opening-by-side.single.{side}", a) for side, (a, _) in angles.items()]
    readings += [read(f"cam-closing-by-side.single.{side}", b) for side, (_, b) in angles.items()]
    layout = {"camshafts": ["single"], "camshaft-lobes": "both sides"}
    case = a_case(*readings, books=some_books(a_sheet(layout=layout, characteristics=rows)))
    sides = ("single.inlet", "single.exhaust")
    assert [value(case, f"cam-lobe-centre-by-side.{side}") for side in sides] == [108.0, 110.0]
    assert [value(case, f"cam-duration-by-side.{side}") for side in sides] == [228.0, 236.0]
    assert [value(case, f"cam-lateness-by-side.{side}") for side in sides] == [4.0, 2.0]
    assert value(case, "cam-overlap-by-side") == 14.0


def test_lobe_wear_counts_from_the_middle_of_the_makers_range() -> None:
    """35.55 of 35.6 to 35.7: 0.10 below the middle, in doubt by half the range over √3 too."""
    heights = (read("cam-lobe-height.1.inlet", 35.55), read("cam-lobe-height.1.exhaust", 35.18))
    case = a_case(*heights, books=some_books(a_sheet(characteristics=TARGET)))
    micrometer = hypot(0.001 / (2 * sqrt(3)), 0.002 / sqrt(3))
    assert value(case, "cam-lobe-wear.1.inlet") == pytest.approx(0.10e-3)
    assert u(case, "cam-lobe-wear.1.inlet") * 1e3 == pytest.approx(hypot(micrometer, 0.05 / sqrt(3)))
    assert value(case, "cam-lobe-wear.1.exhaust") == pytest.approx(0.02e-3)
    assert u(case, "cam-lobe-wear.1.exhaust") * 1e3 == pytest.approx(micrometer)
    assert found(case, "cam-lobe-wear.1.inlet").note == "against 35.65 mm when new"


def test_cam_lift_is_height_less_base_circle() -> None:
    """35.65 less 27.95: both by one micrometer, whose error drops out."""
    case = a_case(read("cam-lobe-height.1.inlet", 35.65), read("cam-base-circle.1.inlet", 27.95))
    assert value(case, "cam-lift.1.inlet") == pytest.approx(7.70e-3)
    assert u(case, "cam-lift.1.inlet") * 1e3 == pytest.approx(sqrt(2) * 0.001 / (2 * sqrt(3)))


def test_no_wear_without_a_size_when_new() -> None:
    """A sheet that does not print the height of a new lobe leaves nothing to lose, and nothing is missed."""
    case = a_case(read("cam-lobe-height.1.inlet", 35.55))
    assert lacking(case, "cam-lobe-wear") == ()
    assert not [q for q in measure(case).quantities if q.characteristic == "cam-lobe-wear"]


def test_banks_are_told_by_name_and_not_by_order() -> None:
    """Inlet front belongs to exhaust front, in whatever order the sheet lists them."""
    cams = ["inlet-front", "inlet-rear", "exhaust-rear", "exhaust-front"]
    opening = dict(zip(cams, (6, 7, 48, 48), strict=True))
    closing = dict(zip(cams, (42, 42, 9, 2), strict=True))
    readings = (*read_each("cam-opening", opening), *read_each("cam-closing", closing))
    case = a_case(*readings, books=some_books(a_sheet(layout={"camshafts": cams})))
    assert value(case, "cam-overlap") == 16.0


def test_camshafts_named_unlike_have_no_overlap() -> None:
    """Nobody knows which belong together."""
    books = some_books(a_sheet(layout={"camshafts": ["inlet-front", "exhaust-left"]}))
    (reason,) = lacking(a_case(books=books), "cam-overlap")
    assert reason.why == "inlet and exhaust camshafts of a bank are not named alike in the spec sheet"
