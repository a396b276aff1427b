"""Turns a case into its assessment: each stage called once, in order."""

from collections.abc import Iterable

from pydantic import ValidationError

from inspect_report.advise.advising import advise
from inspect_report.advise.changes import Issue
from inspect_report.assessment import FORMAT, Assessment, CautionText, from_json
from inspect_report.judge.finding import Grade, PastReading
from inspect_report.judge.judging import judge
from inspect_report.judge.trends import past_readings
from inspect_report.knowledge.case import Case, IssuedReport
from inspect_report.knowledge.in_language import case_in_language
from inspect_report.measure.measuring import measure
from inspect_report.records.problem import InvalidInspection, Place, Problem
from inspect_report.records.workshop import Units
from inspect_report.telling.manner import told_by
from inspect_report.version import __version__


def assess(case: Case, language: str = "", units: Units = "") -> Assessment:
    """
    Everything that can be said of one inspection by its books, told in one language and its units.

    A computation of ours that goes wrong becomes a finding ``check failed``; the rest still comes out.

    Args:
        case: The case.
        language: Code of the language; when empty that of the inspection, the workshop file or its locale.
        units: In which amounts are told; when empty those of the inspection or the workshop file.
    """
    told = case_in_language(case, language, units)
    with told_by(told.books.workshop):
        return _assessed(told)


def _assessed(case: Case) -> Assessment:
    past = _past(case.earlier)
    measured = measure(case)
    judged = judge(case, measured, past)
    advice = advise(case, measured, judged, past, _before(case))
    books = case.books
    return Assessment(
        format=FORMAT,
        program=__version__,
        inspection=case.inspection,
        sheet=books.sheet,
        checklist=books.checklist,
        workshop=books.workshop,
        books=case.files,
        measured=measured,
        judged=judged,
        advice=advice,
        past=past,
        cautions=_cautions(case, judged.engine),
        plain={known.id: known.plain for known in books.catalogue.characteristics},
        if_beyond={known.id: known.if_beyond for known in books.catalogue.characteristics if known.if_beyond},
        assemblies={a.id: a.plain for a in books.catalogue.assemblies},
        damage={word.damage: word.plain for word in books.scales.words},
        beside_books=case.beside_books(),
        folder=case.folder,
    )


def _before(case: Case) -> Issue | None:
    """What the issue said that this one replaces, where its file was named."""
    if case.replaced is not None:
        shop = case.books.workshop
        said = assess(case.replaced, shop.language, shop.units)
    elif case.issued is not None:
        said = as_issued(case.issued)
    else:
        return None
    return Issue(said.inspection.head.issue, said.advice, said.judged, case.issued is not None)


def as_issued(report: IssuedReport) -> Assessment:
    """
    A JSON report, such as an earlier issue's, as an assessment.

    Raises:
        InvalidInspection: it is no report, or one of another format.
    """
    try:
        return from_json(report.text)
    except ValidationError:
        allowed, mend = f"a JSON report of format {FORMAT}", "make it anew, or name that issue's inspection"
        place, title = Place(report.file, 1, 1), "no report of this program"
        problem = Problem("V385", "error", title, place, "JSON of another form", allowed, mend)
        raise InvalidInspection([problem]) from None


def _past(earlier: Iterable[Case]) -> tuple[PastReading, ...]:
    """Quantities of the inspections before, oldest first."""
    return tuple(p for case in earlier for p in past_readings(case, measure(case).quantities))


def _cautions(case: Case, engine: Grade) -> tuple[CautionText, ...]:
    """What a reader of the report has to mind; cautions of the bench stand on sheets alone."""
    unfit = engine.do_not_run or engine.word == "unserviceable"
    book = case.books.cautions.list
    return tuple(CautionText(c.id, c.text) for c in book if c.general or (c.unfit and unfit))
