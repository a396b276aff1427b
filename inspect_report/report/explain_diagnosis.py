"""Turns a diagnosis into the chain behind it: rules, evidence both ways, weights of signs, what to check."""

from collections.abc import Iterator
from typing import Final

from inspect_report.advise.advice import Diagnosis
from inspect_report.advise.explanation import MOST, Explanation, Weighed
from inspect_report.report.chainlines import Line, under
from inspect_report.report.figures import joined
from inspect_report.report.source import Source
from inspect_report.report.view_diagnoses import needs_words, odds_words
from inspect_report.report.words import capital, sentence
from inspect_report.telling.manner import figure, message, say

_SURE: Final = 0.005
"""A sign this near to certain is told without its probability."""


def diagnosis_of(source: Source, wanted: str) -> Diagnosis | None:
    """The diagnosis of an id, also by the id of another rule that was joined to it."""
    found = source.a.advice.diagnoses
    return next((d for d in found if wanted == d.id or wanted in _ids(d)), None)


def _ids(diagnosis: Diagnosis) -> tuple[str, ...]:
    label = diagnosis.id.removeprefix(diagnosis.rule)
    return tuple(f"{rule}{label}" for rule in diagnosis.rules)


def whole(source: Source, diagnosis: Diagnosis) -> Iterator[Line]:
    """Everything a diagnosis rests on, with the weight of every sign."""
    yield "because", sentence(diagnosis.why)
    if len(diagnosis.rules) > 1:
        yield "rules", joined([rule.replace("-", " ") for rule in diagnosis.rules])
    yield from under("evidence", (capital(e.text) for e in diagnosis.evidence))
    yield from under("against", (capital(e.text) for e in diagnosis.against))
    for explanation in diagnosis.explanations:
        yield "explained", _told(explanation)
        yield from under("", (_sign(s) for s in _heaviest(explanation)))
        yield "", _sum(explanation)
    yield from under(message("could be"), (capital(c) for c in diagnosis.could_also_be))
    yield from under(message("tells apart"), (diagnosis.tells_them_apart,))
    yield from next_checks(source, diagnosis)
    yield message("if left"), sentence(diagnosis.if_left)


def in_short(source: Source, diagnosis: Diagnosis) -> Iterator[Line]:
    """What speaks against a diagnosis, its explanations with their odds, and the next best check."""
    yield from under("against", (capital(e.text) for e in diagnosis.against))
    yield from under("explained", (_told(e) for e in diagnosis.explanations))
    yield from next_checks(source, diagnosis)


def next_checks(source: Source, diagnosis: Diagnosis) -> Iterator[Line]:
    """The check that would settle most, and what must be opened for it."""
    for check in diagnosis.next_checks:
        needs = needs_words(source, check)
        opening = say(" Needs {needs}.", needs=needs) if needs else say(" Can be done as the engine stands.")
        yield (
            message("next check"),
            say(
                "{does}{opening} Expected to settle {bits} bit.",
                does=sentence(check.does),
                opening=opening,
                bits=figure(f"{check.bits:.2f}"),
            ),
        )


def _told(explanation: Explanation) -> str:
    return say(
        "{name}: {evidence}; odds {odds}",
        name=capital(explanation.name),
        evidence=explanation.word,
        odds=odds_words(explanation.odds),
    )


def _heaviest(explanation: Explanation) -> list[Weighed]:
    return sorted(explanation.signs, key=lambda s: -abs(s.decibans))


def _sign(weighed: Weighed) -> str:
    sure = min(weighed.chance, 1.0 - weighed.chance) < _SURE
    unsure = (
        "" if sure else say(", there with a probability of {chance}", chance=figure(f"{weighed.chance:.2f}"))
    )
    return say(
        "{weight} dB  {sign}{unsure}: {text}",
        weight=_signed(weighed.decibans),
        sign=weighed.sign.replace("-", " "),
        unsure=unsure,
        text=weighed.text,
    )


def _sum(explanation: Explanation) -> str:
    held = say(", held within {limit}", limit=figure(f"{MOST:.0f}")) if abs(explanation.odds) >= MOST else ""
    return say(
        "{before} dB before, {evidence} dB by evidence, {odds} dB in all{held}",
        before=_signed(explanation.before),
        evidence=_signed(explanation.evidence),
        odds=_signed(explanation.odds),
        held=held,
    )


def _signed(decibans: float) -> str:
    return f"{decibans:+.1f}".replace("-", "−")
