"""Turns an assessment into a report view: every text of the report, ready to print."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from inspect_report.assessment import Assessment
from inspect_report.judge.finding import Finding, Grade, Verdict
from inspect_report.records.inspection import InspectionHead, Report
from inspect_report.records.languages import paper_of
from inspect_report.report import (
    view_back,
    view_bottom,
    view_buyer,
    view_charts,
    view_choices,
    view_diagnoses,
    view_estimate,
    view_findings,
    view_front,
    view_history,
    view_missing,
    view_numbers,
    view_order,
    view_photos,
    view_plan,
    view_proof,
    view_quote,
    view_shims,
    view_trends,
    view_words,
)
from inspect_report.report.chartspec import ChartSpec
from inspect_report.report.reportparts import AssemblyView
from inspect_report.report.reportview import FrontView, RecordView, ReportView
from inspect_report.report.source import Source, grade_chip
from inspect_report.report.statements import SHELLS, limits_note
from inspect_report.report.view_chains import by_id, chains
from inspect_report.report.view_photos import Placed
from inspect_report.report.view_proof import Standing
from inspect_report.report.words import capital, is_present, sentence
from inspect_report.telling.manner import manner, say, told_by, word

FOR_BUYERS: Final = "pre-purchase assessment"
OVER_TIME: Final = "condition history"


def view(a: Assessment, kind: Report | None = None, standing: Standing | None = None) -> ReportView:
    """
    A report of an assessment.

    Args:
        a: The assessment.
        kind: Kind of report; the one the inspection names when left out.
        standing: Who signs its PDF, and what that carries; nobody and a list when left out.

    Raises:
        CannotRender: the workshop's locale is not known.
    """
    with told_by(a.workshop):
        return _standing(_told(a, kind), Source(a), standing or Standing())


def _standing(page: ReportView, source: Source, standing: Standing) -> ReportView:
    """The page with what is told of the report itself."""
    replaced, head = view_proof.replaced_by(source, standing), page.head_right
    return replace(
        page,
        proof=view_proof.proof(source, standing),
        replaced_by=replaced,
        head_right=say("{report}: REPLACED", report=head) if replaced else head,
    )


def _told(a: Assessment, kind: Report | None) -> ReportView:
    source, head, chosen = Source(a), a.inspection.head, kind or a.inspection.head.report
    page = _page(source, chosen, head, view_photos.album(source))
    return replace(page, order_form=view_order.order_form(source, chosen))


def _page(source: Source, chosen: Report, head: InspectionHead, album: Sequence[Placed]) -> ReportView:
    return ReportView(
        kind=chosen,
        title=capital(word(chosen)),
        language=manner().language,
        paper=source.a.workshop.paper or paper_of(source.a.workshop.locale),
        number=head.inspection,
        issue=say("issue {issue}", issue=head.issue),
        issued=source.figures.day(head.dates.issued),
        issued_iso=head.dates.issued.isoformat(),
        program=f"inspect-report {source.a.program}",
        head_left=source.a.workshop.workshop,
        head_right=_running_head(chosen, head),
        workshop=view_back.workshop_view(source, chosen),
        engine=f"{head.engine.maker} {head.engine.model}",
        front=_front(source, album, chosen),
        grades=view_front.grades(source),
        overview=view_charts.allowance(source),
        words=view_back.word_list(source),
        diagnoses=view_diagnoses.diagnoses(source),
        open_questions=tuple(sentence(q) for q in source.a.advice.open_questions),
        limits_note=limits_note(source.a.sheet.manual),
        assemblies=_assemblies(source, album),
        classes=view_estimate.classes(source),
        labour=view_estimate.labour(source),
        orders=view_quote.orders(source),
        while_open=view_quote.while_open(source),
        choices=view_quote.choices(source),
        changes=view_quote.changes(source),
        trends=view_trends.trends(source),
        charts_note=view_trends.charts_note(source),
        past=view_history.past(source),
        missing=view_missing.missing(source, Verdict.NOT_INSPECTED),
        not_applicable=view_missing.missing(source, Verdict.NOT_APPLICABLE),
        photos=view_photos.all_but_front(album),
        closing=view_back.closing(source),
        glossary=view_words.glossary(source),
        record=_record(source),
        chains=by_id(source),
        buyer=view_buyer.buyer(source) if chosen == FOR_BUYERS else None,
    )


def _assemblies(source: Source, album: Sequence[Placed]) -> tuple[AssemblyView, ...]:
    return tuple(_assembly(source, g, album) for g in source.a.judged.grades if _shown(source, g))


def _running_head(kind: Report, head: InspectionHead) -> str:
    """What stands at the right of every page's head."""
    named = capital(word(kind))
    return say("{kind} {number}, issue {issue}", kind=named, number=head.inspection, issue=head.issue)


