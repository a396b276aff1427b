"""Turns trends, and several inspections of one or more engines, into what a history shows of them."""

from collections.abc import Sequence
from itertools import pairwise

from inspect_report.assessment import Assessment
from inspect_report.judge.finding import Finding, Trend
from inspect_report.records.inspection import Engine
from inspect_report.records.quantity import difference_from_si, from_si
from inspect_report.report.chartspec import Edge, Line, Point, TrendChart, scale
from inspect_report.report.figures import COVERAGE, Figures, counted
from inspect_report.report.reportparts import Fact, TrendView
from inspect_report.report.reportview import EngineHistory, HistoryView, VisitView
from inspect_report.report.source import Source, chip
from inspect_report.report.statements import OF_FORECASTS, SCOPE
from inspect_report.report.view_back import decision_rule, word_list, workshop_view
from inspect_report.report.view_front import verdict_headline
from inspect_report.report.words import GRAVITY, NOT_GOOD, capital, place_words, sentence

HOUR = 3600.0
BAND_WORDS = " Shaded: where the next reading is expected, 95 %."


def trends(source: Source) -> tuple[TrendView, ...]:
    """Trends of one engine, the one that meets its limit first at the head."""
    ordered = sorted(source.a.judged.trends, key=_soonest)
    return tuple(_trend(source, t) for t in ordered)


def _soonest(trend: Trend) -> tuple[float, int]:
    """Running time until the limit is met; trends without a forecast behind, longer ones first."""
    left = (
        trend.meets_limit - trend.times[-1] if trend.meets_limit is not None and trend.times else float("inf")
    )
    return left, -len(trend.times)


def trend_name(trend: Trend) -> str:
    """A trend's characteristic with its place."""
    place = place_words(trend.position)
    return capital(trend.name if place == "engine" else f"{trend.name}, {place}")


def _trend(source: Source, trend: Trend) -> TrendView:
    figures = source.figures
    latest = figures.amount(trend.values[-1], trend.unit, trend.decimals) if trend.values else "–"
    limit = "–" if trend.limit is None else figures.limit(trend.limit, trend.unit, trend.decimals)
    drawable = len(trend.values) > 1
    return TrendView(
        trend_name(trend), latest, limit, forecast(source, trend), _chart(source, trend) if drawable else None
    )


def forecast(source: Source, trend: Trend) -> str:
    """When a trend meets its limit, or why that cannot be said."""
    if trend.meets_limit is None or not trend.times:
        return sentence(trend.note or "No forecast: too few readings, or no limit within reach of the line")
    figures, left = source.figures, trend.meets_limit - trend.times[-1]
    if left <= 0:
        return "The line has met the limit."
    at, soon = (_whole_hours(figures, t) for t in (trend.meets_limit, left))
    return f"Limit met at about {at}, in {soon} of running ({_bounds(figures, trend)})."


def _whole_hours(figures: Figures, seconds: float) -> str:
    return figures.hours(round(seconds / HOUR) * HOUR)


def _bounds(figures: Figures, trend: Trend) -> str:
    """Between which running times the limit is met, as far as bounds are known."""
    ends = (trend.meets_early, trend.meets_late)
    early, late = ("" if t is None else _whole_hours(figures, t) for t in ends)
    if early and late:
        return f"between {early} and {late}, 95 %"
    if early:
        return f"not before {early}, 95 %"
    return f"by {late} at the latest, 95 %" if late else "no bounds known"


def _chart(source: Source, trend: Trend) -> TrendChart:
    unit, number = trend.unit, source.figures.number
    points = tuple(
        Point(t / HOUR, from_si(v, unit), COVERAGE * abs(difference_from_si(u, unit)))
        for t, v, u in zip(trend.times, trend.values, trend.us, strict=True)
    )
    band = tuple(
        (t / HOUR, from_si(lo, unit), from_si(hi, unit))
        for t, lo, hi in zip(trend.band_times, trend.band_low, trend.band_high, strict=True)
    )
    limit = None if trend.limit is None else from_si(trend.limit, unit)
    ys = [p.y - p.half for p in points] + [p.y + p.half for p in points] + ([] if limit is None else [limit])
    ys += [edge for _, low, high in band for edge in (low, high)]
    xs = [p.x for p in points] + [b[0] for b in band]
    name = trend_name(trend)
    return TrendChart(
        title=name,
        alt=f"{name} over running time: {_told_points(source, trend)}. {forecast(source, trend)}",
        caption=f"Whiskers: uncertainty, k = 2.{BAND_WORDS if band else ''}",
        x_axis=scale(min(xs), max(xs), "running time, h", number, wanted=5),
        y_axis=scale(min(ys), max(ys), f"{trend.name}, {unit}" if unit else trend.name, number, wanted=4),
        lines=_lines(trend, points),
        fit=_fit(trend, xs),
        band=band,
        limit=_limit_edge(source, trend),
        meets=_meets_edge(source, trend),
    )


