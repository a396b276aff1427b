"""Causes of another verdict, held against every set of what changed, judged again one by one."""

from dataclasses import replace
from itertools import combinations
from types import SimpleNamespace
from typing import Any, Final, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.assessment import Assessment
from inspect_report.comparison.causes import Judged, causes
from inspect_report.judge.decision import decide
from inspect_report.judge.finding import Finding, Limit, Seen, Verdict
from inspect_report.records.inspection import InstrumentUsed, Reading
from inspect_report.records.position import ENGINE
from inspect_report.records.problem import Place
from inspect_report.records.quantity import Quantity
from inspect_report.records.workshop import DecisionRule

RULE: Final = DecisionRule()
NOWHERE: Final = Place("x.yaml", 1, 1)


def limit(high: float | None = 0.10, **changes: Any) -> Limit:
    """A limit of wear, in metres as they stand."""
    known: dict[str, Any] = {
        "standard_low": 0.0,
        "standard_high": 0.02,
        "low": None,
        "high": high,
        "wears": "up",
        "watch": 0.75,
        "unit": "m",
        "source": "manual, p. 4",
        "sure": "seen",
        "origin": "spec sheet",
    }
    return Limit(**(known | changes))


def judged(
    value: float,
    u: float = 0.001,
    held: Limit | None = None,
    rule: DecisionRule = RULE,
    read: tuple[float, ...] = (1.0,),
    **changes: Any,
) -> Judged:
    """A measured finding judged as the program judges it, in as much of an assessment as causes look at."""
    quantity, row = Quantity(value, u, "length"), held or limit()
    verdict = decide(quantity, row, rule).verdict
    finding = Finding("wear", "wear", "Wear", ENGINE, "engine", verdict, "", "m", 3, quantity, row)
    finding = replace(finding, readings=("gauge",), instruments=("tool",))
    return within(replace(finding, **changes), read, rule)


def within(
    finding: Finding | None, read: tuple[float, ...] = (1.0,), rule: DecisionRule = RULE, **tool: Any
) -> Judged:
    """A finding in as much of an assessment as causes look at."""
    inspection = SimpleNamespace(
        readings=(Reading("gauge", ENGINE, read, "length", tuple(map(str, read)), "tool", NOWHERE),),
        instruments=(_tool(**tool),),
    )
    around = SimpleNamespace(
        inspection=inspection,
        workshop=SimpleNamespace(decision_rule=rule),
        judged=SimpleNamespace(findings=(finding,) if finding else ()),
    )
    return Judged(cast(Assessment, around), finding)


def _tool(resolution: float = 1e-5) -> InstrumentUsed:
    return cast(InstrumentUsed, SimpleNamespace(id="tool", resolution=resolution))


def by(before: Judged, after: Judged) -> tuple[tuple[str, ...], ...]:
    """The smallest sets of causes."""
    return causes(before, after)[0]


def test_a_worn_part_is_beyond_by_its_reading() -> None:
    """Only the value moved, and the readings behind it."""
    assert by(judged(0.05), judged(0.12, read=(2.0,))) == (("reading",),)


def test_the_same_readings_that_come_to_another_value_are_reckoned_otherwise() -> None:
    """A size in the spec sheet, the conditions or the formula is another."""
    assert by(judged(0.05), judged(0.12)) == (("computation",),)


def test_a_tighter_limit_is_the_cause_by_itself() -> None:
    """The reading moved as well, and plays no part."""
    found = causes(judged(0.05), judged(0.051, held=limit(0.04), read=(2.0,)))
    assert found == ((("limit",),), ("reading", "limit"))


def test_another_page_is_no_other_limit() -> None:
    """Where a limit is printed and how sure that is judges nothing."""
    moved = limit(source="manual, p. 9", sure="from memory", origin="common practice", condition="cold")
    assert causes(judged(0.05), judged(0.12, held=moved, read=(2.0,)))[1] == ("reading",)


def test_a_stricter_rule_leaves_open_what_was_shown() -> None:
    """0.098 of 0.100 with u = 0.001 is inside at 95 %, not at 99 %."""
    strict = DecisionRule(confidence="99 %")
    assert by(judged(0.098), judged(0.098, rule=strict)) == (("decision rule",),)


def test_a_coarser_instrument_leaves_open_what_was_shown() -> None:
    """The same value with more doubt, by an instrument declared otherwise."""
    coarse = judged(0.09, u=0.02)
    assert by(judged(0.09), within(coarse.finding, resolution=1e-2)) == (("instrument",),)


