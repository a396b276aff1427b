"""Turns a few words into the books, quantities and cases that the tests of judging need."""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

from inspect_report.judge.finding import Finding, Limit, Verdict
from inspect_report.knowledge.case import Books, Case, Practice
from inspect_report.knowledge.catalogue import Catalogue, Cautions, Scales, Scoring
from inspect_report.knowledge.rulebook import Rulebook
from inspect_report.knowledge.workbook import Workbook
from inspect_report.measure.derived import Derived
from inspect_report.records.checklist import Checklist
from inspect_report.records.inspection import Answer, Inspection, InspectionHead, Rating
from inspect_report.records.position import ENGINE, Position, finding_id
from inspect_report.records.problem import Place
from inspect_report.records.quantity import Quantity, si
from inspect_report.records.shape import read_file
from inspect_report.records.specsheet import Characteristic, SpecSheet
from inspect_report.records.workshop import DecisionRule, Workshop

Row = Mapping[str, Any]
HERE = Place("made.yaml", 1, 1)
RULE = DecisionRule()
SIMPLE = DecisionRule(kind="simple acceptance")

BOOKS: dict[str, Any] = read_file(Path(__file__).with_name("made.yaml")).data  # type: ignore[assignment]
ASSEMBLY_OF = {k["id"]: k["assembly"] for k in BOOKS["catalogue"]["characteristics"]}


def a_sheet(rows: Iterable[Row] = (), **layout: object) -> SpecSheet:
    """A spec sheet of a four-cylinder engine with some rows."""
    return SpecSheet.model_validate(
        {
            "spec-sheet": "made",
            "version": 1,
            "maker": "Corvane",
            "model": "600",
            "manual": "Workshop manual",
            "layout": {
                "strokes": 4,
                "cylinders": 4,
                "valve-actuation": "shim under bucket",
                "lubrication": "wet sump",
                "counts": {"main-journal": 10},
                **layout,
            },
            "characteristics": list(rows),
        }
    )


def some_books(
    rows: Iterable[Row] = (), *, practice: Iterable[Row] = (), rule: DecisionRule = RULE, **layout: object
) -> Books:
    """The books of the made engine."""
    return Books(
        sheet=a_sheet(rows, **layout),
        checklist=Checklist.model_validate(BOOKS["checklist"]),
        workshop=Workshop(workshop="Bench", version=1, labour_rate=Decimal(80), decision_rule=rule),
        catalogue=Catalogue.model_validate(BOOKS["catalogue"]),
        scales=Scales.model_validate(BOOKS["scales"]),
        scoring=Scoring.model_validate(BOOKS["scoring"]),
        practice=Practice.model_validate(
            {"practice": "made", "version": 1, "characteristics": list(practice)}
        ),
        rulebook=Rulebook(rulebook="made", version=1, rules=()),
        workbook=Workbook(workbook="made", version=1, title="Made", access=(), jobs=()),
        cautions=Cautions(cautions="made", version=1, list=()),
    )


def a_case(
    books: Books | None = None,
    *,
    ratings: Sequence[Rating] = (),
    answers: Sequence[Answer] = (),
    **head: object,
) -> Case:
    """An inspection of the made engine with its books."""
    engine = {"maker": "Corvane", "model": "600", "serial": "E-1"}
    given = {
        "inspection": "HW-1", "report": "rebuild quote", "depth": "fully stripped",
        "checklist": "made", "spec-sheet": "made", "workshop": "made",
        "dates": {"inspected": "2026-03-05", "issued": "2026-03-09"},
        "customer": {"name": "A"}, "inspector": {"name": "B"}, "place": "Bench", "reason": "Rebuild?",
    }  # fmt: skip
    written = {key.replace("_", "-"): value for key, value in head.items()}
    written["engine"] = {**engine, **(written.get("engine") or {})}  # type: ignore[dict-item]
    inspection = Inspection(
        file="made.yaml",
        head=InspectionHead.model_validate(given | written),
        instruments=(),
        readings=(),
        ratings=tuple(ratings),
        answers=tuple(answers),
    )
    return Case(inspection, books or some_books())


def a_row(**fields: object) -> Characteristic:
    """A row of a limit table, in mm unless said otherwise."""
    return Characteristic.model_validate(
        {"id": "bore-wear", **{k.replace("_", "-"): v for k, v in fields.items()}}
    )


def mm(value: float, u: float = 0.0) -> Quantity:
    """A length given in mm."""
    return Quantity(value * 1e-3, u * 1e-3, "length")


def at(**labels: object) -> Position:
    """A place by its axes, ``at(cylinder=2)``."""
    return Position(tuple(a.replace("_", "-") for a in labels), tuple(str(n) for n in labels.values()))


def derived(characteristic: str, position: Position, quantity: Quantity, formula: str = "reading") -> Derived:
    """A quantity at a place."""
    return Derived(
        characteristic, position, quantity, formula, (finding_id(characteristic, position),), (HERE,)
    )


def a_rating(item: str, position: Position, damage: str = "", amount: int = 0, **steps: Any) -> Rating:
    """What was seen at a place."""
    size, strength = steps.get("size"), steps.get("strength")
    note, by = steps.get("note", ""), steps.get("by", "")
    return Rating(item, position, damage, amount, size, strength, note, HERE, by)


def an_answer(item: str, *chosen: str, position: Position = ENGINE) -> Answer:
    """What was answered at a place."""
    return Answer(item, position, chosen, HERE)


def a_limit(**ends: Any) -> Limit:
    """A limit with ends in mm."""
    lengths = {k: si(v, "mm") for k, v in ends.items() if isinstance(v, float | int) and k != "watch"}
    empty: dict[str, Any] = dict.fromkeys(("standard_low", "standard_high", "low", "high"))
    plain: dict[str, Any] = {
        "wears": "up", "watch": 0.75, "unit": "mm",
        "source": "Manual, p. 1", "sure": "seen", "origin": "spec sheet",
    }  # fmt: skip
    return Limit(**(empty | plain | ends | lengths))


def a_finding(characteristic: str, verdict: Verdict, position: Position = ENGINE, **rest: Any) -> Finding:
    """A finding with a verdict."""
    assembly = ASSEMBLY_OF.get(characteristic, "crankshaft")
    return Finding(
        finding_id(characteristic, position),
        characteristic,
        characteristic,
        position,
        assembly,
        verdict,
        "",
        **rest,
    )
