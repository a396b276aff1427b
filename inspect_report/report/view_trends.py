"""Turns trends into rows with a forecast and into charts, for one engine and for several side by side."""

from collections.abc import Mapping, Sequence
from itertools import islice, pairwise
from typing import Final

from inspect_report.judge.finding import Trend
from inspect_report.judge.trends import EVEN
from inspect_report.records.position import finding_id
from inspect_report.records.quantity import difference_from_si, from_si
from inspect_report.report.chartspec import Axis, Edge, Line, Point, TrendChart, scale
from inspect_report.report.figures import COVERAGE, joined
from inspect_report.report.reportparts import TrendView
from inspect_report.report.source import Source
from inspect_report.report.words import capital, sentence
from inspect_report.telling.manner import lowered, message, say
from inspect_report.telling.positions import place_words
from inspect_report.telling.units import Among, Way, in_one_unit, one_way, sign

HOUR = 3600.0
_CHARTS: Final = message(
    "The charts show those nearest to their limit: whiskers show the uncertainty (k = 2), the shaded band "
    "where the next reading is expected (95 %)."
)
Band = tuple[tuple[float, float, float], ...]
"""Running time in hours, lower and upper end in the unit shown."""
MOST_CHARTS = 6
"""Charts of one engine: those nearest to their limit; the table holds the rest."""
LIMIT_ROOM = 0.03
"""Room between a limit and the frame of a chart, as a share of what the chart shows."""
MOST_NEXT = 3
"""How many limits ahead the first page names."""
BAND_ROOM = 0.4
"""How far a band may widen a chart beyond its readings and limit, as a share of their span."""


def trends(source: Source) -> tuple[TrendView, ...]:
    """Trends of one engine that have a limit to meet, the one that meets it first at the head."""
    ordered = _ordered(source)
    drawn = _drawn(ordered)
    return tuple(_trend(source, t, t in drawn) for t in ordered)


def charts_note(source: Source) -> str:
    """What the charts of the trends show; empty where none has a chart."""
    return say(_CHARTS) if _drawn(_ordered(source)) else ""


def _ordered(source: Source) -> list[Trend]:
    return sorted((t for t in source.a.judged.trends if _has_limit(source, t)), key=soonest)


def _drawn(ordered: Sequence[Trend]) -> list[Trend]:
    """Those with a chart: nothing is drawn ahead where nothing can be told."""
    told = (t for t in ordered if len(t.values) > 1 and t.limit is not None and not t.is_open)
    return list(islice(told, MOST_CHARTS))


def next_limits(source: Source) -> str:
    """The limits that come first by forecast, for the first page of a condition history."""
    met = (t for t in _ordered(source) if t.meets_limit is not None and not t.is_open)
    told = [f"{trend_name(t)}: {forecast_words(t)}" for t in islice(met, MOST_NEXT)]
    return sentence("; ".join([*told[:1], *map(lowered, told[1:])])) if told else ""


def _has_limit(source: Source, trend: Trend) -> bool:
    finding = source.findings.get(finding_id(trend.characteristic, trend.position))
    return trend.limit is not None or (finding is not None and finding.limit is not None)


def soonest(trend: Trend) -> tuple[float, int]:
    """Running time until the limit is met; trends without a forecast behind, longer ones first."""
    told = trend.meets_limit is not None and trend.times and not trend.is_open
    left = trend.meets_limit - trend.times[-1] if told and trend.meets_limit is not None else float("inf")
    return left, -len(trend.times)


def trend_name(trend: Trend) -> str:
    """A trend's characteristic with its place."""
    place = place_words(trend.position)
    return capital(trend.name if place == "engine" else f"{trend.name}, {place}")


def _trend(source: Source, trend: Trend, drawn: bool) -> TrendView:
    figures = source.figures
    unit, decimals, kin = trend.unit, trend.decimals, _beside(trend)
    latest = figures.amount(trend.values[-1], unit, decimals, kin) if trend.values else "–"
    ahead = _limit_ahead(source, trend)
    limit = "–" if ahead is None else figures.limit(ahead, unit, decimals, kin)
    chart = _chart(source, trend) if drawn else None
    return TrendView(trend_name(trend), latest, limit, forecast(trend), chart)


def _beside(trend: Trend) -> Among:
    """What readings of a trend are told beside."""
    return Among(trend.values, () if trend.limit is None else (trend.limit,))


def _way(trend: Trend) -> Way:
    """How a trend is told in a picture: in one unit."""
    return one_way(trend.unit, trend.decimals, _beside(trend))


