"""Turns the making of facts from an inspection into checks."""

from dataclasses import replace
from typing import Any

import pytest

from inspect_report.advise.facts import Facts, facts_of
from inspect_report.advise.given import given_facts, subjects
from inspect_report.advise.rules import diagnose
from inspect_report.judge.finding import Finding, PastReading
from inspect_report.knowledge.agreement import shipped_checklists
from inspect_report.knowledge.case import Case
from inspect_report.records.checklist import Item
from tests.advise.builders import (
    FOUR,
    ITEMS,
    answer,
    at,
    case,
    catalogue,
    checklist,
    earlier,
    finding,
    judged,
    rating,
    rule,
)

KNOWN = subjects(catalogue(), [checklist()])


def seen(made: Case, *findings: Finding, past: tuple[PastReading, ...] = ()) -> Facts:
    """The facts of a case with some findings."""
    return facts_of(made, judged(*findings), past)


def test_places_without_a_rating_or_answer_are_not_known() -> None:
    """Of four cylinders two were filled in; the others are there and not known."""
    made = case(ratings=[rating("crown-state", at(1))], answers=[answer("leak-heard", at(2), "none")])
    facts = seen(made)
    assert {f.position.id: f.known for f in facts.ratings["crown-state"]} == {
        "1": True,
        "2": False,
        "3": False,
        "4": False,
    }
    assert {f.position.id for f in facts.answers["leak-heard"] if f.known} == {"2"}


def test_several_kinds_of_damage_at_one_place_are_one_fact() -> None:
    """Two ratings of a crown are seen together."""
    made = case(
        ratings=[rating("crown-state", at(1), "carbon", 2), rating("crown-state", at(1), "scuffing", 3)]
    )
    (crown,) = (f for f in seen(made).ratings["crown-state"] if f.known)
    assert [s.damage for s in crown.seen] == ["carbon", "scuffing"]


def test_a_thing_the_layout_has_not_got_is_absent() -> None:
    """No coolant, no bubbles; with coolant they are there and not known."""
    assert {"bubbles", "coolant-pressure"} <= seen(case()).absent
    wet = seen(case(layout=FOUR | {"cooling": "liquid"}))
    assert "bubbles" not in wet.absent
    assert [f.known for f in wet.answers["bubbles"]] == [False]


def test_left_out_as_not_there_is_absent() -> None:
    """``applies: false`` makes an item absent, or one of its places."""
    out = [{"item": "crown-state", "reason": "none", "applies": False}]
    assert "crown-state" in seen(case(head={"left-out": out})).absent
    one = [{"item": "crown-state", "at": {"cylinder": "2"}, "reason": "none", "applies": False}]
    facts = seen(case(head={"left-out": one}))
    assert [f.position.id for f in facts.ratings["crown-state"]] == ["1", "3", "4"]


def test_a_quantity_is_absent_when_all_it_is_made_from_is() -> None:
    """Leak-down needs its gauge; without the gauge's item there is none."""
    out = [{"item": "leak-gauge", "reason": "no compression side", "applies": False}]
    assert "leak-down" in seen(case(head={"left-out": out})).absent
    assert "leak-down" not in seen(case()).absent


def test_a_change_is_taken_from_the_latest_reading_of_the_same_part() -> None:
    """The last of two earlier readings counts; another part's reading does not."""
    past = (
        earlier("leak-down", at(3), "5 %"),
        earlier("leak-down", at(3), "8 %"),
        earlier("leak-down", at(3), "30 %", "P-9"),
    )
    (fact,) = seen(case(), finding("leak-down", at(3), "beyond limit", "18 %"), past=past).quantities[
        "leak-down"
    ]
    assert fact.moved == pytest.approx(0.10)


def test_a_new_part_has_not_moved() -> None:
    """Only another part's readings: nothing to compare with."""
    past = (earlier("leak-down", at(3), "5 %", "P-9"),)
    (fact,) = seen(case(), finding("leak-down", at(3), "as new", "6 %"), past=past).quantities["leak-down"]
    assert fact.moved is None


