"""Turns measured quantities into findings: each held against the limit that is valid at its place."""

import math
from dataclasses import replace

from inspect_report.judge.decision import decide, repeats_to_decide
from inspect_report.judge.digits import agreeing
from inspect_report.judge.finding import Finding, Limit, Verdict, finding_of
from inspect_report.judge.limits import comparable, limit_at, shown
from inspect_report.judge.wording import Told, reason, settled
from inspect_report.knowledge.case import Case, known_or_row
from inspect_report.knowledge.catalogue import Known
from inspect_report.measure.derived import Derived, Failed
from inspect_report.records.quantity import SI_SYMBOL
from inspect_report.telling.manner import say, word
from inspect_report.telling.units import SOLD_DECIMALS

DIRECT = "reading"
"""Formula name of a quantity read as it is."""


def finding_of_quantity(derived: Derived, case: Case) -> Finding | None:
    """The finding of a quantity; None where neither the catalogue nor the spec sheet knows it."""
    known = known_or_row(case.books, derived.characteristic)
    if known is None:
        return None
    if derived.sold_in:
        known = known.model_copy(update={"unit": derived.sold_in, "decimals": SOLD_DECIMALS[derived.sold_in]})
    limit = limit_at(case.books, derived.characteristic, derived.position)
    if limit is not None and not comparable(limit.unit, SI_SYMBOL[derived.quantity.dimension]):
        return _with_origin(_other_kind(known, derived, limit), derived)
    return _with_origin(_judged(known, derived, limit, case), derived)


def _judged(known: Known, derived: Derived, limit: Limit | None, case: Case) -> Finding:
    rule = case.books.workshop.decision_rule
    decision = decide(derived.quantity, limit, rule)
    plain = shown(known, limit, derived.quantity.value)
    wording = agreeing(plain, derived.quantity, limit, decision.verdict, rule)
    told = Told(
        derived.quantity,
        limit,
        decision,
        rule,
        settled(wording, derived.quantity, limit, decision.verdict),
        derived.formula == DIRECT,
        _repeats(derived, decision.deciding),
    )
    bare = finding_of(known, derived.position, decision.verdict, reason(told))
    return replace(
        bare,
        unit=wording.unit,
        decimals=wording.decimals,
        limit=limit,
        used=decision.used,
        inside=decision.inside,
        side=decision.side,
        note=_joined(derived.note, _condition(limit, derived, case)),
    )


def _repeats(derived: Derived, deciding: float | None) -> int | None:
    """How often its repeated readings would have to be taken to decide it."""
    lines = [line for line in derived.budget if line.cause == "repeats" and line.dof is not None]
    scatter = math.hypot(*(line.contribution for line in lines))
    fewest = min((round(line.dof or 0.0) + 1 for line in lines), default=0)
    return repeats_to_decide(derived.quantity, deciding, scatter, fewest)


def _with_origin(finding: Finding, derived: Derived) -> Finding:
    return replace(
        finding,
        quantity=derived.quantity,
        formula=derived.formula,
        readings=derived.readings,
        inputs=derived.inputs,
        instruments=derived.instruments,
        engine=derived.engine,
        basis=derived.basis,
        sold=bool(derived.sold_in),
        doubt=derived.doubt,
    )


def _other_kind(known: Known, derived: Derived, limit: Limit) -> Finding:
    kind = derived.quantity.dimension
    why = say(
        "the limit is given in {unit} and cannot be held against a {kind}: no limit used",
        unit=limit.unit,
        kind=word(kind),
    )
    return finding_of(known, derived.position, Verdict.NO_LIMIT, why)


def _condition(limit: Limit | None, derived: Derived, case: Case) -> str:
    """Says so where a limit holds for another state of the engine than is noted for the test or the day."""
    was = derived.engine or case.inspection.head.conditions.engine
    if limit is None or not limit.condition or not was or limit.condition == was:
        return ""
    return say("the limit holds for a {condition} engine", condition=word(limit.condition))


def _joined(*notes: str) -> str:
    return "; ".join(note for note in notes if note)


def finding_of_failed(failed: Failed, case: Case) -> Finding:
    """The finding of a computation of ours that went wrong."""
    known = known_or_row(case.books, failed.characteristic) or Known(
        id=failed.characteristic,
        name=failed.characteristic.replace("-", " "),
        assembly=case.books.catalogue.assemblies[-1].id,
        plain=failed.characteristic,
    )
    why = say(
        "our computation went wrong, through no fault of the engine or the readings: {message}",
        message=failed.message,
    )
    return finding_of(known, failed.position, Verdict.CHECK_FAILED, why)
