"""Turns rules that speak of what no book knows into problems at the clause that does."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from inspect_report.knowledge.bookset import BookSet
from inspect_report.knowledge.rulebook import (
    AllClause,
    AnyClause,
    ChangeClause,
    ChoiceClause,
    Clause,
    NotClause,
    QuantityClause,
    RatingClause,
    Rule,
)
from inspect_report.knowledge.words import unknown, unknown_each
from inspect_report.records.checklist import Checklist, Item, applies_to
from inspect_report.records.problem import Problem
from inspect_report.records.quantity import QuantityFault, read_difference
from inspect_report.records.yaml import Document, Path

_STAND_IN: Final = re.compile(r"\{([^{}]*)\}")


@dataclass(frozen=True, slots=True)
class _Sayable:
    """What a rule may speak of."""

    items: dict[str, Item]
    units: dict[str, str]
    damage: tuple[str, ...]
    axes: tuple[str, ...]
    jobs: tuple[str, ...]


def rule_disagreements(books: BookSet, checklists: tuple[Checklist, ...]) -> Iterator[Problem]:
    """
    Clauses about unknown things, and work no workbook has, in the rules for this kind of engine.

    Args:
        books: The books of one inspection.
        checklists: Further checklists whose items a rule may name.
    """
    document, sayable = books.rulebook.document, _sayable(books, checklists)
    for i, rule in enumerate(books.rulebook.record.rules):
        if not applies_to(rule.applies, books.sheet.record.layout):
            continue
        path: Path = ("rules", i)
        if rule.for_ != "engine":
            yield from unknown(document, "K359", "axis", rule.for_, (*path, "for"), sayable.axes)
        if rule.for_ in ("engine", *sayable.axes):
            yield from _stand_ins(document, rule, path)
        yield from _clause(document, rule.when, (*path, "when"), sayable)
        yield from unknown_each(document, "K357", "job", rule.work, (*path, "work"), sayable.jobs)


def _stand_ins(document: Document, rule: Rule, path: Path) -> Iterator[Problem]:
    """A word in brackets that stands for nothing would be printed as it is."""
    allowed = "no word in { }" if rule.for_ == "engine" else f"{{{rule.for_}}}, the axis it is tried along"
    for key, text in (("finding", rule.finding), ("if-left", rule.if_left)):
        odd = next((w for w in _STAND_IN.findall(text) if w != rule.for_), None)
        if odd is not None:
            title, mend = f"{{{odd}}} stands for nothing here", "write it so, or without the brackets"
            yield document.problem("K342", title, (*path, key), text, allowed, mend)


def _sayable(books: BookSet, checklists: tuple[Checklist, ...]) -> _Sayable:
    lists = (books.full_checklist(), *checklists)
    items = {i.id: i for c in reversed(lists) for s in c.sections for i in s.items}
    units = {i.id: i.unit for i in items.values() if i.kind in ("reading", "count")}
    units |= {k.id: k.unit or units.get(k.id, "") for k in books.catalogue.record.characteristics}
    layout = books.sheet.record.layout
    axes = ("cylinder", "valve", "cam", "ring", *layout.counts, *(a for c in lists for a in c.axes))
    counted = (axis for item in items.values() for axis in item.axes)
    damage = tuple(w.damage for w in books.scales.record.words)
    jobs = tuple(j.id for j in books.workbook.record.jobs)
    return _Sayable(items, units, damage, (*axes, *counted), jobs)


def _clause(document: Document, clause: Clause, path: Path, sayable: _Sayable) -> Iterator[Problem]:
    if isinstance(clause, AllClause | AnyClause):
        key = "all" if isinstance(clause, AllClause) else "any"
        inner = clause.all if isinstance(clause, AllClause) else clause.any
        for i, part in enumerate(inner):
            yield from _clause(document, part, (*path, key, i), sayable)
    elif isinstance(clause, NotClause):
        yield from _clause(document, clause.not_, (*path, "not"), sayable)
    else:
        yield from _fact(document, clause, path, sayable)
        for axis in clause.where if not isinstance(clause, ChangeClause) else ():
            yield from unknown(document, "K359", "axis", axis, (*path, "where", axis), sayable.axes)


def _fact(
    document: Document,
    clause: QuantityClause | RatingClause | ChoiceClause | ChangeClause,
    path: Path,
    sayable: _Sayable,
) -> Iterator[Problem]:
    if isinstance(clause, QuantityClause):
        yield from unknown(
            document, "K358", "characteristic", clause.quantity, (*path, "quantity"), _judged(sayable)
        )
        yield from _amounts(document, clause, path, sayable)
    elif isinstance(clause, RatingClause):
        ratings = (i.id for i in sayable.items.values() if i.kind == "rating")
        yield from unknown(document, "K358", "rating", clause.rating, (*path, "rating"), ratings)
        yield from unknown_each(
            document, "K354", "kind of damage", clause.damage, (*path, "damage"), sayable.damage
        )
    elif isinstance(clause, ChoiceClause):
        yield from _choice(document, clause, path, sayable)
    else:
        yield from unknown(
            document, "K358", "characteristic", clause.change, (*path, "change"), _judged(sayable)
        )
        yield from _amount(
            document, clause.by_at_least, (*path, "by-at-least"), sayable.units.get(clause.change, "")
        )


def _judged(sayable: _Sayable) -> tuple[str, ...]:
    """Everything that can have a finding: characteristics, readings, ratings and answers."""
    return tuple(dict.fromkeys((*sayable.units, *sayable.items)))


def _choice(document: Document, clause: ChoiceClause, path: Path, sayable: _Sayable) -> Iterator[Problem]:
    choices = {i.id: i for i in sayable.items.values() if i.kind == "choice"}
    yield from unknown(document, "K358", "choice", clause.choice, (*path, "choice"), choices)
    item = choices.get(clause.choice)
    if item:
        yield from unknown_each(document, "K358", "answer", clause.answer, (*path, "answer"), item.options)


def _amounts(document: Document, clause: QuantityClause, path: Path, sayable: _Sayable) -> Iterator[Problem]:
    unit = sayable.units.get(clause.quantity, "")
    for key, written in (("at-least", clause.at_least), ("at-most", clause.at_most)):
        if written is not None:
            yield from _amount(document, written, (*path, key), unit)


def _amount(document: Document, written: str | float, path: Path, unit: str) -> Iterator[Problem]:
    if not unit:
        return
    try:
        read_difference(written, unit)
    except QuantityFault as fault:
        yield document.problem("K361", fault.title, path, str(written), fault.allowed, fault.mend)
