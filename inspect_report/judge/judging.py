"""Turns a measured case into its judgement: findings, grades, outliers and trends, in this order."""

from collections.abc import Sequence
from functools import partial

from inspect_report.judge.absent import absent_findings
from inspect_report.judge.conformity import finding_of_failed, finding_of_quantity
from inspect_report.judge.finding import Finding, Judged, PastReading
from inspect_report.judge.grades import assembly_grades, engine_grade
from inspect_report.judge.order import in_order
from inspect_report.judge.outliers import compared, outliers
from inspect_report.judge.trends import trends
from inspect_report.judge.visual import seen_findings
from inspect_report.knowledge.case import Case
from inspect_report.measure.derived import Derived, Failed, Measured
from inspect_report.measure.guard import guarded


def judge(case: Case, measured: Measured, past: Sequence[PastReading]) -> Judged:
    """
    Everything judging gives for one inspection.

    Args:
        case: The inspection with its books.
        measured: What measuring gave for it.
        past: Quantities of earlier inspections, of this engine or of others its parts were fitted to.
    """
    failed: list[Failed] = []
    findings = findings_of(case, measured, failed)
    grades = assembly_grades(findings, case.books)
    return Judged(
        findings=findings,
        grades=grades,
        engine=engine_grade(grades, case.books),
        outliers=outliers(findings, case.books),
        trends=trends(case, measured.quantities, past, failed),
        failed=tuple(failed),
        compared=compared(findings, case.books),
    )


def findings_of(case: Case, measured: Measured, failed: list[Failed]) -> tuple[Finding, ...]:
    """
    Every finding of a case in the order of the catalogue; a place of a characteristic has one at most.

    Args:
        case: The inspection with its books.
        measured: What measuring gave for it.
        failed: Where judgements that go wrong through a fault of ours are noted.
    """
    told = [f for q in measured.quantities for f in _told(q, case, failed)]
    seen = tuple(seen_findings(case, failed))
    there = (*(finding_of_failed(f, case) for f in (*measured.failed, *failed)), *told, *seen)
    once = {f.id: f for f in (*absent_findings(case, measured), *reversed(there))}
    return in_order(once.values(), case.books)


def _told(derived: Derived, case: Case, failed: list[Failed]) -> tuple[Finding, ...]:
    work = partial(finding_of_quantity, derived, case)
    found = guarded(derived.characteristic, lambda: [work()], failed, derived.position)
    return tuple(f for f in found if f is not None)