def test_more_repeats_are_readings() -> None:
    """Less doubt by the same instrument, read more often."""
    assert by(judged(0.09, u=0.02), judged(0.09, read=(1.0, 1.0, 1.0))) == (("reading",),)


def test_two_causes_that_are_needed_together() -> None:
    """0.07 keeps the old limit and 0.05 the new one; only both together are beyond."""
    found = by(judged(0.05), judged(0.07, held=limit(0.06), read=(2.0,)))
    assert found == (("reading", "limit"),)


def test_two_causes_of_which_each_would_do() -> None:
    """0.2 passes the old limit, 0.05 the new one."""
    found = by(judged(0.05), judged(0.2, held=limit(0.04), read=(2.0,)))
    assert found == (("reading",), ("limit",))


def test_a_verdict_this_program_would_not_give_is_not_explained() -> None:
    """Judged by another version: what changed is told, no cause is claimed."""
    odd = judged(0.05, verdict=Verdict.BEYOND_LIMIT)
    assert causes(odd, judged(0.06, read=(2.0,))) == ((), ("reading",))


FREE = st.tuples(
    st.sampled_from([0.01, 0.05, 0.079, 0.0985, 0.1, 0.13]),
    st.sampled_from([0.0, 0.001, 0.02]),
    st.sampled_from([0.06, 0.1, 0.2, None]),
    st.sampled_from([50.5, 95.0, 99.9]),
)


@given(FREE, FREE)
def test_the_smallest_sets_are_found(old: tuple[Any, ...], new: tuple[Any, ...]) -> None:
    """Each set of changes put into the earlier finding by hand: all the smallest are told, and no other."""
    names = ("computation", "computation of doubt", "limit", "decision rule")

    def verdict(taken: tuple[int, ...]) -> Verdict:
        value, u, high, confidence = (new[n] if n in taken else old[n] for n in range(4))
        rule = DecisionRule(confidence=f"{confidence} %")
        return decide(Quantity(value, u, "length"), limit(high), rule).verdict

    first, then = (judged(v, u, limit(h), DecisionRule(confidence=f"{c} %")) for v, u, h, c in (old, new))
    differing = tuple(n for n in range(4) if old[n] != new[n])
    sizes = {
        size: [s for s in combinations(differing, size) if verdict(s) is verdict(differing)]
        for size in range(1, len(differing) + 1)
    }
    smallest = next((found for found in sizes.values() if found), [])
    expected = {frozenset(names[n].removesuffix(" of doubt") for n in s) for s in smallest}
    assert {frozenset(s) for s in by(first, then)} == expected


def seen(verdict: Verdict, *marks: Seen, chosen: tuple[str, ...] = ()) -> Judged:
    """A finding of the eye, or of an answer."""
    return within(Finding("look", "look", "Look", ENGINE, "engine", verdict, "", seen=marks, chosen=chosen))


SCORED: Final = Seen("scoring", 3, 2, None, "deep")


@pytest.mark.parametrize(
    ("before", "after", "cause"),
    [
        (seen(Verdict.AS_NEW), seen(Verdict.MARGINAL, SCORED), "what was seen"),
        (seen(Verdict.MARGINAL, SCORED), seen(Verdict.BEYOND_LIMIT, replace(SCORED, note="x")), "books"),
        (seen(Verdict.AS_NEW, chosen=("none",)), seen(Verdict.MARGINAL, chosen=("oil",)), "answer"),
        (seen(Verdict.AS_NEW, chosen=("oil",)), seen(Verdict.MARGINAL, chosen=("oil",)), "books"),
        (seen(Verdict.NOT_INSPECTED), seen(Verdict.AS_NEW), "newly inspected"),
        (seen(Verdict.AS_NEW), seen(Verdict.NOT_INSPECTED), "no longer inspected"),
        (seen(Verdict.AS_NEW), seen(Verdict.NOT_APPLICABLE), "no longer inspected"),
        (within(None), seen(Verdict.AS_NEW), "newly asked"),
        (seen(Verdict.AS_NEW), within(None), "no longer asked"),
        (seen(Verdict.AS_NEW), seen(Verdict.CHECK_FAILED), "check of ours"),
    ],
)
def test_what_is_not_measured_has_one_cause(before: Judged, after: Judged, cause: str) -> None:
    """What the eye found, what was answered, what was looked at, and how the books count it."""
    assert causes(before, after) == (((cause,),), (cause,))
