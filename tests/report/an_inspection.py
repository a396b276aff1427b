"""Gives the inspection of one inline four with a worn third cylinder, and its small books."""

from datetime import date
from typing import Any

from inspect_report.records.checklist import Checklist
from inspect_report.records.inspection import (
    Answer,
    Inspection,
    InspectionHead,
    InstrumentUsed,
    Rating,
    Reading,
)
from inspect_report.records.position import Position
from inspect_report.records.problem import Place
from inspect_report.records.quantity import si
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
                    {"id": "photo-as-received", "asks": "photo as received", "kind": "photo", "front": True},
                    {
                        "id": "leak-down-cylinder",
                        "asks": "cylinder gauge",
                        "kind": "reading",
                        "unit": "bar",
                        "axes": ["cylinder"],
                    },
                    {
                        "id": "leak-down-heard",
                        "asks": "where air is heard",
                        "kind": "choice",
                        "axes": ["cylinder"],
                        "options": {"none": "-", "crankcase": "-", "exhaust": "-"},
                    },
                ],
            },
            {
                "id": "cylinders",
                "title": "Cylinders",
                "assembly": "cylinders",
                "items": [
                    {
                        "id": "bore-diameter",
                        "asks": "bore diameter",
                        "kind": "reading",
                        "unit": "mm",
                        "axes": ["cylinder", "height", "axis"],
                    },
                    {
                        "id": "crown-state",
                        "asks": "piston crown",
                        "kind": "rating",
                        "axes": ["cylinder"],
                        "damage": ["scuffing", "carbon deposit"],
                    },
                ],
            },
        ],
    }
)
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
                "leak-tester": {
                    "kind": "leak-down tester",
                    "unit": "bar",
                    "resolution": 0.02,
                    "orifice": "1 mm",
                    "serial": "L-7",
                    "calibrated": "2025-11-03",
                },
            },
            "notes": NOTES,
            **changes,
        }
    )


def at(**labels: str | int) -> Position:
    """A place from labels by axis."""
    return Position(tuple(k.replace("_", "-") for k in labels), tuple(str(v) for v in labels.values()))


def bore_readings() -> tuple[Reading, ...]:
    """Diameters at three heights in two directions."""
    top = {1: (21, 15), 2: (18, 12), 3: (96, 71), 4: (66, 44)}
    return tuple(
        Reading(
            "bore-diameter",
            at(cylinder=n, height=h, axis=a),
            (si(67.0 + share * v / 1000, "mm"),),
            "length",
            (f"{67.0 + share * v / 1000:.3f}",),
            "bore-gauge",
            PLACE,
        )
        for n, ways in top.items()
        for h, share in (("top", 1.0), ("middle", 0.55), ("bottom", 0.2))
        for a, v in zip(("across", "along"), ways, strict=True)
    )


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
    return Inspection("inspection.yaml", head, used, (*readings, *bore_readings()), ratings, heard)
