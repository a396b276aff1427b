"""
Turns a clause and the facts into how likely it is that what the clause asks for is there.

What the eye found and what was answered is taken as it stands. A measured value counts by its uncertainty:
the share of values it may truly have that meet the clause, so that a reading which cannot tell gives a half.
Places and clauses are joined by the least (``all``, ``every``) or the greatest (``any``) of their chances:
many doubtful readings are no more together than one. What was not inspected may be anything, and so gives a
range; its end nearest to one half is taken, and nothing where the range reaches across it. What is near its
limit, or has the damage asked for in a lesser grade, is no evidence of a sound part: it tells nothing.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

from inspect_report.advise.clauses import GUARD, OFF, grade_seen, meets, others_of, quantity_meets
from inspect_report.advise.facts import Fact
from inspect_report.advise.looking import View, look
from inspect_report.judge.decision import decide, side_of
from inspect_report.judge.finding import Limit, Verdict
from inspect_report.knowledge.clause import (
    AllClause,
    AnyClause,
    ChangeClause,
    Clause,
    Leaf,
    NotClause,
    QuantityClause,
    RatingClause,
    UnreadClause,
    leaves,
)
from inspect_report.mechanics.metrology import probability_inside
from inspect_report.records.quantity import Quantity, read_amount, read_difference
from inspect_report.records.workshop import DecisionRule

Chance = tuple[float, float]
"""Least and greatest probability that a clause is met."""

_NOTHING_KNOWN: Final[Chance] = (0.0, 1.0)
_PLAIN: Final = DecisionRule(kind="simple acceptance")  # of a value without doubt every rule says the same
_HALF: Final = 0.5


def chance_of(clause: Clause, view: View) -> float | None:
    """
    Probability that what a clause asks for is there.

    None where nothing is known, or where the engine has no such thing.

    Args:
        clause: What is asked for.
        view: The facts, and where they are looked at from.
    """
    if all(look(leaf, view).absent for leaf in leaves(clause)):
        return None
    least, greatest = _chance(clause, view)
    if least >= _HALF:
        return least
    return greatest if greatest <= _HALF else None


def _chance(clause: Clause, view: View) -> Chance:
    match clause:
        case AllClause():
            chances = [_chance(c, view) for c in clause.all]
            return min(c[0] for c in chances), min(c[1] for c in chances)
        case AnyClause():
            chances = [_chance(c, view) for c in clause.any]
            return max(c[0] for c in chances), max(c[1] for c in chances)
        case NotClause():
            least, greatest = _chance(clause.not_, view)
            return 1.0 - greatest, 1.0 - least
        case _:
            return _of_leaf(clause, view)


def _of_leaf(clause: Leaf, view: View) -> Chance:
    looked = look(clause, view)
    if looked.absent:
        return 0.0, 0.0
    seen = tuple(f for f in looked.seen or () if f.verdict != Verdict.NOT_APPLICABLE)
    if not seen:
        return _NOTHING_KNOWN
    chances = [_told_by(clause, f, _of_fact(clause, f, looked.of, seen)) for f in seen]
    rank = len(chances) if clause.every or isinstance(clause, UnreadClause) else clause.in_places
    return _ranked([c[0] for c in chances], rank), _ranked([c[1] for c in chances], rank)


def _told_by(clause: Leaf, fact: Fact, chance: Chance) -> Chance:
    """A chance, raised to one half where the fault asked about was found in a lesser grade."""
    return (max(chance[0], _HALF), max(chance[1], _HALF)) if _falls_short(clause, fact) else chance


def _falls_short(clause: Leaf, fact: Fact) -> bool:
    match clause:
        case QuantityClause():
            return Verdict.BEYOND_LIMIT in clause.verdict and not clause.side and fact.verdict in OFF
        case RatingClause():
            return bool(clause.damage) and 0 < grade_seen(clause, fact) < clause.at_least
        case _:
            return False


def _ranked(chances: Sequence[float], rank: int) -> float:
    """The chance that so many places meet a clause: that of the place which comes so far down the row."""
    return sorted(chances, reverse=True)[rank - 1] if rank <= len(chances) else 0.0


def _of_fact(clause: Leaf, fact: Fact, of: Sequence[Fact], seen: Sequence[Fact]) -> Chance:
    if isinstance(clause, QuantityClause) and fact.known:
        measured = _of_quantity(clause, fact)
        if measured is not None:
            return measured, measured
    if isinstance(clause, ChangeClause) and fact.moved is not None:
        return _of_change(clause, fact, others_of(clause, of, seen))
    truth = meets(clause, fact, of, seen)
    return _NOTHING_KNOWN if truth is None else (float(truth), float(truth))


def _of_quantity(clause: QuantityClause, fact: Fact) -> float | None:
    """The share of values a quantity may truly have that meet a clause; None where nothing is in doubt."""
    if fact.verdict == Verdict.UNDECIDED and fact.quantity is None:
        return _of_bare_doubt(clause, fact)
    if fact.quantity is None or fact.quantity.u == 0.0:
        return None
    if clause.verdict and (fact.limit is None or fact.verdict == Verdict.NO_LIMIT):
        return None
    edges = (*_edges_of(fact.limit), *_bounds(clause, fact))
    return math.fsum(
        share
        for value, share in _stretches(fact.quantity, edges)
        if quantity_meets(clause, _truly(fact, value)) is True
    )


def _of_bare_doubt(clause: QuantityClause, fact: Fact) -> float | None:
    """``undecided`` without its value: inside or beyond, so one half where only one of them is meant."""
    ways = [
        quantity_meets(clause, replace(fact, verdict=v)) for v in (Verdict.MARGINAL, Verdict.BEYOND_LIMIT)
    ]
    return None if None in ways else sum(map(bool, ways)) / 2.0


def _truly(fact: Fact, value: float) -> Fact:
    """The fact as it would be if its value were known to be this one."""
    if fact.limit is None:
        return replace(fact, value=value)
    sure = Quantity(value, 0.0, fact.quantity.dimension if fact.quantity else "")
    verdict = decide(sure, fact.limit, _PLAIN).verdict
    return replace(fact, value=value, verdict=verdict, side=side_of(value, fact.limit))


def _edges_of(limit: Limit | None) -> Iterator[float]:
    """Values at which the verdict or the side changes."""
    if limit is None:
        return
    pairs = ((limit.standard_low, limit.low), (limit.standard_high, limit.high))
    for edge, end in pairs:
        yield from (e for e in (edge, end) if e is not None)
        if edge is not None and end is not None:
            yield edge + limit.watch * (end - edge)


def _bounds(clause: QuantityClause, fact: Fact) -> Iterator[float]:
    for bound in (clause.at_least, clause.at_most):
        if bound is not None:
            yield read_amount(bound, fact.unit or "1")


def _stretches(quantity: Quantity, edges: Sequence[float]) -> Iterator[tuple[float, float]]:
    """Stretches between edges: a value inside each, and the probability that the true value lies in it."""
    dof = math.inf if quantity.dof is None else quantity.dof
    cuts = sorted(set(edges))
    if not cuts:
        yield quantity.value, 1.0
        return
    beyond = max(quantity.u, abs(cuts[-1] - cuts[0]))
    inner = [((a + b) / 2.0, a, b) for a, b in pairwise(cuts)]
    for value, low, high in ((cuts[0] - beyond, None, cuts[0]), *inner, (cuts[-1] + beyond, cuts[-1], None)):
        yield value, probability_inside(quantity.value, quantity.u, low=low, high=high, dof=dof)


def _of_change(clause: ChangeClause, fact: Fact, others: Sequence[Fact]) -> Chance:
    moved = _moved(clause, fact, (1.0,) if clause.direction == "up" else (-1.0,))
    if clause.others == "any" or not others:
        return moved, moved
    known = [_moved(clause, f, (1.0, -1.0)) for f in others if f.moved is not None]
    still = 1.0 - max(known, default=0.0)
    return (min(moved, still) if len(known) == len(others) else 0.0), min(moved, still)


def _moved(clause: ChangeClause, fact: Fact, signs: tuple[float, ...]) -> float:
    """Probability that a value moved as far as a clause asks, one of some ways."""
    if fact.moved is None:
        return 0.0
    least = read_difference(clause.by_at_least, fact.unit or "1") * (1 - GUARD)
    return max(probability_inside(sign * fact.moved, fact.u_moved, low=least) for sign in signs)
