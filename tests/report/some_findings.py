"""Gives the findings, grades and trend of the inline four, made by hand."""

from collections.abc import Iterable
from typing import Any

from inspect_report.judge.finding import (
    Finding,
    Grade,
    Limit,
    Seen,
    Trend,
    Verdict,
)
from inspect_report.judge.trends import EVEN
from inspect_report.knowledge.case import Origin
from inspect_report.measure.derived import GasketChoice, ShimChoice
from inspect_report.records.position import Position, finding_id
from inspect_report.records.quantity import Quantity, si, unit_named
from tests.report.an_inspection import HOUR, MANUAL, PLACE, at, bore_readings


def limit(
    unit: str,
    *,
    new: tuple[float | None, float | None] = (None, None),
    low: float | None = None,
    high: float | None = None,
    origin: Origin = "spec sheet",
    page: str = "4-12",
    wears: str = "up",
) -> Limit:
    """A limit row; numbers in its unit."""

    def in_si(value: float | None) -> float | None:
        return None if value is None else si(value, unit)

    source = f"{MANUAL}, p. {page}" if origin == "spec sheet" else "starting value of the trade"
    sure = "seen" if origin == "spec sheet" else "common practice"
    return Limit(
        in_si(new[0]), in_si(new[1]), in_si(low), in_si(high), wears, 0.75, unit, source, sure, origin
    )


def found(
    characteristic: str,
    name: str,
    assembly: str,
    position: Position,
    verdict: Verdict,
    value: float | None = None,
    u: float = 0.0,
    *,
    unit: str = "mm",
    decimals: int = 2,
    row: Limit | None = None,
    used: float | None = None,
    reason: str = "",
    **more: Any,
) -> Finding:
    """A finding; value and standard uncertainty in its unit."""
    factor, dimension = unit_named(unit).factor, unit_named(unit).dimension
    quantity = None if value is None else Quantity(si(value, unit), u * factor, dimension)
    inside = (
        None
        if row is None or value is None
        else {"beyond limit": 0.0004, "undecided": 0.62}.get(str(verdict), 0.9998)
    )
    return Finding(
        id=finding_id(characteristic, position),
        characteristic=characteristic,
        name=name,
        position=position,
        assembly=assembly,
        verdict=verdict,
        reason=reason or f"{verdict} by its limit",
        unit=unit,
        decimals=decimals,
        quantity=quantity,
        limit=row,
        used=used,
        inside=inside,
        **more,
    )


def _leak_down() -> Iterable[Finding]:
    row = limit("%", new=(None, 5.0), high=20.0, origin="common practice")
    for n, value, verdict, used in (
        (1, 6.3, Verdict.SERVICEABLE, 0.09),
        (2, 7.0, Verdict.SERVICEABLE, 0.13),
        (3, 35.0, Verdict.BEYOND_LIMIT, 2.0),
        (4, 6.7, Verdict.SERVICEABLE, 0.11),
    ):
        yield found(
            "leak-down",
            "leak-down",
            "top-end",
            at(cylinder=n),
            verdict,
            value,
            0.35,
            unit="%",
            decimals=1,
            row=row,
            used=used,
            formula="leak_percent",
            readings=(f"leak-down-cylinder.{n}",),
            inputs=(PLACE,),
            instruments=("leak-tester",),
        )


GAPS = {
    1: (0.14, 0.15, 0.24, 0.26),
    2: (0.13, 0.14, 0.25, 0.23),
    3: (0.12, 0.15, 0.17, 0.24),
    4: (0.15, 0.16, 0.22, 0.25),
}


def _valves() -> Iterable[Finding]:
    for cylinder, gaps in GAPS.items():
        for valve, gap in zip(("inlet-1", "inlet-2", "exhaust-1", "exhaust-2"), gaps, strict=True):
            low, high = (0.11, 0.20) if valve.startswith("inlet") else (0.21, 0.30)
            verdict = (
                Verdict.BEYOND_LIMIT
                if gap < low
                else Verdict.UNDECIDED
                if gap - low < 0.015
                else Verdict.SERVICEABLE
            )
            yield found(
                "valve-clearance",
                "valve clearance",
                "top-end",
                at(cylinder=cylinder, valve=valve),
                verdict,
                gap,
                0.006,
                row=limit("mm", low=low, high=high, page="3-8", wears="either"),
                formula="reading",
                instruments=("feelers",),
                reason="inside, but the measuring uncertainty of ±0.012 mm reaches over the limit",
            )


def _bores() -> Iterable[Finding]:
    row = limit("mm", new=(0.0, 0.012), high=0.08, page="5-4")
    for n, value, verdict, used in (
        (1, 0.021, Verdict.SERVICEABLE, 0.13),
        (2, 0.018, Verdict.SERVICEABLE, 0.09),
        (3, 0.096, Verdict.BEYOND_LIMIT, 1.24),
        (4, 0.066, Verdict.MARGINAL, 0.79),
    ):
        yield found(
            "bore-wear",
            "bore wear",
            "cylinders",
            at(cylinder=n),
            verdict,
            value,
            0.0018,
            decimals=3,
            row=row,
            used=used,
            formula="bore_wear",
            instruments=("bore-gauge",),
            inputs=(PLACE,),
            readings=tuple(
                r.position.id and f"bore-diameter.{r.position.id}"
                for r in bore_readings()
                if r.position.labels[0] == str(n)
            ),
        )


