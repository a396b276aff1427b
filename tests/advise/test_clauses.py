"""Turns the three-valued logic of clauses, and where they look, into checks."""

from itertools import product
from typing import Any

import pytest
from pydantic import TypeAdapter

from inspect_report.advise.clauses import Outcome, Truth, all_of, any_of, evaluate, negated
from inspect_report.advise.facts import Facts
from inspect_report.advise.given import given_facts, subjects
from inspect_report.advise.looking import View
from inspect_report.knowledge.clause import Clause
from tests.advise.builders import catalogue, checklist

CLAUSE: TypeAdapter[Clause] = TypeAdapter(Clause)
KNOWN = subjects(catalogue(), [checklist()])
HIGH = {"quantity": "leak-down", "verdict": ["beyond limit"]}


def facts(**given: Any) -> Facts:
    """Facts as a rule's case writes them; an underscore stands for the hyphen."""
    return given_facts({name.replace("_", "-"): value for name, value in given.items()}, KNOWN)


def outcome(clause: dict[str, Any], seen: Facts, label: str = "3") -> Outcome:
    """What a clause comes to from a cylinder."""
    return evaluate(CLAUSE.validate_python(clause), View(seen, "cylinder" if label else "", label))


def truth(clause: dict[str, Any], seen: Facts, label: str = "3") -> Truth:
    """The truth of it alone."""
    return outcome(clause, seen, label).truth


@pytest.mark.parametrize(("a", "b"), list(product((True, False, None), repeat=2)))
def test_logic_is_that_of_every_way_the_unknown_may_turn_out(a: Truth, b: Truth) -> None:
    """A result is known exactly when every way to fill in what is unknown gives the same."""
    ways = list(product(*((v,) if v is not None else (True, False) for v in (a, b))))
    for ours, plain in ((all_of, all), (any_of, any)):
        results = {plain(way) for way in ways}
        expected = results.pop() if len(results) == 1 else None
        assert expected == ours((a, b))


def test_not_turns_known_truths_only() -> None:
    """True and false change places; unknown stays."""
    assert [negated(t) for t in (True, False, None)] == [False, True, None]


@pytest.mark.parametrize(
    ("verdict", "expected"),
    [
        ("beyond limit", True),
        ("as new", False),
        ("undecided", False),
        ("not inspected", None),
        ("no limit known", None),
        ("check failed", None),
        ("not applicable", False),
    ],
)
def test_verdicts_that_say_nothing_are_unknown(verdict: str, expected: Truth) -> None:
    """Not inspected, without a limit or failed is neither yes nor no; what does not apply is no."""
    assert truth(HIGH, facts(leak_down={3: verdict})) is expected


def test_a_clause_may_ask_for_what_was_not_inspected() -> None:
    """Where "not inspected" is among the verdicts asked for, it is met."""
    assert truth(HIGH | {"verdict": ["not inspected"]}, facts(leak_down={3: "not inspected"})) is True


def test_nothing_known_at_all_is_unknown() -> None:
    """A characteristic nobody gave is unknown, and says its name."""
    assert outcome(HIGH, facts()) == Outcome(None, missing=("leak down",))


def test_what_the_engine_has_not_got_is_not_met() -> None:
    """Absent is known: the clause is false and its "not" is true."""
    air_cooled = Facts(absent=frozenset({"bubbles"}))
    bubbles = {"choice": "bubbles", "answer": ["yes"]}
    assert truth(bubbles, air_cooled) is False
    assert truth({"not": bubbles}, air_cooled) is True


@pytest.mark.parametrize(
    ("bounds", "expected"),
    [
        ({"at-least": 20}, True),
        ({"at-least": "0.2"}, True),
        ({"at-least": "20 %"}, True),
        ({"at-most": 20}, True),
        ({"at-most": 19.9}, False),
        ({"at-least": 20.1}, False),
        ({"at-least": 10, "at-most": 30}, True),
    ],
)
def test_amounts_hold_at_their_edge_in_the_unit_of_the_characteristic(
    bounds: dict[str, Any], expected: Truth
) -> None:
    """A bare number takes the unit of the characteristic; text without a unit does too, so 0.2 is 0.2 %."""
    assert truth({"quantity": "leak-down"} | bounds, facts(leak_down={3: "20 %"})) is expected


