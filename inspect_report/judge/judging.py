"""Turns a measured case into its judgement: findings, grades, outliers and trends, in this order."""

from collections.abc import Sequence

from inspect_report.judge.absent import absent_findings
from inspect_report.judge.conformity import finding_of_failed, finding_of_quantity
from inspect_report.judge.finding import Finding, Judged, PastReading
from inspect_report.judge.grades import assembly_grades, engine_grade
from inspect_report.judge.order import in_order
from inspect_report.judge.outliers import outliers
from inspect_report.judge.trends import trends
from inspect_report.judge.visual import seen_findings
from inspect_report.knowledge.case import Case
from inspect_report.measure.derived import Measured


def judge(case: Case, measured: Measured, past: Sequence[PastReading]) -> Judged:
    """
    Everything judging gives for one inspection.

    Args:
        case: The inspection with its books.
        measured: What measuring gave for it.
        past: Quantities of earlier inspections, of this engine or of others its parts were fitted to.
    """
    findings = findings_of(case, measured)
    grades = assembly_grades(findings, case.books)
    return Judged(
        findings=findings,
        grades=grades,
        engine=engine_grade(grades, case.books),
        outliers=outliers(findings, case.books),
        trends=trends(case, measured.quantities, past),
    )


def findings_of(case: Case, measured: Measured) -> tuple[Finding, ...]:
    """Every finding of a case in the order of the catalogue; a place of a characteristic has one at most."""
    told = [f for f in (finding_of_quantity(q, case) for q in measured.quantities) if f is not None]
    failed = [finding_of_failed(f, case) for f in measured.failed]
    there = (*failed, *told, *seen_findings(case))
    once = {f.id: f for f in (*absent_findings(case, measured), *reversed(there))}
    return in_order(once.values(), case.books)