def _front(source: Source, album: Sequence[Placed], chosen: Report) -> FrontView:
    todo, todo_more = view_estimate.todo(source)
    photo = view_photos.front_photo(album)
    return FrontView(
        replaces=view_front.replaces(source),
        engine_facts=view_front.engine_facts(source),
        people=view_front.people(source, columns=1 if photo else 2),
        said=sentence(source.a.inspection.head.engine.history),
        photo=photo,
        plan=view_plan.engine_plan(source),
        answer=sentence(source.a.inspection.head.answer),
        next_limits=view_trends.next_limits(source) if chosen == OVER_TIME else "",
        verdict=view_front.verdict(source),
        failed=view_front.failed(source),
        declined=view_quote.unsafe_choices(source),
        todo=todo,
        nothing_to_do="" if todo else view_estimate.nothing_to_do(source),
        todo_more=todo_more,
        advised=view_estimate.advised(source),
        costs=view_estimate.costs(source),
        cost_total=view_estimate.whole(source),
        cost_total_request=view_estimate.whole_on_request(source),
        cost_total_chain=view_estimate.ALL,
        cost_note=view_estimate.cost_note(source),
        missing_groups=view_missing.missing_groups(source),
        work_chain=view_estimate.WORK,
        coverage_chain=view_missing.COVERAGE,
        given_chain=view_front.GIVEN,
    )


def _record(source: Source) -> RecordView:
    return RecordView(
        readings=view_back.readings(source),
        numbers=view_numbers.numbers(source),
        instruments=view_back.instruments(source),
        some_due=view_back.some_due(source),
        decision_rule=view_back.decision_rule(source),
        conditions=view_back.conditions(source),
        references=view_back.references(source),
        books=view_back.books(source),
    )


def _of(source: Source, grade: Grade) -> list[Finding]:
    return [f for f in source.a.judged.findings if f.assembly == grade.assembly]


def _shown(source: Source, grade: Grade) -> bool:
    return any(is_present(f) for f in _of(source, grade))


def _assembly(source: Source, grade: Grade, album: Sequence[Placed]) -> AssemblyView:
    rows = view_findings.results(
        source,
        _of(source, grade),
        lambda alike: chains(source, alike),
        lambda alike: view_photos.beside(album, alike),
    )
    present = {f.characteristic for f in _of(source, grade) if is_present(f)}
    shims = source.a.measured.shims if view_charts.GAP in present else ()
    gaskets = source.a.measured.gaskets if view_charts.SQUISH in present else ()
    shells = tuple(s for s in source.a.measured.shells if f"{s.bearing}-clearance" in present)
    return AssemblyView(
        name=grade.name,
        anchor=f"assembly-{grade.assembly}",
        plain=sentence(source.a.assemblies.get(grade.assembly, "")),
        chip=grade_chip(grade),
        coverage=view_findings.coverage_words(source, grade),
        results=rows,
        parts=view_photos.parts(rows),
        photos=view_photos.not_in_rows(album, _of(source, grade), rows),
        charts=_charts(source, present),
        shims=view_shims.shims(source, shims),
        shim_note=view_shims.note(source, shims) if shims else "",
        shim_caption=view_shims.caption(source, shims) if shims else "",
        gaskets=view_choices.gaskets(source, gaskets),
        gasket_note=view_choices.gasket_note(source, gaskets) if gaskets else "",
        shells=view_choices.shells(source, shells),
        shell_note=say(SHELLS) if shells else "",
        clean=view_findings.clean(source, _of(source, grade)),
        unlimited=view_findings.unlimited(source, _of(source, grade)),
        notes=view_findings.outlier_notes(source, grade.assembly),
        chain=view_front.grade_id(grade.assembly),
    )


def _charts(source: Source, present: set[str]) -> tuple[ChartSpec, ...]:
    """The charts of an assembly: each stands with the characteristic it is about."""
    bore_home = next((c for c in view_charts.BORE_JUDGED if source.of(c)), "")
    bearing_home = next((c for c in view_bottom.BEARINGS if source.of(c)), "")
    made = (
        (view_charts.LEAK, view_charts.leak_down),
        (view_charts.GAP, view_charts.valve_map),
        (view_charts.SQUISH, view_charts.gasket_chart),
        (bore_home, view_charts.bore_map),
        (view_bottom.RETARD, view_bottom.chain_diagram),
        (bearing_home, view_bottom.bearings),
    )
    drawn = (make(source) for home, make in made if home in present)
    return tuple(chart for chart in drawn if chart is not None)
