"""Turns facts into words: each clause can tell what met it, with the value and its unit."""

from collections.abc import Sequence
from typing import Final

from inspect_report.advise.facts import Fact
from inspect_report.judge.finding import Seen
from inspect_report.judge.limits import Shown
from inspect_report.judge.wording import amount, change
from inspect_report.knowledge.clause import (
    ChangeClause,
    ChoiceClause,
    Leaf,
    QuantityClause,
    RatingClause,
    StandsOutClause,
    UnreadClause,
)
from inspect_report.telling.manner import lowered, message, say, word
from inspect_report.telling.positions import at_words

TOLD_AT_MOST: Final = 4


def fact_in_words(fact: Fact, clause: Leaf) -> str:
    """A fact as the clause that asks for it sees it: ``leak-down of cylinder 3: 35 %, beyond limit``."""
    match clause:
        case QuantityClause():
            return f"{fact.at}: {_judged(fact, bool(clause.side))}"
        case RatingClause():
            return f"{fact.at}: {'; '.join(_damage(s) for s in fact.seen) or say('nothing found')}"
        case ChoiceClause():
            place = f", {at_words(fact.position)}" if at_words(fact.position) else ""
            return f"{fact.name}{place}: {', '.join(map(word, fact.chosen)) or say('nothing')}"
        case ChangeClause():
            return f"{fact.at}: {_moved(fact)}"
        case StandsOutClause():
            return f"{fact.at}: {_standing(fact)}"
        case UnreadClause():
            return f"{fact.at}: {say('inspected') if fact.known else say('not inspected')}"


def looked_for(fact: Fact, clause: Leaf) -> str:
    """The same; of other damage than was looked for it says that this was not found."""
    if not isinstance(clause, RatingClause) or not clause.damage or not fact.seen:
        return fact_in_words(fact, clause)
    if any(s.damage in clause.damage for s in fact.seen):
        return fact_in_words(fact, clause)
    return f"{fact.at}: {say('{damage} not found', damage=', '.join(map(word, clause.damage)))}"


def told_together(texts: Sequence[str]) -> str:
    """Several texts as one; a long row is cut short and says by how many."""
    told = "; ".join([*texts[:1], *map(lowered, texts[1:TOLD_AT_MOST])])
    more = len(texts) - TOLD_AT_MOST
    return say("{told}; and {more} more", told=told, more=more) if more > 0 else told


def listed(words: Sequence[str]) -> str:
    """Words as a list in a sentence: ``1, 2 and 3``."""
    if len(words) < 2:
        return "".join(words)
    return say("{list} and {last}", list=", ".join(words[:-1]), last=words[-1])


def _judged(fact: Fact, with_side: bool) -> str:
    sides = {"above": message("above its standard range"), "below": message("below its standard range")}
    side = say(sides[fact.side]) if fact.side and with_side else ""
    return ", ".join(part for part in (_value(fact), word(fact.verdict), side) if part)


def _value(fact: Fact) -> str:
    return "" if fact.value is None else amount(fact.value, Shown(fact.unit, fact.decimals))


def _moved(fact: Fact) -> str:
    """How far a value moved; without an earlier one, that there is none."""
    if fact.moved is None:
        return say("no earlier reading")
    way = (
        message("up by {change} since it was last read")
        if fact.moved >= 0
        else message("down by {change} since it was last read")
    )
    return say(way, change=change(fact.moved, Shown(fact.unit, fact.decimals)))


def _standing(fact: Fact) -> str:
    """Whether a value lies apart from its like, with the value."""
    if not fact.stands_out:
        return say("too few like places to compare")
    ways = {
        "no": message("in line with the others"),
        "above": message("stands out above the others"),
        "below": message("stands out below the others"),
    }
    apart = say(ways[fact.stands_out])
    return ", ".join(part for part in (_value(fact), apart) if part)


def _damage(seen: Seen) -> str:
    grades = (
        (message("amount {step}"), seen.amount),
        (message("size {step}"), seen.size),
        (message("strength {step}"), seen.strength),
    )
    steps = (say(text, step=grade) for text, grade in grades if grade is not None)
    return ", ".join([word(seen.damage), *steps])
