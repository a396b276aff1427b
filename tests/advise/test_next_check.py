"""Turns the choice of the next best check into checks: information by hand, and what is open already."""

from dataclasses import replace
from typing import Any

import pytest

from inspect_report.advise.advice import Diagnosis
from inspect_report.advise.explanation import NextCheck
from inspect_report.advise.rules import diagnose
from inspect_report.knowledge.rulebook import Rulebook
from inspect_report.records.checklist import Checklist
from tests.advise.builders import at, case, checklist, finding, judged, rule
from tests.advise.test_joining import with_book

HIGH = {"quantity": "leak-down", "verdict": ["beyond limit"]}
SHARES = {"mostly": 0.8, "half": 0.5, "rarely": 0.1, "even": 0.3}
EVEN = {"gap": ["half", "rarely"], "crown": ["mostly", "rarely"]}


def rulebook(**signs: list[str]) -> Rulebook:
    """A rule for cylinder 3 whose cause is told of by a valve gap and by the look of the crown."""
    seen = {
        "gap": {"quantity": "valve-clearance", "verdict": ["beyond limit"]},
        "crown": {"rating": "crown-state", "damage": ["scuffing"]},
        "again": {"quantity": "leak-down", "side": "above"},
    }
    written = {
        "rulebook": "own",
        "version": 1,
        "shares": SHARES,
        "signs": [{"id": i, "see": see, "check": f"Look for {i}"} for i, see in seen.items()],
        "causes": [{"id": "valve", "name": "a valve", "before": "half", "signs": signs}],
        "rules": [],
    }
    book = Rulebook.model_validate(written)
    return book.model_copy(update={"rules": (rule(cause="valve", when=HIGH),)})


def section(item: str, **changes: Any) -> dict[str, Any]:
    """A section of one item of the small checklist."""
    found = checklist().item(item)
    assert found is not None
    plain = {**found.model_dump(by_alias=True), "access": "", **changes}
    return {"id": f"of-{item}", "title": item, "assembly": "engine", "items": [plain]}


def checks(
    book: Rulebook, *findings: Any, depth: str = "in the frame", **of_items: Any
) -> tuple[NextCheck, ...]:
    """The next checks of the diagnosis of cylinder 3, its items where they are said to stand."""
    made = with_book(case(depth=depth), book)
    sections = [section(i.replace("_", "-"), **changes) for i, changes in of_items.items()]
    whole = checklist().model_dump(by_alias=True) | {"sections": sections}
    listed = Checklist.model_validate(whole)
    made = replace(made, books=replace(made.books, checklist=listed))
    leak = finding("leak-down", at(3), "beyond limit", "35 %")
    (diagnosis,) = told(made, leak, *findings)
    return diagnosis.next_checks


def told(made: Any, *findings: Any) -> tuple[Diagnosis, ...]:
    """The diagnoses of a case."""
    return diagnose(made, judged(*findings), (), [])[0]


GAP = {"depths": ["in the frame", "top end off"], "access": "cover-off"}
CROWN = {"depths": ["top end off"], "access": "head-off"}


def test_the_check_that_settles_most_comes_first() -> None:
    """
    Both possible: by hand, at odds of one to one, the gap tells 0.1468 bit and the crown 0.3973.

    Crown seen with 0.8 or 0.1: H(0.5) - 0.45 H(0.8 / 0.9) - 0.55 H(0.2 / 1.1) = 1 - 0.45 × 0.5033 - 0.55 ×
    0.6840 = 0.3973; gap with 0.5 or 0.1: 1 - 0.3 H(0.5 / 0.6) - 0.7 H(0.5 / 1.4) = 1 - 0.3 × 0.6500 - 0.7 ×
    0.9403 = 0.1468.
    """
    (first,) = checks(rulebook(**EVEN), valve_clearance=GAP, crown_state=GAP)
    assert (first.does, first.items) == ("Look for crown", ("crown-state",))
    assert first.bits == pytest.approx(0.3973, abs=2e-4)
    (gap,) = checks(rulebook(gap=EVEN["gap"]), valve_clearance=GAP, crown_state=GAP)
    assert gap.bits == pytest.approx(0.1468, abs=2e-4)
    assert (gap.bears_on, gap.opens, float(gap.hours)) == (("valve",), (), 0.0)


def test_what_lies_behind_further_opening_follows_where_it_settles_more() -> None:
    """With the cover off the gap can be measured; the crown tells more, and the head must come off."""
    now, further = checks(rulebook(**EVEN), valve_clearance=GAP, crown_state=CROWN)
    assert (now.does, now.opens) == ("Look for gap", ())
    assert (further.does, further.opens) == ("Look for crown", ("Head off",))
    # plugs, cover, camshafts, head: the cover goes back on when the inspection ends
    assert float(further.hours) == pytest.approx(0.5 + 1.0 + 1.2 + 3.5)


def test_further_opening_that_tells_less_is_not_named() -> None:
    """The better check can be made as the engine stands."""
    (now,) = checks(rulebook(**EVEN), valve_clearance=CROWN, crown_state=GAP)
    assert (now.does, now.opens) == ("Look for crown", ())


def test_a_check_that_was_made_is_not_named() -> None:
    """With the gap known only the crown is left."""
    gap = finding("valve-clearance", at(3), "as new", "0.1 mm")
    (left,) = checks(rulebook(**EVEN), gap, valve_clearance=GAP, crown_state=CROWN)
    assert left.does == "Look for crown"


def test_what_is_known_without_a_verdict_is_not_asked_again() -> None:
    """Measured, and no limit known: measuring once more would tell nothing."""
    gap = finding("valve-clearance", at(3), "no limit known", "0.1 mm")
    assert checks(rulebook(gap=EVEN["gap"]), gap, valve_clearance=GAP, crown_state=CROWN) == ()


def test_what_can_no_longer_be_done_is_not_named() -> None:
    """An engine that lies open is past what is done on a whole one, before or after assembly."""
    whole = {"depths": ["in the frame"], "access": ""}
    both_ends = {"depths": ["in the frame", "top end off", "after assembly"], "access": ""}
    for where in (whole, both_ends):
        found = checks(rulebook(**EVEN), depth="top end off", valve_clearance=where, crown_state=where)
        assert found == ()
    assert len(checks(rulebook(**EVEN), valve_clearance=whole, crown_state=whole)) == 1


def test_a_thing_the_checklist_does_not_ask_for_is_no_check() -> None:
    """Nothing can be looked at that no item stands for."""
    assert checks(rulebook(crown=EVEN["crown"]), valve_clearance=GAP) == ()
