"""Turns findings and readings into charts as data, one function for each kind of chart."""

from collections.abc import Iterable, Sequence
from typing import Final

from inspect_report.judge.finding import Finding, Verdict
from inspect_report.measure.bench import mean
from inspect_report.measure.budget import expanded
from inspect_report.measure.derived import GasketChoice, ShimChoice
from inspect_report.measure.warmth import barrel_at_20
from inspect_report.records.checklist import axis_labels
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position
from inspect_report.records.quantity import difference_from_si, from_si
from inspect_report.report.chartspec import (
    Axis,
    BarChart,
    Bore,
    BoreLine,
    BoreMap,
    Choice,
    Edge,
    Gap,
    GasketChart,
    Row,
    ValveMap,
    ValveRow,
    scale,
)
from inspect_report.report.figures import NBSP, joined
from inspect_report.report.source import Source, beside, in_step
from inspect_report.report.view_choices import gasket_role
from inspect_report.report.words import capital, tone
from inspect_report.telling.manner import say, word
from inspect_report.telling.positions import answer_words, label_words, place_words, valve_in_short
from inspect_report.telling.units import Among, Way, in_one_unit, one_way, sign, signs

LEAK, HEARD, GAP, BORE_READING, SQUISH = (
    "leak-down",
    "leak-down-heard",
    "valve-clearance",
    "bore-diameter",
    "squish-gap",
)
BORE_JUDGED: Final = ("bore-wear", "bore-diameter", "bore-taper", "bore-out-of-round")
MOST_BARS: Final = 12


@in_one_unit
def allowance(source: Source) -> BarChart | None:
    """The characteristics that used most of their wear allowance, each at its worst place."""
    worst: dict[str, Finding] = {}
    for finding in source.a.judged.findings:
        before = worst.get(finding.characteristic)
        if finding.used and (before is None or finding.used > (before.used or 0.0)):
            worst[finding.characteristic] = finding
    ordered = sorted(worst.values(), key=lambda f: -(f.used or 0.0))[:MOST_BARS]
    return _allowance_chart(source, ordered, len(worst)) if len(ordered) > 1 else None


def _allowance_chart(source: Source, ordered: Sequence[Finding], known: int) -> BarChart:
    rows = tuple(_allowance_row(source, f) for f in ordered)
    told = joined([f"{r.label} {r.text}" for r in rows[:6]])
    text = source.figures.number
    most = say("The {count} that used most, of {known}: ", count=len(ordered), known=known)
    high = 150.0 if max(r.value for r in rows) > 100.0 else 115.0
    return BarChart(
        title=say("Wear allowance used"),
        alt=say("Bars of the share of wear allowance used, worst first: {values}.", values=told),
        caption=(most if known > len(ordered) else "")
        + say("Each characteristic at its worst place. At 100 % the service limit is reached."),
        axis=Axis(
            0.0, high, tuple((t, text(t, 0)) for t in (0.0, 50.0, 100.0)), say("wear allowance used, %")
        ),
        rows=rows,
        edges=(Edge(100.0, say("service limit")),),
    )


def _allowance_row(source: Source, finding: Finding) -> Row:
    used = 100.0 * (finding.used or 0.0)
    text = f"{source.figures.number(used, 0)}{NBSP}%"
    return Row(capital(_name_and_place(finding)), used, text, tone(finding.verdict))


def _name_and_place(finding: Finding) -> str:
    place = place_words(finding.position)
    return finding.name if place == "engine" else f"{finding.name}, {place}"


@in_one_unit
def leak_down(source: Source) -> BarChart | None:
    """Leak-down of each cylinder with where air was heard."""
    found = [f for f in source.of(LEAK) if f.quantity is not None]
    if len(found) < 2:
        return None
    rows = tuple(_leak_row(source, f) for f in found)
    edges = _edges(source, found[0])
    top = max(r.value + r.spread for r in rows)
    top = max([top, *(e.at for e in edges)])
    return BarChart(
        title=say("Leak-down by cylinder"),
        alt=say(
            "Bars of leak-down by cylinder: {values}.", values=joined([f"{r.label}: {r.text}" for r in rows])
        ),
        caption=say(
            "Share of the test pressure lost, and where air was heard. Whiskers: expanded uncertainty."
        ),
        axis=scale(0.0, top * 1.05, say("leak-down, %"), source.figures.number),
        rows=rows,
        edges=edges,
    )


def _leak_row(source: Source, finding: Finding) -> Row:
    quantity = finding.quantity
    value, spread = (100.0 * quantity.value, 100.0 * expanded(quantity)) if quantity else (0.0, 0.0)
    heard = _heard(source, finding.position)
    text = f"{source.figures.number(value, finding.decimals)}{NBSP}%{heard}"
    return Row(capital(place_words(finding.position)), value, text, tone(finding.verdict), spread)


def _heard(source: Source, position: Position) -> str:
    answer = source.a.inspection.answer(HEARD, position)
    words = [answer_words(c) for c in (answer.chosen if answer else ()) if c not in ("none", "nowhere")]
    return say(", heard: {places}", places=joined(words)) if words else ""


