"""Turns trends, and several inspections of one or more engines, into what a history shows of them."""

from collections.abc import Sequence

from inspect_report.assessment import Assessment
from inspect_report.judge.finding import Finding
from inspect_report.records.inspection import Engine
from inspect_report.records.languages import paper_of
from inspect_report.report.figures import joined
from inspect_report.report.reportparts import Fact
from inspect_report.report.reportview import EngineHistory, HistoryView, VisitView
from inspect_report.report.source import Source, chip
from inspect_report.report.statements import OF_FORECASTS, SCOPE
from inspect_report.report.view_back import decision_rule, word_list, workshop_view
from inspect_report.report.view_front import verdict_headline
from inspect_report.report.view_trends import compared, forecast_words, soonest, trend_name, trends
from inspect_report.report.words import GRAVITY, NOT_GOOD, capital
from inspect_report.telling.manner import manner, say, say_count, told_by, word


def past(source: Source) -> tuple[Fact, ...]:
    """Inspections of this engine before this one, oldest first."""
    serial = source.a.inspection.head.engine.serial
    seen = {p.inspection: p for p in source.a.past if p.engine == serial}
    return tuple(Fact(number, source.figures.day(p.day)) for number, p in seen.items())


def history_view(assessments: Sequence[Assessment], title: str) -> HistoryView:
    """
    The history of the engines in some assessments.

    Args:
        assessments: One or more, of one or more engines, in any order.
        title: What the history is of; empty for the engines' names.
    """
    ordered = sorted(assessments, key=lambda a: (a.inspection.head.dates.inspected, a.inspection.number))
    with told_by(ordered[-1].workshop):
        return _told(ordered, title)


def _told(ordered: Sequence[Assessment], title: str) -> HistoryView:
    last = Source(ordered[-1])
    groups = _by_engine(ordered)
    engines = [_engine(group) for group in groups]
    engines.sort(key=lambda pair: pair[0])
    return HistoryView(
        title=title or say("Condition history"),
        language=manner().language,
        paper=last.a.workshop.paper or paper_of(last.a.workshop.locale),
        issued=last.figures.day(last.a.inspection.head.dates.issued),
        issued_iso=last.a.inspection.head.dates.issued.isoformat(),
        program=f"inspect-report {last.a.program}",
        made_of=_made_of(ordered, last),
        head_left=last.a.workshop.workshop,
        head_right=title or say("Condition history"),
        workshop=workshop_view(last),
        engines=tuple(e for _, e in engines),
        compared=compared([Source(group[-1]) for group in groups]),
        words=word_list(last),
        decision_rule=decision_rule(last),
        scope=(*map(say, SCOPE), say(OF_FORECASTS)),
    )


def _by_engine(ordered: Sequence[Assessment]) -> list[list[Assessment]]:
    engines: dict[tuple[str, str, str], list[Assessment]] = {}
    for assessment in ordered:
        engine = assessment.inspection.head.engine
        engines.setdefault((engine.maker, engine.model, engine.serial), []).append(assessment)
    return list(engines.values())


def engine_name(engine: Engine) -> str:
    """Maker, model and serial number."""
    return say("{maker} {model}, no. {serial}", maker=engine.maker, model=engine.model, serial=engine.serial)


def _engine(group: Sequence[Assessment]) -> tuple[tuple[int, float, float, str], EngineHistory]:
    """An engine's history, behind the key that puts the one in most need first."""
    latest = Source(group[-1])
    grade, engine = latest.a.judged.engine, latest.a.inspection.head.engine
    shown = trends(latest)
    word_order = ("unserviceable", "marginal", "not graded", "serviceable", "as new")
    rank = word_order.index(grade.word) if grade.word in word_order else len(word_order)
    history = EngineHistory(
        name=engine_name(engine),
        anchor=f"engine-{''.join(c if c.isalnum() else '-' for c in engine.serial)}",
        chip=chip(grade.word),
        score=latest.score(grade),
        running_time=latest.figures.hours(engine.running_time) or "–",
        sentence=verdict_headline(latest),
        next_limit=_next_limit(latest),
        visits=tuple(_visit(Source(a)) for a in group),
        trends=shown,
        attention=_attention(latest),
    )
    left = min((soonest(t)[0] for t in latest.a.judged.trends), default=float("inf"))
    return (rank, left, grade.score if grade.score is not None else 101.0, engine.serial), history


def _made_of(ordered: Sequence[Assessment], source: Source) -> str:
    """How many inspections, of which days, by whom."""
    heads = [a.inspection.head for a in ordered]
    first, last = (source.figures.day(h.dates.inspected) for h in (heads[0], heads[-1]))
    days = first if first == last else say("{low} to {high}", low=first, high=last)
    who = joined(list(dict.fromkeys(h.inspector.name for h in heads)))
    return say_count(
        "Made of {count} inspection, {days}, by {names}.",
        "Made of {count} inspections, {days}, by {names}.",
        len(heads),
        days=days,
        names=who,
    )


def _next_limit(source: Source) -> str:
    first = min(source.a.judged.trends, key=soonest, default=None)
    if first is None:
        return say("No trend yet: one inspection shows a state, not a course.")
    if first.meets_limit is None or first.is_open:
        return say("No limit is within reach of a trend.")
    return f"{trend_name(first)}: {forecast_words(first)}"


def _visit(source: Source) -> VisitView:
    head, grade = source.a.inspection.head, source.a.judged.engine
    return VisitView(
        number=head.inspection,
        day=source.figures.day(head.dates.inspected),
        running_time=source.figures.hours(head.engine.running_time) or "–",
        depth=word(head.depth),
        chip=chip(grade.word),
        score=source.score(grade),
        coverage=say_count(
            "{used} of {count} check", "{used} of {count} checks", grade.planned, used=grade.used
        ),
    )


def _attention(source: Source, most: int = 8) -> tuple[str, ...]:
    findings: list[Finding] = [f for f in source.a.judged.findings if f.verdict in NOT_GOOD]
    findings.sort(key=lambda f: (GRAVITY.index(f.verdict), -(f.used or 0.0)))
    told = [capital(source.named(f.id)) for f in findings[:most]]
    more = len(findings) - most
    return (*told, say("and {more} more", more=more)) if more > 0 else tuple(told)
