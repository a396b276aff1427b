"""
Turns the clauses of a rule into whether it can fire at all, and whether it can stay silent.

Every way in which its clauses can turn out is gone through. Two clauses that look at the same single place
for verdicts, grades, sides or answers that nothing has at once are not met together.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, product
from typing import Final

from inspect_report.knowledge.clause import (
    AllClause,
    AnyClause,
    ChangeClause,
    ChoiceClause,
    Clause,
    Leaf,
    NotClause,
    QuantityClause,
    RatingClause,
    StandsOutClause,
    leaves,
    subject_of,
)
from inspect_report.knowledge.rulebook import Rule
from inspect_report.knowledge.sayable import Sayable

MOST_LEAVES: Final = 14
"""A rule of more clauses than this is not gone through: there would be too many ways."""


def outcomes(rule: Rule, sayable: Sayable) -> frozenset[bool]:
    """What a rule can come to: true, false, or both; both as well where it has too many clauses to try."""
    keys = {id(leaf): leaf.model_dump_json() for leaf in leaves(rule.when)}
    distinct = {keys[id(leaf)]: leaf for leaf in leaves(rule.when)}
    if len(distinct) > MOST_LEAVES:
        return frozenset((True, False))
    excluding = [
        (a, b) for a, b in combinations(distinct, 2) if _exclude(distinct[a], distinct[b], rule, sayable)
    ]
    found: set[bool] = set()
    for way in _ways(tuple(distinct), excluding):
        found.add(_holds(rule.when, way, keys))
        if len(found) == 2:
            break
    return frozenset(found)


def _ways(keys: Sequence[str], excluding: Sequence[tuple[str, str]]) -> Iterator[Mapping[str, bool]]:
    for truths in product((True, False), repeat=len(keys)):
        way = dict(zip(keys, truths, strict=True))
        if not any(way[a] and way[b] for a, b in excluding):
            yield way


def _holds(clause: Clause, way: Mapping[str, bool], keys: Mapping[int, str]) -> bool:
    match clause:
        case AllClause():
            return all(_holds(c, way, keys) for c in clause.all)
        case AnyClause():
            return any(_holds(c, way, keys) for c in clause.any)
        case NotClause():
            return not _holds(clause.not_, way, keys)
        case _:
            return way[keys[id(clause)]]


def _exclude(a: Leaf, b: Leaf, rule: Rule, sayable: Sayable) -> bool:
    """Whether two clauses look at the same place for what it cannot have at once."""
    if type(a) is not type(b) or subject_of(a) != subject_of(b):
        return False
    if (a.where, a.near) != (b.where, b.near) or not _one_place(a, b, rule, sayable):
        return False
    match a, b:
        case QuantityClause(), QuantityClause():
            return _verdicts_exclude(a, b)
        case RatingClause(), RatingClause():
            return a.damage == b.damage and (a.at_least > b.at_most or b.at_least > a.at_most)
        case ChoiceClause(), ChoiceClause():
            asked = sayable.items.get(a.choice, ())
            return not any(i.several for i in asked) and not set(a.answer) & set(b.answer)
        case ChangeClause(), ChangeClause():
            return a.direction != b.direction
        case StandsOutClause(), StandsOutClause():
            return a.direction != b.direction
        case _:
            return False


def _verdicts_exclude(a: QuantityClause, b: QuantityClause) -> bool:
    verdicts = bool(a.verdict and b.verdict) and not set(a.verdict) & set(b.verdict)
    return verdicts or bool(a.side and b.side and a.side != b.side)


def _one_place(a: Leaf, b: Leaf, rule: Rule, sayable: Sayable) -> bool:
    """Whether both clauses speak of one place: the only one there is, or every one."""
    if a.every and b.every:
        return True
    further = sayable.axes_of(subject_of(a)) - {rule.for_}
    return not further and (a.near == "same" or not sayable.axes_of(subject_of(a)))