def _edges(source: Source, finding: Finding) -> tuple[Edge, ...]:
    limit = finding.limit
    if limit is None or limit.high is None:
        return ()
    at = from_si(limit.high, finding.unit)
    return (
        Edge(
            at, say("limit {limit}", limit=source.figures.limit(limit.high, finding.unit, finding.decimals))
        ),
    )


@in_one_unit
def valve_map(source: Source) -> ValveMap | None:
    """Valve clearances at their place in the head."""
    found: dict[tuple[str, ...], Finding] = {
        f.position.labels: f
        for f in in_step(source.of(GAP))
        if f.quantity is not None and len(f.position.labels) == 2
    }
    if len(found) < 2:
        return None
    cylinders = axis_labels("cylinder", source.a.sheet, source.a.checklist)
    valves = axis_labels("valve", source.a.sheet, source.a.checklist)
    shims = {s.position.labels: s for s in source.a.measured.shims}
    rows = tuple(
        ValveRow(
            word(side),
            tuple(
                _gaps(source, found, shims, c, [v for v in valves if v.startswith(side)]) for c in cylinders
            ),
        )
        for side in ("inlet", "exhaust")
    )
    return _valve_chart(source, cylinders, tuple(r for r in rows if any(r.gaps)))


def _gaps(
    source: Source,
    found: dict[tuple[str, ...], Finding],
    shims: dict[tuple[str, ...], ShimChoice],
    cylinder: str,
    valves: Iterable[str],
) -> tuple[Gap, ...]:
    keys = [(cylinder, v) for v in valves]
    return tuple(_gap(source, found[k], shims.get(k)) for k in keys if k in found)


def _gap(source: Source, finding: Finding, shim: ShimChoice | None) -> Gap:
    way = one_way(finding.unit, finding.decimals, beside(finding))
    unit, limit, quantity = way.unit, finding.limit, finding.quantity
    value = from_si(quantity.value, unit) if quantity else 0.0
    low, high = (None, None) if limit is None else (limit.low, limit.high)
    if limit is not None and low is None and high is None:
        low, high = limit.standard_low, limit.standard_high
    after = shim.predicted if shim is not None and shim.change else None
    return Gap(
        label=valve_in_short(finding.position.labels[-1]),
        value=value,
        text=source.figures.number(value, way.decimals),
        tone=tone(finding.verdict),
        low=None if low is None else from_si(low, unit),
        high=None if high is None else from_si(high, unit),
        after=None if after is None else from_si(after, unit),
        after_text="" if after is None else source.figures.number(from_si(after, unit), way.decimals),
    )


def _valve_chart(source: Source, cylinders: tuple[str, ...], rows: tuple[ValveRow, ...]) -> ValveMap:
    gaps = [g for r in rows for c in r.gaps for g in c]
    values = [v for g in gaps for v in (g.value, g.low, g.high, g.after) if v is not None]
    outside = [g for g in gaps if g.tone not in ("as-new", "serviceable")]
    unit = signs(source.of(GAP)[0].unit, beside(*source.of(GAP)))
    after = say(" A triangle is the gap expected with the shim to fit.") if any(g.after for g in gaps) else ""
    return ValveMap(
        title=say("Valve clearances in the head"),
        alt=say(
            "{count} valve clearances by cylinder, inlet and exhaust; {outside} not in order.",
            count=len(gaps),
            outside=len(outside),
        ),
        caption=say(
            "Clearance in {unit}; the grey band is the range allowed, the mark the gap measured.{after}",
            unit=unit,
            after=after,
        ),
        axis=scale(
            min(values), max(values), say("clearance, {unit}", unit=unit), source.figures.number, wanted=4
        ),
        cylinders=tuple(label_words("cylinder", c) for c in cylinders),
        rows=rows,
    )


@in_one_unit
def bore_map(source: Source) -> BoreMap | None:
    """Deviation of each bore from its nominal size, by height and direction."""
    readings = [
        r for r in source.a.inspection.readings if r.item == BORE_READING and len(r.position.axes) == 3
    ]
    nominal = _nominal_bore(source, readings)
    if not readings or nominal is None:
        return None
    first_axis, height_axis, way_axis = readings[0].position.axes
    read, day = source.a.inspection.readings, source.a.inspection.head.conditions
    at_20 = {r.position.labels: barrel_at_20(r, read, source.a.sheet.geometry, day) for r in readings}
    by_place = {r.position.labels: (at_20[r.position.labels] or mean(r.values)) - nominal for r in readings}
    way = one_way("µm", 0, Among(tuple(by_place.values())))
    by_place = {labels: difference_from_si(v, way.unit) for labels, v in by_place.items()}
    cylinders, heights, ways = (_labels_along(readings, a) for a in (first_axis, height_axis, way_axis))
    bores = tuple(_bore(source, c, heights, ways, by_place) for c in cylinders)
    size = source.figures.limit(nominal, "mm", 2)
    told = say("{size} at 20 °C", size=size) if all(at_20.values()) else size
    return _bore_chart(source, bores, heights, list(by_place.values()), (nominal, told), way)


