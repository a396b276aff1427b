"""Turns a few lines into a whole case: an inline four with small books, enough for rules, work and money."""

from collections.abc import Iterable, Mapping
from datetime import date
from decimal import Decimal
from typing import Any, Final

from inspect_report.advise.access import steps_for
from inspect_report.advise.advice import WorkItem
from inspect_report.judge.finding import Finding, Grade, Judged, PastReading, Verdict
from inspect_report.knowledge.case import Books, Case, Practice
from inspect_report.knowledge.catalogue import Catalogue, Cautions, Scales, Scoring, Urgency
from inspect_report.knowledge.rulebook import Rule, Rulebook
from inspect_report.knowledge.workbook import Workbook
from inspect_report.records.checklist import Checklist
from inspect_report.records.inspection import Answer, Inspection, InspectionHead, Rating
from inspect_report.records.position import ENGINE, Position, finding_id
from inspect_report.records.problem import Place
from inspect_report.records.quantity import Quantity, read_amount, unit_named
from inspect_report.records.specsheet import Layout, SpecSheet
from inspect_report.records.workshop import Workshop

NOWHERE: Final = Place("test.yaml", 1, 1)
FOUR: Final[dict[str, Any]] = {
    "strokes": 4,
    "cylinders": 4,
    "arrangement": "inline",
    "valves": {"inlet": 2, "exhaust": 2},
    "valve-actuation": "shim under bucket",
    "timing-drive": "chain",
    "lubrication": "wet sump",
    "cooling": "air",
    "clutch": "wet multi-plate",
    "camshafts": ("inlet", "exhaust"),
    "counts": {"fork": 3},
}

ACCESS: Final[tuple[dict[str, Any], ...]] = (
    {"id": "plugs-out", "name": "Plugs out", "opening": "0.2", "closing": "0.3"},
    {
        "id": "cover-off",
        "name": "Cam cover off",
        "opening": "0.5",
        "closing": "0.5",
        "parts": ({"part": "cover-gasket", "name": "Cover gasket"},),
    },
    {"id": "cams-out", "name": "Camshafts out", "behind": ("cover-off",), "opening": "0.4", "closing": "0.8"},
    {
        "id": "head-off",
        "name": "Head off",
        "behind": ("cams-out", "plugs-out"),
        "opening": "1.5",
        "closing": "2.0",
        "parts": (
            {"part": "head-gasket", "name": "Head gasket"},
            {"part": "stem-seal", "name": "Stem seal", "per": "valve"},
        ),
    },
    {
        "id": "sump-off",
        "name": "Sump off",
        "opening": "0.6",
        "closing": "0.7",
        "parts": ({"part": "sump-gasket", "name": "Sump gasket"},),
    },
    {
        "id": "radiator-off",
        "name": "Radiator off",
        "opening": "9",
        "closing": "9",
        "applies": {"cooling": "liquid"},
        "behind": ("plugs-out",),
    },
)
JOBS: Final[tuple[dict[str, Any], ...]] = (
    {
        "id": "set-gaps",
        "name": "Set valve gaps",
        "access": ("cams-out",),
        "hours": "0.25",
        "per": "place",
        "parts": ({"part": "shim", "name": "Shim"},),
    },
    {
        "id": "reseat",
        "name": "Reseat valves",
        "access": ("head-off",),
        "hours": "1.2",
        "per": "place",
        "covers": ("set-gaps",),
        "parts": ({"part": "seat-work", "name": "Seats cut", "machine-shop": True},),
    },
    {
        "id": "chain",
        "name": "Renew chain",
        "access": ("cams-out",),
        "hours": "1.5",
        "parts": ({"part": "cam-chain", "name": "Cam chain"},),
    },
    {"id": "clean-crowns", "name": "Clean crowns", "access": ("head-off",), "hours": "0.3", "per": "place"},
    {
        "id": "pistons",
        "name": "Renew pistons",
        "access": ("head-off",),
        "hours": "2",
        "covers": ("clean-crowns",),
        "parts": ({"part": "piston-kit", "name": "Piston kit", "per": "cylinder"},),
    },
    {
        "id": "strainer",
        "name": "Clean strainer",
        "access": ("sump-off",),
        "hours": "0.4",
        "parts": (
            {"part": "sump-gasket", "name": "Sump gasket"},
            {"part": "oil", "name": "Oil, litre", "quantity": "3.6", "per": "job"},
        ),
    },
    {
        "id": "find-source",
        "name": "Find the source of debris",
        "access": ("sump-off",),
        "hours": "2",
        "priced": False,
    },
    {
        "id": "pump",
        "name": "Renew coolant pump",
        "access": ("radiator-off",),
        "hours": "2",
        "applies": {"cooling": "liquid"},
    },
)
PRICES: Final = {
    "cover-gasket": "18.40",
    "head-gasket": "64.95",
    "stem-seal": "3.15",
    "sump-gasket": "12.05",
    "shim": "6.90",
    "seat-work": "27.50",
    "cam-chain": "88.00",
    "oil": "11.37",
}

