"""One assessment built by hand: an inline four with a worn third cylinder, so that every part of a page has content."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from inspect_report.advise.advice import Advice, Diagnosis, Estimate, EstimateLine, Evidence, Total, WorkItem
from inspect_report.assessment import FORMAT, Assessment, CautionText
from inspect_report.judge.finding import (
    Finding,
    Grade,
    Judged,
    Limit,
    Outlying,
    PastReading,
    Seen,
    Trend,
    Verdict,
)
from inspect_report.knowledge.case import BookFile, Origin
from inspect_report.measure.derived import Derived, GasketChoice, Measured, ShimChoice
from inspect_report.records.checklist import Checklist
from inspect_report.records.inspection import (
    Answer,
    Inspection,
    InspectionHead,
    InstrumentUsed,
    Rating,
    Reading,
)
from inspect_report.records.position import Position, finding_id
from inspect_report.records.problem import Place
from inspect_report.records.quantity import Quantity, si, unit_named
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.workshop import Workshop

HOUR = 3600.0
PLACE = Place("inspection.yaml", 40, 9, "readings")
MANUAL = "Corvane CV4 workshop manual"

SHEET = SpecSheet.model_validate(
    {
        "spec-sheet": "corvane-cv4",
        "version": 3,
        "maker": "Corvane",
        "model": "CV4",
        "manual": MANUAL,
        "layout": {
            "strokes": 4,
            "cylinders": 4,
            "valves": {"inlet": 2, "exhaust": 2},
            "valve-actuation": "shim under bucket",
            "timing-drive": "chain",
            "lubrication": "wet sump",
            "clutch": "wet multi-plate",
            "camshafts": ["inlet", "exhaust"],
            "counts": {"main-journal": 5, "crankpin": 4},
        },
        "geometry": {"bore": "67 mm", "stroke": "42.5 mm"},
    }
)
CHECKLIST = Checklist.model_validate(
    {
        "checklist": "four-stroke",
        "version": 2,
        "title": "Four-stroke",
        "workbook": "four-stroke",
        "axes": {"height": ["top", "middle", "bottom"], "axis": ["along", "across"]},
        "sections": [
            {
                "id": "leak-down",
                "title": "Leak-down",
                "assembly": "top-end",
                "items": [
                    {"id": "leak-down-cylinder", "asks": "cylinder gauge", "kind": "reading", "unit": "bar", "axes": ["cylinder"]},
                    {"id": "leak-down-heard", "asks": "where air is heard", "kind": "choice", "axes": ["cylinder"], "options": {"none": "-", "crankcase": "-", "exhaust": "-"}},
                ],
            },
            {
                "id": "cylinders",
                "title": "Cylinders",
                "assembly": "cylinders",
                "items": [
                    {"id": "bore-diameter", "asks": "bore diameter", "kind": "reading", "unit": "mm", "axes": ["cylinder", "height", "axis"]},
                    {"id": "crown-state", "asks": "piston crown", "kind": "rating", "axes": ["cylinder"], "damage": ["scuffing", "carbon deposit"]},
                ],
            },
        ],
    }
)  # fmt: skip
WORKSHOP = Workshop.model_validate(
    {
        "workshop": "Harbour Lane Engine Works",
        "version": 4,
        "address": "7 Harbour Lane\nNorthport NP4 2AB",
        "phone": "01632 960 410",
        "email": "bench@harbourlane.example",
        "labour-rate": "72",
        "currency": "GBP",
        "tax": {"name": "VAT", "rate": "20 %"},
        "terms": "Prices hold for **30 days**.",
    }
)
NOTES = """Engine turned freely by hand when received.

