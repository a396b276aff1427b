"""Turns a later report, checked itself, into what it tells of an earlier one: rewritten or not, replaced."""

from dataclasses import replace

from inspect_report.vouching.carried import Carried
from inspect_report.vouching.verdict import Verdict, Word
from inspect_report.vouching.verifying import LATER, Checked


def told_by_later(verdict: Verdict, held: Carried, later: Checked) -> Verdict:
    """
    A verdict on a report, with what a later report tells of it.

    A report lists the record of every issue it rests on, so a later one tells of an earlier rewritten. Only
    one that is genuine itself decides; another raises a doubt at most.

    Args:
        verdict: What is known without it.
        held: What the report carries.
        later: The later report.
    """
    by, other = later.verdict, later.held
    if other is None:
        return verdict
    which = f"{by.file} ({other.number}, issue {other.issue})" if other.number else by.file
    facts = [*verdict.facts, ("against", f"{which} is {by.word}: {by.because[0]}")]
    if not (held.number and held.listed):
        told = f"{by.file} cannot be asked for it: it does not tell its number, issue and list"
        return replace(verdict, facts=(*facts, ("against", told)))
    name, digest = held.record()
    listed = other.listed.get(name)
    if listed is None:
        return replace(verdict, facts=(*facts, ("against", f"{by.file} does not rest on this report")))
    if listed != digest:
        why = f"{which} rests on another record of {held.number}, issue {held.issue}: {listed}"
        return replace(_contradicted(verdict, by, why), facts=tuple(facts))
    facts.append(("against", f"{by.file} rests on this record, unchanged"))
    left = verdict.not_shown
    if _replaces(other, held):
        told = f"issue {other.issue}{_reason(other)}"
        facts.append(("replaced by", told if by.word == "genuine" else f"{told}; so says {by.file}"))
        if by.word == "genuine":
            left = tuple(one for one in left if one != LATER)
    return replace(verdict, facts=tuple(facts), not_shown=left)


def _contradicted(verdict: Verdict, by: Verdict, why: str) -> Verdict:
    """By a genuine report it is shown to be altered; by another it is no longer sure that it is not."""
    if by.word == "genuine":
        return replace(verdict, word="altered", because=(why, *verdict.because))
    word: Word = "altered" if verdict.word == "altered" else "unknown"
    doubt = f"{why}; but it is {by.word} itself, so that nobody can say which of the two was changed"
    first, rest = (verdict.because, (doubt,)) if word == "altered" else ((doubt,), verdict.because)
    return replace(verdict, word=word, because=(*first, *rest))


def _replaces(later: Carried, held: Carried) -> bool:
    """By its own word; of one that carries no assessment, by number and issue."""
    if later.number != held.number:
        return False
    replaces = later.head.get("replaces")
    if isinstance(replaces, dict):
        return bool(replaces.get("issue") == held.issue)
    return later.without_assessment and later.issue > held.issue


def _reason(later: Carried) -> str:
    replaces = later.head.get("replaces")
    reason = replaces.get("reason") if isinstance(replaces, dict) else None
    return f": {reason}" if reason else ""
