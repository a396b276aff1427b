"""Turns rules that speak of what no book knows, or that can never fire, into problems at the clause."""

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from inspect_report.knowledge.bookread import Book, shipped_book, shipped_ids
from inspect_report.knowledge.bookset import BookSet
from inspect_report.knowledge.catalogue import Catalogue, Scales
from inspect_report.knowledge.cause_agreement import cause_disagreements
from inspect_report.knowledge.clause import AllClause, AnyClause, Clause, NotClause, leaves, subject_of
from inspect_report.knowledge.clause_agreement import clause_problems
from inspect_report.knowledge.rule_logic import outcomes
from inspect_report.knowledge.rulebook import Rule, Rulebook
from inspect_report.knowledge.sayable import Sayable, sayable
from inspect_report.knowledge.words import unknown, unknown_each
from inspect_report.records.checklist import Applies, Checklist, applies_to, axis_labels
from inspect_report.records.problem import Problem
from inspect_report.records.yaml import Document, Path

_STAND_IN: Final = re.compile(r"\{([^{}]*)\}")


def rule_disagreements(books: BookSet, checklists: tuple[Checklist, ...]) -> Iterator[Problem]:
    """
    Clauses about unknown things, and work no workbook has, in the rules for this kind of engine.

    Args:
        books: The books of one inspection.
        checklists: Further checklists whose items a rule may name.
    """
    book, layout = books.rulebook, books.sheet.record.layout
    known = _of_books(books, checklists)
    for i, rule in enumerate(book.record.rules):
        if applies_to(rule.applies, layout):
            yield from _rule(book.document, rule, ("rules", i), known)
    yield from _signs(book, known)


def rules_by_themselves(book: Book[Rulebook]) -> Iterator[Problem]:
    """What can be told of a rulebook without an inspection: by the shipped books, of every rule."""
    known = _shipped()
    if known is None:
        return
    for i, rule in enumerate(book.record.rules):
        yield from _rule(book.document, rule, ("rules", i), known)
    yield from _signs(book, known)


def _signs(book: Book[Rulebook], known: Sayable) -> Iterator[Problem]:
    for i, sign in enumerate(book.record.signs):
        yield from _clause(book.document, sign.see, ("signs", i, "see"), {}, known)
    yield from cause_disagreements(book)


def _rule(document: Document, rule: Rule, path: Path, known: Sayable) -> Iterator[Problem]:
    if rule.for_ != "engine":
        yield from unknown(document, "K359", "axis", rule.for_, (*path, "for"), known.axes)
    if rule.for_ in ("engine", *known.axes):
        yield from _stand_ins(document, rule, path)
        yield from _axis_unseen(document, rule, path, known)
    faults = tuple(_clause(document, rule.when, (*path, "when"), rule.applies, known))
    yield from faults or _logic(document, rule, path, known)
    if known.jobs is not None:
        yield from unknown_each(document, "K357", "job", rule.work, (*path, "work"), known.jobs)


def _axis_unseen(document: Document, rule: Rule, path: Path, known: Sayable) -> Iterator[Problem]:
    """A rule for each of something, none of whose clauses looks at such a thing, fires for all alike."""
    seen = {axis for leaf in leaves(rule.when) for axis in known.axes_of(subject_of(leaf))}
    if rule.for_ != "engine" and seen and rule.for_ not in seen:
        title, mend = (
            f"tried for each {rule.for_}, and looks at none",
            "take the axis of a clause, or 'engine'",
        )
        yield document.problem("K379", title, (*path, "for"), rule.for_, ", ".join(sorted(seen)), mend)


def _stand_ins(document: Document, rule: Rule, path: Path) -> Iterator[Problem]:
    """A word in brackets that stands for nothing would be printed as it is."""
    allowed = "no word in { }" if rule.for_ == "engine" else f"{{{rule.for_}}}, the axis it is tried along"
    for key, text in (("finding", rule.finding), ("if-left", rule.if_left)):
        odd = next((w for w in _STAND_IN.findall(text) if w != rule.for_), None)
        if odd is not None:
            title, mend = f"{{{odd}}} stands for nothing here", "write it so, or without the brackets"
            yield document.problem("K342", title, (*path, key), text, allowed, mend)


def _clause(
    document: Document, clause: Clause, path: Path, applies: Applies, known: Sayable
) -> Iterator[Problem]:
    match clause:
        case AllClause():
            for i, part in enumerate(clause.all):
                yield from _clause(document, part, (*path, "all", i), applies, known)
        case AnyClause():
            for i, part in enumerate(clause.any):
                yield from _clause(document, part, (*path, "any", i), applies, known)
        case NotClause():
            yield from _clause(document, clause.not_, (*path, "not"), applies, known)
        case _:
            yield from clause_problems(document, clause, path, applies, known)


def _logic(document: Document, rule: Rule, path: Path, known: Sayable) -> Iterator[Problem]:
    can_be = outcomes(rule, known)
    if True not in can_be:
        yield document.problem(
            "K374",
            f"rule {rule.id!r} contradicts itself",
            (*path, "when"),
            "clauses that are never met together",
            "clauses that some engine can meet",
            "delete one of those that exclude each other, or join them by 'any'",
        )
    if False not in can_be:
        yield document.problem(
            "K375",
            f"rule {rule.id!r} fires whatever is found",
            (*path, "when"),
            "clauses one of which always holds",
            "clauses that some engine does not meet",
            "delete the clause that is the other's opposite",
        )


def _of_books(books: BookSet, checklists: tuple[Checklist, ...]) -> Sayable:
    sheet, full = books.sheet.record, books.full_checklist()
    return sayable(
        (full, *checklists),
        books.catalogue.record,
        (w.damage for w in books.scales.record.words),
        (j.id for j in books.workbook.record.jobs),
        sheet.layout.counts,
        {axis: axis_labels(axis, sheet, full) for axis in ("valve", "cam", "ring")},
    )


@lru_cache(maxsize=1)
def _shipped() -> Sayable | None:
    catalogue = shipped_book(Catalogue, "characteristics").value
    scales = shipped_book(Scales, "scales").value
    lists = [shipped_book(Checklist, f"checklists/{name}").value for name in shipped_ids("checklists")]
    if catalogue is None or scales is None:
        return None
    damage = (w.damage for w in scales.record.words)
    return sayable((c.record for c in lists if c), catalogue.record, damage)