# Oil
The oil drained was *dark* but not thin; see [the oil page](https://harbourlane.example/oil).

1. Strainer clean.
2. Magnet with fine fur only.

<script>alert(1)</script>
"""


def a_head(**changes: Any) -> InspectionHead:
    """The head of the inspection, with some keys replaced."""
    return InspectionHead.model_validate(
        {
            "inspection": "HW-2026-031",
            "issue": 2,
            "replaces": {"issue": 1, "reason": "price of pistons corrected"},
            "report": "rebuild quote",
            "depth": "fully stripped",
            "checklist": "four-stroke",
            "spec-sheet": "books/corvane-cv4.yaml",
            "workshop": "workshop.yaml",
            "dates": {"received": "2026-03-02", "inspected": "2026-03-05", "issued": "2026-03-09"},
            "customer": {"name": "Alba Quillfeather", "address": "Mill Cottage, Northport"},
            "inspector": {"name": "Ivo Marrable", "qualification": "engine builder"},
            "place": "Bench 2, Harbour Lane",
            "engine": {
                "maker": "Corvane",
                "model": "CV4",
                "serial": "CV4-018 442",
                "machine": "Corvane Strand 600, frame 77120",
                "running-time": "812 h",
                "distance": "41 200 km",
                "history": "always serviced on time; used oil since last summer",
            },
            "reason": "uses oil and smokes on the overrun: what is wrong, and what would it cost?",
            "conditions": {"ambient-temperature": "19 °C", "ambient-pressure": "1002 hPa", "engine": "cold"},
            "instruments": {
                "bore-gauge": {
                    "kind": "bore gauge",
                    "resolution": 0.001,
                    "permissible-error": 0.003,
                    "serial": "BG-2",
                    "calibrated": "2026-01-15",
                    "calibration-due": "2027-01-15",
                },
                "feelers": {"kind": "feeler gauge", "resolution": "0.01 mm"},
                "leak-tester": {"kind": "leak-down tester", "unit": "bar", "resolution": 0.02, "orifice": "1 mm", "serial": "L-7", "calibrated": "2025-11-03"},
            },
            "notes": NOTES,
            **changes,
        }
    )  # fmt: skip


def at(**labels: str | int) -> Position:
    """A place from labels by axis."""
    return Position(tuple(k.replace("_", "-") for k in labels), tuple(str(v) for v in labels.values()))


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
        id=finding_id(characteristic, position), characteristic=characteristic, name=name, position=position,
        assembly=assembly, verdict=verdict, reason=reason or f"{verdict} by its limit", unit=unit, decimals=decimals,
        quantity=quantity, limit=row, used=used, inside=inside, **more,
    )  # fmt: skip


def _leak_down() -> Iterable[Finding]:
    row = limit("%", new=(None, 5.0), high=20.0, origin="common practice")
    for n, value, verdict, used in (
        (1, 6.3, Verdict.SERVICEABLE, 0.09), (2, 7.0, Verdict.SERVICEABLE, 0.13), (3, 35.0, Verdict.BEYOND_LIMIT, 2.0),
        (4, 6.7, Verdict.SERVICEABLE, 0.11),
    ):  # fmt: skip
        yield found(
            "leak-down", "leak-down", "top-end", at(cylinder=n), verdict, value, 0.35, unit="%", decimals=1, row=row,
            used=used, formula="leak_percent", readings=(f"leak-down-cylinder.{n}",), inputs=(PLACE,),
            instruments=("leak-tester",),
        )  # fmt: skip


GAPS = {
    1: (0.14, 0.15, 0.24, 0.26), 2: (0.13, 0.14, 0.25, 0.23), 3: (0.12, 0.15, 0.17, 0.24), 4: (0.15, 0.16, 0.22, 0.25),
}  # fmt: skip


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
                "valve-clearance", "valve clearance", "top-end", at(cylinder=cylinder, valve=valve), verdict, gap, 0.006,
                row=limit("mm", low=low, high=high, page="3-8", wears="either"), formula="reading",
                instruments=("feelers",), reason="inside, but the measuring uncertainty of ±0.012 mm reaches over the limit",
            )  # fmt: skip


def _bores() -> Iterable[Finding]:
    row = limit("mm", new=(0.0, 0.012), high=0.08, page="5-4")
    for n, value, verdict, used in (
        (1, 0.021, Verdict.SERVICEABLE, 0.13), (2, 0.018, Verdict.SERVICEABLE, 0.09), (3, 0.096, Verdict.BEYOND_LIMIT, 1.24),
        (4, 0.066, Verdict.MARGINAL, 0.79),
    ):  # fmt: skip
        yield found(
            "bore-wear", "bore wear", "cylinders", at(cylinder=n), verdict, value, 0.0018, decimals=3, row=row, used=used,
            formula="bore_wear", instruments=("bore-gauge",), inputs=(PLACE,),
            readings=tuple(r.position.id and f"bore-diameter.{r.position.id}" for r in bore_readings() if r.position.labels[0] == str(n)),
        )  # fmt: skip


def bore_readings() -> tuple[Reading, ...]:
    """Diameters at three heights in two directions."""
    top = {1: (21, 15), 2: (18, 12), 3: (96, 71), 4: (66, 44)}
    return tuple(
        Reading("bore-diameter", at(cylinder=n, height=h, axis=a), (si(67.0 + share * v / 1000, "mm"),), "length",
                (f"{67.0 + share * v / 1000:.3f}",), "bore-gauge", PLACE)
        for n, ways in top.items()
        for h, share in (("top", 1.0), ("middle", 0.55), ("bottom", 0.2))
        for a, v in zip(("across", "along"), ways, strict=True)
    )  # fmt: skip


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
        "crown-state", "piston crown", "cylinders", at(cylinder=3), Verdict.MARGINAL, reason="scuffing, grade 3 of 5",
        seen=(Seen("scuffing", 2, 3, None, "thrust side, from the oil ring down"),),
    )  # fmt: skip
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
            "main-clearance", "main bearing clearance", "crankshaft", at(main_journal=n), Verdict.AS_NEW, 0.030 + 0.001 * n, 0.002,
            decimals=3, row=limit("mm", new=(0.020, 0.044), high=0.06, page="6-3"), used=0.0, formula="oil_clearance",
        )  # fmt: skip


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
    made = [*_leak_down(), *_valves(), *_bores(), *_sights(), *_absent()]
    return tuple(
        sorted(
            made,
            key=lambda f: ("top-end", "cylinders", "crankshaft", "lubrication", "clutch").index(f.assembly),
        )
    )


GRADES = (
    Grade("top-end", "Top end", "unserviceable", 58.0, 20, 24, 0, ("leak-down.3", "valve-clearance.3.exhaust-1"), ()),
    Grade("cylinders", "Cylinders and pistons", "unserviceable", 41.0, 8, 12, 0, ("bore-wear.3",), ("scuffed piston: at most unserviceable",)),
    Grade("crankshaft", "Crankshaft and bearings", "as new", 100.0, 5, 9, 3),
    Grade("lubrication", "Lubrication", "serviceable", 80.0, 1, 2, 0),
    Grade("clutch", "Clutch", "not graded", None, 0, 1, 4),
)  # fmt: skip


def _diagnoses() -> tuple[Diagnosis, ...]:
    return (
        Diagnosis(
            "worn-bore.3", "worn-bore", at(cylinder=3), "Air passes the rings of cylinder 3 because bore and piston are worn",
            "A large leak that is heard in the crankcase goes past the rings; a bore beyond its limit lets them.",
            (
                Evidence("leak-down beyond its limit", ("leak-down.3",)),
                Evidence("air heard in the crankcase", ()),
                Evidence("bore wear beyond its limit", ("bore-wear.3",)),
            ),
            ("a broken ring", "a stuck ring"), "the rings, once they are off and cleaned", ("rebore",), "before running",
            "the piston can seize and take the rod with it; oil use grows", "common practice",
        ),
    )  # fmt: skip


def _work() -> tuple[WorkItem, ...]:
    return (
        WorkItem("rebore", "Rebore and fit oversize pistons", "The bores are machined to the next size and new pistons are fitted.",
                 (at(cylinder=3), at(cylinder=4)), ("worn-bore.3", "bore-wear.3"), "before running", ("head-off", "barrels-off"), Decimal("4.5"),
                 "oil use grows until a piston seizes"),
        WorkItem("set-valve-gaps", "Set valve clearances", "Shims are changed so that every valve closes fully and opens at its time.",
                 (at(cylinder=3, valve="exhaust-1"),), ("valve-clearance.3.exhaust-1",), "before running", ("cam-cover-off", "camshafts-out"), Decimal("1.2"),
                 "the valve burns"),
        WorkItem("hone", "Hone bores and fit rings", "", (at(cylinder=3),), ("leak-down.3",), "before running", (), Decimal(0), covered_by="rebore"),
        WorkItem("new-chain", "Fit a new timing chain", "The chain is replaced with its guides.", (Position(),), ("bore-wear.4",), "at this opening", (), Decimal("0.8")),
        WorkItem("watch-mains", "Measure the main bearings again", "", (Position(),), ("main-clearance.5",), "next opening", (), Decimal(0)),
    )  # fmt: skip


def _estimate() -> Estimate:
    rate = Decimal(72)

    def work(kind: str, id_: str, name: str, hours: str) -> EstimateLine:
        return EstimateLine(kind, id_, name, Decimal(hours), rate, rate * Decimal(hours), ("rebore",))

    def part(id_: str, name: str, count: int, each: str | None, kind: str = "part") -> EstimateLine:
        price = None if each is None else Decimal(each)
        return EstimateLine(
            kind, id_, name, Decimal(count), price, None if price is None else price * count, ("rebore",)
        )

    def total(id_: str, title: str, *lines: EstimateLine) -> Total:
        net = sum((line.price for line in lines if line.price is not None), Decimal(0))
        tax = (net * Decimal("0.2")).quantize(Decimal("0.01"))
        return Total(id_, title, lines, net, tax, net + tax, sum(line.price is None for line in lines))

    return Estimate(
        "GBP", "VAT", Decimal("0.2"), rate,
        (
            total(
                "must", "must", work("access", "cam-cover-off", "cam cover off and on", "0.8"),
                work("access", "head-off", "head off and on", "2.5"), work("access", "barrels-off", "barrels off and on", "1.5"),
                work("work", "rebore", "rebore and fit oversize pistons", "4.5"), work("work", "set-valve-gaps", "set valve clearances", "1.2"),
                part("piston-oversize", "piston, oversize, with rings and pin", 4, "118.40"), part("head-gasket", "head gasket", 1, "64.00"),
                part("rebore-machining", "boring and honing of a bore", 4, None, "machine shop"),
            ),
            total("advised", "advised", work("work", "new-chain", "fit a new timing chain", "0.8"), part("cam-chain", "timing chain", 1, "86.50")),
            total("can wait", "can wait"),
        ),
    )  # fmt: skip


SHIMS = tuple(
    ShimChoice(at(cylinder=c, valve=v), gap / 1000, 2.60e-3, low / 1000 + 0.05e-3, low / 1000, high / 1000, exact / 1000,
               size / 1000 if size else None, after / 1000 if after else None, change, note)
    for c, v, gap, low, high, exact, size, after, change, note in (
        (3, "inlet-1", 0.12, 0.11, 0.20, 2.565, 2.55, 0.17, True, ""),
        (3, "inlet-2", 0.15, 0.11, 0.20, 2.595, None, 0.15, False, ""),
        (3, "exhaust-1", 0.17, 0.21, 0.30, 2.515, 2.50, 0.27, True, "from the box"),
    )
)  # fmt: skip
GASKETS = tuple(
    GasketChoice(grade, t / 1000, s / 1000, ratio, 0.75e-3, 12.6, s_ok, r_ok, fitted, chosen)
    for grade, t, s, ratio, s_ok, r_ok, fitted, chosen in (
        ("1 notch", 0.55, 0.68, 12.71, False, False, False, False),
        ("2 notches", 0.65, 0.78, 12.42, True, True, False, True),
        ("3 notches", 0.75, 0.88, 12.14, True, True, True, False),
    )
)  # fmt: skip
TREND = Trend(
    "leak-down", "leak-down", at(cylinder=3), "CV4-018 442", "%", 1, tuple(h * HOUR for h in (210.0, 405.0, 640.0, 812.0)),
    (0.06, 0.09, 0.13, 0.175), (0.004, 0.004, 0.004, 0.004), ("HW-2023-110", "HW-2024-071", "HW-2025-052", "HW-2026-031"), (),
    0.018, 0.0001885 / HOUR, tuple(h * HOUR for h in (210.0, 500.0, 812.0, 1000.0)), (0.04, 0.098, 0.155, 0.185),
    (0.075, 0.128, 0.188, 0.228), 0.20, 965.0 * HOUR, 880.0 * HOUR, 1080.0 * HOUR, "",
)  # fmt: skip


def an_inspection(**changes: Any) -> Inspection:
    """The inspection as read."""
    leak = {1: "5.62", 2: "5.58", 3: "3.90", 4: "5.60"}
    readings = tuple(
        Reading(
            "leak-down-cylinder",
            at(cylinder=n),
            (si(float(v), "bar"),),
            "pressure",
            (v,),
            "leak-tester",
            PLACE,
        )
        for n, v in leak.items()
    )
    heard = tuple(
        Answer("leak-down-heard", at(cylinder=n), ("crankcase",) if n == 3 else ("none",), PLACE)
        for n in leak
    )
    ratings = tuple(
        Rating(
            "crown-state",
            at(cylinder=n),
            "scuffing" if n == 3 else "",
            2 if n == 3 else 0,
            3 if n == 3 else None,
            None,
            "",
            PLACE,
        )
        for n in leak
    )
    used = (
        InstrumentUsed(
            "bore-gauge",
            "bore gauge",
            "length",
            1e-6,
            3e-6,
            "BG-2",
            date(2026, 1, 15),
            date(2027, 1, 15),
            None,
        ),
        InstrumentUsed(
            "leak-tester", "leak-down tester", "pressure", 2e3, None, "L-7", date(2025, 11, 3), None, 1e-3
        ),
    )
    head = a_head(**changes)
    return Inspection("inspection.yaml", head, used, (*readings, *bore_readings()), ratings, heard)  # fmt: skip


def an_assessment(**changes: Any) -> Assessment:
    """The assessment; keyword arguments replace keys of the inspection's head, written with underscores."""
    made = findings()
    quantities = tuple(
        Derived(f.characteristic, f.position, f.quantity, f.formula, f.readings, f.inputs, f.instruments)
        for f in made
        if f.quantity
    )
    engine = Grade(
        "",
        "Engine",
        "unserviceable",
        61.0,
        34,
        48,
        7,
        ("bore-wear.3",),
        ("cylinder 3: a piston that scuffs can seize",),
        True,
    )
    past = (
        PastReading(
            "HW-2025-052",
            date(2025, 2, 11),
            "CV4-018 442",
            "leak-down",
            at(cylinder=3),
            "CV4-018 442",
            640 * HOUR,
            640 * HOUR,
            Quantity(0.13, 0.004, "ratio"),
        ),
    )
    return Assessment(
        format=FORMAT, program="0.1.0", inspection=an_inspection(**{k.replace("_", "-"): v for k, v in changes.items()}),
        sheet=SHEET, checklist=CHECKLIST, workshop=WORKSHOP,
        books=(BookFile("spec sheet", "corvane-cv4", 3, "9f" * 32), BookFile("rulebook", "engine-builder", 1, "3c" * 32)),
        measured=Measured(quantities, shims=SHIMS, gaskets=GASKETS),
        judged=Judged(made, GRADES, engine, (Outlying("leak-down", at(cylinder=3), 1.49, 1.48, 4),), (TREND,)),
        advice=Advice(_diagnoses(), ("whether the big ends are worn: their clearance was not measured",), _work(), _estimate()),
        past=past, cautions=(CautionText("manual", "The maker's manual rules torque, sequence and one-use parts."), CautionText("asbestos", "Old gaskets and clutch dust may hold asbestos: wet methods, no air line.")),
        plain={"leak-down": "share of test pressure a cylinder loses with its valves closed", "valve-clearance": "gap that lets each valve close fully",
               "bore-wear": "how far a cylinder has grown from its size", "crown-state": "top face of the piston", "main-clearance": "gap for oil around the crankshaft"},
        if_beyond={"leak-down": "the cylinder does not hold its pressure: power is lost and oil is burnt", "bore-wear": "rings cannot seal in a bore this large; oil use and noise grow",
                   "valve-clearance": "the valve does not close fully and burns"},
        assemblies={"top-end": "Head, valves and camshafts: lets mixture in and burnt gas out", "cylinders": "Where the fuel burns and pushes the pistons"},
        damage={"scuffing": "metal smeared where the oil film broke"},
    )  # fmt: skip