def test_an_amount_is_unknown_of_a_bare_verdict() -> None:
    """A verdict without its value leaves a bound open."""
    assert truth({"quantity": "leak-down", "at-least": 20}, facts(leak_down={3: "beyond limit"})) is None


def test_side_and_verdict_must_both_hold() -> None:
    """A gap below its range is not one above it."""
    tight = facts(valve_clearance={"3.exhaust-1": {"verdict": "beyond limit", "side": "below"}})
    clause = {"quantity": "valve-clearance", "verdict": ["beyond limit"], "side": "below"}
    assert truth(clause, tight) is True
    assert truth(clause | {"side": "above"}, tight) is False


@pytest.mark.parametrize(
    ("near", "every", "given", "expected"),
    [
        ("same", False, {2: "beyond limit", 3: "as new"}, False),
        ("same", False, {2: "beyond limit"}, None),
        ("neighbour", False, {2: "beyond limit", 3: "as new", 4: "as new"}, True),
        ("neighbour", True, {2: "beyond limit", 3: "as new", 4: "as new"}, False),
        ("neighbour", True, {2: "beyond limit", 4: "not inspected"}, None),
        ("neighbour", False, {1: "beyond limit", 3: "beyond limit"}, False),
        ("anywhere", False, {1: "beyond limit", 3: "as new"}, True),
        ("anywhere", True, {1: "beyond limit", 3: "as new"}, False),
        ("anywhere", True, {1: "beyond limit", 3: "beyond limit"}, True),
    ],
)
def test_a_clause_sees_the_places_it_names(
    near: str, every: bool, given: dict[int, str], expected: Truth
) -> None:
    """Seen from cylinder 3: the same, the ones beside it, or all of them; one is enough unless every."""
    assert truth(HIGH | {"near": near, "every": every}, facts(leak_down=given)) is expected


def test_neighbours_of_a_vee_are_not_guessed() -> None:
    """Where cylinder numbers do not say who stands beside whom, that is what is missing."""
    seen = facts(leak_down={2: "beyond limit", 3: "beyond limit"})
    vee = Facts(quantities=seen.quantities, labels=seen.labels, in_line=False)
    result = outcome(HIGH | {"near": "neighbour"}, vee)
    assert (result.truth, result.missing) == (None, ("which cylinders stand beside cylinder 3",))


def test_a_group_takes_in_its_valves_only() -> None:
    """``where: {valve: exhaust}`` sees exhaust-1 and exhaust-2 and no inlet valve."""
    clause = {"quantity": "valve-clearance", "verdict": ["beyond limit"], "where": {"valve": "exhaust"}}
    gaps = {"3.inlet-1": "beyond limit", "3.exhaust-1": "as new", "3.exhaust-2": "as new"}
    assert truth(clause, facts(valve_clearance=gaps)) is False
    assert truth(clause, facts(valve_clearance=gaps | {"3.exhaust-2": "beyond limit"})) is True
    assert (
        truth(clause | {"every": True}, facts(valve_clearance=gaps | {"3.exhaust-2": "beyond limit"}))
        is False
    )


def test_what_is_said_of_the_engine_is_seen_from_every_cylinder() -> None:
    """A place that does not name the rule's axis speaks for all of it."""
    clause = {"quantity": "chain-length", "verdict": ["beyond limit"]}
    assert truth(clause, facts(chain_length="beyond limit")) is True


@pytest.mark.parametrize(
    ("clause", "expected"),
    [
        ({"rating": "crown-state"}, True),
        ({"rating": "crown-state", "damage": ["carbon"]}, True),
        ({"rating": "crown-state", "damage": ["carbon"], "at-least": 4}, False),
        ({"rating": "crown-state", "damage": ["carbon"], "at-most": 2}, False),
        ({"rating": "crown-state", "damage": ["scuffing"], "at-least": 4}, True),
        ({"rating": "crown-state", "damage": ["crack"]}, False),
    ],
)
def test_a_grade_is_the_worst_of_the_damage_meant(clause: dict[str, Any], expected: Truth) -> None:
    """The worse of amount and size counts, over the kinds of damage the clause names."""
    found = [{"damage": "carbon", "amount": 3, "size": 1}, {"damage": "scuffing", "amount": 2, "size": 4}]
    assert truth(clause, facts(crown_state={3: found})) is expected


