"""
Turns what was found and the odds of its causes into a headline that claims no more than these odds carry.

A cause is told as such where it is the likeliest and likely; else the headline says what was found, and by
name what is the likeliest behind it, as far as anything is.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from inspect_report.advise.explanation import CLEAR, Explanation
from inspect_report.telling.manner import message, say


@dataclass(frozen=True, slots=True)
class Headline:
    """A headline, and the id of the cause it names; empty where it names none."""

    text: str
    names: str


def headline(finding: str, seen: str, cause: str, explanations: Sequence[Explanation]) -> Headline:
    """
    What a diagnosis is headed with.

    Args:
        finding: What was found and the rule's cause, in one sentence.
        seen: What was found alone; empty where the rule tells no two of them apart.
        cause: Id of the rule's cause.
        explanations: The cause and others that the rule names, the likeliest first.
    """
    own = next((e for e in explanations if e.cause == cause), None)
    if own is None:
        return Headline(finding, "")
    if not seen:
        return Headline(finding if own.odds > -CLEAR else say("Perhaps: {finding}", finding=finding), cause)
    likeliest = explanations[0]
    if likeliest is own and own.odds >= CLEAR:
        return Headline(finding, cause)
    return _with_cause(seen, likeliest)


def _with_cause(seen: str, likeliest: Explanation) -> Headline:
    if likeliest.odds <= -CLEAR:
        return Headline(seen, "")
    likely = likeliest.odds >= CLEAR
    pattern = message("{found}; most likely: {cause}.") if likely else message("{found}; perhaps: {cause}.")
    return Headline(say(pattern, found=seen.rstrip(". "), cause=likeliest.name), likeliest.cause)
