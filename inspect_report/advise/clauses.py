"""
Turns a clause and the facts into an outcome: true, false or unknown, with the facts that decided it.

Unknown is carried by the rules of three-valued logic: a known false settles ``all``, a known true settles
``any``, and what is not known of the rest stays not known.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from inspect_report.advise.advice import Evidence
from inspect_report.advise.facts import Fact
from inspect_report.advise.looking import View, is_within, look
from inspect_report.advise.saying import fact_in_words, told_together
from inspect_report.judge.finding import Verdict
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
    UnreadClause,
    subject_of,
)
from inspect_report.records.quantity import read_amount, read_difference
from inspect_report.telling.manner import say, thing

Truth = bool | None
"""True, false, or None for unknown."""

OFF: Final = frozenset({Verdict.MARGINAL, Verdict.UNDECIDED, Verdict.BEYOND_LIMIT})
"""Verdicts of what is near its limit or past it."""
_PLAIN: Final = "1"  # unit of a plain number
GUARD: Final = 1e-9  # floats that differ by less came from the same written number


@dataclass(frozen=True, slots=True)
class Outcome:
    """
    What became of a clause.

    ``evidence``: the facts that decided it, or while it is unknown those met so far. ``missing``: what is not
    known, in words. ``points``: whether something that was met points to a fault, not only to health.
    """

    truth: Truth
    evidence: tuple[Evidence, ...] = ()
    missing: tuple[str, ...] = ()
    points: bool = False


def all_of(truths: Iterable[Truth]) -> Truth:
    """Three-valued "and"; true of nothing."""
    values = tuple(truths)
    return False if False in values else None if None in values else True


def any_of(truths: Iterable[Truth]) -> Truth:
    """Three-valued "or"; false of nothing."""
    return negated(all_of(negated(t) for t in truths))


def negated(truth: Truth) -> Truth:
    """Three-valued "not"."""
    return None if truth is None else not truth


def evaluate(clause: Clause, view: View) -> Outcome:
    """What a clause comes to from where a rule looks."""
    match clause:
        case AllClause():
            parts = [evaluate(c, view) for c in clause.all]
            return _joined(all_of(p.truth for p in parts), parts)
        case AnyClause():
            parts = [evaluate(c, view) for c in clause.any]
            return _joined(any_of(p.truth for p in parts), parts)
        case NotClause():
            inner = evaluate(clause.not_, view)
            return Outcome(negated(inner.truth), inner.evidence, inner.missing)
        case _:
            return _leaf(clause, view)


def _joined(truth: Truth, parts: Sequence[Outcome]) -> Outcome:
    wanted = True if truth is None else truth
    decided = [p for p in parts if p.truth is wanted]
    open_ones = [p for p in parts if p.truth is None]
    return Outcome(
        truth,
        tuple(dict.fromkeys((*_shown(decided), *_shown(p for p in open_ones if truth is None and p.points)))),
        tuple(dict.fromkeys(m for p in open_ones for m in p.missing)) if truth is None else (),
        any(p.points for p in (*decided, *open_ones)),
    )


def _shown(parts: Iterable[Outcome]) -> Iterator[Evidence]:
    return (e for p in parts for e in p.evidence)


def _leaf(clause: Leaf, view: View) -> Outcome:
    looked = look(clause, view)
    if looked.absent:
        return Outcome(False)
    if looked.seen is None:
        return Outcome(
            None, missing=(say("which cylinders stand beside cylinder {label}", label=view.label),)
        )
    if not looked.seen:
        return Outcome(None, missing=(thing(subject_of(clause)),))
    return _decided(clause, looked.seen, [meets(clause, f, looked.of, looked.seen) for f in looked.seen])


def _decided(clause: Leaf, seen: Sequence[Fact], truths: Sequence[Truth]) -> Outcome:
    truth = _together(clause, truths)
    shown = [f for f, t in zip(seen, truths, strict=True) if t is (True if truth is None else truth)]
    unknown = [f for f, t in zip(seen, truths, strict=True) if t is None]
    told = told_together([fact_in_words(f, clause) for f in shown])
    evidence = (Evidence(told, tuple(f.id for f in shown if f.known)),)
    return Outcome(
        truth,
        evidence if shown else (),
        tuple(f.at for f in unknown) if truth is None else (),
        any(_points_to_fault(clause, f) for f in shown) and truth is not False,
    )


def _together(clause: Leaf, truths: Sequence[Truth]) -> Truth:
    """What the places come to together: every one, or as many as the clause asks for."""
    if clause.every or isinstance(clause, UnreadClause):
        return all_of(truths)
    if truths.count(True) >= clause.in_places:
        return True
    return None if truths.count(True) + truths.count(None) >= clause.in_places else False


def meets(clause: Leaf, fact: Fact, of: Sequence[Fact], seen: Sequence[Fact]) -> Truth:
    """Whether one fact meets a clause, among all of its subject and those the clause sees."""
    match clause:
        case QuantityClause():
            return quantity_meets(clause, fact)
        case RatingClause():
            return clause.at_least <= grade_seen(clause, fact) <= clause.at_most if fact.known else None
        case ChoiceClause():
            return any(a in clause.answer for a in fact.chosen) if fact.known else None
        case ChangeClause():
            return _change_meets(clause, fact, of, seen)
        case StandsOutClause():
            return fact.stands_out == clause.direction if fact.stands_out else None
        case UnreadClause():
            return not fact.known


def quantity_meets(clause: QuantityClause, fact: Fact) -> Truth:
    """Whether a judged quantity has the verdict, side and amount that a clause asks for."""
    if not fact.known:
        return True if fact.verdict in clause.verdict else None
    wanted: list[Truth] = [_verdict_meets(clause, fact)] if clause.verdict else []
    if clause.side:
        wanted.append(True if fact.side == clause.side else None if _is_unjudged(fact) else False)
    for bound, sign in ((clause.at_least, 1.0), (clause.at_most, -1.0)):
        if bound is not None:
            wanted.append(_bound_meets(bound, sign, fact))
    return all_of(wanted)


def _verdict_meets(clause: QuantityClause, fact: Fact) -> Truth:
    if fact.verdict in clause.verdict:
        return True
    return None if _is_unjudged(fact) else False


def _is_unjudged(fact: Fact) -> bool:
    """Whether no verdict could be given, so that neither yes nor no is known."""
    return fact.verdict in ("", Verdict.NO_LIMIT) and not fact.side


def _bound_meets(bound: str | float, sign: float, fact: Fact) -> Truth:
    if fact.verdict == Verdict.NOT_APPLICABLE:
        return False
    if fact.value is None:
        return None
    edge = read_amount(bound, fact.unit or _PLAIN)
    return sign * (fact.value - edge) >= -GUARD * abs(edge)


def grade_seen(clause: RatingClause, fact: Fact) -> int:
    """Worst grade of the kinds of damage meant; 0 where none of them was found."""
    meant = [s for s in fact.seen if not clause.damage or s.damage in clause.damage]
    return max((max(s.amount, s.size or 0, s.strength or 0) for s in meant), default=0)


def _change_meets(clause: ChangeClause, fact: Fact, of: Sequence[Fact], seen: Sequence[Fact]) -> Truth:
    moved = _has_moved(clause, fact, (1.0,) if clause.direction == "up" else (-1.0,))
    if clause.others == "any":
        return moved
    others = others_of(clause, of, seen)
    return all_of([moved, negated(any_of(_has_moved(clause, f, (1.0, -1.0)) for f in others))])


def others_of(clause: ChangeClause, of: Sequence[Fact], seen: Sequence[Fact]) -> tuple[Fact, ...]:
    """The other places of the same thing, which ``steady`` asks to have kept still."""
    return tuple(f for f in of if f not in seen and is_within(f.position, clause.where))


def _has_moved(clause: ChangeClause, fact: Fact, signs: tuple[float, ...]) -> Truth:
    if fact.moved is None:
        return None
    least = read_difference(clause.by_at_least, fact.unit or _PLAIN)
    return any(sign * fact.moved >= least * (1 - GUARD) for sign in signs)


def _points_to_fault(clause: Leaf, fact: Fact) -> bool:
    match clause:
        case QuantityClause():
            return fact.verdict in OFF or bool(clause.side) or not clause.verdict
        case RatingClause():
            return grade_seen(clause, fact) > 0
        case UnreadClause():
            return False
        case _:
            return True
