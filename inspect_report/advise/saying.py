"""Turns facts into words: each clause can tell what met it, with the value and its unit."""

from collections.abc import Sequence
from typing import Final

from inspect_report.advise.facts import Fact
from inspect_report.judge.finding import Seen
from inspect_report.judge.limits import Shown
from inspect_report.judge.wording import amount, with_unit
from inspect_report.knowledge.clause import (
    ChangeClause,
    ChoiceClause,
    Leaf,
    QuantityClause,
    RatingClause,
    StandsOutClause,
    UnreadClause,
)
from inspect_report.records.quantity import difference_from_si

TOLD_AT_MOST: Final = 4


def fact_in_words(fact: Fact, clause: Leaf) -> str:
    """A fact as the clause that asks for it sees it: ``leak-down of cylinder 3: 35 %, beyond limit``."""
    match clause:
        case QuantityClause():
            return f"{fact.at}: {_judged(fact, bool(clause.side))}"
        case RatingClause():
            return f"{fact.at}: {'; '.join(_damage(s) for s in fact.seen) or 'nothing found'}"
        case ChoiceClause():
            place = f", {fact.position.words}" if fact.position.words else ""
            return f"{fact.name}{place}: {', '.join(fact.chosen) or 'nothing'}"
        case ChangeClause():
            return f"{fact.at}: {_moved(fact)}"
        case StandsOutClause():
            return f"{fact.at}: {_standing(fact)}"
        case UnreadClause():
            return f"{fact.at}: {'inspected' if fact.known else 'not inspected'}"


def told_together(texts: Sequence[str]) -> str:
    """Several texts as one; a long row is cut short and says by how many."""
    told = "; ".join(texts[:TOLD_AT_MOST])
    more = len(texts) - TOLD_AT_MOST
    return f"{told}; and {more} more" if more > 0 else told


def listed(words: Sequence[str]) -> str:
    """Words as a list in a sentence: ``1, 2 and 3``."""
    return " and ".join(part for part in (", ".join(words[:-1]), words[-1] if words else "") if part)


def _judged(fact: Fact, with_side: bool) -> str:
    side = f"{fact.side} its standard range" if fact.side and with_side else ""
    return ", ".join(part for part in (_value(fact), str(fact.verdict), side) if part)


def _value(fact: Fact) -> str:
    return "" if fact.value is None else amount(fact.value, Shown(fact.unit, fact.decimals))


def _moved(fact: Fact) -> str:
    """How far a value moved; without an earlier one, that there is none."""
    if fact.moved is None:
        return "no earlier reading"
    number = difference_from_si(abs(fact.moved), fact.unit) if fact.unit else abs(fact.moved)
    way = "up" if fact.moved >= 0 else "down"
    return f"{way} by {with_unit(f'{number:.{fact.decimals}f}', fact.unit)} since it was last read"


def _standing(fact: Fact) -> str:
    """Whether a value lies apart from its like, with the value."""
    if not fact.stands_out:
        return "too few like places to compare"
    apart = (
        "in line with the others" if fact.stands_out == "no" else f"stands out {fact.stands_out} the others"
    )
    return ", ".join(part for part in (_value(fact), apart) if part)


def _damage(seen: Seen) -> str:
    grades = (("amount", seen.amount), ("size", seen.size), ("strength", seen.strength))
    return ", ".join([seen.damage, *(f"{word} {grade}" for word, grade in grades if grade is not None)])
