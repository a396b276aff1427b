"""Turns findings into the plan of the engine: each value at the cylinder, valve or bearing it belongs to."""

from collections.abc import Iterable, Sequence
from typing import Final

from inspect_report.judge.finding import Finding
from inspect_report.records.checklist import axis_labels
from inspect_report.records.quantity import from_si
from inspect_report.report.chartspec import EnginePlan, PlanCylinder, Value
from inspect_report.report.figures import joined
from inspect_report.report.source import Source, beside
from inspect_report.report.words import capital, tone
from inspect_report.telling.manner import say
from inspect_report.telling.positions import label_words, place_words
from inspect_report.telling.units import in_one_unit, one_way, signs

IN_BORES: Final = ("leak-down", "compression-dry", "bore-wear", "piston-clearance", "squish-gap")
MOST_LINES: Final = 4
GAP, MAINS = "valve-clearance", "main-clearance"
PINS: Final = ("big-end-clearance", "big-end-radial-play", "big-end-side-clearance")
FEWEST: Final = 3
"""Values below which a plan tells no more than a sentence."""
GOOD: Final = ("as-new", "serviceable")
NOT_IN_ORDER: Final = ("marginal", "undecided", "beyond-limit")
NOTHING: Final = Value("", "")
Found = dict[tuple[str, ...], Finding]


@in_one_unit
def engine_plan(source: Source) -> EnginePlan | None:
    """The engine from above; nothing where hardly anything was measured at a cylinder, valve or bearing."""
    lines = [found for c in IN_BORES if (found := _measured(source, c, 1))][:MOST_LINES]
    gaps, mains = _measured(source, GAP, 2), _measured(source, MAINS, 1)
    pins = next((found for c in PINS if (found := _measured(source, c, 1))), {})
    shown = [f for found in (*lines, gaps, mains, pins) for f in found.values()]
    if len(shown) < FEWEST:
        return None
    return EnginePlan(
        title=say("Engine plan"),
        alt=_alt(shown),
        caption=_caption(source),
        names=tuple(_name(found) for found in lines),
        sides=(_side(gaps, say("inlet valves")), _side(gaps, say("exhaust valves"))),
        banks=tuple(tuple(_cylinder(source, n, lines, gaps) for n in bank) for bank in _banks(source)),
        mains=_row(source, "main-journal", mains),
        pins=_row(source, "crankpin", pins),
        bearings=(_name(mains), _name(pins)),
    )


def _measured(source: Source, characteristic: str, axes: int) -> Found:
    """Findings of one characteristic with a value, by their place."""
    return {
        f.position.labels: f
        for f in source.of(characteristic)
        if f.quantity is not None and len(f.position.labels) == axes
    }


def _banks(source: Source) -> tuple[tuple[str, ...], ...]:
    layout = source.a.sheet.layout
    if layout.banks:
        return tuple(tuple(str(n) for n in bank) for bank in layout.banks)
    return (axis_labels("cylinder", source.a.sheet, source.a.checklist),)


def _caption(source: Source) -> str:
    layout = source.a.sheet.layout
    told = say(
        "Seen from above, not to scale. Circles: in order, filled where wear has begun; diamonds: marginal; "
        "open squares: undecided; solid squares: beyond the limit."
    )
    if layout.arrangement in ("vee", "flat") and not layout.banks:
        return (
            f"{told} {say('The spec sheet does not say which cylinders form a bank: they stand in one row.')}"
        )
    return told


def _alt(shown: Sequence[Finding]) -> str:
    if all(tone(f.verdict) in GOOD for f in shown):
        return say("Plan of the engine with {count} values at their places, all in order.", count=len(shown))
    bad = [f for f in shown if tone(f.verdict) in NOT_IN_ORDER]
    told = joined([f"{f.name}, {place_words(f.position)}" for f in bad]) or say("none")
    return say(
        "Plan of the engine with {count} values at their places; not in order: {places}.",
        count=len(shown),
        places=told,
    )


def _name(found: Found) -> str:
    one = next(iter(found.values()), None)
    return "" if one is None else _with_unit(capital(one.name), found)


def _with_unit(name: str, found: Found) -> str:
    one = next(iter(found.values()))
    unit = signs(one.unit, beside(*found.values()))
    return f"{name}, {unit}" if unit else name


def _side(gaps: Found, name: str) -> str:
    one = next(iter(gaps.values()), None)
    return "" if one is None else _with_unit(capital(name), gaps)


def _cylinder(source: Source, label: str, lines: Iterable[Found], gaps: Found) -> PlanCylinder:
    valves = axis_labels("valve", source.a.sheet, source.a.checklist) if gaps else ()
    inlet, exhaust = (
        tuple(_value(source, gaps, (label, v)) for v in valves if v.startswith(side))
        for side in ("inlet", "exhaust")
    )
    return PlanCylinder(
        label=capital(label_words("cylinder", label)),
        values=tuple(_value(source, found, (label,)) for found in lines),
        inlet=inlet,
        exhaust=exhaust,
    )


def _row(source: Source, axis: str, found: Found) -> tuple[Value, ...]:
    """The values along a shaft, with a gap where one was not measured."""
    if not found:
        return ()
    labels = axis_labels(axis, source.a.sheet, source.a.checklist)
    return tuple(_value(source, found, (n,)) for n in labels)


def _value(source: Source, found: Found, place: tuple[str, ...]) -> Value:
    """The value at a place, in the unit of all that are shown with it."""
    finding = found.get(place)
    if finding is None or finding.quantity is None:
        return NOTHING
    finest = max(f.decimals for f in found.values())
    way = one_way(finding.unit, finest, beside(finding, *found.values()))
    text = source.figures.number(from_si(finding.quantity.value, way.unit), way.decimals)
    return Value(text, tone(finding.verdict))
