"""
Turns the cases written in the shipped rules into a list of what they try, rule by rule and clause by clause.

``python -m tests.rules.coverage`` tells how much is tried and what is not, and ends with 1 where a rule never
fires or a clause is never true or never false; ``--all`` prints every clause.
"""

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import TypeVar

from inspect_report.advise.clauses import Truth, evaluate
from inspect_report.advise.facts import Facts
from inspect_report.advise.given import Subject, given_facts, subjects
from inspect_report.advise.looking import View
from inspect_report.advise.rules import ENGINE_AXIS, try_rule
from inspect_report.knowledge.bookread import shipped_book, shipped_ids
from inspect_report.knowledge.catalogue import Catalogue
from inspect_report.knowledge.clause import Leaf, leaves, subject_of
from inspect_report.knowledge.rulebook import Rule, Rulebook, RuleCase
from inspect_report.records.checklist import Checklist
from inspect_report.records.shape import Record

B = TypeVar("B", bound=Record)


def shipped(model: type[B], name: str) -> B:
    """A shipped book, whole."""
    book = shipped_book(model, name).value
    assert book is not None, name
    return book.record


def checklists() -> list[Checklist]:
    """The shipped checklists."""
    return [shipped(Checklist, f"checklists/{name}") for name in shipped_ids("checklists")]


@cache
def known() -> dict[str, Subject]:
    """Everything the shipped books can speak of."""
    return subjects(shipped(Catalogue, "characteristics"), checklists())


@cache
def rulebooks() -> tuple[Rulebook, ...]:
    """The shipped rulebooks."""
    return tuple(shipped(Rulebook, f"rulebooks/{name}") for name in shipped_ids("rulebooks"))


def rules() -> tuple[Rule, ...]:
    """Every rule of every shipped rulebook."""
    return tuple(rule for book in rulebooks() for rule in book.rules)


def facts(case: RuleCase) -> Facts:
    """The facts a case gives."""
    return given_facts(case.given, known())


def views(rule: Rule, case: RuleCase) -> Iterator[View]:
    """Where a rule looks from in a case: every label of its axis, or the engine."""
    given = facts(case)
    labels = ("",) if rule.for_ == ENGINE_AXIS else given.labels.get(rule.for_, ())
    for label in labels:
        yield View(given, rule.for_ if label else "", label)


@dataclass(frozen=True, slots=True)
class Tried:
    """How often the cases of a rule made one of its clauses true, false and unknown."""

    rule: str
    clause: str
    true: int
    false: int
    unknown: int

    @property
    def is_idle(self) -> bool:
        """Whether no case shows that the clause plays a part."""
        return not self.true or not self.false

    def __str__(self) -> str:
        counts = f"{self.true:3} true {self.false:3} false {self.unknown:3} unknown"
        return f"{'IDLE' if self.is_idle else '    '} {counts}  {self.rule}: {self.clause}"


def tried(rule: Rule) -> Iterator[Tried]:
    """What the cases of a rule try of each of its clauses."""
    for leaf in leaves(rule.when):
        truths: Counter[Truth] = Counter(
            evaluate(leaf, view).truth for case in rule.cases for view in views(rule, case)
        )
        yield Tried(rule.id, _told(leaf), truths[True], truths[False], truths[None])


def _told(leaf: Leaf) -> str:
    written = leaf.model_dump(exclude_defaults=True, by_alias=True, mode="json")
    rest = [f"{key} {value}" for key, value in written.items() if value != subject_of(leaf)]
    return ", ".join((subject_of(leaf), *rest))


def never_fired() -> tuple[str, ...]:
    """Rules that fire in none of their cases."""
    fires = ((r.id, any(o.truth for c in r.cases for _, o in try_rule(r, facts(c)))) for r in rules())
    return tuple(rule for rule, fired in fires if not fired)


def main(arguments: list[str]) -> int:
    """Print the list; 1 where something is not tried."""
    listed = [one for rule in rules() for one in tried(rule)]
    idle, silent = [one for one in listed if one.is_idle], never_fired()
    for one in listed if "--all" in arguments else idle:
        print(one)
    for rule in silent:
        print(f"NEVER FIRED {rule}")
    cases = sum(len(rule.cases) for rule in rules())
    print(
        f"{len(rules())} rules in {cases} cases, {len(rules()) - len(silent)} of them fired; "
        f"{len(listed)} clauses, {len(listed) - len(idle)} of them true in one case and false in another"
    )
    return 1 if idle or silent else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