def _limit_edge(source: Source, trend: Trend) -> Edge | None:
    if trend.limit is None:
        return None
    text = source.figures.limit(trend.limit, trend.unit, trend.decimals)
    return Edge(from_si(trend.limit, trend.unit), f"limit {text}")


def _meets_edge(source: Source, trend: Trend) -> Edge | None:
    if trend.meets_limit is None:
        return None
    return Edge(trend.meets_limit / HOUR, _whole_hours(source.figures, trend.meets_limit))


def _told_points(source: Source, trend: Trend) -> str:
    figures = source.figures
    pairs = zip(trend.times, trend.values, strict=True)
    return ", ".join(
        f"{figures.amount(v, trend.unit, trend.decimals)} at {figures.hours(t)}" for t, v in pairs
    )


def _lines(trend: Trend, points: Sequence[Point]) -> tuple[Line, ...]:
    """Points cut where a new part starts a new line."""
    cuts = [0, *trend.starts, len(points)]
    pieces = [tuple(points[a:b]) for a, b in pairwise(cuts) if a < b]
    return tuple(Line("" if len(pieces) == 1 else f"part {n}", piece) for n, piece in enumerate(pieces, 1))


def _fit(trend: Trend, xs: Sequence[float]) -> tuple[tuple[float, float], ...]:
    if trend.intercept is None or trend.slope is None:
        return ()
    start = trend.times[trend.starts[-1] if trend.starts else 0] / HOUR
    ends = (start, max(xs))
    return tuple((x, from_si(trend.intercept + trend.slope * x * HOUR, trend.unit)) for x in ends)


def past(source: Source) -> tuple[Fact, ...]:
    """Inspections before this one, oldest first."""
    seen = {p.inspection: p for p in source.a.past}
    return tuple(Fact(number, source.figures.day(p.day)) for number, p in seen.items())


def history_view(assessments: Sequence[Assessment], title: str) -> HistoryView:
    """
    The history of the engines in some assessments.

    Args:
        assessments: One or more, of one or more engines, in any order.
        title: What the history is of; empty for the engines' names.
    """
    ordered = sorted(assessments, key=lambda a: (a.inspection.head.dates.inspected, a.inspection.number))
    last = Source(ordered[-1])
    engines = [_engine(group) for group in _by_engine(ordered)]
    engines.sort(key=lambda pair: pair[0])
    return HistoryView(
        title=title or "Condition history",
        language="en",
        paper=last.a.workshop.paper,
        issued=last.figures.day(last.a.inspection.head.dates.issued),
        issued_iso=last.a.inspection.head.dates.issued.isoformat(),
        program=f"inspect-report {last.a.program}",
        workshop=workshop_view(last),
        engines=tuple(e for _, e in engines),
        compared=(),
        words=word_list(last),
        decision_rule=decision_rule(last),
        scope=(*SCOPE, OF_FORECASTS),
    )


def _by_engine(ordered: Sequence[Assessment]) -> list[list[Assessment]]:
    engines: dict[tuple[str, str, str], list[Assessment]] = {}
    for assessment in ordered:
        engine = assessment.inspection.head.engine
        engines.setdefault((engine.maker, engine.model, engine.serial), []).append(assessment)
    return list(engines.values())


def engine_name(engine: Engine) -> str:
    """Maker, model and serial number."""
    return f"{engine.maker} {engine.model}, no. {engine.serial}"


def _engine(group: Sequence[Assessment]) -> tuple[tuple[int, float, str], EngineHistory]:
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
    return (rank, grade.score if grade.score is not None else 101.0, engine.serial), history


def _next_limit(source: Source) -> str:
    first = min(source.a.judged.trends, key=_soonest, default=None)
    if first is None:
        return "No trend yet: one inspection shows a state, not a course."
    if first.meets_limit is None:
        return "No limit is within reach of a trend."
    return f"{trend_name(first)}: {forecast(source, first)}"


def _visit(source: Source) -> VisitView:
    head, grade = source.a.inspection.head, source.a.judged.engine
    return VisitView(
        number=head.inspection,
        day=source.figures.day(head.dates.inspected),
        running_time=source.figures.hours(head.engine.running_time) or "–",
        depth=head.depth,
        chip=chip(grade.word),
        score=source.score(grade),
        coverage=f"{grade.used} of {counted(grade.planned, 'check', 'checks')}",
    )


def _attention(source: Source, most: int = 8) -> tuple[str, ...]:
    findings: list[Finding] = [f for f in source.a.judged.findings if f.verdict in NOT_GOOD]
    findings.sort(key=lambda f: (GRAVITY.index(f.verdict), -(f.used or 0.0)))
    told = [capital(source.named(f.id)) for f in findings[:most]]
    more = len(findings) - most
    return (*told, f"and {more} more") if more > 0 else tuple(told)
