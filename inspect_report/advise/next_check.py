"""
Turns the explanations of a diagnosis into the check that would settle most of what is open between them.

A check is what is done to see one sign or several; it counts by the information expected of it, summed over
the causes that list the sign. The best of those possible with what is open now comes first; one that needs
further opening follows where it would settle more.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from typing import Final

from inspect_report.advise.access import LEFT_OPEN, deepest, left_open, opened_steps, steps_for
from inspect_report.advise.counting import opening_hours
from inspect_report.advise.explanation import Explanation, NextCheck
from inspect_report.advise.looking import View, look
from inspect_report.advise.sureness import chance_of
from inspect_report.judge.absent import AFTER
from inspect_report.knowledge.case import Books, Case
from inspect_report.knowledge.clause import ChangeClause, Leaf, StandsOutClause, leaves, subject_of
from inspect_report.knowledge.rulebook import Rulebook, Sign
from inspect_report.knowledge.workbook import AccessStep
from inspect_report.mechanics.evidence import MOST_SIGNS, expected_information, probability_of
from inspect_report.records.checklist import DEPTHS, depths_of

LEAST_BITS: Final = 0.01
"""A check that settles less is not worth telling."""


def next_checks(explanations: Sequence[Explanation], view: View, case: Case) -> tuple[NextCheck, ...]:
    """
    The best check with what is open, and the best behind further opening where that would settle more.

    Args:
        explanations: What could be at work, as far as it is known.
        view: The facts, and where they are looked at from.
        case: The inspection, which says what is open.
    """
    checks = [c for c in _checks(explanations, view, case) if c.bits >= LEAST_BITS]
    now = _best(c for c in checks if not c.opens)
    further = _best(c for c in checks if c.opens)
    if now and further and further.bits <= now.bits:
        return (now,)
    return tuple(c for c in (now, further) if c is not None)


def _best(checks: Iterable[NextCheck]) -> NextCheck | None:
    """The check that settles most; of equals the one that is opened for in least time."""
    return min(checks, key=lambda c: (-round(c.bits, 9), c.hours, c.does), default=None)


def _checks(explanations: Sequence[Explanation], view: View, case: Case) -> Iterator[NextCheck]:
    rulebook = case.books.rulebook
    wanted = {s for e in explanations if (c := rulebook.cause(e.cause)) for s in c.signs}
    by_check: dict[str, list[Sign]] = defaultdict(list)
    for sign in rulebook.signs:
        if sign.id in wanted and _is_open(sign, view):
            by_check[sign.check].append(sign)
    for does, signs in by_check.items():
        items = tuple(dict.fromkeys(i for s in signs for i in _items(s, view, case)))
        steps = _to_open(items, case)
        bits, bears_on = _expected(signs, explanations, rulebook)
        if items:
            hours = sum((opening_hours(s, case.books) for s in steps), Decimal(0))
            names = tuple(s.name for s in deepest(steps, case.books.workbook))
            yield NextCheck(does, items, bears_on, bits, names, hours)


def _is_open(sign: Sign, view: View) -> bool:
    """Whether a sign is not known and looking would tell: not where only an earlier reading is missing."""
    return chance_of(sign.see, view) is None and any(_is_unread(leaf, view) for leaf in leaves(sign.see))


def _is_unread(leaf: Leaf, view: View) -> bool:
    looked = look(leaf, view)
    if looked.absent or looked.seen is None or isinstance(leaf, ChangeClause | StandsOutClause):
        return False
    return not looked.seen or any(not f.known for f in looked.seen)


def _items(sign: Sign, view: View, case: Case) -> Iterator[str]:
    """Items of the checklist that tell of a sign and are not filled in."""
    for leaf in (leaf for leaf in leaves(sign.see) if _is_unread(leaf, view)):
        known = case.books.catalogue.known(subject_of(leaf))
        for item in known.needs if known and known.needs else (subject_of(leaf),):
            if _can_be_done(item, case):
                yield item


def _can_be_done(item_id: str, case: Case) -> bool:
    """
    Whether an item can still be done: of this depth or a deeper one.

    An engine that lies open is past what is done on one that is whole, and again when it is put together.
    """
    checklist, now = case.books.checklist, case.inspection.head.depth
    item, section = checklist.item(item_id), checklist.section_of(item_id)
    if item is None or section is None:
        return False
    depths = depths_of(item, section)
    if now in LEFT_OPEN and AFTER in depths:
        return False
    return any(DEPTHS.index(d) >= DEPTHS.index(now) and (d != AFTER or now == AFTER) for d in depths)


def _to_open(items: Iterable[str], case: Case) -> tuple[AccessStep, ...]:
    """
    Access steps that must be opened for some items; none where all they need is open at this inspection.

    What an inspection closes again is opened anew for a check that needs more than it had open.
    """
    books = case.books
    steps = steps_for((_access(i, books) for i in items), books.workbook, books.sheet.layout)
    if {s.id for s in steps} <= {s.id for s in opened_steps(case)}:
        return ()
    still_open = {s.id for s in left_open(case)}
    return tuple(s for s in steps if s.id not in still_open)


def _access(item_id: str, books: Books) -> str:
    item, section = books.checklist.item(item_id), books.checklist.section_of(item_id)
    return (item.access if item else "") or (section.access if section else "")


def _expected(
    signs: Sequence[Sign], explanations: Iterable[Explanation], rulebook: Rulebook
) -> tuple[float, tuple[str, ...]]:
    """Expected information of a check over all explanations, and the causes it tells of."""
    told: dict[str, float] = {}
    for explanation in explanations:
        cause = rulebook.cause(explanation.cause)
        listed = cause.signs if cause else {}
        shares = [tuple(map(rulebook.share, listed[s.id])) for s in signs if s.id in listed][:MOST_SIGNS]
        if shares:
            pairs = [(s[0], s[1]) for s in shares]
            told[explanation.cause] = expected_information(probability_of(explanation.odds), pairs)
    return math.fsum(told.values()), tuple(told)
