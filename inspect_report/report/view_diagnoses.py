"""Turns diagnoses into what the customer reads of them: evidence, explanations weighed, what to check."""

from collections.abc import Iterable
from itertools import groupby
from typing import Final

from inspect_report.advise.advice import Diagnosis, Evidence
from inspect_report.advise.explanation import MOST, Explanation, NextCheck
from inspect_report.knowledge.catalogue import URGENCIES, Urgency
from inspect_report.report.diagnosisparts import (
    DiagnosisView,
    EvidenceView,
    ExplanationView,
    LikelihoodView,
    NextCheckView,
)
from inspect_report.report.figures import joined
from inspect_report.report.source import Source
from inspect_report.report.view_estimate import URGENT
from inspect_report.report.words import capital, sentence
from inspect_report.telling.manner import lowered, say, word

_EVEN: Final = 1.0
"""Decibans within which odds are told as even."""
_TEN: Final = 10.0


def diagnoses(source: Source) -> tuple[DiagnosisView, ...]:
    """Diagnoses, the most urgent first; in the order of the rulebook among equals."""
    found = source.a.advice.diagnoses
    ordered = sorted(found, key=lambda d: URGENCIES.index(urgency_of(source, d)))
    return tuple(_diagnosis(source, d) for d in ordered)


def urgency_of(source: Source, diagnosis: Diagnosis) -> Urgency:
    """How urgent a diagnosis is: as itself, or as the most urgent of the jobs it asks for."""
    jobs = (w.urgency for w in source.a.advice.work if w.job in diagnosis.work)
    return min((diagnosis.urgency, *jobs), key=URGENCIES.index)


def _diagnosis(source: Source, diagnosis: Diagnosis) -> DiagnosisView:
    jobs = {w.job: w.name for w in source.a.advice.work}
    others = tuple(e.name for e in diagnosis.explanations if e.cause != diagnosis.cause)
    return DiagnosisView(
        title=sentence(diagnosis.finding),
        why=sentence(diagnosis.why),
        evidence=tuple(_evidence(source, e) for e in diagnosis.evidence),
        against=tuple(_evidence(source, e) for e in diagnosis.against),
        explanations=tuple(_explanation(e, diagnosis) for e in diagnosis.explanations),
        likelihoods=_by_likelihood(diagnosis.explanations),
        doubts=tuple(capital(c) for c in diagnosis.could_also_be),
        could_also_be=tuple(capital(c) for c in (*others, *diagnosis.could_also_be)),
        tells_them_apart=sentence(diagnosis.tells_them_apart),
        next_checks=tuple(_next_check(source, c) for c in diagnosis.next_checks),
        work=capital(joined([lowered(jobs[j]) for j in diagnosis.work if j in jobs])),
        urgency=say(URGENT[urgency_of(source, diagnosis)]),
        if_left=sentence(diagnosis.if_left),
        source=word(diagnosis.source),
        chain=diagnosis.id,
        normal=diagnosis.normal and diagnosis.names == diagnosis.cause,
    )


def _evidence(source: Source, evidence: Evidence) -> EvidenceView:
    return EvidenceView(lowered(evidence.text), tuple(source.named(i) for i in evidence.findings))


def _explanation(explanation: Explanation, diagnosis: Diagnosis) -> ExplanationView:
    return ExplanationView(
        name=capital(explanation.name),
        word=explanation.word,
        odds=odds_words(explanation.odds),
        is_told=explanation.cause == diagnosis.names,
        likelihood=explanation.likelihood,
    )


def _by_likelihood(explanations: Iterable[Explanation]) -> tuple[LikelihoodView, ...]:
    looked_into = sorted(explanations, key=lambda e: not e.signs)
    alike = groupby(looked_into, key=lambda e: e.likelihood)
    return tuple(LikelihoodView(capital(how), tuple(e.name for e in group)) for how, group in alike)


def odds_words(decibans: float) -> str:
    """Odds as people write them, to one figure: ``about 4 to 1``, ``about 1 to 30``."""
    if abs(decibans) < _EVEN:
        return say("about even")
    if abs(decibans) >= MOST:
        return say("99 to 1") if decibans > 0 else say("1 to 99")
    ratio = 10.0 ** (abs(decibans) / 10.0)
    figure = round(ratio) if ratio < _TEN else round(ratio, -1)
    return (
        say("about {odds} to 1", odds=f"{figure:.0f}")
        if decibans > 0
        else say("about 1 to {odds}", odds=f"{figure:.0f}")
    )


def _next_check(source: Source, check: NextCheck) -> NextCheckView:
    return NextCheckView(sentence(check.does), needs_words(source, check))


def needs_words(source: Source, check: NextCheck) -> str:
    """What must be opened for a check, with the hours to open and close it; empty where nothing must."""
    if not check.opens:
        return ""
    steps = joined([lowered(s) for s in check.opens])
    return say(
        "{steps}; {hours} h to open and close, with all before it",
        steps=steps,
        hours=source.figures.quantity(check.hours),
    )