def _limit_ahead(source: Source, trend: Trend) -> float | None:
    """The limit the line runs towards; with too few readings for a line, the only one there is."""
    finding = source.findings.get(finding_id(trend.characteristic, trend.position))
    printed = finding.limit if finding else None
    if trend.limit is not None or trend.slope is not None or printed is None or printed.disputed:
        return trend.limit
    ends = [end for end in (printed.low, printed.high) if end is not None]
    return ends[0] if len(ends) == 1 else None


def forecast(trend: Trend) -> str:
    """When a trend meets its limit, or why that cannot be said."""
    return sentence(forecast_words(trend))


def forecast_words(trend: Trend) -> str:
    """The same behind the name of the trend, in the middle of a sentence."""
    told = trend.note.partition(f"; {say(EVEN)}")[0]
    return told or say("no forecast: too few readings, or no limit within reach of the line")


@in_one_unit
def _chart(source: Source, trend: Trend) -> TrendChart:
    unit = _way(trend).unit
    points, name = _points(trend, unit), trend_name(trend)
    whole = _band(trend, unit, points)
    y_axis = _y_axis(source, trend, points, whole)
    band = tuple((t, max(y_axis.low, low), min(y_axis.high, high)) for t, low, high in whole)
    xs = [p.x for p in points] + [b[0] for b in band]
    return TrendChart(
        title=name,
        alt=say(
            "{name} over running time: {values}. {forecast}",
            name=name,
            values=_told_points(source, trend),
            forecast=forecast(trend),
        ),
        caption=_caption(source, trend),
        x_axis=scale(min(xs), max(xs), say("running time of the part, h"), source.figures.number, wanted=5),
        y_axis=y_axis,
        lines=_lines(trend, points),
        fit=_fit(trend, unit, xs),
        band=band,
        limit=_limit_edge(source, trend),
        meets=_meets_edge(source, trend),
    )


def _caption(source: Source, trend: Trend) -> str:
    """What parts the readings belong to, where there were several."""
    if not trend.starts:
        return ""
    own = source.a.inspection.head.engine.serial
    known = f" ({trend.part})" if trend.part and trend.part != own else ""
    return say(
        "The part was replaced; each counts its own running time. The line is that of the part in the "
        "engine now{known}.",
        known=known,
    )


def _points(trend: Trend, unit: str) -> tuple[Point, ...]:
    """Readings in hours and in a unit, with their expanded uncertainty."""
    return tuple(
        Point(t / HOUR, from_si(v, unit), COVERAGE * abs(difference_from_si(u, unit)))
        for t, v, u in zip(trend.times, trend.values, trend.us, strict=True)
    )


def _room(trend: Trend, unit: str, points: Sequence[Point]) -> tuple[float, float]:
    """From where to where a chart may reach: beyond its readings and its limit by a share of their span."""
    ends = _ends(trend, unit, points)
    room = BAND_ROOM * (max(ends) - min(ends))
    return min(ends) - room, max(ends) + room


def _ends(trend: Trend, unit: str, points: Sequence[Point]) -> list[float]:
    limit = [] if trend.limit is None else [from_si(trend.limit, unit)]
    return [p.y + side * p.half for p in points for side in (-1, 1)] + limit


def _band(trend: Trend, unit: str, points: Sequence[Point]) -> Band:
    """The band in hours and in a unit; none where it is wider than the chart from end to end."""
    low, high = _room(trend, unit, points)
    band = tuple(
        (t / HOUR, from_si(below, unit), from_si(above, unit))
        for t, below, above in zip(trend.band_times, trend.band_low, trend.band_high, strict=True)
    )
    return () if all(below <= low and above >= high for _, below, above in band) else band


def _y_axis(source: Source, trend: Trend, points: Sequence[Point], band: Band) -> Axis:
    """Room for the readings and the limit, and for the band as far as it does not dwarf them."""
    unit = _way(trend).unit
    ends = _ends(trend, unit, points)
    lowest, highest = _room(trend, unit, points)
    low = max(lowest, min((b for _, b, _ in band), default=min(ends)))
    high = min(highest, max((b for _, _, b in band), default=max(ends)))
    if min(ends) >= 0.0:
        low = max(low, 0.0)  # what cannot be less than nothing is not drawn so
    return scale(min(low, *ends), max(high, *ends), sign(unit), source.figures.number, wanted=4)


