"""Turns "opened once, paid once" into checks."""

from dataclasses import replace
from itertools import combinations, product

import pytest

from inspect_report.advise.access import left_open, opened_steps, share_out, steps_for
from inspect_report.knowledge.shelf import load
from inspect_report.knowledge.workbook import AccessStep
from inspect_report.records.specsheet import Layout
from tests.advise.builders import FOUR, case, workbook
from tests.samples import SAMPLES

LAYOUT = Layout.model_validate(FOUR)
LIQUID = Layout.model_validate(FOUR | {"cooling": "liquid"})
NEEDS = {  # written out by hand from the tree of the builders: what each step needs, itself included
    "plugs-out": {"plugs-out"},
    "cover-off": {"cover-off"},
    "cams-out": {"cover-off", "cams-out"},
    "head-off": {"plugs-out", "cover-off", "cams-out", "head-off"},
    "sump-off": {"sump-off"},
}


def ids(steps: tuple[AccessStep, ...]) -> list[str]:
    """Ids of steps."""
    return [s.id for s in steps]


@pytest.mark.parametrize("size", range(len(NEEDS) + 1))
def test_steps_of_every_set_are_the_union_of_what_each_needs(size: int) -> None:
    """Brute force over every subset of the steps."""
    for wanted in combinations(NEEDS, size):
        found = ids(steps_for(wanted, workbook(), LAYOUT))
        assert set().union(*(NEEDS[w] for w in wanted)) == set(found)
        assert len(found) == len(set(found))


def test_a_step_the_engine_has_not_got_is_passed_through() -> None:
    """No radiator: what stands before it is still opened."""
    assert ids(steps_for(["radiator-off"], workbook(), LAYOUT)) == ["plugs-out"]
    assert ids(steps_for(["radiator-off"], workbook(), LIQUID)) == ["plugs-out", "radiator-off"]


def test_a_circle_of_steps_comes_to_an_end() -> None:
    """Two steps behind each other: both, once."""
    circle = [
        {"id": i, "name": i, "behind": (b,), "opening": "1", "closing": "1"}
        for i, b in (("a", "b"), ("b", "a"))
    ]
    assert ids(steps_for(["a"], workbook(access=circle), LAYOUT)) == ["a", "b"]


def test_opened_steps_are_those_of_the_depth_and_of_the_file() -> None:
    """Head off by depth, with all before it, and the sump that the inspector opened."""
    made = case(depth="top end off", head={"opened": ["sump-off"]})
    assert ids(opened_steps(made)) == ["plugs-out", "cover-off", "cams-out", "head-off", "sump-off"]


def test_whoever_measured_stems_had_the_valves_out() -> None:
    """A top end whose stems were read is closed with new seals; one whose stems were not, is not."""
    whole = load(SAMPLES / "inline-four-strip.yaml")
    head = whole.inspection.head.model_copy(update={"depth": "top end off"})
    read = tuple(r for r in whole.inspection.readings if r.item in ("leak-down-supply", "stem-diameter"))
    for readings, out in ((read[:1], False), (read, True)):
        made = replace(
            whole, inspection=replace(whole.inspection, head=head, readings=readings, ratings=(), answers=())
        )
        assert ("valves-out" in ids(left_open(made))) is out
        assert "rods-off" not in ids(left_open(made))


@pytest.mark.parametrize(
    ("depth", "steps"),
    [("in the frame", 0), ("after assembly", 0), ("top end off", 4), ("fully stripped", 1)],
)
def test_only_a_stripped_engine_stays_open(depth: str, steps: int) -> None:
    """Covers taken off in the frame go back on within the inspection."""
    made = case(depth=depth, head={"opened": ["sump-off"] if depth == "fully stripped" else []})
    assert len(left_open(made)) == steps


def test_each_step_goes_to_the_first_group_that_needs_it() -> None:
    """Brute force over all ways to put three steps into three groups."""
    steps = workbook().access[:3]
    for member in product((False, True), repeat=9):
        needs = [[s for s, m in zip(steps, member[g * 3 : g * 3 + 3], strict=True) if m] for g in range(3)]
        shared = share_out(needs)
        for step in steps:
            wanted = [g for g in range(3) if step in needs[g]]
            assert [g for g in range(3) if step in shared[g]] == wanted[:1]
