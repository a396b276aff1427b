"""Gives one assessment made by hand, so that every part of a page has content."""

from datetime import date
from typing import Any

from inspect_report.advise.advice import Advice
from inspect_report.assessment import FORMAT, Assessment, CautionText
from inspect_report.judge.finding import (
    Grade,
    Judged,
    Outlying,
    PastReading,
)
from inspect_report.knowledge.case import BookFile
from inspect_report.measure.derived import Derived, Measured
from inspect_report.records.quantity import Quantity
from tests.report.an_inspection import CHECKLIST, HOUR, SHEET, WORKSHOP, an_inspection, at
from tests.report.some_advice import diagnoses, estimate, work
from tests.report.some_findings import GASKETS, GRADES, SHIMS, TREND, findings


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
        format=FORMAT,
        program="0.1.0",
        inspection=an_inspection(**{k.replace("_", "-"): v for k, v in changes.items()}),
        sheet=SHEET,
        checklist=CHECKLIST,
        workshop=WORKSHOP,
        books=(
            BookFile("spec sheet", "corvane-cv4", 3, "9f" * 32),
            BookFile("rulebook", "engine-builder", 1, "3c" * 32),
        ),
        measured=Measured(quantities, shims=SHIMS, gaskets=GASKETS),
        judged=Judged(
            made, GRADES, engine, (Outlying("leak-down", at(cylinder=3), 1.49, 1.48, 4),), (TREND,)
        ),
        advice=Advice(
            diagnoses(),
            ("whether the big ends are worn: their clearance was not measured",),
            work(),
            estimate(),
        ),
        past=past,
        cautions=(
            CautionText("manual", "The maker's manual rules torque, sequence and one-use parts."),
            CautionText(
                "asbestos", "Old gaskets and clutch dust may hold asbestos: wet methods, no air line."
            ),
        ),
        plain={
            "leak-down": "share of test pressure a cylinder loses with its valves closed",
            "valve-clearance": "gap that lets each valve close fully",
            "bore-wear": "how far a cylinder has grown from its size",
            "crown-state": "top face of the piston",
            "main-clearance": "gap for oil around the crankshaft",
        },
        if_beyond={
            "leak-down": "the cylinder does not hold its pressure: power is lost and oil is burnt",
            "bore-wear": "rings cannot seal in a bore this large; oil use and noise grow",
            "valve-clearance": "the valve does not close fully and burns",
        },
        assemblies={
            "top-end": "Head, valves and camshafts: lets mixture in and burnt gas out",
            "cylinders": "Where the fuel burns and pushes the pistons",
        },
        damage={"scuffing": "metal smeared where the oil film broke"},
    )