def test_a_change_is_none_between_hot_and_cold_or_unlike_testers() -> None:
    """The latest reading of the same state counts, an unlike one does not, though it is later."""
    hot, cold = (
        replace(earlier("leak-down", at(3), amount), state=state)
        for amount, state in (("5 %", "hot"), ("14 %", "cold"))
    )
    now = replace(finding("leak-down", at(3), "beyond limit", "18 %"), engine="warm")
    (fact,) = seen(case(), now, past=(hot, cold)).quantities["leak-down"]
    assert fact.moved == pytest.approx(0.13)
    fine = replace(earlier("leak-down", at(3), "5 %"), basis="orifice 0.8 mm")
    (alone,) = seen(case(), replace(now, basis="orifice 1 mm"), past=(fine,)).quantities["leak-down"]
    assert alone.moved is None


@pytest.mark.parametrize(("arrangement", "in_line"), [("inline", True), ("vee", False), ("flat", False)])
def test_neighbours_are_known_of_inline_engines_only(arrangement: str, in_line: bool) -> None:
    """The numbering of a vee or flat engine says nothing of banks."""
    assert seen(case(layout=FOUR | {"arrangement": arrangement})).in_line is in_line


@pytest.mark.parametrize(
    ("given", "place"),
    [
        ({"3.exhaust-1": "below"}, "3.exhaust-1"),
        ({3: {"exhaust-1": "below"}}, "3.exhaust-1"),
        ({3: "below"}, "3"),
        ("below", ""),
    ],
)
def test_places_of_a_given_are_paths_or_nested(given: Any, place: str) -> None:
    """A path and a nested mapping mean the same place; no place means the engine."""
    (fact,) = given_facts({"valve-clearance": given}, KNOWN).quantities["valve-clearance"]
    assert (fact.position.id, fact.side) == (place, "below")


def test_a_given_with_too_many_labels_is_refused() -> None:
    """A label beyond the axes of a characteristic is a mistake in the book."""
    with pytest.raises(KeyError, match="leak-down has no place 'exhaust'"):
        given_facts({"leak-down": {3: {"exhaust": "as new"}}}, KNOWN)


def test_a_given_of_an_unknown_name_is_refused() -> None:
    """A name neither catalogue nor checklist knows."""
    with pytest.raises(KeyError, match="leek-down"):
        given_facts({"leek-down": "as new"}, KNOWN)


def test_given_amounts_are_si() -> None:
    """Unit in the text, or that of the characteristic."""
    facts = given_facts({"leak-down": {1: "20 %", 2: 20}, "chain-length": "12.5 cm"}, KNOWN)
    assert [f.value for f in facts.quantities["leak-down"]] == pytest.approx([0.2, 0.2])
    assert facts.quantities["chain-length"][0].value == pytest.approx(0.125)


def test_an_answer_is_told_in_the_checklist_s_words() -> None:
    """What the checklist calls it, else the words of its id; the evidence of a rule reads so."""
    made = case(rule(), answers=[answer("leak-heard", at(3), "exhaust")])
    assert {f.name for f in seen(made).answers["leak-heard"]} == {"leak heard"}
    items = [{**i, "told-as": "air heard"} if i["id"] == "leak-heard" else i for i in ITEMS]
    section = made.books.checklist.sections[0]
    told = section.model_copy(update={"items": tuple(Item.model_validate(i) for i in items)})
    book = made.books.checklist.model_copy(update={"sections": (told,)})
    made = replace(made, books=replace(made.books, checklist=book))
    high = finding("leak-down", at(3), "beyond limit", "35 %")
    (diagnosis,), _ = diagnose(made, judged(high), (), [])
    assert diagnosis.evidence[1].text == "air heard, cylinder 3: exhaust"


def test_shipped_questions_are_told_as_statements() -> None:
    """No answer that a shipped rule looks at is told by the words of a question."""
    for book in shipped_checklists():
        asked = (i for s in book.sections for i in s.items if i.kind == "choice")
        assert not [i.id for i in asked if i.asks.startswith("Where") and not i.told_as]