CHARACTERISTICS: Final[tuple[dict[str, Any], ...]] = (
    {
        "id": "leak-down",
        "name": "Leak-down",
        "unit": "%",
        "decimals": 0,
        "axes": ("cylinder",),
        "needs": ("leak-gauge",),
        "work": ({"job": "pistons", "urgency": "at this opening"},),
    },
    {
        "id": "valve-clearance",
        "name": "Valve gap",
        "unit": "mm",
        "axes": ("cylinder", "valve"),
        "work": (
            {
                "job": "set-gaps",
                "urgency": "at this opening",
                "verdicts": ("beyond limit", "undecided", "marginal"),
            },
        ),
    },
    {
        "id": "chain-length",
        "name": "Chain length",
        "unit": "mm",
        "work": ({"job": "chain", "urgency": "next opening"},),
    },
    {"id": "coolant-pressure", "name": "Coolant pressure", "unit": "bar", "applies": {"cooling": "liquid"}},
)
ITEMS: Final[tuple[dict[str, Any], ...]] = (
    {"id": "leak-gauge", "asks": "Read it", "kind": "reading", "axes": ("cylinder",), "unit": "bar"},
    {
        "id": "leak-heard",
        "asks": "Listen",
        "kind": "choice",
        "axes": ("cylinder",),
        "several": True,
        "options": {"none": "-", "inlet": "-", "exhaust": "-", "crankcase": "-", "next cylinder": "-"},
    },
    {"id": "valve-clearance", "asks": "Gap", "kind": "reading", "axes": ("cylinder", "valve"), "unit": "mm"},
    {"id": "chain-length", "asks": "Length", "kind": "reading", "unit": "mm"},
    {
        "id": "crown-state",
        "asks": "Look",
        "kind": "rating",
        "axes": ("cylinder",),
        "damage": ("carbon", "scuffing"),
    },
    {
        "id": "bubbles",
        "asks": "Bubbles?",
        "kind": "choice",
        "options": {"none": "as new", "yes": "beyond limit"},
        "applies": {"cooling": "liquid"},
    },
)


def catalogue() -> Catalogue:
    """A characteristics book of four entries."""
    known = [
        {"assembly": "engine", "plain": f"{c['name']}.", "if-beyond": "It gets worse.", **c}
        for c in CHARACTERISTICS
    ]
    assembly = {"id": "engine", "name": "Engine", "plain": "The engine."}
    return Catalogue.model_validate(
        {"characteristics-book": "small", "version": 1, "assemblies": [assembly], "characteristics": known}
    )


def checklist() -> Checklist:
    """A checklist of six items; the top end stands open when the head is off."""
    return Checklist.model_validate(
        {
            "checklist": "small",
            "version": 1,
            "title": "Small",
            "workbook": "small",
            "opened": {"in the frame": ["cover-off"], "top end off": ["head-off"]},
            "sections": [{"id": "everything", "title": "Everything", "assembly": "engine", "items": ITEMS}],
        }
    )


def workbook(
    access: Iterable[Mapping[str, Any]] = ACCESS, jobs: Iterable[Mapping[str, Any]] = JOBS
) -> Workbook:
    """A workbook, by default of six steps and eight jobs."""
    full = [{"plain": f"{j['id']}.", **j} for j in jobs]
    return Workbook.model_validate(
        {"workbook": "small", "version": 1, "title": "Small", "access": list(access), "jobs": full}
    )


def rule(**changes: Any) -> Rule:
    """A rule for each cylinder: leak-down beyond limit with air at the exhaust."""
    plain: dict[str, Any] = {
        "id": "exhaust-leak",
        "finding": "Air escapes past the exhaust valves of cylinder {cylinder}",
        "why": "Heard there.",
        "for": "cylinder",
        "work": ["reseat"],
        "urgency": "before running",
        "if-left": "The valve of cylinder {cylinder} burns.",
        "when": {
            "all": [
                {"quantity": "leak-down", "verdict": ["beyond limit"]},
                {"choice": "leak-heard", "answer": ["exhaust"]},
            ]
        },
        "cases": [
            {"given": {"leak-down": {3: "beyond limit"}, "leak-heard": {3: ["exhaust"]}}, "fires": [3]},
            {"given": {"leak-down": {3: "as new"}, "leak-heard": {3: ["exhaust"]}}, "fires": []},
        ],
    }
    return Rule.model_validate(plain | changes)