def test_nothing_found_is_known_and_meets_grade_nought_only() -> None:
    """A place looked at without a find is no unknown."""
    clean = facts(crown_state={3: "none"})
    assert truth({"rating": "crown-state"}, clean) is False
    assert truth({"rating": "crown-state", "at-least": 0, "at-most": 2}, clean) is True


def test_one_of_several_answers_is_enough() -> None:
    """Air may be heard at two places."""
    heard = facts(leak_heard={3: ["inlet", "crankcase"]})
    assert truth({"choice": "leak-heard", "answer": ["crankcase", "exhaust"]}, heard) is True
    assert truth({"choice": "leak-heard", "answer": ["exhaust"]}, heard) is False


@pytest.mark.parametrize(
    ("clause", "expected"),
    [
        ({"direction": "up", "by-at-least": "10 %"}, True),
        ({"direction": "up", "by-at-least": 10.5}, False),
        ({"direction": "down", "by-at-least": 5}, False),
        ({"direction": "up", "by-at-least": 10, "others": "steady"}, True),
        ({"direction": "up", "by-at-least": 4, "others": "steady"}, False),
    ],
)
def test_a_change_is_held_against_its_amount(clause: dict[str, Any], expected: Truth) -> None:
    """Cylinder 3 rose by exactly ten points, cylinder 1 by five."""
    moved = facts(leak_down={1: "10 %", 3: "18 %"}, earlier={"leak-down": {1: "5 %", 3: "8 %"}})
    assert truth({"change": "leak-down"} | clause, moved) is expected


def test_others_are_steady_only_where_they_were_read_twice() -> None:
    """A cylinder without an earlier reading leaves it open whether the others kept still."""
    moved = facts(leak_down={1: "10 %", 3: "18 %"}, earlier={"leak-down": {3: "8 %"}})
    clause = {"change": "leak-down", "direction": "up", "by-at-least": 5}
    assert truth(clause, moved) is True
    assert truth(clause | {"others": "steady"}, moved) is None


def test_every_clause_tells_what_met_it() -> None:
    """Value, unit, place and verdict stand in the evidence, with the id of the finding."""
    seen = facts(
        leak_down={3: {"value": "35 %", "verdict": "beyond limit"}},
        leak_heard={3: ["exhaust"]},
        crown_state={3: {"damage": "scuffing", "amount": 2, "size": 3}},
        earlier={"leak-down": {3: "8 %"}},
    )
    clause = {
        "all": [
            HIGH,
            {"choice": "leak-heard", "answer": ["exhaust"]},
            {"rating": "crown-state"},
            {"change": "leak-down", "direction": "up", "by-at-least": 5},
        ]
    }
    assert [(e.text, e.findings) for e in outcome(clause, seen).evidence] == [
        ("leak down of cylinder 3: 35.00 %, beyond limit", ("leak-down.3",)),
        ("leak heard, cylinder 3: exhaust", ("leak-heard.3",)),
        ("crown state of cylinder 3: scuffing, amount 2, size 3", ("crown-state.3",)),
        ("leak down of cylinder 3: up by 27.00 percentage points since it was last read", ("leak-down.3",)),
    ]


def test_evidence_of_a_not_is_what_was_found_instead() -> None:
    """A clause met because something else was found shows that."""
    clause = {"not": {"choice": "leak-heard", "answer": ["exhaust"]}}
    result = outcome(clause, facts(leak_heard={3: ["none"]}))
    assert (result.truth, [e.text for e in result.evidence]) == (True, ["leak heard, cylinder 3: none"])


def test_a_long_row_of_evidence_is_cut_and_counted() -> None:
    """More than four places are summed up, their ids kept."""
    gaps = {f"3.inlet-{n}": "as new" for n in range(1, 7)}
    clause = {"quantity": "valve-clearance", "verdict": ["as new"], "every": True}
    (evidence,) = outcome(clause, facts(valve_clearance=gaps)).evidence
    assert evidence.text.endswith("; and 2 more")
    assert len(evidence.findings) == 6


