"""
Turns a few readings into a case with small books, all made in memory: no file is read.

The engine is an invented four-cylinder four-stroke with two inlet valves and one exhaust valve a cylinder.
Amounts are written as in files, in the unit their item asks for.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import count
from typing import Any, Final

from inspect_report.knowledge.case import Books, Case, Practice
from inspect_report.knowledge.catalogue import Catalogue, Cautions, Scales, Scoring
from inspect_report.knowledge.rulebook import Rulebook
from inspect_report.knowledge.workbook import Workbook
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
from inspect_report.records.quantity import read_amount, read_difference, unit_named
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.workshop import Workshop

FILE: Final = "small.yaml"
_LINES = count(10)

SHEET: Final[dict[str, Any]] = {
    "spec-sheet": "small-four",
    "version": 1,
    "maker": "Example",
    "model": "Four",
    "manual": "Example manual",
    "layout": {
        "strokes": 4,
        "cylinders": 4,
        "valves": {"inlet": 2, "exhaust": 1},
        "valve-actuation": "shim under bucket",
        "timing-drive": "chain",
        "lubrication": "wet sump",
        "clutch": "wet multi-plate",
        "camshafts": ["inlet", "exhaust"],
        "rings": ["top", "second"],
        "counts": {"main-journal": 5, "crankpin": 4, "friction-plate": 6},
    },
    "geometry": {
        "bore": 67.0,
        "stroke": 42.5,
        "rod-length": 90.0,
        "gasket-bore": 68.0,
        "chamber-volume": 11.0,
        "dome-volume": 0.0,
        "deck-height": 0.20,
        "cam-drive": {"pitch": 6.35, "sprocket-teeth": 34, "strand": {"inlet": 30, "exhaust": 22}},
    },
    "on-sale": {
        "shims": {"first": 1.20, "last": 3.50, "step": 0.05},
        "head-gaskets": [
            {"grade": "2", "thickness": 0.60},
            {"grade": "1", "thickness": 0.50},
            {"grade": "3", "thickness": 0.70},
        ],
    },
    "characteristics": [
        {"id": "valve-clearance", "standard": [0.10, 0.20], "where": {"valve": "inlet"}, "page": "3-5"},
        {"id": "valve-clearance", "standard": [0.20, 0.30], "where": {"valve": "exhaust"}, "page": "3-5"},
        {
            "id": "bore-wear",
            "standard": [-0.01, 0.015],
            "limit": {"high": 0.10},
            "wears": "up",
            "page": "3-9",
        },
        {"id": "squish-gap", "limit": {"low": 0.80}, "page": "3-7"},
        {"id": "compression-ratio", "unit": "1", "limit": {"high": 11.7}, "page": "3-7"},
        {"id": "starter-brush-length", "name": "starter brush", "standard": [10, 11], "page": "8-2"},
    ],
}

CHECKLIST: Final[dict[str, Any]] = {
    "checklist": "small",
    "version": 1,
    "title": "Small checklist",
    "workbook": "small",
    "axes": {
        "height": ["top", "middle", "bottom"],
        "axis": ["along", "across"],
        "end": ["left", "right"],
        "span": ["a", "b", "c"],
        "point": ["1", "2"],
        "line": ["1", "2"],
        "valve-side": ["inlet", "exhaust"],
    },
}

# Section: its depths, and id, axes, unit and instrument of its items.
_ITEMS: Final[dict[str, tuple[tuple[str, ...], tuple[tuple[str, str, str, str], ...]]]] = {
    "in-frame": (
        ("in the frame", "top end off", "fully stripped", "after assembly"),
        (
            ("leak-down-supply", "cylinder", "bar", "leak-down tester"),
            ("leak-down-cylinder", "cylinder", "bar", "leak-down tester"),
            ("compression-dry", "cylinder", "bar", "compression gauge"),
            ("compression-wet", "cylinder", "bar", "compression gauge"),
            ("valve-clearance", "cylinder valve", "mm", "feeler gauge"),
            ("cranking-speed", "", "rpm", ""),
        ),
    ),
    "stripped": (
        ("top end off", "fully stripped"),
        (
            ("shim-fitted", "cylinder valve", "mm", "micrometer"),
            ("stem-diameter", "cylinder valve", "mm", "micrometer"),
            ("guide-bore", "cylinder valve", "mm", "bore gauge"),
            ("valve-spring-length", "cylinder valve", "mm", "caliper"),
            ("valve-spring-load", "cylinder valve", "N", "spring tester"),
            ("valve-spring-squareness", "cylinder valve", "mm", "feeler gauge"),
            ("cam-check-lift", "", "mm", "dial gauge"),
            ("cam-opening", "cam", "°", "degree disc"),
            ("cam-closing", "cam", "°", "degree disc"),
            ("cam-full-lift", "cam", "°", "degree disc"),
            ("cam-opening-by-side", "cam valve-side", "°", "degree disc"),
            ("cam-closing-by-side", "cam valve-side", "°", "degree disc"),
            ("cam-lobe-height", "cylinder cam", "mm", "micrometer"),
            ("cam-base-circle", "cylinder cam", "mm", "micrometer"),
            ("chain-pitches-measured", "", "", ""),
            ("chain-length", "span", "mm", "caliper"),
            ("chain-pull", "", "N", ""),
            ("tensioner-travel", "", "mm", "caliper"),
            ("head-flatness", "line", "mm", "feeler gauge"),
            ("chamber-volume", "cylinder", "cm³", "burette"),
            ("gasket-grade-fitted", "", "", ""),
            ("gasket-thickness", "point", "mm", "micrometer"),
            ("deck-height", "cylinder point", "mm", "dial gauge"),
            ("bore-diameter", "cylinder height axis", "mm", "bore gauge"),
            ("skirt-diameter", "cylinder", "mm", "micrometer"),
            ("ring-groove-width", "cylinder ring", "mm", "feeler gauge"),
            ("ring-thickness", "cylinder ring", "mm", "micrometer"),
            ("friction-plate-thickness", "friction-plate", "mm", "caliper"),
            ("starter-brush-length", "", "mm", "caliper"),
        ),
    ),
    "cases-split": (
        ("fully stripped",),
        (
            ("crankpin-diameter", "crankpin end axis", "mm", "micrometer"),
            ("big-end-bore", "crankpin", "mm", "bore gauge"),
            ("big-end-strip", "crankpin", "mm", "strip"),
        ),
    ),
}
_KINDS: Final = {"chain-pitches-measured": "count", "gasket-grade-fitted": "text"}
_OPTIONAL: Final = (
    "cranking-speed", "big-end-strip", "valve-spring-length", "valve-spring-load", "valve-spring-squareness",
    "cam-full-lift", "cam-lobe-height", "cam-base-circle", "chain-pull", "tensioner-travel",
    "cam-opening-by-side", "cam-closing-by-side",
)  # fmt: skip

_RATIO, _MM = {"unit": "%", "decimals": 1}, {"unit": "mm", "decimals": 3}
_CYLINDER, _VALVE, _PIN = ("cylinder",), ("cylinder", "valve"), ("crankpin",)
_LEAK, _DRY = ("leak-down-supply", "leak-down-cylinder"), ("compression-dry",)
_CHAIN, _EVENTS = ("chain-length", "chain-pitches-measured"), ("cam-opening", "cam-closing")
_BY_SIDE, _ANGLE = ("cam-opening-by-side", "cam-closing-by-side"), {"unit": "°"}
_BORE, _SQUISH = ("bore-diameter",), ("gasket-thickness", "deck-height")

# Id, axes, items it is made from, and the rest where it is not a length judged as read.
_KNOWN: Final[tuple[tuple[str, tuple[str, ...], tuple[str, ...], Mapping[str, Any]], ...]] = (
    ("leak-down", _CYLINDER, _LEAK, _RATIO),
    ("leak-bore", _CYLINDER, _LEAK, _MM),
    ("leak-flow", _CYLINDER, _LEAK, {"unit": "l/min"}),
    ("leak-down-reference", _CYLINDER, _LEAK, _RATIO),
    ("leak-down-spread", (), _LEAK, _RATIO),
    ("compression-dry", _CYLINDER, (), {"unit": "bar"}),
    ("compression-corrected", _CYLINDER, _DRY, {"unit": "bar"}),
    ("compression-spread", _CYLINDER, _DRY, _RATIO),
    ("wet-gain", _CYLINDER, ("compression-dry", "compression-wet"), _RATIO),
    ("valve-clearance", _VALVE, (), {**_MM, "wears": "either"}),
    ("cranking-speed", (), (), {"unit": "rpm"}),
    ("stem-clearance", _VALVE, ("guide-bore", "stem-diameter"), {**_MM, "wears": "up"}),
    ("cam-duration", ("cam",), _EVENTS, {"unit": "°"}),
    ("cam-lobe-centre", ("cam",), _EVENTS, {"unit": "°"}),
    ("cam-overlap", (), _EVENTS, {"unit": "°"}),
    ("cam-lateness", ("cam",), _EVENTS, _ANGLE),
    ("cam-lobe-separation", (), _EVENTS, _ANGLE),
    ("cam-stroke-misfit", (), ("cam-full-lift", *_EVENTS), _ANGLE),
    ("cam-late-beyond-chain", ("cam",), (*_EVENTS, *_CHAIN), _ANGLE),
    ("cam-duration-by-side", ("cam", "valve-side"), _BY_SIDE, _ANGLE),
    ("cam-lobe-centre-by-side", ("cam", "valve-side"), _BY_SIDE, _ANGLE),
    ("cam-lateness-by-side", ("cam", "valve-side"), _BY_SIDE, _ANGLE),
    ("cam-overlap-by-side", (), _BY_SIDE, _ANGLE),
    ("cam-lobe-wear", ("cylinder", "cam"), ("cam-lobe-height",), _MM),
    ("cam-lift", ("cylinder", "cam"), ("cam-lobe-height", "cam-base-circle"), _MM),
    ("tensioner-stroke-used", (), ("tensioner-travel",), _RATIO),
    ("shim-range-left", _VALVE, ("valve-clearance", "shim-fitted"), {**_MM, "wears": "down"}),
    ("valve-spring-lean", _VALVE, ("valve-spring-squareness", "valve-spring-length"), _ANGLE),
    ("valve-spring-load-loss", _VALVE, ("valve-spring-load",), _RATIO),
    ("chain-elongation", (), _CHAIN, {**_RATIO, "applies": {"timing-drive": "chain"}}),
    ("cam-retard", ("cam",), _CHAIN, {"unit": "°", "applies": {"timing-drive": "chain"}}),
    ("head-flatness", (), (), {**_MM, "wears": "up"}),
    ("gasket-thickness", (), (), _MM),
    ("squish-gap", _CYLINDER, _SQUISH, _MM),
    ("compression-ratio", _CYLINDER, ("chamber-volume", *_SQUISH), {"unit": "1"}),
    ("bore-wear", _CYLINDER, _BORE, {**_MM, "wears": "up"}),
    ("bore-taper", _CYLINDER, _BORE, {**_MM, "wears": "up"}),
    ("bore-out-of-round", _CYLINDER, _BORE, {**_MM, "wears": "up"}),
    ("piston-clearance", _CYLINDER, ("bore-diameter", "skirt-diameter"), {**_MM, "wears": "up"}),
    ("ring-side-clearance", ("cylinder", "ring"), ("ring-groove-width", "ring-thickness"), _MM),
    ("friction-plate-thickness", ("friction-plate",), (), {**_MM, "wears": "down"}),
    ("big-end-clearance", _PIN, ("big-end-bore", "crankpin-diameter"), {**_MM, "wears": "up"}),
    ("crankpin-taper", _PIN, ("crankpin-diameter",), {**_MM, "wears": "up"}),
    ("crankpin-out-of-round", _PIN, ("crankpin-diameter",), {**_MM, "wears": "up"}),
)

INSTRUMENTS: Final[dict[str, tuple[str, str, str, str | None]]] = {
    "tester": ("leak-down tester", "bar", "0.02", "0.05"),
    "compression-gauge": ("compression gauge", "bar", "0.2", "0.4"),
    "feeler": ("feeler gauge", "mm", "0.01", "0.005"),
    "micrometer": ("micrometer", "mm", "0.001", "0.002"),
    "bore-gauge": ("bore gauge", "mm", "0.001", "0.003"),
    "dial-gauge": ("dial gauge", "mm", "0.01", "0.01"),
    "degree-disc": ("degree disc", "°", "0.5", "0.5"),
    "caliper": ("caliper", "mm", "0.01", "0.02"),
    "burette": ("burette", "cm³", "0.1", "0.1"),
    "spring-tester": ("spring tester", "N", "1", "2"),
    "strip": ("strip", "mm", "0.013", None),
}
"""Kind, unit, resolution and permissible error by id."""
ORIFICE: Final = 1.0e-3


def a_checklist() -> Checklist:
    """The small checklist."""
    sections = [
        {
            "id": i,
            "title": i,
            "assembly": "engine",
            "depths": depths,
            "items": [_item(*item) for item in items],
        }
        for i, (depths, items) in _ITEMS.items()
    ]
    return Checklist.model_validate({**CHECKLIST, "sections": sections})


def _item(item_id: str, axes: str, unit: str, instrument: str) -> dict[str, Any]:
    return {
        "id": item_id,
        "asks": item_id.replace("-", " "),
        "kind": _KINDS.get(item_id, "reading"),
        "axes": axes.split(),
        "unit": unit,
        "instrument": instrument,
        "optional": item_id in _OPTIONAL,
    }


def a_catalogue() -> Catalogue:
    """The small characteristics book."""
    known = [
        {"id": i, "name": i, "axes": axes, "needs": needs, "assembly": "engine", "plain": i, **more}
        for i, axes, needs, more in _KNOWN
    ]
    assembly = {"id": "engine", "name": "Engine", "plain": "All of it."}
    book = {"characteristics-book": "small", "version": 1, "assemblies": [assembly], "characteristics": known}
    return Catalogue.model_validate(book)


def a_sheet(**changes: Any) -> SpecSheet:
    """The small spec sheet; ``layout``, ``geometry`` and ``on_sale`` are merged into what it has."""
    written = dict(SHEET)
    for name, change in changes.items():
        key = name.replace("_", "-")
        written[key] = {**written[key], **change} if isinstance(written.get(key), dict) else change
    return SpecSheet.model_validate(written)


def some_books(sheet: SpecSheet | None = None, **workshop: Any) -> Books:
    """Small books; the workshop is changed by keywords."""
    shop = {"workshop": "Example workshop", "version": 1, "labour-rate": 60, **workshop}
    words = {"damage": "wear", "standard": "ours", "plain": "wear", "verdicts": ["as new"] * 6}
    return Books(
        sheet=sheet or a_sheet(),
        checklist=a_checklist(),
        workshop=Workshop.model_validate(shop),
        catalogue=a_catalogue(),
        scales=Scales.model_validate(
            {"scales": "small", "version": 1, "steps": list("012345"), "words": [words]}
        ),
        scoring=Scoring.model_validate(
            {"scoring": "small", "version": 1, "grade-of": {}, "left-of": {}, "caps": []}
        ),
        practice=Practice.model_validate({"practice": "small", "version": 1, "characteristics": []}),
        rulebook=Rulebook.model_validate({"rulebook": "small", "version": 1, "rules": []}),
        workbook=Workbook.model_validate(
            {"workbook": "small", "version": 1, "title": "Small", "access": [], "jobs": []}
        ),
        cautions=Cautions.model_validate({"cautions": "small", "version": 1, "list": []}),
    )


def a_case(
    *readings: Reading,
    answers: Sequence[Answer] = (),
    ratings: Sequence[Rating] = (),
    books: Books | None = None,
    instruments: Sequence[InstrumentUsed] = (),
    **head: Any,
) -> Case:
    """A case of some readings; keywords go into the head of the inspection as they are written in files."""
    tools = instruments or tuple(an_instrument(name) for name in INSTRUMENTS)
    inspection = Inspection(FILE, a_head(**head), tuple(tools), readings, tuple(ratings), tuple(answers))
    return Case(inspection, books or some_books())


def a_head(**changes: Any) -> InspectionHead:
    """The head of a small inspection, fully stripped."""
    written = {
        "inspection": "EX-1",
        "report": "rebuild quote",
        "depth": "fully stripped",
        "checklist": "small",
        "spec-sheet": "small.yaml",
        "workshop": "shop.yaml",
        "dates": {"inspected": date(2026, 3, 5), "issued": date(2026, 3, 9)},
        "customer": {"name": "Example customer"},
        "inspector": {"name": "Example inspector"},
        "place": "Example workshop",
        "engine": {"maker": "Example", "model": "Four", "serial": "1"},
        "reason": "Example",
    }
    return InspectionHead.model_validate(written | {k.replace("_", "-"): v for k, v in changes.items()})


def an_instrument(name: str, **changes: Any) -> InstrumentUsed:
    """An instrument of the small workshop, in SI."""
    kind, unit, resolution, error = INSTRUMENTS[name]
    plain = InstrumentUsed(
        id=name,
        kind=kind,
        dimension=unit_named(unit).dimension,
        resolution=read_difference(resolution, unit),
        permissible_error=None if error is None else read_difference(error, unit),
        serial="",
        calibrated=None,
        calibration_due=None,
        orifice=ORIFICE if name == "tester" else None,
    )
    return replace(plain, **changes)


def read(name: str, *values: float | str, with_: str | None = None) -> Reading:
    """One reading, named as on reports (``bore-diameter.1.top.along``), with its repeats."""
    item_id, labels = _parts(name)
    item = a_checklist().item(item_id)
    assert item is not None, item_id
    amounts = tuple(read_amount(value, item.unit) for value in values)
    kinds = {kind: tool for tool, (kind, *_) in INSTRUMENTS.items()}
    tool = kinds.get(item.instrument, "") if with_ is None else with_
    dimension = unit_named(item.unit).dimension
    position, typed = Position(item.axes, labels), tuple(str(v) for v in values)
    return Reading(item_id, position, amounts, dimension, typed, tool, a_place(name))


def read_each(item: str, values: Mapping[str, float] | Mapping[int, float]) -> tuple[Reading, ...]:
    """Readings of one item, by the labels of their places."""
    return tuple(read(f"{item}.{labels}", value) for labels, value in values.items())


def answered(name: str, *chosen: str) -> Answer:
    """An answer to a choice, count or text item."""
    item_id, labels = _parts(name)
    item = a_checklist().item(item_id)
    assert item is not None, item_id
    return Answer(item_id, Position(item.axes, labels), chosen, a_place(name))


def a_place(name: str) -> Place:
    """A new line of the file."""
    return Place(FILE, next(_LINES), 1, f"readings.{name}")


def _parts(name: str) -> tuple[str, tuple[str, ...]]:
    item, *labels = name.split(".")
    return item, tuple(labels)
