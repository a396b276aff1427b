"""Checks the reasons given for what was not measured."""

from typing import Any

import pytest

from inspect_report.measure.derived import Unmeasured
from inspect_report.records.inspection import Reading
from inspect_report.records.position import ENGINE
from tests.cases import a_case, read, read_each
from tests.measure.finds import lacking

PLATES = read_each("friction-plate-thickness", dict.fromkeys(range(1, 6), 3.0))


def _only(characteristic: str, *readings: Reading, **head: Any) -> Unmeasured:
    (reason,) = lacking(a_case(*readings, **head), characteristic)
    return reason


def test_nothing_read_is_one_entry_for_the_engine() -> None:
    """Twelve valves without a clearance are one gap in the report, not twelve."""
    reason = _only("valve-clearance")
    assert (reason.position, reason.why) == (ENGINE, "valve clearance not read")


def test_one_place_not_read_is_named() -> None:
    """Five plates of six: the sixth is told."""
    reason = _only("friction-plate-thickness", *PLATES)
    assert reason.position.labels == ("6",)
    assert reason.why == "friction plate thickness not read on friction plate 6"


def test_deeper_item_names_the_depth_it_needs() -> None:
    """In the frame a bore is not asked for; the reason names the strip-down that would show it."""
    reason = _only("bore-wear", depth="in the frame")
    assert reason.outside_depth
    assert reason.why == "needs a deeper strip-down: top end off"


@pytest.mark.parametrize(
    ("depth", "needed"), [("top end off", "fully stripped"), ("in the frame", "fully stripped")]
)
def test_next_depth_that_asks_for_it_is_named(depth: str, needed: str) -> None:
    """A crankpin needs the engine fully stripped, from wherever one looks."""
    assert _only("crankpin-taper", depth=depth).why == f"needs a deeper strip-down: {needed}"


def test_build_check_does_not_ask_for_a_strip_down() -> None:
    """After assembly nobody is told to strip the engine again."""
    reason = _only("bore-wear", depth="after assembly")
    assert reason.outside_depth
    assert reason.why == "belongs to another depth: top end off, fully stripped"


def test_item_left_out_quotes_the_reason() -> None:
    """The inspector's own words go into the report."""
    out = [{"item": "bore-diameter", "reason": "barrels stay on, on request"}]
    reason = _only("bore-wear", left_out=out)
    assert reason.why == "left out: barrels stay on, on request"
    assert reason.applies
    assert not reason.outside_depth


def test_place_left_out_is_told_for_that_place() -> None:
    """One plate left out, the others read."""
    out = [{"item": "friction-plate-thickness", "at": {"friction-plate": "6"}, "reason": "broken"}]
    reason = _only("friction-plate-thickness", *PLATES, left_out=out)
    assert (reason.position.labels, reason.why) == (("6",), "left out: broken")


def test_part_of_an_item_left_out_quotes_the_reason_too() -> None:
    """One place of a bore left out: its taper cannot be told, for the reason given."""
    read_places = {f"1.{h}.{a}": 67.0 for h in ("top", "middle") for a in ("along", "across")}
    out = [{"item": "bore-diameter", "at": {"height": "bottom"}, "reason": "gauge too short"}]
    case = a_case(*read_each("bore-diameter", read_places), left_out=out)
    assert [r.why for r in lacking(case, "bore-taper")] == [
        "left out: gauge too short; bore diameter not read"
    ]


def test_item_that_does_not_apply_is_no_gap() -> None:
    """What the engine does not have is told as such."""
    out = [{"item": "starter-brush-length", "reason": "kick-starter only", "applies": False}]
    reason = _only("starter-brush-length", left_out=out)
    assert (reason.applies, reason.why) == (False, "kick-starter only")


def test_reasons_of_several_places_are_each_told_once() -> None:
    """Two reasons over six plates become one entry."""
    out = [{"item": "friction-plate-thickness", "at": {"friction-plate": "1"}, "reason": "broken"}]
    assert _only("friction-plate-thickness", left_out=out).why == (
        "left out: broken; friction plate thickness not read"
    )


def test_reading_beyond_the_depth_is_used_all_the_same() -> None:
    """Somebody read a bore through the plug hole: the others are still outside this depth."""
    case = a_case(read("skirt-diameter.1", 66.9), depth="in the frame")
    assert all(reason.outside_depth for reason in lacking(case, "piston-clearance"))
