"""Turns weights of evidence into checks: sums worked by hand, and what must hold of every sum."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.advise.explanation import MOST, word_of
from inspect_report.advise.facts import Facts
from inspect_report.advise.looking import View
from inspect_report.advise.weighing import weigh
from inspect_report.knowledge.rulebook import Cause, Rulebook
from inspect_report.mechanics.evidence import weight_of_evidence
from tests.advise.test_clauses import facts

HIGH = {"quantity": "leak-down", "verdict": ["beyond limit"]}
EXHAUST = {"choice": "leak-heard", "answer": ["exhaust"]}
CROWN = {"rating": "crown-state", "damage": ["scuffing"]}
SHARES = {"mostly": 0.8, "half": 0.5, "rarely": 0.1}
SIGNS = {"high": ["mostly", "rarely"], "exhaust": ["half", "rarely"], "crown": ["rarely", "half"]}
# By hand: 10 lg(0.8 / 0.1) = 9.0309; 10 lg(0.2 / 0.9) = -6.5321; 10 lg(0.5 / 0.1) = 6.9897; 10 lg(0.5 / 0.9)
# = -2.5527; 10 lg(0.1 / 0.5) = -6.9897; 10 lg(0.9 / 0.5) = 2.5527; before 10 lg(0.1 / 0.9) = -9.5424.


def book(**changes: Any) -> Rulebook:
    """A rulebook of one cause with three signs."""
    signs = [
        {"id": name, "see": see, "check": f"Look for {name}"}
        for name, see in (("high", HIGH), ("exhaust", EXHAUST), ("crown", CROWN))
    ]
    cause = {"id": "valve", "name": "a valve", "before": "rarely", "signs": SIGNS} | changes
    written = {
        "rulebook": "own",
        "version": 1,
        "shares": SHARES,
        "signs": signs,
        "causes": [cause],
        "rules": [],
    }
    return Rulebook.model_validate(written)


def cause(rulebook: Rulebook) -> Cause:
    """Its only cause."""
    return rulebook.causes[0]


def weighed(seen: Facts, rulebook: Rulebook | None = None) -> tuple[float, float]:
    """Evidence and odds at cylinder 3."""
    used = rulebook or book()
    explanation = weigh(cause(used), used, View(seen, "cylinder", "3"))
    return explanation.evidence, explanation.odds


@pytest.mark.parametrize(
    ("seen", "evidence"),
    [
        (facts(leak_down={3: "beyond limit"}), 9.0309),
        (facts(leak_down={3: "as new"}), -6.5321),
        (facts(leak_down={3: "beyond limit"}, leak_heard={3: ["exhaust"]}), 9.0309 + 6.9897),
        (facts(leak_down={3: "beyond limit"}, leak_heard={3: ["inlet"]}), 9.0309 - 2.5527),
        (facts(crown_state={3: {"damage": "scuffing", "amount": 2}}), -6.9897),
        (facts(crown_state={3: "none"}, leak_down={3: "beyond limit"}), 2.5527 + 9.0309),
    ],
)
def test_signs_add_up_as_by_hand(seen: Facts, evidence: float) -> None:
    """The sum of ten times the logarithms of the ratios of shares; the odds begin at one in ten."""
    assert weighed(seen)[0] == pytest.approx(evidence, abs=2e-4)
    assert weighed(seen)[1] == pytest.approx(evidence - 9.5424, abs=3e-4)


def test_without_evidence_there_is_the_prior() -> None:
    """Nothing looked at, or only at another cylinder: no weight, and odds as before."""
    for seen in (facts(), facts(leak_down={2: "beyond limit"}), facts(leak_down={3: "not inspected"})):
        evidence, odds = weighed(seen)
        assert evidence == 0.0
        assert odds == pytest.approx(10 * math.log10(1 / 9))


def test_what_the_engine_has_not_got_weighs_nothing() -> None:
    """A sign of a thing that is absent is no evidence against."""
    assert weighed(Facts(absent=frozenset({"leak-heard", "leak-down", "crown-state"})))[0] == 0.0


def test_an_undecided_reading_weighs_less() -> None:
    """Undecided without its value is one half, and weighs nothing; decided it weighs in full."""
    assert weighed(facts(leak_down={3: "undecided"}))[0] == pytest.approx(0.0, abs=1e-12)
    assert weighed(facts(leak_down={3: "beyond limit"}))[0] > 9.0


def test_odds_are_held() -> None:
    """However much is found, odds go no further than 99 to 1 or so."""
    strong = book(before="mostly")
    seen = facts(leak_down={3: "beyond limit"}, leak_heard={3: ["exhaust"]}, crown_state={3: "none"})
    evidence, odds = weighed(seen, strong)
    assert evidence > 18.0
    assert odds == MOST


@pytest.mark.parametrize(
    ("decibans", "word"),
    [
        (14.0, "points strongly to it"),
        (10.0, "points strongly to it"),
        (9.9, "points to it"),
        (3.0, "points to it"),
        (2.9, "leaves it open"),
        (-2.9, "leaves it open"),
        (-3.0, "speaks against it"),
        (-10.0, "speaks strongly against it"),
    ],
)
def test_words_by_the_scale(decibans: float, word: str) -> None:
    """Two to one and ten to one, either way."""
    assert word_of(decibans) == f"the evidence {word}"


def test_what_was_not_looked_at_has_a_word_of_its_own() -> None:
    """No sign read is told so, and not as evidence that leaves it open."""
    used = book()
    assert "nothing" in weigh(cause(used), used, View(facts(), "cylinder", "3")).word


FOUND = st.fixed_dictionaries(
    {},
    optional={
        "leak_down": st.sampled_from([{3: v} for v in ("beyond limit", "as new", "undecided")]),
        "leak_heard": st.sampled_from([{3: ["exhaust"]}, {3: ["inlet"]}, {3: ["none"]}]),
        "crown_state": st.sampled_from([{3: "none"}, {3: {"damage": "scuffing", "amount": 3}}]),
    },
)


@given(found=FOUND)
def test_evidence_for_it_never_lowers(found: dict[str, Any]) -> None:
    """Where leak-down is not known, finding it beyond its limit raises the evidence and lowers no odds."""
    rest = {name: value for name, value in found.items() if name != "leak_down"}
    more = rest | {"leak_down": {3: "beyond limit"}}
    before, after = weighed(facts(**rest)), weighed(facts(**more))
    assert after[0] > before[0]
    assert after[1] >= before[1]


@given(found=FOUND, order=st.permutations(list(SIGNS)))
def test_order_plays_no_part(found: dict[str, Any], order: list[str]) -> None:
    """Signs listed, and given, in any order weigh the same to the last digit."""
    shuffled = book(signs={name: SIGNS[name] for name in order})
    turned = replace_signs(shuffled, order)
    expected = weighed(facts(**found))
    assert weighed(facts(**dict(reversed(found.items()))), turned) == expected


def replace_signs(rulebook: Rulebook, order: list[str]) -> Rulebook:
    """The book with its signs in another order."""
    by_id = {s.id: s for s in rulebook.signs}
    return rulebook.model_copy(update={"signs": tuple(by_id[name] for name in order)})


@given(chance=st.floats(0.0, 1.0))
def test_no_sign_weighs_more_than_a_sure_one(chance: float) -> None:
    """Doubt takes weight away on either side, and never turns it round beyond the sure absence."""
    weight = weight_of_evidence(0.8, 0.1, chance)
    assert weight_of_evidence(0.8, 0.1, 0.0) <= weight <= weight_of_evidence(0.8, 0.1, 1.0)


def test_found_at_several_places_is_told_once() -> None:
    """Four cylinders with the same answer are one line with their number."""
    used = book(signs={"exhaust": ["half", "rarely"]})
    seen = facts(leak_heard={1: ["inlet"], 2: ["inlet"]})
    (sign,) = weigh(cause(used), used, View(seen)).signs
    assert sign.text == "leak heard: inlet (2 places)"
    assert sign.findings == ("leak-heard.1", "leak-heard.2")
