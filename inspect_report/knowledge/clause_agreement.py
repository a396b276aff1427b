"""Turns a clause that names what no book knows, or that nothing can meet, into problems at its place."""

from collections.abc import Iterator

from inspect_report.knowledge.clause import (
    ChangeClause,
    ChoiceClause,
    Leaf,
    QuantityClause,
    RatingClause,
    StandsOutClause,
    UnreadClause,
    subject_of,
)
from inspect_report.knowledge.sayable import Sayable
from inspect_report.knowledge.words import unknown, unknown_each
from inspect_report.records.checklist import Applies, in_group
from inspect_report.records.problem import Problem, nearest, some
from inspect_report.records.quantity import QuantityFault, read_amount, read_difference
from inspect_report.records.yaml import Document, Path

_KEYS = {
    QuantityClause: "quantity",
    RatingClause: "rating",
    ChoiceClause: "choice",
    ChangeClause: "change",
    StandsOutClause: "stands-out",
    UnreadClause: "unread",
}


def clause_problems(
    document: Document, clause: Leaf, path: Path, applies: Applies, known: Sayable
) -> Iterator[Problem]:
    """
    What is wrong with a clause that looks at facts itself.

    Args:
        document: The rulebook.
        clause: The clause.
        path: Where it stands.
        applies: Conditions of the rule it belongs to.
        known: What rules may speak of.
    """
    told = tuple(_named(document, clause, path, known))
    yield from told or _never_met(document, clause, path, applies, known)
    for axis, group in clause.where.items():
        at: Path = (*path, "where", axis)
        yield from unknown(document, "K359", "axis", axis, at, known.axes)
        if axis in known.axes:
            yield from _label(document, axis, group, at, known)


def _named(document: Document, clause: Leaf, path: Path, known: Sayable) -> Iterator[Problem]:
    """Subjects, kinds of damage, answers and amounts that no book knows."""
    at: Path = (*path, _KEYS[type(clause)])
    match clause:
        case QuantityClause():
            yield from unknown(document, "K358", "characteristic", clause.quantity, at, known.subjects())
            yield from _amounts(document, clause, path, known)
        case RatingClause():
            yield from unknown(document, "K358", "rating", clause.rating, at, _of_kind("rating", known))
            damage: Path = (*path, "damage")
            yield from unknown_each(document, "K354", "kind of damage", clause.damage, damage, known.damage)
        case ChoiceClause():
            yield from unknown(document, "K358", "choice", clause.choice, at, _of_kind("choice", known))
            yield from _answers(document, clause, path, known)
        case ChangeClause() | StandsOutClause():
            yield from unknown(document, "K358", "characteristic", subject_of(clause), at, known.measured())
            yield from _by(document, clause, path, known)
        case UnreadClause():
            yield from unknown(document, "K358", "thing", clause.unread, at, known.subjects())


def _of_kind(kind: str, known: Sayable) -> tuple[str, ...]:
    return tuple(i for i, of in known.items.items() if any(item.kind == kind for item in of))


def _answers(document: Document, clause: ChoiceClause, path: Path, known: Sayable) -> Iterator[Problem]:
    asked = [i for i in known.items.get(clause.choice, ()) if i.kind == "choice"]
    options = dict.fromkeys(o for i in asked for o in i.options)
    if asked:
        yield from unknown_each(document, "K358", "answer", clause.answer, (*path, "answer"), options)


def _amounts(document: Document, clause: QuantityClause, path: Path, known: Sayable) -> Iterator[Problem]:
    unit = known.units.get(clause.quantity, "")
    for key, written in (("at-least", clause.at_least), ("at-most", clause.at_most)):
        if written is not None:
            yield from _amount(document, written, (*path, key), unit)


def _by(
    document: Document, clause: ChangeClause | StandsOutClause, path: Path, known: Sayable
) -> Iterator[Problem]:
    if isinstance(clause, ChangeClause):
        unit = known.units.get(clause.change, "")
        yield from _amount(document, clause.by_at_least, (*path, "by-at-least"), unit)


def _amount(document: Document, written: str | float, path: Path, unit: str) -> Iterator[Problem]:
    if not unit:
        return
    try:
        read_difference(written, unit)
    except QuantityFault as fault:
        yield document.problem("K361", fault.title, path, str(written), fault.allowed, fault.mend)


def _label(document: Document, axis: str, group: str, path: Path, known: Sayable) -> Iterator[Problem]:
    """A group of labels that no place has: nothing would ever lie in it."""
    named = known.labels.get(axis, ())
    if not named:
        if not group.isdigit():
            title, mend = f"label that no {axis} has", "write its number"
            yield document.problem("K372", title, path, group, f"numbers: {axis}s are counted", mend)
        return
    if not any(in_group(label, group) or in_group(group, label) for label in named):
        near = nearest(group, named)
        mend = f"write {near!r} if that is meant" if near else "take one of those listed"
        yield document.problem("K372", f"label that no {axis} has", path, group, some(named, 24), mend)


def _never_met(
    document: Document, clause: Leaf, path: Path, applies: Applies, known: Sayable
) -> Iterator[Problem]:
    """A clause that no engine the rule is for can ever meet."""
    subject, at = subject_of(clause), (*path, _KEYS[type(clause)])
    if not known.is_met_with(subject, applies):
        told = "; ".join(f"{key}: {value}" for key, value in applies.items())
        allowed = f"what an engine of {told} is looked at for"
        yield _never(document, at, subject, allowed, "correct 'applies', or take the clause out")
    looked_for = known.looked_for(subject, applies)
    if isinstance(clause, RatingClause) and set(looked_for) <= set(known.damage):
        for n, damage in enumerate(clause.damage):
            if damage not in looked_for:
                spot: Path = (*path, "damage", n)
                place = spot if spot in document.starts else (*path, "damage")
                mend = "take one of those, or add it to the item of the checklist"
                yield _never(document, place, damage, some(looked_for, 24), mend)
    if isinstance(clause, QuantityClause):
        yield from _no_value(document, clause, path, known)


def _no_value(document: Document, clause: QuantityClause, path: Path, known: Sayable) -> Iterator[Problem]:
    ends = (clause.at_least, clause.at_most)
    valued = [key for key, v in zip(("at-least", "at-most"), ends, strict=True) if v is not None]
    valued += ["side"] if clause.side else []
    if valued and not known.is_measured(clause.quantity):
        allowed = "a characteristic that is measured"
        mend = "ask for its verdict, or use a rating or choice clause"
        yield _never(document, (*path, valued[0]), f"{valued[0]} of {clause.quantity}", allowed, mend)
    unit = known.units.get(clause.quantity, "") or "1"
    low, high = (None if v is None else read_amount(v, unit) for v in ends)
    if low is not None and high is not None and low > high:
        mend = "exchange the two"
        yield _never(document, (*path, "at-most"), str(clause.at_most), "'at-least' below it", mend)


def _never(document: Document, path: Path, found: str, allowed: str, mend: str) -> Problem:
    return document.problem("K373", "clause that can never be met", path, found, allowed or "nothing", mend)
