"""Turns the causes of the shipped rules into checks: each is weighed, and its own evidence speaks for it."""

from collections.abc import Iterator

import pytest

from inspect_report.advise.clauses import evaluate
from inspect_report.advise.explanation import CLEAR, Explanation
from inspect_report.advise.weighing import weigh
from inspect_report.knowledge.clause import UnreadClause, leaves
from inspect_report.knowledge.rulebook import LEAST_SHARE, Cause, Rule, RuleCase
from inspect_report.mechanics.evidence import weight_of_evidence
from tests.rules.coverage import rulebooks, rules, views

(BOOK,) = rulebooks()
RULES = rules()
each_rule = pytest.mark.parametrize("rule", RULES, ids=[r.id for r in RULES])


def explained(rule: Rule, case: RuleCase) -> Iterator[Explanation]:
    """The rule's own cause wherever the rule fires in a case."""
    cause = BOOK.cause(rule.cause)
    assert cause is not None
    for view in views(rule, case):
        if evaluate(rule.when, view).truth:
            yield weigh(cause, BOOK, view)


@each_rule
def test_a_rule_has_a_cause_and_says_what_else_it_could_be(rule: Rule) -> None:
    """One explanation alone would be a verdict; work, test and consequence are said too."""
    assert rule.cause
    assert rule.other_causes or rule.could_also_be
    assert rule.if_left
    assert rule.tells_them_apart or rule.urgency == "watch"
    assert rule.work or rule.urgency == "watch"


@each_rule
def test_where_a_rule_fires_the_evidence_points_to_its_cause(rule: Rule) -> None:
    """The shares agree with the pattern: in every case that fires, two to one or more for the cause."""
    weak = {n: e.evidence for n, c in enumerate(rule.cases) for e in explained(rule, c) if e.evidence < CLEAR}
    assert weak == {}


def test_every_cause_and_sign_is_used() -> None:
    """No cause that no rule names, no sign that no cause lists, no word that nothing uses."""
    named = {c for r in RULES for c in (r.cause, *r.other_causes)}
    assert [c.id for c in BOOK.causes if c.id not in named] == []
    listed = {s for c in BOOK.causes for s in c.signs}
    assert [s.id for s in BOOK.signs if s.id not in listed] == []
    words = {w for c in BOOK.causes for w in (c.before, *(x for pair in c.signs.values() for x in pair))}
    assert set(BOOK.shares) == words


def test_every_kind_of_pattern_is_seen() -> None:
    """Neighbours, others, all, several, one side, what moved, what stands out, and what is unread."""
    found = [leaf for r in RULES for leaf in leaves(r.when)]
    kinds = {type(leaf).__name__ for leaf in found}
    assert kinds == {
        "QuantityClause", "RatingClause", "ChoiceClause", "ChangeClause", "StandsOutClause", "UnreadClause",
    }  # fmt: skip
    assert {leaf.near for leaf in found} >= {"same", "neighbour", "others"}
    assert any(leaf.every for leaf in found)
    assert any(leaf.in_places > 1 for leaf in found)
    assert any(leaf.where for leaf in found)
    assert any(isinstance(leaf, UnreadClause) for leaf in found)


def test_no_cause_is_sure_before_anything_is_looked_at() -> None:
    """Even the commonest is no more than even."""
    assert max(BOOK.share(c.before) for c in BOOK.causes) <= 0.5


@each_rule
def test_a_rule_that_states_its_cause_flatly_is_right_whatever_else_is_found(rule: Rule) -> None:
    """Without ``seen`` the cause must not become unlikely even where every other sign of it is missing."""
    cause = BOOK.cause(rule.cause)
    assert cause is not None
    worst = [_with_all_else_missing(cause, e) for c in rule.cases for e in explained(rule, c)]
    assert rule.seen or min(worst) > -CLEAR


def _with_all_else_missing(cause: Cause, told: Explanation) -> float:
    """Odds of a cause, had each of its signs that no case gives been looked for in vain."""
    shares = {s: (BOOK.share(there), BOOK.share(not_there)) for s, (there, not_there) in cause.signs.items()}
    if any(s.chance > 0.5 and shares[s.sign][1] <= LEAST_SHARE for s in told.signs):
        return told.odds
    missing = (weight_of_evidence(*shares[s], 0.0) for s in shares if s not in {t.sign for t in told.signs})
    return told.odds + sum(w for w in missing if w < 0.0)
