"""Turns a judged inspection into advice: what the findings mean together, what to do, and what it costs."""

from collections.abc import Iterator

from inspect_report.advise.access import left_open
from inspect_report.advise.advice import Advice
from inspect_report.advise.due import due_soon
from inspect_report.advise.estimate import estimate
from inspect_report.advise.options import Till, options, while_open
from inspect_report.advise.rules import diagnose
from inspect_report.advise.work import plan_work
from inspect_report.judge.finding import Judged, PastReading
from inspect_report.knowledge.case import Case, known_or_row
from inspect_report.measure.derived import Failed, Measured


def advise(case: Case, measured: Measured, judged: Judged, past: tuple[PastReading, ...]) -> Advice:
    """
    Diagnoses, open questions, work and estimate of one inspection.

    Args:
        case: The inspection with its books.
        measured: What was measured of it; the estimate prices the shims that its plan says to buy.
        judged: What was judged of it, in any order of the findings.
        past: Quantities of the inspections before, oldest first.
    """
    failed: list[Failed] = []
    diagnoses, questions = diagnose(case, judged, past, failed)
    due = due_soon(judged.trends)
    changed = [shim.position for shim in measured.shims if shim.change and shim.size is not None]
    work = plan_work(case.books, judged.findings, diagnoses, left_open(case), due, changed)
    till = Till(case, measured.shims)
    return Advice(
        diagnoses=diagnoses,
        open_questions=(*questions, *_doubts(case, measured)),
        work=work,
        estimate=estimate(case, work, measured.shims),
        failed=tuple(failed),
        options=options(till, work),
        while_open=while_open(till, work),
    )


def _doubts(case: Case, measured: Measured) -> Iterator[str]:
    """What should be measured again before anything rests on it."""
    for derived in (d for d in measured.quantities if d.doubt):
        known = known_or_row(case.books, derived.characteristic)
        name = known.name if known else derived.characteristic
        yield f"{name}, {derived.position.words}: {derived.doubt}"