def _sights() -> Iterable[Finding]:
    for n in (1, 2, 4):
        yield found(
            "crown-state",
            "piston crown",
            "cylinders",
            at(cylinder=n),
            Verdict.AS_NEW,
            unit="mm",
            reason="nothing found",
        )
    yield found(
        "crown-state",
        "piston crown",
        "cylinders",
        at(cylinder=3),
        Verdict.MARGINAL,
        reason="scuffing, grade 3 of 5",
        seen=(Seen("scuffing", 2, 3, None, "thrust side, from the oil ring down"),),
    )
    yield found(
        "clutch-drag",
        "clutch drag",
        "clutch",
        Position(),
        Verdict.NO_LIMIT,
        14.0,
        0.5,
        unit="N",
        decimals=0,
        reason="14 N: no limit is published for it",
    )
    yield found(
        "oil-state",
        "oil",
        "lubrication",
        Position(),
        Verdict.SERVICEABLE,
        chosen=("dark",),
        reason="dark: normal for its hours",
    )
    for n in range(1, 6):
        yield found(
            "main-clearance",
            "main bearing clearance",
            "crankshaft",
            at(main_journal=n),
            Verdict.AS_NEW,
            0.030 + 0.001 * n,
            0.002,
            decimals=3,
            row=limit("mm", new=(0.020, 0.044), high=0.06, page="6-3"),
            used=0.0,
            formula="oil_clearance",
        )


def _squish() -> Iterable[Finding]:
    yield found(
        "squish-gap",
        "squish gap",
        "top-end",
        at(cylinder=1),
        Verdict.AS_NEW,
        0.88,
        0.005,
        row=limit("mm", new=(0.75, 1.0), low=0.75, page="4-20"),
        used=0.0,
        formula="mechanics.squish.squish_gap",
    )


def _absent() -> Iterable[Finding]:
    yield found(
        "big-end-clearance",
        "big-end clearance",
        "crankshaft",
        Position(),
        Verdict.NOT_INSPECTED,
        reason="rods left on the crank by request",
    )
    yield found(
        "ring-end-gap",
        "ring end gap",
        "cylinders",
        at(cylinder=2, ring="oil"),
        Verdict.NOT_INSPECTED,
        reason="not filled in",
    )
    yield found(
        "oil-pump-tip",
        "oil pump tip clearance",
        "lubrication",
        Position(),
        Verdict.NOT_INSPECTED,
        reason="not filled in",
    )
    yield found(
        "kick-starter",
        "kick-starter",
        "clutch",
        Position(),
        Verdict.NOT_APPLICABLE,
        reason="electric start only",
    )


def findings() -> tuple[Finding, ...]:
    """Every finding, by assembly."""
    made = [*_leak_down(), *_valves(), *_bores(), *_sights(), *_squish(), *_absent()]
    return tuple(
        sorted(
            made,
            key=lambda f: ("top-end", "cylinders", "crankshaft", "lubrication", "clutch").index(f.assembly),
        )
    )


GRADES = (
    Grade(
        "top-end",
        "Top end",
        "unserviceable",
        58.0,
        20,
        24,
        0,
        ("leak-down.3", "valve-clearance.3.exhaust-1"),
        (),
    ),
    Grade(
        "cylinders",
        "Cylinders and pistons",
        "unserviceable",
        41.0,
        8,
        12,
        0,
        ("bore-wear.3",),
        ("scuffed piston: at most unserviceable",),
    ),
    Grade("crankshaft", "Crankshaft and bearings", "as new", 100.0, 5, 9, 3),
    Grade("lubrication", "Lubrication", "serviceable", 80.0, 1, 2, 0),
    Grade("clutch", "Clutch", "not graded", None, 0, 1, 4),
)


SHIMS = tuple(
    ShimChoice(
        at(cylinder=c, valve=v),
        gap / 1000,
        2.60e-3,
        low / 1000 + 0.05e-3,
        low / 1000,
        high / 1000,
        exact / 1000,
        size / 1000 if size else None,
        after / 1000 if after else None,
        change,
        note,
    )
    for c, v, gap, low, high, exact, size, after, change, note in (
        (3, "inlet-1", 0.12, 0.11, 0.20, 2.565, 2.55, 0.17, True, ""),
        (3, "inlet-2", 0.15, 0.11, 0.20, 2.595, None, 0.15, False, ""),
        (3, "exhaust-1", 0.17, 0.21, 0.30, 2.515, 2.50, 0.27, True, "from the box"),
    )
)
GASKETS = tuple(
    GasketChoice(grade, t / 1000, s / 1000, ratio, 0.75e-3, 12.6, s_ok, r_ok, fitted, chosen)
    for grade, t, s, ratio, s_ok, r_ok, fitted, chosen in (
        ("1 notch", 0.55, 0.68, 12.71, False, False, False, False),
        ("2 notches", 0.65, 0.78, 12.42, True, True, False, True),
        ("3 notches", 0.75, 0.88, 12.14, True, True, True, False),
    )
)
TREND = Trend(
    "leak-down",
    "leak-down",
    at(cylinder=3),
    "CV4-018 442",
    "%",
    1,
    tuple(h * HOUR for h in (210.0, 405.0, 640.0, 812.0)),
    (0.06, 0.09, 0.13, 0.175),
    (0.004, 0.004, 0.004, 0.004),
    ("HW-2023-110", "HW-2024-071", "HW-2025-052", "HW-2026-031"),
    (),
    0.018,
    0.0001885 / HOUR,
    tuple(h * HOUR for h in (210.0, 500.0, 812.0, 1000.0)),
    (0.04, 0.098, 0.155, 0.185),
    (0.075, 0.128, 0.188, 0.228),
    0.20,
    965.0 * HOUR,
    880.0 * HOUR,
    1080.0 * HOUR,
    f"limit expected in about 153 h (95 %: 68 to 268 h); {EVEN}",
)
