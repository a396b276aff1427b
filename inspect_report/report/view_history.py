"""Turns trends, and several inspections of one or more engines, into what a history shows of them."""

from collections.abc import Mapping, Sequence
from typing import Final

from inspect_report.assessment import Assessment
from inspect_report.judge.finding import Finding, PastReading
from inspect_report.records.inspection import Engine
from inspect_report.records.languages import paper_of
from inspect_report.report.figures import joined
from inspect_report.report.reportparts import Fact, TodoView, WordView
from inspect_report.report.reportview import EngineHistory, HistoryView, VisitView
from inspect_report.report.source import Source, chip
from inspect_report.report.statements import OF_FORECASTS, OF_RATINGS, OF_WEIGHTS, SCOPE
from inspect_report.report.view_back import decision_rule, workshop_view
from inspect_report.report.view_estimate import advised, costs, todo
from inspect_report.report.view_fitted import parts
from inspect_report.report.view_front import verdict_headline
from inspect_report.report.view_trends import (
    charts_note,
    compared,
    forecast_words,
    soonest,
    trend_name,
    trends,
)
from inspect_report.report.words import GRAVITY, MEANING, NOT_GOOD, capital
from inspect_report.telling.manner import manner, say, say_count, told_by, word

SHORT: Final = 16
"""Letters a machine's name may have to stand for its engine in tables and charts."""
MUST: Final = "sum-must"
"""The chain of the class of work that must be done."""


def past(source: Source) -> tuple[Fact, ...]:
    """Inspections before this one that it rests on, oldest first; those of another engine say of which."""
    serial = source.a.inspection.head.engine.serial
    used = {number for t in source.a.judged.trends for number in t.inspections}
    seen = {p.inspection: p for p in source.a.past if p.engine == serial or p.inspection in used}
    return tuple(Fact(number, _of_past(source, p, serial)) for number, p in seen.items())


def _of_past(source: Source, reading: PastReading, serial: str) -> str:
    day = source.figures.day(reading.day)
    if reading.engine == serial:
        return day
    return say("{day}, engine no. {serial}", day=day, serial=reading.engine)


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
    names = _short_names(groups)
    engines = sorted((_engine(group, names) for group in groups), key=lambda pair: pair[0])
    return HistoryView(
        title=title or say("Condition history"),
        kind=say_count(
            "Condition history of {count} engine", "Condition history of {count} engines", len(groups)
        ),
        language=manner().language,
        paper=last.a.workshop.paper or paper_of(last.a.workshop.locale),
        issued=last.figures.day(last.a.inspection.head.dates.issued),
        issued_iso=last.a.inspection.head.dates.issued.isoformat(),
        program=f"inspect-report {last.a.program}",
        made_of=_made_of(ordered, last),
        head_left=last.a.workshop.workshop,
        head_right=title or say("Condition history"),
        workshop=workshop_view(last, "condition history"),
        engines=tuple(e for _, e in engines),
        compared=compared([Source(group[-1]) for group in groups], names),
        parts=parts(ordered, names),
        words=_words(groups),
        decision_rule=tuple(s for s in decision_rule(last) if s not in (say(OF_RATINGS), say(OF_WEIGHTS))),
        scope=(*map(say, SCOPE), say(OF_FORECASTS)),
    )


def _words(groups: Sequence[Sequence[Assessment]]) -> tuple[WordView, ...]:
    """The words that occur in this history, gravest first: of grades, and of what needs attention."""
    grades = {a.judged.engine.word for group in groups for a in group}
    near = {f.verdict for group in groups for f in group[-1].judged.findings if f.verdict in NOT_GOOD}
    return tuple(WordView(chip(v), say(MEANING[v])) for v in GRAVITY if v in near or v.value in grades)


def _by_engine(ordered: Sequence[Assessment]) -> list[list[Assessment]]:
    engines: dict[tuple[str, str, str], list[Assessment]] = {}
    for assessment in ordered:
        engine = assessment.inspection.head.engine
        engines.setdefault((engine.maker, engine.model, engine.serial), []).append(assessment)
    return list(engines.values())


def engine_name(engine: Engine) -> str:
    """Maker, model and serial number."""
    return say("{maker} {model}, no. {serial}", maker=engine.maker, model=engine.model, serial=engine.serial)


def _short_names(groups: Sequence[Sequence[Assessment]]) -> dict[str, str]:
    """What each engine is called in short, by its serial: the machine it is in, if that tells all apart."""
    engines = [group[-1].inspection.head.engine for group in groups]
    machines = [e.machine for e in engines]
    tells = len(set(machines)) == len(machines) > 1 and all(0 < len(m) <= SHORT for m in machines)
    return {e.serial: capital(e.machine) if tells else e.serial for e in engines}


def _full_name(engine: Engine, names: Mapping[str, str]) -> str:
    name, short = engine_name(engine), names[engine.serial]
    return name if short == engine.serial else f"{short}: {name}"


def _engine(
    group: Sequence[Assessment], names: Mapping[str, str]
) -> tuple[tuple[bool, int, float, float, str], EngineHistory]:
    """An engine's history, behind the key that puts the one in most need first."""
    latest = Source(group[-1])
    grade, engine = latest.a.judged.engine, latest.a.inspection.head.engine
    must, more = todo(latest)
    history = EngineHistory(
        short=names[engine.serial],
        name=_full_name(engine, names),
        anchor=f"engine-{''.join(c if c.isalnum() else '-' for c in engine.serial)}",
        chip=chip(grade.word),
        score=latest.score(grade),
        running_time=latest.figures.hours(engine.running_time) or "–",
        sentence=verdict_headline(latest),
        must=(*map(_job_words, must), *((more,) if more else ())),
        must_cost=_must_cost(latest) if must else "",
        advised=advised(latest),
        answer=latest.a.inspection.head.answer,
        next_limit=_next_limit(latest),
        visits=tuple(_visit(Source(a)) for a in group),
        trends=trends(latest),
        charts_note=charts_note(latest),
        attention=_attention(latest),
    )
    return _need(latest, bool(must)), history


def _job_words(job: TodoView) -> str:
    return f"{job.name}: {job.where}" if job.where else job.name


def _need(latest: Source, must: bool) -> tuple[bool, int, float, float, str]:
    """What puts an engine before others: work that must be done, its grade, how soon a limit comes."""
    grade = latest.a.judged.engine
    word_order = ("unserviceable", "marginal", "not graded", "serviceable", "as new")
    rank = word_order.index(grade.word) if grade.word in word_order else len(word_order)
    left = min((soonest(t)[0] for t in latest.a.judged.trends), default=float("inf"))
    score = grade.score if grade.score is not None else 101.0
    return not must, rank, left, score, latest.a.inspection.head.engine.serial


def _must_cost(source: Source) -> str:
    """What must be done costs, with what is on request."""
    cost = next((c for c in costs(source) if c.chain == MUST), None)
    if cost is None:
        return ""
    return f"{cost.gross}, {cost.on_request}" if cost.on_request else cost.gross


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
