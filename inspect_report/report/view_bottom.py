"""Turns findings of bearings and of the timing chain into charts as data."""

from collections.abc import Iterable
from typing import Final

from inspect_report.judge.finding import Finding
from inspect_report.measure.budget import expanded
from inspect_report.records.quantity import from_si
from inspect_report.report.chartspec import (
    LATE_TIMES,
    ChainCam,
    ChainDiagram,
    RangeChart,
    RangeRow,
    Value,
    scale,
)
from inspect_report.report.figures import joined
from inspect_report.report.source import Source, beside, in_step
from inspect_report.report.words import capital, tone
from inspect_report.telling.manner import say
from inspect_report.telling.positions import label_words, place_words
from inspect_report.telling.units import in_one_unit, one_way, signs

BEARINGS: Final = ("main-clearance", "big-end-clearance")
RETARD, ELONGATION, TRAVEL, GROOVE = (
    "cam-retard",
    "chain-elongation",
    "tensioner-travel",
    "guide-groove-depth",
)


@in_one_unit
def bearings(source: Source) -> RangeChart | None:
    """Oil clearances of main bearings and big ends, each in its range; nothing for fewer than two."""
    found = [f for c in BEARINGS for f in in_step(source.of(c)) if f.quantity is not None]
    if len(found) < 2:
        return None
    rows = tuple(_bearing(source, f) for f in found)
    ends = [
        e
        for r in rows
        for e in (r.value - r.half, r.value + r.half, r.new_low, r.new_high, r.low, r.high, r.after)
    ]
    known = [e for e in ends if e is not None]
    told = joined([f"{r.label} {r.text}" for r in rows])
    after = any(r.after is not None for r in rows)
    return RangeChart(
        title=say("Bearing clearances"),
        alt=say("Oil clearance of each bearing in its range: {values}.", values=told),
        caption=say("Pale: new parts; heavy stroke: limit; line through a mark: expanded uncertainty.")
        + (say(" A triangle is the clearance to expect with the shells to fit.") if after else ""),
        axis=scale(
            min(0.0, *known),
            1.05 * max(known),
            f"{say('oil clearance')}, {signs(found[0].unit, beside(*found))}",
            source.figures.number,
        ),
        rows=rows,
    )


def _bearing(source: Source, finding: Finding) -> RangeRow:
    quantity, limit = finding.quantity, finding.limit
    unit = one_way(finding.unit, finding.decimals, beside(finding)).unit

    def shown(value: float | None) -> float | None:
        return None if value is None else from_si(value, unit)

    value = from_si(quantity.value, unit) if quantity else 0.0
    half = expanded(quantity) * from_si(1.0, unit) if quantity else 0.0
    after = next(
        (
            s.clearance
            for s in source.a.measured.shells
            if f"{s.bearing}-clearance" == finding.characteristic
            and s.position.labels == finding.position.labels
        ),
        None,
    )
    return RangeRow(
        label=capital(place_words(finding.position)),
        value=value,
        half=half,
        text=_amount(source, finding),
        tone=tone(finding.verdict),
        new_low=shown(limit.standard_low) if limit else None,
        new_high=shown(limit.standard_high) if limit else None,
        low=shown(limit.low) if limit else None,
        high=shown(limit.high) if limit else None,
        after=shown(after),
    )


@in_one_unit
def chain_diagram(source: Source) -> ChainDiagram | None:
    """The timing chain with what was measured of it; nothing unless a camshaft's lateness was, too."""
    late = [f for f in source.of(RETARD) if f.quantity is not None]
    chain = (*_told(source, source.of(ELONGATION)), *_grooves(source))
    tensioner = _told(source, source.of(TRAVEL))
    if not late or not (chain or tensioner):
        return None
    cams = tuple(_cam(source, f) for f in late)
    values = joined([v.text for v in (*chain, *(c.text for c in cams), *tensioner)])
    return ChainDiagram(
        title=say("Timing chain"),
        alt=say("Diagram of the timing chain: {values}.", values=values),
        caption=say(
            "Not to scale. The hand shows by how many degrees of the crankshaft a camshaft runs late through "
            "its chain, drawn {times} times larger; dashed: where it should stand; heavy stroke: limit.",
            times=LATE_TIMES,
        ),
        cams=cams,
        chain=chain,
        tensioner=tensioner,
        crank=say("crankshaft"),
    )


def _cam(source: Source, finding: Finding) -> ChainCam:
    name = label_words("cam", finding.position.labels[-1]) if finding.position.labels else finding.name
    value = finding.quantity.value if finding.quantity else None
    limit = finding.limit.high if finding.limit else None
    text = say("{camshaft} late by {value}", camshaft=capital(name), value=_amount(source, finding))
    return ChainCam(
        Value(f"{text}{_limit(source, finding)}", tone(finding.verdict)),
        None if value is None else from_si(value, finding.unit),
        None if limit is None else from_si(limit, finding.unit),
    )


def _told(source: Source, findings: Iterable[Finding]) -> tuple[Value, ...]:
    return tuple(
        Value(f"{_named(f)} {_amount(source, f)}{_limit(source, f)}", tone(f.verdict))
        for f in findings
        if f.quantity is not None
    )


def _grooves(source: Source) -> tuple[Value, ...]:
    """Each guide by its place alone, since there is little room."""
    return tuple(
        Value(
            say("{guide}: groove {depth}", guide=capital(place_words(f.position)), depth=_amount(source, f)),
            tone(f.verdict),
        )
        for f in source.of(GROOVE)
        if f.quantity is not None
    )


def _named(finding: Finding) -> str:
    labels = finding.position.labels
    return capital(f"{finding.name}, {place_words(finding.position)}" if labels else finding.name)


def _amount(source: Source, finding: Finding) -> str:
    quantity = finding.quantity
    if quantity is None:
        return ""
    return source.figures.amount(quantity.value, finding.unit, finding.decimals, beside(finding))


def _limit(source: Source, finding: Finding) -> str:
    if finding.limit is None or finding.limit.high is None:
        return ""
    limit = source.figures.limit(finding.limit.high, finding.unit, finding.decimals, beside(finding))
    return say(" (limit {limit})", limit=limit)
