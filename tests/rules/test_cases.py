"""Turns the cases written inside every shipped rule into checks of it."""

from collections.abc import Iterator
from functools import cache
from typing import Any, TypeVar

import pytest

from inspect_report.advise.clauses import Truth, View, evaluate
from inspect_report.advise.facts import Facts
from inspect_report.advise.given import EARLIER, Subject, given_facts, subjects
from inspect_report.advise.rules import ENGINE_AXIS, fired, try_rule
from inspect_report.knowledge.bookread import shipped_book, shipped_ids
from inspect_report.knowledge.catalogue import Catalogue
from inspect_report.knowledge.rulebook import (
    AllClause,
    AnyClause,
    Clause,
    NotClause,
    Rule,
    Rulebook,
    RuleCase,
)
from inspect_report.records.checklist import Checklist
from inspect_report.records.shape import Record

B = TypeVar("B", bound=Record)


def shipped(model: type[B], name: str) -> B:
    """A shipped book, whole."""
    book = shipped_book(model, name).value
    assert book is not None, name
    return book.record


def checklists() -> list[Checklist]:
    """The shipped checklists."""
    return [shipped(Checklist, f"checklists/{name}") for name in shipped_ids("checklists")]


@cache
def known() -> dict[str, Subject]:
    """Everything the shipped books can speak of."""
    return subjects(shipped(Catalogue, "characteristics"), checklists())


def rules() -> Iterator[Rule]:
    """Every rule of every shipped rulebook."""
    for name in shipped_ids("rulebooks"):
        yield from shipped(Rulebook, f"rulebooks/{name}").rules


RULES = tuple(rules())
each_rule = pytest.mark.parametrize("rule", RULES, ids=[r.id for r in RULES])
each_case = pytest.mark.parametrize(
    ("rule", "case"),
    [(r, c) for r in RULES for c in r.cases],
    ids=[f"{r.id}-{n}" for r in RULES for n, _ in enumerate(r.cases, 1)],
)


def facts(case: RuleCase) -> Facts:
    """The facts a case gives."""
    return given_facts(case.given, known())


def test_there_are_rules() -> None:
    """The shipped rulebooks are found."""
    assert RULES


@each_case
def test_a_rule_fires_where_its_case_says(rule: Rule, case: RuleCase) -> None:
    """For these labels and no others."""
    assert sorted(map(str, case.fires)) == sorted(fired(rule, facts(case)))


@cache
def words_of(item_id: str) -> frozenset[str]:
    """What an inspection may write for an item: answers of a choice, kinds of damage of a rating."""
    items = [i for c in checklists() for s in c.sections for i in s.items if i.id == item_id]
    return frozenset(word for i in items for word in (*i.options, *i.damage))


@each_case
def test_a_case_gives_only_what_an_inspection_can_hold(case: RuleCase, rule: Rule) -> None:
    """Every answer is one of the item's, every damage one it looks for; else a case proves nothing."""
    given = facts(case)
    for fact in (f for of in given.answers.values() for f in of):
        assert set(fact.chosen) <= words_of(fact.subject), rule.id
    for fact in (f for of in given.ratings.values() for f in of):
        assert {s.damage for s in fact.seen} <= words_of(fact.subject), rule.id


@each_rule
def test_a_rule_has_cases_both_ways(rule: Rule) -> None:
    """At least one in which it fires and one in which it does not."""
    assert {bool(case.fires) for case in rule.cases} == {True, False}


@each_rule
def test_a_rule_does_not_fire_on_nothing(rule: Rule) -> None:
    """Where nothing was inspected it is unknown, never true: the case in which the reading is missing."""
    labels = {rule.for_: ("1", "2", "3")}
    assert [o.truth for _, o in try_rule(rule, Facts(labels=labels))] in ([None], [None] * 3)


@each_case
def test_less_known_makes_no_rule_fire(rule: Rule, case: RuleCase) -> None:
    """With any one thing of a case left out, it fires nowhere that it did not fire before."""
    before = set(fired(rule, facts(case)))
    for name in case.given:
        fewer: dict[str, Any] = {k: v for k, v in case.given.items() if k != name}
        assert set(fired(rule, given_facts(fewer, known()))) <= before


def leaves(clause: Clause) -> Iterator[Clause]:
    """The clauses that look at facts."""
    match clause:
        case AllClause():
            yield from (leaf for part in clause.all for leaf in leaves(part))
        case AnyClause():
            yield from (leaf for part in clause.any for leaf in leaves(part))
        case NotClause():
            yield from leaves(clause.not_)
        case _:
            yield clause


def truths(rule: Rule, leaf: Clause) -> set[Truth]:
    """What a clause comes to over all cases and labels of its rule."""
    found: set[Truth] = set()
    for case in rule.cases:
        given = facts(case)
        labels = ("",) if rule.for_ == ENGINE_AXIS else given.labels.get(rule.for_, ())
        found |= {evaluate(leaf, View(given, rule.for_ if label else "", label)).truth for label in labels}
    return found


@each_rule
def test_every_clause_is_met_and_not_met_by_some_case(rule: Rule) -> None:
    """No clause stands idle: each is true in one case and false or unknown in another."""
    idle = [leaf for leaf in leaves(rule.when) if not {True} < truths(rule, leaf)]
    assert not idle


@each_rule
def test_every_diagnosis_can_say_its_evidence(rule: Rule) -> None:
    """Each firing shows at least one fact, in words, with the id it is known from."""
    for case in rule.cases:
        for _, outcome in try_rule(rule, facts(case)):
            if outcome.truth:
                assert outcome.evidence
                assert all(e.text and e.findings for e in outcome.evidence)


@each_rule
def test_words_hold_only_the_label_of_their_axis(rule: Rule) -> None:
    """A brace in a text stands for the axis the rule is tried along, and nothing is left unfilled."""
    for text in (rule.finding, rule.why, rule.if_left):
        rest = text.replace(f"{{{rule.for_}}}", "3") if rule.for_ != ENGINE_AXIS else text
        assert not {"{", "}"} & set(rest)


def test_earlier_is_no_name_of_a_thing() -> None:
    """The key for the inspection before is taken by no item or characteristic."""
    assert EARLIER not in known()
