"""
Turns what a rule's case writes under ``given:`` into facts, as if an engine had been found so.

By characteristic or item, then by place (``3``, ``3.exhaust-1``, or nested), a verdict word, an amount with
its unit, ``above`` or ``below`` for the side of the standard range, what the eye found
(``{damage: …, amount: …, size: …}``, a list of them, or ``none``), or answers; ``not inspected`` of any of
them, and ``{stands-out: above}`` of a value apart from its like. A value without a place
is that of the whole engine. ``earlier:`` gives the amounts of the inspection before in the same form.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from inspect_report.advise.facts import UNKNOWN_VERDICTS, Fact, Facts, gathered
from inspect_report.judge.finding import Seen, Verdict
from inspect_report.knowledge.catalogue import Catalogue
from inspect_report.records.checklist import Checklist
from inspect_report.records.position import Position
from inspect_report.records.quantity import read_amount

EARLIER: Final = "earlier"
_LEAF_KEYS: Final = frozenset(
    {"damage", "amount", "size", "strength", "note", "verdict", "value", "side", "stands-out"}
)
_VERDICTS: Final = frozenset(v.value for v in Verdict)


@dataclass(frozen=True, slots=True)
class Subject:
    """What a case must know of a characteristic or item to read its values."""

    id: str
    axes: tuple[str, ...] = ()
    unit: str = ""
    kind: str = "reading"
    shorter: tuple[str, ...] = ()
    """Its axes on a kind of engine that has fewer: a head's lines, where another has heads by cylinder."""

    def place(self, labels: tuple[str, ...]) -> Position:
        """
        The place of some labels, along the axes that are as many; along the first of them if there are fewer.

        Raises:
            KeyError: more labels than it has axes.
        """
        axes = self.shorter if len(labels) == len(self.shorter) else self.axes
        if len(labels) > len(axes):
            raise KeyError(f"{self.id} has no place {labels[-1]!r} behind {'.'.join(labels[:-1])!r}")
        return Position(axes[: len(labels)], labels)


def subjects(catalogue: Catalogue, checklists: Iterable[Checklist]) -> dict[str, Subject]:
    """Every characteristic and item a rule may name."""
    known = {k.id: Subject(k.id, k.axes, k.unit) for k in catalogue.characteristics}
    for item in (i for c in checklists for s in c.sections for i in s.items):
        before = known.get(item.id, Subject(item.id))
        known[item.id] = replace(_along(before, item.axes), unit=before.unit or item.unit, kind=item.kind)
    return known


def _along(subject: Subject, axes: tuple[str, ...]) -> Subject:
    """A subject that one more checklist asks along some axes; the longer ones come first."""
    if not subject.axes or set(axes) == set(subject.axes):
        return replace(subject, axes=axes)
    longer, shorter = sorted((axes, subject.axes), key=len, reverse=True)
    return replace(subject, axes=longer, shorter=shorter)


def given_facts(given: Mapping[str, Any], known: Mapping[str, Subject]) -> Facts:
    """
    The facts of a rule's case.

    Raises:
        KeyError: a subject that is neither characteristic nor item, or more labels than it has axes.
    """
    now = {name: value for name, value in given.items() if name != EARLIER}
    facts = [fact for name, value in now.items() for fact in _facts(known[name], value)]
    before = {
        (fact.subject, fact.position): fact.value
        for name, value in given.get(EARLIER, {}).items()
        for fact in _facts(known[name], value)
    }
    moved = [_with_move(fact, before.get((fact.subject, fact.position))) for fact in facts]
    return Facts(
        quantities=gathered(f for f in moved if not f.seen and not f.chosen and not _is_of_eye(f, known)),
        ratings=gathered(f for f in moved if known[f.subject].kind == "rating" and not f.verdict),
        answers=gathered(f for f in moved if f.chosen),
        labels=_labels(moved),
    )


def _is_of_eye(fact: Fact, known: Mapping[str, Subject]) -> bool:
    return known[fact.subject].kind == "rating" and not fact.verdict


def _with_move(fact: Fact, before: float | None) -> Fact:
    return fact if before is None or fact.value is None else replace(fact, moved=fact.value - before)


def _labels(facts: Iterable[Fact]) -> dict[str, tuple[str, ...]]:
    found: dict[str, dict[str, None]] = defaultdict(dict)
    for fact in facts:
        for axis, label in zip(fact.position.axes, fact.position.labels, strict=True):
            found[axis][label] = None
    return {axis: tuple(labels) for axis, labels in found.items()}


def _facts(subject: Subject, value: Any) -> Iterator[Fact]:
    for position, leaf in _leaves(subject, value):
        yield _fact(
            Fact(subject.id, subject.id.replace("-", " "), position, unit=subject.unit), subject, leaf
        )


def _leaves(subject: Subject, value: Any, labels: tuple[str, ...] = ()) -> Iterator[tuple[Position, Any]]:
    if not isinstance(value, Mapping) or _LEAF_KEYS.issuperset(value):
        yield subject.place(labels), value
        return
    for path, inner in value.items():
        yield from _leaves(subject, inner, (*labels, *str(path).split(".")))


def _fact(bare: Fact, subject: Subject, leaf: Any) -> Fact:
    if isinstance(leaf, str) and leaf in _VERDICTS:
        return replace(bare, verdict=leaf, known=leaf not in UNKNOWN_VERDICTS)
    if subject.kind == "rating":
        return replace(bare, seen=tuple(_seen(one) for one in _several(leaf) if one != "none"))
    if subject.kind == "choice":
        return replace(bare, chosen=tuple(str(one) for one in _several(leaf)))
    if isinstance(leaf, Mapping):
        return _measured(bare, leaf)
    return replace(bare, side=leaf) if leaf in ("above", "below") else _measured(bare, {"value": leaf})


def _several(leaf: Any) -> list[Any]:
    return leaf if isinstance(leaf, list) else [leaf]


def _measured(bare: Fact, leaf: Mapping[str, Any]) -> Fact:
    value = leaf.get("value")
    return replace(
        bare,
        value=None if value is None else read_amount(value, bare.unit or "1"),
        verdict=str(leaf.get("verdict", "")),
        side=str(leaf.get("side", "")),
        stands_out=str(leaf.get("stands-out", "")),
    )


def _seen(one: Mapping[str, Any]) -> Seen:
    return Seen(
        str(one["damage"]),
        int(one.get("amount", 0)),
        one.get("size"),
        one.get("strength"),
        str(one.get("note", "")),
    )
