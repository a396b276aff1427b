"""
Turns rules that fired into diagnoses: those of one cause at one place joined, and each cause weighed.

The most urgent rule of a cause is told first, in the rulebook's order among equals; the others add their
reasons, evidence and work. The headline names a cause only as far as its odds go; what speaks against that
cause is shown beside what speaks for it. What would tell the causes apart is advised as long as a check is
left that would settle anything, or there are explanations that nothing was weighed for.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from typing import Final

from inspect_report.advise.advice import Diagnosis, Evidence
from inspect_report.advise.explanation import Explanation
from inspect_report.advise.facts import Facts
from inspect_report.advise.headline import headline
from inspect_report.advise.looking import View
from inspect_report.advise.next_check import next_checks
from inspect_report.advise.weighing import weigh
from inspect_report.knowledge.case import Case
from inspect_report.knowledge.catalogue import URGENCIES
from inspect_report.knowledge.rulebook import Cause
from inspect_report.measure.derived import Failed
from inspect_report.measure.guard import guarded
from inspect_report.records.checklist import applies_to

LEAST_TOLD: Final = 0.5
"""Decibans below which a sign says too little to be told as evidence against."""


def joined(diagnoses: Iterable[Diagnosis]) -> tuple[Diagnosis, ...]:
    """Diagnoses with those of one cause at one place made one, in the place of the first."""
    groups: dict[tuple[str, str], list[Diagnosis]] = {}
    for d in diagnoses:
        key = (d.cause, d.position.id) if d.cause else (d.id, "")
        groups.setdefault(key, []).append(d)
    return tuple(_as_one(group) for group in groups.values())


def _as_one(group: Sequence[Diagnosis]) -> Diagnosis:
    ordered = sorted(group, key=lambda d: URGENCIES.index(d.urgency))
    lead = ordered[0]
    if len(ordered) == 1:
        return lead
    return replace(
        lead,
        why=" ".join(dict.fromkeys(_sentence(d.why) for d in ordered)),
        evidence=tuple(dict.fromkeys(e for d in ordered for e in d.evidence)),
        could_also_be=tuple(dict.fromkeys(c for d in ordered for c in d.could_also_be)),
        tells_them_apart=" ".join(dict.fromkeys(_sentence(d.tells_them_apart) for d in ordered)).strip(),
        work=tuple(dict.fromkeys(job for d in ordered for job in d.work)),
        rules=tuple(d.rule for d in ordered),
        source="; ".join(dict.fromkeys(d.source for d in ordered)),
    )


def _sentence(text: str) -> str:
    return f"{text.rstrip('.')}." if text else ""


def explained(
    diagnoses: Iterable[Diagnosis], facts: Facts, case: Case, failed: list[Failed]
) -> tuple[Diagnosis, ...]:
    """
    Diagnoses with their causes weighed.

    One that cannot be weighed through a fault of ours, which is noted in ``failed``, stays as it is.
    """
    return tuple(
        one for d in diagnoses for one in guarded(d.rule, partial(_explained, d, facts, case), failed) or (d,)
    )


def _explained(diagnosis: Diagnosis, facts: Facts, case: Case) -> Iterator[Diagnosis]:
    view = view_from(diagnosis, facts)
    weighed = sorted(
        (weigh(cause, case.books.rulebook, view) for cause in _causes(diagnosis, case)), key=lambda e: -e.odds
    )
    told = next(r for r in case.books.rulebook.rules if r.id == diagnosis.rule)
    own = [e for e in weighed if e.cause in (told.cause, *told.other_causes)]
    head = headline(diagnosis.finding, diagnosis.seen, diagnosis.cause, own)
    checks = next_checks(weighed, view, case)
    left_to_tell = bool(checks or diagnosis.could_also_be)
    yield replace(
        diagnosis,
        finding=head.text,
        names=head.names,
        against=tuple(
            e for named in weighed if named.cause == head.names for e in _against(named, diagnosis)
        ),
        explanations=tuple(weighed),
        tells_them_apart=diagnosis.tells_them_apart if left_to_tell else "",
        next_checks=checks,
    )


def view_from(diagnosis: Diagnosis, facts: Facts) -> View:
    """The facts as seen from where a diagnosis was made."""
    axes, labels = diagnosis.position.axes, diagnosis.position.labels
    return View(facts, axes[0], labels[0]) if axes else View(facts)


def _causes(diagnosis: Diagnosis, case: Case) -> Iterator[Cause]:
    """The cause and the others its rules name, as far as this kind of engine can have them."""
    rulebook, layout = case.books.rulebook, case.books.sheet.layout
    others = (c for r in rulebook.rules if r.id in diagnosis.rules for c in r.other_causes)
    for cause_id in dict.fromkeys((diagnosis.cause, *others)):
        cause = rulebook.cause(cause_id)
        if cause is not None and applies_to(cause.applies, layout):
            yield cause


def _against(explanation: Explanation, diagnosis: Diagnosis) -> Iterator[Evidence]:
    """What speaks against a cause, but for what the diagnosis rests on itself."""
    behind = {f for e in diagnosis.evidence for f in e.findings}
    for sign in explanation.signs:
        if sign.decibans <= -LEAST_TOLD and sign.text and not set(sign.findings) <= behind:
            yield Evidence(sign.text, sign.findings)
