"""Turns the cases written in a rulebook into problems, wherever a rule does not fire as its case says."""

from collections.abc import Iterator, Mapping
from pathlib import Path

from inspect_report.advise.given import Subject, given_facts, subjects
from inspect_report.advise.rules import fired
from inspect_report.knowledge.bookread import Book, read_book, shipped_book, shipped_ids
from inspect_report.knowledge.catalogue import Catalogue
from inspect_report.knowledge.rulebook import Rule, Rulebook, RuleCase
from inspect_report.records.checklist import Checklist
from inspect_report.records.problem import Problem
from inspect_report.records.quantity import QuantityFault
from inspect_report.records.yaml import Path as KeyPath


def case_problems(path: Path) -> tuple[Problem, ...]:
    """
    The cases of the rulebook in a file that do not come out as written; none for a file of another kind.

    Cases may speak of what the shipped checklists and the characteristics book know.
    """
    book = read_book(Rulebook, path).value
    if book is None:
        return ()
    known = _known()
    return tuple(p for i, rule in enumerate(book.record.rules) for p in _of_rule(book, i, rule, known))


def _known() -> dict[str, Subject]:
    catalogue = shipped_book(Catalogue, "characteristics").value
    lists = [shipped_book(Checklist, f"checklists/{name}").value for name in shipped_ids("checklists")]
    return {} if catalogue is None else subjects(catalogue.record, [c.record for c in lists if c])


def _of_rule(book: Book[Rulebook], index: int, rule: Rule, known: Mapping[str, Subject]) -> Iterator[Problem]:
    for number, case in enumerate(rule.cases):
        yield from _of_case(book, ("rules", index, "cases", number), rule, case, known)


def _of_case(
    book: Book[Rulebook], path: KeyPath, rule: Rule, case: RuleCase, known: Mapping[str, Subject]
) -> Iterator[Problem]:
    try:
        found = sorted(fired(rule, given_facts(case.given, known)))
    except (KeyError, QuantityFault) as fault:
        yield book.document.problem(
            "K370",
            f"case of rule {rule.id!r} that cannot be read",
            (*path, "given"),
            str(fault).strip("'\""),
            "characteristics and items of the shipped books, at places they have",
            "write the id as the checklist does, then the place, then the value",
        )
        return
    wanted = sorted(map(str, case.fires))
    if found != wanted:
        yield book.document.problem(
            "K371",
            f"rule {rule.id!r} does not fire as its case says",
            (*path, "fires"),
            f"the case says {_listed(wanted)}",
            f"what the rule does with these facts: it fires for {_listed(found)}",
            "correct the rule's clauses, or the case",
        )


def _listed(labels: list[str]) -> str:
    return ", ".join(labels) or "nothing"
