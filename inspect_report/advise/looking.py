"""Turns a clause and where a rule looks from into the facts it sees."""

from collections.abc import Iterable
from dataclasses import dataclass

from inspect_report.advise.facts import Fact, Facts
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
from inspect_report.records.checklist import in_group
from inspect_report.records.position import Position


@dataclass(frozen=True, slots=True)
class View:
    """The facts as seen from one label of a rule's axis; both texts empty for a rule of the whole engine."""

    facts: Facts
    axis: str = ""
    label: str = ""


@dataclass(frozen=True, slots=True)
class Looked:
    """
    What a clause looks at.

    ``of``: all facts of its subject. ``seen``: those it sees, None where the layout does not say which places
    are meant. ``absent``: the engine has no such thing, or no such place.
    """

    of: tuple[Fact, ...]
    seen: tuple[Fact, ...] | None
    absent: bool = False


def look(clause: Leaf, view: View) -> Looked:
    """The facts a clause sees from where a rule looks."""
    of = _facts_of(clause, view.facts)
    if not of and subject_of(clause) in view.facts.absent:
        return Looked((), (), absent=True)
    seen = _seen(clause, of, view)
    none_there = clause.near in ("neighbour", "others") and not seen and seen is not None
    return Looked(of, seen, absent=none_there and not _labels_meant(clause, view))


def _facts_of(clause: Leaf, facts: Facts) -> tuple[Fact, ...]:
    subject = subject_of(clause)
    match clause:
        case RatingClause():
            return facts.ratings.get(subject, ())
        case ChoiceClause():
            return facts.answers.get(subject, ())
        case UnreadClause():
            return facts.of(subject)
        case QuantityClause() | ChangeClause() | StandsOutClause():
            return facts.quantities.get(subject, ())


def _seen(clause: Leaf, of: Iterable[Fact], view: View) -> tuple[Fact, ...] | None:
    """The facts a clause looks at; None where the layout does not say which places are meant."""
    inside = tuple(f for f in of if is_within(f.position, clause.where))
    if clause.near == "anywhere" or not view.axis:
        return inside
    if clause.near == "same":
        return tuple(f for f in inside if f.position.label(view.axis) in (view.label, None))
    if clause.near == "neighbour" and view.axis == "cylinder" and not view.facts.in_line:
        return None
    meant = _labels_meant(clause, view)
    return tuple(f for f in inside if f.position.label(view.axis) in meant)


def _labels_meant(clause: Leaf, view: View) -> tuple[str, ...]:
    """Labels of the axis other than one's own that a clause means."""
    labels = view.facts.labels.get(view.axis, ())
    if clause.near == "others":
        return tuple(label for label in labels if label != view.label)
    if not view.label.isdigit():
        return ()
    beside = (str(int(view.label) - 1), str(int(view.label) + 1))
    return tuple(n for n in beside if n in labels)


def is_within(position: Position, where: dict[str, str]) -> bool:
    """Whether a place lies in a group; one that does not name the axis speaks for all of it."""
    labels = {axis: position.label(axis) for axis in where}
    return all(labels[axis] is None or in_group(str(labels[axis]), group) for axis, group in where.items())
