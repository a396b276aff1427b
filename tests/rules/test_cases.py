"""Turns the cases written inside every shipped rule into checks of it."""

from functools import cache
from typing import Any

import pytest

from inspect_report.advise.facts import Facts
from inspect_report.advise.given import EARLIER, given_facts
from inspect_report.advise.rules import ENGINE_AXIS, fired, try_rule
from inspect_report.knowledge.rulebook import Rule, RuleCase
from tests.rules.coverage import checklists, facts, known, main, never_fired, rules, tried

RULES = rules()
each_rule = pytest.mark.parametrize("rule", RULES, ids=[r.id for r in RULES])
each_case = pytest.mark.parametrize(
    ("rule", "case"),
    [(r, c) for r in RULES for c in r.cases],
    ids=[f"{r.id}-{n}" for r in RULES for n, _ in enumerate(r.cases, 1)],
)


def test_there_are_many_rules() -> None:
    """Sixty at the least, over the whole of four-strokes and two-strokes."""
    assert len(RULES) >= 60
    for strokes in (2, 4):
        assert sum(str(r.applies.get("strokes", strokes)) == str(strokes) for r in RULES) >= 35


def test_every_rule_is_fired_by_a_case() -> None:
    """The list of coverage names none that stays silent, and ends well."""
    assert never_fired() == ()
    assert main([]) == 0


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


@each_rule
def test_every_clause_is_true_in_one_case_and_false_in_another(rule: Rule) -> None:
    """No clause stands idle."""
    assert [str(one) for one in tried(rule) if one.is_idle] == []


@each_rule
def test_every_diagnosis_can_say_its_evidence(rule: Rule) -> None:
    """Each firing shows at least one fact in words, with the id it is known from unless nobody looked."""
    for case in rule.cases:
        for _, outcome in try_rule(rule, facts(case)):
            if outcome.truth:
                assert all(e.text for e in outcome.evidence)
                assert any(e.findings for e in outcome.evidence)


@each_rule
def test_words_hold_only_the_label_of_their_axis(rule: Rule) -> None:
    """A brace in a text stands for the axis the rule is tried along, and nothing is left unfilled."""
    for text in (rule.finding, rule.seen, rule.why, rule.if_left):
        rest = text.replace(f"{{{rule.for_}}}", "3") if rule.for_ != ENGINE_AXIS else text
        assert not {"{", "}"} & set(rest)


def test_earlier_is_no_name_of_a_thing() -> None:
    """The key for the inspection before is taken by no item or characteristic."""
    assert EARLIER not in known()