@in_one_unit
def compared(sources: Sequence[Source], names: Mapping[str, str], most: int = 4) -> tuple[TrendChart, ...]:
    """
    Readings of several engines in one picture each, those nearest to their limit first.

    Args:
        sources: The latest inspection of each engine.
        names: Short names of the engines by their serial numbers.
        most: How many pictures.
    """
    same: dict[tuple[str, str], list[tuple[Source, Trend]]] = {}
    for source in sources:
        for trend in source.a.judged.trends:
            same.setdefault((trend.characteristic, trend.position.id), []).append((source, trend))
    several = [p for p in same.values() if len(p) > 1 and any(t.limit is not None for _, t in p)]
    several.sort(key=lambda pairs: min(soonest(trend) for _, trend in pairs))
    return tuple(_compared(sources, pairs, names) for pairs in several[:most])


def _compared(
    sources: Sequence[Source], pairs: Sequence[tuple[Source, Trend]], names: Mapping[str, str]
) -> TrendChart:
    source, first = min((p for p in pairs if p[1].limit is not None), key=lambda p: soonest(p[1]))
    way = _way(first)
    lines = tuple(
        Line(names[s.a.inspection.head.engine.serial], _latest_part(t, way.unit), sources.index(s))
        for s, t in pairs
    )
    ends = [y for line in lines for p in line.points for y in (p.y - p.half, p.y + p.half)]
    limit = _limit_edge(source, first)
    ends += [limit.at] if limit else []
    room = LIMIT_ROOM * (max(ends) - min(ends))
    ends += [limit.at - room, limit.at + room] if limit else []
    xs = [p.x for line in lines for p in line.points]
    name = trend_name(first)
    told = joined([f"{line.name} {source.figures.number(line.points[-1].y, way.decimals)}" for line in lines])
    return TrendChart(
        title=name,
        alt=say(
            "{name} of {count} engines over running time; latest, in {unit}: {values}.",
            name=name,
            count=len(lines),
            unit=sign(way.unit) or say("ones"),
            values=told,
        ),
        caption="",
        x_axis=scale(min(xs), max(xs), say("running time of the part, h"), source.figures.number, wanted=5),
        y_axis=scale(min(ends), max(ends), sign(way.unit), source.figures.number, wanted=4),
        lines=lines,
        limit=limit,
    )


def _latest_part(trend: Trend, unit: str) -> tuple[Point, ...]:
    return _points(trend, unit)[trend.starts[-1] if trend.starts else 0 :]


def _limit_edge(source: Source, trend: Trend) -> Edge | None:
    if trend.limit is None:
        return None
    text = source.figures.limit(trend.limit, trend.unit, trend.decimals, _beside(trend))
    return Edge(from_si(trend.limit, _way(trend).unit), say("limit {limit}", limit=text))


def _meets_edge(source: Source, trend: Trend) -> Edge | None:
    if trend.meets_limit is None or trend.is_met:
        return None
    left = max(HOUR, trend.meets_limit - trend.times[-1])
    whole = source.figures.hours(round(left / HOUR) * HOUR)
    return Edge(trend.meets_limit / HOUR, say("in {time}", time=whole))


def _told_points(source: Source, trend: Trend) -> str:
    figures = source.figures
    pairs = zip(trend.times, trend.values, strict=True)
    return ", ".join(
        say(
            "{value} at {time}",
            value=figures.amount(v, trend.unit, trend.decimals, _beside(trend)),
            time=figures.hours(t),
        )
        for t, v in pairs
    )


def _lines(trend: Trend, points: Sequence[Point]) -> tuple[Line, ...]:
    """Points cut where a new part starts a new line."""
    cuts = [0, *trend.starts, len(points)]
    pieces = [tuple(points[a:b]) for a, b in pairwise(cuts) if a < b]
    return tuple(Line(_part_name(n + 1, len(pieces)), piece, n) for n, piece in enumerate(pieces))


def _part_name(number: int, count: int) -> str:
    """Which part a line belongs to: the last is the one in the engine now."""
    if count == 1:
        return ""
    if number == count:
        return say("this part")
    return say("earlier part") if count == 2 else say("earlier part {number}", number=number)


def _fit(trend: Trend, unit: str, xs: Sequence[float]) -> tuple[tuple[float, float], ...]:
    if trend.intercept is None or trend.slope is None:
        return ()
    start = trend.times[trend.starts[-1] if trend.starts else 0] / HOUR
    ends = (start, max(xs))
    return tuple((x, from_si(trend.intercept + trend.slope * x * HOUR, unit)) for x in ends)