def books(
    *rules: Rule,
    layout: Mapping[str, Any] = FOUR,
    shop: Mapping[str, Any] | None = None,
    work: Workbook | None = None,
) -> Books:
    """Small books around some rules."""
    sheet = {
        "spec-sheet": "small",
        "version": 1,
        "maker": "Invented",
        "model": "Four",
        "layout": dict(layout),
    }
    workshop = {
        "workshop": "Invented",
        "version": 1,
        "labour-rate": "72.50",
        "tax": {"name": "VAT", "rate": "19 %"},
        "prices": PRICES,
    }
    return Books(
        sheet=SpecSheet.model_validate(sheet),
        checklist=checklist(),
        workshop=Workshop.model_validate(workshop | dict(shop or {})),
        catalogue=catalogue(),
        scales=Scales.model_validate({"scales": "small", "version": 1, "steps": ["-"] * 6, "words": []}),
        scoring=Scoring.model_validate(
            {"scoring": "small", "version": 1, "grade-of": {}, "left-of": {}, "caps": []}
        ),
        practice=Practice.model_validate({"practice": "small", "version": 1, "characteristics": []}),
        rulebook=Rulebook.model_validate({"rulebook": "small", "version": 1, "rules": rules}),
        workbook=work or workbook(),
        cautions=Cautions.model_validate({"cautions": "small", "version": 1, "list": []}),
    )


def case(
    *rules: Rule,
    depth: str = "in the frame",
    ratings: Iterable[Rating] = (),
    answers: Iterable[Answer] = (),
    head: Mapping[str, Any] | None = None,
    **of_books: Any,
) -> Case:
    """An inspection of the small engine by the small books."""
    told = {
        "inspection": "T-1",
        "report": "rebuild quote",
        "depth": depth,
        "checklist": "small",
        "spec-sheet": "s.yaml",
        "workshop": "w.yaml",
        "dates": {"inspected": "2026-03-05", "issued": "2026-03-09"},
        "customer": {"name": "A"},
        "inspector": {"name": "B"},
        "place": "Bench",
        "engine": {"maker": "I", "model": "F", "serial": "E-1"},
        "reason": "To see.",
    }
    made = InspectionHead.model_validate(told | dict(head or {}))
    inspection = Inspection("test.yaml", made, (), (), tuple(ratings), tuple(answers))
    return Case(inspection, books(*rules, **of_books))


def at(*labels: str | int) -> Position:
    """A cylinder, or a valve of a cylinder; without labels the engine."""
    return Position(("cylinder", "valve")[: len(labels)], tuple(str(n) for n in labels)) if labels else ENGINE


def finding(characteristic: str, place: Position, verdict: str, amount: str = "", side: str = "") -> Finding:
    """A finding of a characteristic of the small catalogue."""
    known = catalogue().known(characteristic)
    name, unit, decimals = (known.name, known.unit, known.decimals) if known else (characteristic, "", 0)
    quantity = Quantity(read_amount(amount, unit), 0.0, unit_named(unit).dimension) if amount else None
    return Finding(
        finding_id(characteristic, place),
        characteristic,
        name,
        place,
        "engine",
        Verdict(verdict),
        "",
        unit,
        decimals,
        quantity,
        side=side,
    )


def judged(*findings: Finding) -> Judged:
    """Findings without grades."""
    return Judged(findings, (), Grade("", "Engine", "not graded", None, 0, 0, 0))


def answer(item: str, place: Position, *chosen: str) -> Answer:
    """An answered item."""
    return Answer(item, place, chosen, NOWHERE)


def rating(item: str, place: Position, damage: str = "", amount: int = 0, size: int | None = None) -> Rating:
    """A rated place."""
    return Rating(item, place, damage, amount, size, None, "", NOWHERE)


def earlier(characteristic: str, place: Position, amount: str, part: str = "E-1") -> PastReading:
    """A quantity of the inspection before."""
    unit = finding(characteristic, place, "as new").unit
    quantity = Quantity(read_amount(amount, unit), 0.0, unit_named(unit).dimension)
    return PastReading("T-0", date(2026, 1, 2), "E-1", characteristic, place, part, None, None, quantity)


def item(job: str, urgency: Urgency, *places: Position, of: Workbook | None = None) -> WorkItem:
    """A job of a workbook as planned work, with all its access and with hours for its places."""
    book = of or workbook()
    made = next(j for j in book.jobs if j.id == job)
    spots = places or (ENGINE,)
    hours = made.hours * (len(spots) if made.per == "place" else 1)
    access = steps_for(made.access, book, Layout.model_validate(FOUR))
    return WorkItem(
        job, made.name, made.plain, spots, (), urgency, tuple(s.id for s in access), Decimal(hours)
    )
