"""Turns what the eye found and what was answered into findings, by the books' own verdict words."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial
from itertools import groupby
from typing import Final

from inspect_report.judge.asked import EVIDENCE_ONLY, Asked, asked
from inspect_report.judge.finding import Finding, Seen, Verdict, finding_of
from inspect_report.knowledge.case import Case
from inspect_report.knowledge.catalogue import Scales
from inspect_report.measure.derived import Failed
from inspect_report.measure.guard import guarded
from inspect_report.records.inspection import Answer, Rating
from inspect_report.records.position import Position
from inspect_report.telling.manner import message, say, word

WORSENING: Final = (
    Verdict.NOT_APPLICABLE,
    Verdict.NOT_INSPECTED,
    Verdict.NO_LIMIT,
    Verdict.AS_NEW,
    Verdict.SERVICEABLE,
    Verdict.MARGINAL,
    Verdict.UNDECIDED,
    Verdict.BEYOND_LIMIT,
    Verdict.CHECK_FAILED,
)
"""Verdicts in the order in which one place's several verdicts outweigh each other."""


A_SIGN: Final = message("a sign that needs attention; seen, not measured")
"""What a marginal sight comes to."""
_OF_ANSWER: Final = {
    Verdict.MARGINAL: message("; a sign that needs attention; seen or heard, not measured"),
    Verdict.BEYOND_LIMIT: message(
        "; by the checklist this answer counts as beyond the limit (common practice)"
    ),
}
_OF_METAL: Final = ("debris-source", "no metal", "debris-amount")
"""The question where metal comes from, the answer that there is none, and where its amount is rated."""
_NO_VERDICT: Final = message("; kept as evidence, no verdict follows from it alone")


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """The verdict that counts where a place has several."""
    return max(verdicts, key=WORSENING.index)


def seen_findings(case: Case, failed: list[Failed]) -> Iterator[Finding]:
    """A finding for every place that was rated, and for every answer that carries a verdict; faults noted."""
    for one in asked(case):
        yield from guarded(one.item.id, partial(_seen, one, case), failed)


def _seen(one: Asked, case: Case) -> Iterator[Finding]:
    if one.item.kind == "rating":
        yield from _rated(one, case)
    elif one.item.kind == "choice":
        answers = (a for a in case.inspection.answers if a.item == one.item.id)
        yield from (f for a in answers if (f := _answer_finding(one, a, case)) is not None)


def _rated(one: Asked, case: Case) -> Iterator[Finding]:
    ratings = sorted((r for r in case.inspection.ratings if r.item == one.item.id), key=lambda r: r.position)
    for position, group in groupby(ratings, key=lambda r: r.position):
        yield _rating_finding(one, position, tuple(group), case.books.scales)


def _rating_finding(one: Asked, position: Position, here: tuple[Rating, ...], scales: Scales) -> Finding:
    finding = finding_of(one.known, position, *_rating_verdict(here, scales))
    return replace(
        finding,
        seen=tuple(Seen(r.damage, r.amount, r.size, r.strength, r.note, r.by) for r in here if r.damage),
        apart=_apart(here),
        readings=(finding.id,),
        inputs=tuple(r.place for r in here),
        note="; ".join(r.note for r in here if r.note),
    )


def _apart(here: tuple[Rating, ...]) -> str:
    """How two people's ratings of one place differ, in words; empty where they agree or one looked."""
    steps: dict[str, int] = {}
    for rating in here:
        if rating.by:
            steps[rating.by] = max(steps.get(rating.by, 0), rating.grade)
    if len({*steps.values()}) < 2:
        return ""
    told = ", ".join(say("{name} step {step}", name=name, step=step) for name, step in steps.items())
    return say("rated apart: {told}; the graver rating counts", told=told)