def _labels_along(readings: Sequence[Reading], axis: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(r.position.label(axis) or "" for r in readings))


def _nominal_bore(source: Source, readings: Sequence[Reading]) -> float | None:
    if source.a.sheet.geometry.bore is not None:
        return float(source.a.sheet.geometry.bore)
    return min((v for r in readings for v in r.values), default=None)


def _bore(
    source: Source,
    cylinder: str,
    heights: Sequence[str],
    ways: Sequence[str],
    by_place: dict[tuple[str, ...], float],
) -> Bore:
    lines = tuple(
        BoreLine(label_words("axis", w), tuple(by_place.get((cylinder, h, w)) for h in heights)) for w in ways
    )
    judged = [f for c in BORE_JUDGED for f in source.of(c) if f.position.labels[:1] == (cylinder,)]
    gravest = next((f.verdict for f in judged if f.verdict is Verdict.BEYOND_LIMIT), Verdict.SERVICEABLE)
    return Bore(capital(label_words("cylinder", cylinder)), tone(gravest), lines)


def _bore_chart(
    source: Source,
    bores: tuple[Bore, ...],
    heights: Sequence[str],
    values: list[float],
    nominal: tuple[float, str],
    way: Way,
) -> BoreMap:
    unworn, size = nominal
    limit = _bore_limit(source, unworn, way.unit)
    ends = [0.0, *values, *([limit.at] if limit else [])]
    worst = max(values, key=abs)
    return BoreMap(
        title=say("Bores"),
        alt=(
            say(
                "Deviation of {count} bores from {size} at {heights}, in two directions; largest {most}.",
                count=len(bores),
                size=size,
                heights=joined(list(map(word, heights))),
                most=f"{source.figures.number(worst, way.decimals)} {sign(way.unit)}",
            )
        ),
        caption=say(
            "How far each bore departs from {size}, in {unit}, by height and direction. Rings: the bore from "
            "above, the crank running level, its departure drawn large; dotted: nominal size, dashed: limit.",
            size=size,
            unit=sign(way.unit),
        ),
        axis=scale(min(ends), max(ends), sign(way.unit), source.figures.number, wanted=3),
        heights=tuple(heights),
        bores=bores,
        limit=limit,
    )


def _bore_limit(source: Source, nominal: float, unit: str) -> Edge | None:
    """The wear limit as a deviation, from a limit of wear or of diameter."""
    for finding in (*source.of("bore-wear"), *source.of("bore-diameter")):
        row = finding.limit
        if row is not None and row.high is not None:
            at = row.high if finding.characteristic == "bore-wear" else row.high - nominal
            return Edge(difference_from_si(at, unit), say("limit"))
    return None


@in_one_unit
def gasket_chart(source: Source) -> GasketChart | None:
    """Gasket grades in the plane of squish gap and compression ratio."""
    grades = [g for g in source.a.measured.gaskets if g.ratio is not None]
    if len(grades) < 2:
        return None
    unit = one_way("mm", 2, Among(tuple(g.squish for g in grades))).unit
    choices = tuple(_choice(g, unit) for g in grades)
    xs = [c.x for c in choices] + [from_si(g.squish_floor, unit) for g in grades[:1] if g.squish_floor]
    ys = [c.y for c in choices] + [g.ratio_ceiling for g in grades[:1] if g.ratio_ceiling]
    floor, ceiling = grades[0].squish_floor, grades[0].ratio_ceiling
    return GasketChart(
        title=say("Head gasket grades"),
        alt=_gasket_alt(grades),
        caption=say(
            "Each grade on sale with the squish gap and ratio it would give. Shaded: outside a bound."
        ),
        x_axis=scale(*_roomy(xs), f"{say('squish gap')}, {sign(unit)}", source.figures.number, wanted=4),
        y_axis=scale(*_roomy(ys), say("compression ratio"), source.figures.number, wanted=4),
        choices=choices,
        floor=None if floor is None else Edge(from_si(floor, unit), say("least squish gap")),
        ceiling=None if ceiling is None else Edge(ceiling, say("highest ratio")),
    )


def _roomy(values: Sequence[float]) -> tuple[float, float]:
    """The ends of some values with room for a mark beyond each."""
    room = 0.08 * (max(values) - min(values))
    return min(values) - room, max(values) + room


def _choice(grade: GasketChoice, unit: str) -> Choice:
    role = gasket_role(grade)
    label = f"{grade.grade} ({role})" if role else grade.grade
    return Choice(label, from_si(grade.squish, unit), grade.ratio or 0.0, grade.chosen)


def _gasket_alt(choices: Sequence[GasketChoice]) -> str:
    chosen = next((c.grade for c in choices if c.chosen), "")
    ending = say("to fit: {grade}", grade=chosen) if chosen else say("none keeps both bounds")
    return say(
        "{count} gasket grades by squish gap and compression ratio; {ending}.",
        count=len(choices),
        ending=ending,
    )
