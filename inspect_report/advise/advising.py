"""Turns a judged inspection into advice: what the findings mean together, what to do, and what it costs."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from typing import Final

from inspect_report.advise.access import left_open
from inspect_report.advise.advice import Advice, Diagnosis, WorkItem
from inspect_report.advise.buyer import Buyer
from inspect_report.advise.changes import Issue, changes
from inspect_report.advise.chosen import WITH_OPEN, choices, order_so_far, undecided
from inspect_report.advise.due import due_soon
from inspect_report.advise.estimate import estimate
from inspect_report.advise.exposure import buyers_view
from inspect_report.advise.options import Till, options, while_open, without_work
from inspect_report.advise.ordering import in_telling_order
from inspect_report.advise.rules import diagnose
from inspect_report.advise.work import asked_work, settled
from inspect_report.judge.finding import Judged, PastReading
from inspect_report.judge.past import of_part_taken_out
from inspect_report.knowledge.case import Case
from inspect_report.measure.derived import Failed, Measured
from inspect_report.measure.guard import guarded
from inspect_report.telling.positions import at_words

BUYER: Final = "buyer's view"


def advise(
    case: Case,
    measured: Measured,
    judged: Judged,
    past: tuple[PastReading, ...],
    before: Issue | None = None,
) -> Advice:
    """
    Diagnoses, open questions, work and estimate of one inspection, and the orders a customer can give.

    Args:
        case: The inspection with its books.
        measured: What was measured of it; the estimate prices the shims that its plan says to buy.
        judged: What was judged of it, in any order of the findings.
        past: Quantities of the inspections before, oldest first.
        before: What the issue said that this one replaces.
    """
    failed: list[Failed] = []
    diagnoses, questions = diagnose(case, judged, past, failed)
    asked = _asked(case, measured, judged, diagnoses)
    findings, books = judged.findings, case.books
    work = in_telling_order(_settled(case, asked, judged), books, findings, diagnoses)
    till = Till(case, measured.shims)
    made = choices(case, work)
    wanted = {c.job for c in made if c.decision == "ordered"}
    still_open = {w.job for w in undecided(made, work)}
    ordered = _settled(case, [w for w in asked if w.job in wanted], judged)
    with_open = _settled(case, [w for w in asked if w.job in wanted | still_open], judged)
    buyer = guarded(BUYER, partial(_buyer, case, measured, judged, diagnoses), failed)
    advice = Advice(
        diagnoses=diagnoses,
        open_questions=(*questions, *_doubts(judged)),
        work=work,
        estimate=estimate(case, work, measured.shims),
        failed=tuple(failed),
        options=options(till, work),
        without_work=without_work(till, work),
        while_open=while_open(till, work),
        choices=made,
        ordered=order_so_far(till, made, ordered, work),
        ordered_and_open=order_so_far(till, made, with_open, work, WITH_OPEN) if still_open else None,
        buyer=next(iter(buyer), None),
    )
    now = Issue(case.inspection.head.issue, advice, judged)
    return replace(advice, changes=changes(before, now)) if before else advice


def _buyer(
    case: Case, measured: Measured, judged: Judged, diagnoses: tuple[Diagnosis, ...]
) -> Iterator[Buyer]:
    """The buyer's view; at most one, so that a fault of ours leaves the rest of the advice as it is."""
    yield buyers_view(case, judged.findings, diagnoses, due_soon(judged.trends), measured.shims)


def _asked(
    case: Case, measured: Measured, judged: Judged, diagnoses: tuple[Diagnosis, ...]
) -> tuple[WorkItem, ...]:
    due = due_soon(judged.trends)
    changed = [shim.position for shim in measured.shims if shim.change and shim.size is not None]
    gone = {f.id for f in judged.findings if of_part_taken_out(case, f.characteristic, f.position)}
    return asked_work(case.books, judged.findings, diagnoses, left_open(case), due, changed, gone)


def _settled(case: Case, asked: Sequence[WorkItem], judged: Judged) -> tuple[WorkItem, ...]:
    return settled(asked, case.books, judged.findings, left_open(case))


def _doubts(judged: Judged) -> Iterator[str]:
    """What should be measured or answered again before anything rests on it."""
    for finding in (f for f in judged.findings if f.doubt):
        place = at_words(finding.position)
        yield f"{finding.name}{f', {place}' if place else ''}: {finding.doubt}"