def test_the_same_evidence_is_told_once() -> None:
    """Two clauses about one thing, met by the same fact."""
    result = outcome(
        {"all": [HIGH, HIGH | {"verdict": ["beyond limit", "marginal"]}]},
        facts(leak_down={3: "beyond limit"}),
    )
    assert [e.text for e in result.evidence] == ["leak down of cylinder 3: beyond limit"]


def test_any_names_the_branch_that_was_met() -> None:
    """Of two ways only the true one is evidence; an open one makes no question once the other holds."""
    clause = {"any": [HIGH, {"choice": "leak-heard", "answer": ["exhaust"]}]}
    result = outcome(clause, facts(leak_heard={3: ["exhaust"]}))
    assert (result.truth, len(result.evidence), result.missing) == (True, 1, ())


@pytest.mark.parametrize(
    ("given", "points"),
    [({"leak_down": {3: "beyond limit"}}, True), ({"leak_down": {3: "as new"}}, False), ({}, False)],
)
def test_only_a_fault_points_to_a_fault(given: dict[str, Any], points: bool) -> None:
    """A clause met by health is no reason to ask for what is missing."""
    clause = {
        "all": [
            HIGH | {"verdict": ["beyond limit", "as new"]},
            {"choice": "leak-heard", "answer": ["exhaust"]},
        ]
    }
    result = outcome(clause, facts(**given))
    assert (result.truth, result.points) == (None, points)


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({1: "as new", 2: "serviceable", 3: "beyond limit"}, True),
        ({1: "as new", 2: "beyond limit", 3: "beyond limit"}, False),
        ({1: "as new", 2: "not inspected", 3: "beyond limit"}, None),
        ({3: "beyond limit"}, False),
    ],
)
def test_the_others_are_every_label_but_ones_own(given: dict[int, str], expected: Truth) -> None:
    """One that stands alone has no others, so nothing is met by them."""
    others = {"quantity": "leak-down", "verdict": ["as new", "serviceable"], "near": "others", "every": True}
    assert truth(others, facts(leak_down=given)) is expected


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({1: "beyond limit", 2: "beyond limit", 3: "as new"}, True),
        ({1: "beyond limit", 2: "as new", 3: "as new"}, False),
        ({1: "beyond limit", 2: "not inspected", 3: "as new"}, None),
        ({1: "as new", 2: "not inspected", 3: "as new"}, False),
    ],
)
def test_a_clause_may_ask_for_several_places(given: dict[int, str], expected: Truth) -> None:
    """Two must be known to meet it; one unknown beside one that does leaves it open."""
    assert truth(HIGH | {"in-places": 2}, facts(leak_down=given), "") is expected


def test_what_stands_out_is_told_by_the_outlier_test() -> None:
    """Above is not below; without a test nothing is known."""
    seen = facts(
        leak_down={3: {"value": "30 %", "stands-out": "above"}, 1: {"value": "5 %", "stands-out": "no"}}
    )
    clause = {"stands-out": "leak-down", "direction": "above"}
    assert truth(clause, seen) is True
    assert truth(clause | {"direction": "below"}, seen) is False
    assert truth(clause, seen, "1") is False
    assert truth(clause, facts(leak_down={3: "30 %"})) is None
    assert "stands out above the others" in outcome(clause, seen).evidence[0].text


def test_unread_is_met_where_nothing_was_looked_at() -> None:
    """Of readings, ratings and answers alike; what the engine has not got is not unread."""
    for thing, read in (
        ("leak_down", "as new"),
        ("leak_heard", ["exhaust"]),
        ("crown_state", {"damage": "carbon", "amount": 1}),
    ):
        clause = {"unread": thing.replace("_", "-")}
        assert truth(clause, facts(**{thing: {3: "not inspected"}})) is True
        assert truth(clause, facts(**{thing: {3: read}})) is False
        assert truth(clause, facts()) is None
    assert truth({"unread": "bubbles"}, Facts(absent=frozenset({"bubbles"}))) is False