def _rating_verdict(ratings: tuple[Rating, ...], scales: Scales) -> tuple[Verdict, str]:
    found = [r for r in ratings if r.damage]
    if not found:
        return Verdict.AS_NEW, say("looked at, nothing found")
    ranked = sorted(found, key=lambda r: (-WORSENING.index(_verdict_of(r, scales)), -r.grade, r.damage))
    verdict = _verdict_of(ranked[0], scales)
    worst_one, *others = (_said(r, scales) for r in ranked)
    told = (worst_one, _what_follows(ranked[0], verdict, scales), *others, _apart(ratings))
    return verdict, "; ".join(part for part in told if part)


def _what_follows(rating: Rating, verdict: Verdict, scales: Scales) -> str:
    """What a grade comes to; it was seen, so that no share of wear and no measured limit may be told."""
    word = scales.word(rating.damage)
    if word is None or verdict is not Verdict.BEYOND_LIMIT:
        return say(A_SIGN) if verdict is Verdict.MARGINAL else ""
    first = word.verdicts.index(Verdict.BEYOND_LIMIT.value)
    return say("from step {first} the part counts as beyond its limit (common practice)", first=first)


def _verdict_of(rating: Rating, scales: Scales) -> Verdict:
    word = scales.word(rating.damage)
    return Verdict(word.verdicts[rating.grade]) if word else Verdict.NO_LIMIT


def _said(rating: Rating, scales: Scales) -> str:
    """A rating in words: ``scuffing, step 3 of 5 (moderate): amount 2, size 3``."""
    whose = say(", by {by}", by=rating.by) if rating.by else ""
    parts = (
        (message("amount {step}"), rating.amount),
        (message("size {step}"), rating.size),
        (message("strength {step}"), rating.strength),
    )
    steps = ", ".join(say(name, step=step) for name, step in parts if step is not None)
    unknown = "" if scales.word(rating.damage) else say("; the book of scales has no verdict for it")
    return say(
        "{damage}, step {grade} of 5 ({grade_word}): {steps}{whose}{unknown}",
        damage=word(rating.damage),
        grade=rating.grade,
        grade_word=scales.steps[rating.grade],
        steps=steps,
        whose=whose,
        unknown=unknown,
    )


def _answer_finding(one: Asked, answer: Answer, case: Case) -> Finding | None:
    """None where the answer is evidence only and the catalogue does not ask for a finding."""
    words = (one.item.options.get(chosen, EVIDENCE_ONLY) for chosen in answer.chosen)
    verdicts = [Verdict(word) for word in words if word != EVIDENCE_ONLY]
    if not verdicts and case.books.catalogue.known(one.item.id) is None:
        return None
    said = say("found: {answers}", answers=", ".join(found_in_words(answer)))
    verdict = worst(verdicts) if verdicts else Verdict.NO_LIMIT
    follows = say(_OF_ANSWER.get(verdict, "")) if verdicts else say(_NO_VERDICT)
    finding = finding_of(one.known, answer.position, verdict, said + follows)
    return replace(
        finding,
        seen=_amounts(answer),
        chosen=answer.chosen,
        readings=(finding.id,),
        inputs=(answer.place,),
        note=answer.note,
        doubt=_contradicted(answer, case),
    )


def _contradicted(answer: Answer, case: Case) -> str:
    """How an answer and a rating contradict each other, in words; empty where they do not."""
    question, denied, rated = _OF_METAL
    found = [r.grade for r in case.inspection.ratings if r.item == rated and r.damage]
    if answer.item != question or denied not in answer.chosen or not found:
        return ""
    return say("metal was found, at step {step} of 5, so that the two disagree: ask again", step=max(found))


def found_in_words(answer: Answer) -> list[str]:
    """The answers chosen, each with how much of it was found where that was said."""
    if not answer.amounts:
        return [word(chosen) for chosen in answer.chosen]
    return [
        say("{damage}, amount {amount} of 5", damage=word(s.damage), amount=s.amount)
        for s in _amounts(answer)
    ]


def _amounts(answer: Answer) -> tuple[Seen, ...]:
    """What was found by kind and amount; empty where no amount was said."""
    found = zip(answer.chosen, answer.amounts, strict=True) if answer.amounts else ()
    return tuple(Seen(kind, amount, None, None, "") for kind, amount in found)
