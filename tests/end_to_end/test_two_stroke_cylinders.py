"""Two-strokes with two and three cylinders, from file to JSON, table and report: each item at its own."""

import json
from collections.abc import Iterable, Mapping
from itertools import product
from pathlib import Path
from typing import Any, Final

import pytest
import yaml

from inspect_report.assessment import Assessment
from inspect_report.cli import main
from inspect_report.judge.finding import Finding
from inspect_report.knowledge.catalogue import Scales
from inspect_report.knowledge.shelf import load
from inspect_report.measure.derived import Derived
from inspect_report.pipeline import assess
from inspect_report.records.checklist import Checklist, Item, applies_to, axis_labels, depths_of
from inspect_report.records.specsheet import SpecSheet
from inspect_report.report.explain import why
from inspect_report.report.tables import findings as finding_table
from inspect_report.report.tables import readings as reading_table
from tests.rules.coverage import shipped

Readings = dict[str, dict[str, Any]]

GEOMETRY: Final = {
    "bore": "54 mm", "stroke": "54.4 mm", "rod-length": "110 mm", "exhaust-port-opens": "85 °",
    "crankcase-volume": "480 cm³", "compression-ratio": 13.9,
}  # fmt: skip
START: Final = {
    "crankcase-pressure-start": 40.0, "crankcase-vacuum-start": 30.0, "crankcase-test-time": 2.0,
    "crankcase-vacuum-time": 2.0, "crankcase-test-volume": 480.0, "leak-down-supply": 6.0,
    "clearance-volume": 9.5, "port-height": 27.0, "bore-diameter": 54.02, "skirt-diameter": 53.93,
    "pin-diameter": 14.99, "pin-bore": 15.0, "small-end-bore": 18.0, "ring-groove-width": 1.05,
    "ring-thickness": 1.0, "compression-dry": 12.0, "piston-mass": 180.0, "barrel-temperature": 20.0,
    "piston-temperature": 20.0, "friction-plate-thickness": 2.7, "steel-plate-thickness": 1.2,
    "clutch-spring-length": 34.0, "clutch-pack-height": 26.0, "fork-thickness": 4.9, "reed-stop-height": 8.0,
    "fork-groove-width": 5.1, "fork-pin-diameter": 5.9, "drum-track-width": 6.0, "deck-height": 0.2,
    "squish-solder": 0.9, "ignition-timing": 2.0,
}  # fmt: skip
"""A believable value of each item, in its unit, at the first place; 0.05 where none is given."""
STEP: Final = {"crankcase-pressure-end": (39.0, -0.7), "crankcase-vacuum-end": (29.0, -0.6),
               "leak-down-cylinder": (5.7, -0.11), "compression-dry": (12.0, -0.3),
               "piston-mass": (180.0, 0.3), "port-height": (27.0, 0.31),
               "clearance-volume": (9.5, 0.2)}  # fmt: skip
"""Value at cylinder 1, and how much more each further cylinder has; 0.001 where none is given."""


def sheet(cylinders: int, **layout: Any) -> dict[str, Any]:
    """The spec sheet of an invented two-stroke."""
    counts = {"crankpin": cylinders, "reed": 2, "friction-plate": 2, "steel-plate": 2, "clutch-spring": 2,
              "gear": 2, "dog-gear": 2, "fork": 2}  # fmt: skip
    return {
        "spec-sheet": "invented", "version": 1, "maker": "Example", "model": f"Two-stroke {cylinders}",
        "manual": "Example manual",
        "layout": {
            "strokes": 2, "cylinders": cylinders, "valve-actuation": "reed", "lubrication": "mixture",
            "arrangement": "single" if cylinders == 1 else "inline", "cooling": "liquid",
            "clutch": "wet multi-plate", "rings": ["top"], "counts": {**counts, **layout},
        },
        "geometry": GEOMETRY,
        "characteristics": [
            {"id": "squish-solder", "standard": [0.85, 0.95], "limit": [0.7, 1.1], "page": "1"},
            {"id": "crankcase-pressure-loss", "unit": "kPa/min", "standard": {"high": 2},
             "limit": {"high": 6}, "wears": "up", "page": "1"},
        ],
    }  # fmt: skip


CHECKLIST: Final = shipped(Checklist, "checklists/two-stroke")
DEPTH: Final = "fully stripped"


def items(cylinders: int) -> tuple[tuple[str, Item], ...]:
    """Every item of the checklist that such an engine has, with its section."""
    layout = SpecSheet.model_validate(_parsed(cylinders)).layout
    return tuple(
        (s.id, i)
        for s in CHECKLIST.sections
        if applies_to(s.applies, layout)
        for i in s.items
        if applies_to(i.applies, layout) and DEPTH in depths_of(i, s)
    )


def _parsed(cylinders: int) -> dict[str, Any]:
    return {k: v for k, v in sheet(cylinders).items() if k not in ("geometry", "characteristics")}


def filled(cylinders: int) -> Readings:
    """Every item filled in, with another value at each cylinder; ratings tell of one damage each."""
    record = SpecSheet.model_validate(_parsed(cylinders))
    found: Readings = {}
    for section, item in items(cylinders):
        labels = [axis_labels(axis, record, CHECKLIST) for axis in item.axes]
        if not all(labels):
            continue
        for n, place in enumerate(product(*labels)):
            _put(found.setdefault(section, {}), (item.id, *place), written(item, place, n))
    return found


def written(item: Item, place: tuple[str, ...], n: int) -> Any:
    """What is written at one place of an item: the further the cylinder, the more."""
    cylinder = int(place[0]) if item.axes[:1] == ("cylinder",) else 1
    if item.kind == "reading":
        start, step = STEP.get(item.id, (START.get(item.id, 0.05), 0.001))
        return round(start + step * (cylinder - 1) + (0.0001 * n if item.id == "port-height" else 0.0), 4)
    if item.kind == "rating":
        return {"damage": item.damage[0], "amount": min(cylinder, 5), _size(item.damage[0]): 1}
    if item.kind == "choice":
        answer = list(item.options)[(cylinder - 1) % len(item.options)]
        return [answer] if item.several else answer
    return {"tick": "done", "text": "in words"}.get(item.kind)


def _size(damage: str) -> str:
    return "strength" if damage in EVEN else "size"


EVEN: Final = frozenset(w.damage for w in shipped(Scales, "scales").words if w.even)


def _put(into: dict[str, Any], path: tuple[str, ...], value: Any) -> None:
    for label in path[:-1]:
        into = into.setdefault(label, {})
    if value is not None:
        into[path[-1]] = value


def inspection(cylinders: int, readings: Readings) -> dict[str, Any]:
    """The inspection file around some readings, with one instrument of each kind."""
    kinds = {i.instrument: i.unit for _, i in items(cylinders) if i.instrument}
    tools: dict[str, dict[str, Any]] = {
        kind.replace(" ", "-"): {"kind": kind, "unit": unit, "resolution": 0.001, "permissible-error": 0.001}
        for kind, unit in kinds.items()
    }
    tools["leak-down-tester"]["orifice"] = "1 mm"
    return {
        "inspection": "EX-9", "report": "rebuild quote", "depth": DEPTH, "checklist": "two-stroke",
        "spec-sheet": "sheet.yaml", "workshop": "shop.yaml", "place": "Example workshop", "reason": "Example",
        "dates": {"inspected": "2026-03-05", "issued": "2026-03-09"},
        "customer": {"name": "Example customer"}, "inspector": {"name": "Example inspector"},
        "engine": {"maker": "Example", "model": "Two-stroke", "serial": "1"}, "instruments": tools,
        "conditions": {"ambient-temperature": "20 °C", "ambient-pressure": "1000 hPa", "engine": "cold"},
        "readings": readings,
    }  # fmt: skip


def write(folder: Path, cylinders: int, readings: Readings, **counts: int) -> Path:
    """The files of an inspection in a folder; gives the inspection."""
    shop = {
        "workshop": "Example", "version": 1, "labour-rate": 60, "currency": "EUR",
        "prices": {"two-stroke-piston-kit": 100, "reed-set": 40, "inner-seal": 12, "inner-bearing": 25},
    }  # fmt: skip
    files = {
        "sheet.yaml": sheet(cylinders, **counts), "shop.yaml": shop,
        "one.yaml": inspection(cylinders, readings),
    }  # fmt: skip
    for name, content in files.items():
        (folder / name).write_text(yaml.safe_dump(content, allow_unicode=True, sort_keys=False), "utf-8")
    return folder / "one.yaml"


def assessed(folder: Path, cylinders: int, readings: Readings, **counts: int) -> Assessment:
    """An invented two-stroke, judged by the shipped books."""
    return assess(load(write(folder, cylinders, readings, **counts)))


def permuted(readings: Readings, to: Mapping[str, str]) -> Readings:
    """The readings with what stands at one cylinder, or its crankpin, written at another."""
    by_cylinder = {i.id for s in CHECKLIST.sections for i in s.items if i.axes[:1] in MOVING}
    return {
        section: {
            item: {to[at]: value for at, value in places.items()} if item in by_cylinder else places
            for item, places in of.items()
        }
        for section, of in readings.items()
    }


MOVING: Final = (("cylinder",), ("crankpin",))


def told(assessment: Assessment, to: Mapping[str, str]) -> dict[tuple[str, ...], tuple[Any, ...]]:
    """Verdict and value of each finding by its place, places renamed as cylinders are."""
    return {_named(f, to): (str(f.verdict), _value(f)) for f in assessment.judged.findings}


def _named(finding: Finding, to: Mapping[str, str]) -> tuple[str, ...]:
    at = zip(finding.position.axes, finding.position.labels, strict=True)
    labels = (to.get(n, n) if axis in ("cylinder", "crankpin") else n for axis, n in at)
    return (finding.characteristic, *labels)


def _value(finding: Finding) -> Any:
    return None if finding.quantity is None else pytest.approx(finding.quantity.value, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("cylinders", [1, 2, 3])
def test_every_item_has_its_own_cylinder_in_json_table_and_report(cylinders: int, tmp_path: Path) -> None:
    """What belongs to a cylinder gives a quantity or a finding at each, in JSON, table and report alike."""
    path = write(tmp_path, cylinders, filled(cylinders))
    assert main(["report", str(path), "--out", str(tmp_path), "--only", "json"]) == 0
    (made,) = tmp_path.glob("*.json")
    data = json.loads(made.read_text(encoding="utf-8"))
    a = assess(load(path))
    assert not a.measured.failed
    own = {i.id for _, i in items(cylinders) if i.axes[:1] == ("cylinder",) and i.kind != "text"}
    numbers = {str(n) for n in range(1, cylinders + 1)}
    read = {(r["item"], r["position"]["labels"][0]) for kind in ("readings", "ratings", "answers")
            for r in data["inspection"][kind] if r["position"]["axes"][:1] == ["cylinder"]}  # fmt: skip
    assert {(item, n) for item in own for n in numbers} == read
    assert {(r.item, r.cylinder) for r in reading_table(a).itertuples() if r.item in own} >= {
        (i.id, n) for _, i in items(cylinders) if i.id in own and i.kind == "reading" for n in numbers
    }
    strangers = [(q.id, r) for q in a.measured.quantities for r in q.readings if not _is_own(q, r)]
    assert strangers == []
    judged = {k for k in BY_CYLINDER if k not in OF_SEVERAL or cylinders > 1}
    quantities = {(q["characteristic"], q["position"]["labels"][0])
                  for q in data["measured"]["quantities"]
                  if q["position"]["axes"][:1] == ["cylinder"]}  # fmt: skip
    assert {(c, n) for c in judged for n in numbers} <= quantities
    table = {(f.characteristic, f.cylinder) for f in finding_table(a).itertuples()}
    assert {(c, n) for c in judged for n in numbers} <= table
    for name in judged & {q.characteristic for q in a.measured.quantities if len(q.position.labels) == 1}:
        for n in numbers:
            assert f"cylinder {n}" in why(a, f"{name}.{n}").partition("\n")[0]


def _is_own(quantity: Derived, reading: str) -> bool:
    """Whether a reading that a quantity rests on belongs to its own cylinder, or to the engine."""
    item_id, *labels = reading.split(".")
    item = CHECKLIST.item(item_id)
    if item is None or item.axes[:1] != ("cylinder",) or quantity.characteristic in OF_SEVERAL:
        return True
    return quantity.position.label("cylinder") in (None, labels[0])


BY_CYLINDER: Final = frozenset(
    {
        "crankcase-pressure-loss", "crankcase-leak-flow", "crankcase-leak-bore",
        "crankcase-vacuum-loss", "crankcase-vacuum-flow", "crankcase-vacuum-bore", "leak-down", "leak-bore",
        "leak-flow", "leak-down-reference", "compression-dry", "compression-corrected", "compression-spread",
        "compression-about-mean", "compression-estimate", "squish-solder", "squish-spread", "deck-mean",
        "deck-spread", "full-stroke-ratio", "trapped-ratio", "head-flatness", "barrel-flatness", "bore-taper",
        "bore-out-of-round", "port-opens", "port-duration", "port-blowdown", "piston-clearance",
        "skirt-diameter", "ring-end-gap", "ring-side-clearance", "pin-diameter", "pin-clearance", "reed-gap",
        "reed-stop-height",
    }
)  # fmt: skip
"""Characteristics with a quantity at each cylinder."""
OF_SEVERAL: Final = frozenset({"compression-spread", "compression-about-mean"})


@pytest.mark.parametrize(("cylinders", "order"), [(2, "21"), (3, "231"), (3, "321")])
def test_results_move_with_their_cylinder(cylinders: int, order: str, tmp_path: Path) -> None:
    """What is read at another cylinder is found at that one: each value and verdict moves, none changes."""
    to = {str(n): at for n, at in enumerate(order, start=1)}
    (tmp_path / "as-it-is").mkdir()
    (tmp_path / "moved").mkdir()
    as_it_is = assessed(tmp_path / "as-it-is", cylinders, filled(cylinders))
    moved = assessed(tmp_path / "moved", cylinders, permuted(filled(cylinders), to))
    expected = told(as_it_is, to)
    assert told(moved, {}) == expected
    differing = {c for c in BY_CYLINDER if len({str(v) for k, v in expected.items() if k[0] == c}) > 1}
    assert differing >= {
        "crankcase-pressure-loss",
        "squish-solder",
        "port-opens",
        "trapped-ratio",
        "leak-down",
    }


LEAK: Final = {"crankcase-leak-at": {"1": ["none"], "2": ["right crank seal"], "3": ["none"]},
               "crankcase-pressure-start": {"all": 40.0}, "crankcase-test-time": {"all": 2.0}}  # fmt: skip


def leaking(*ends: float, at: Iterable[str] = ()) -> Readings:
    """A crankcase test with the pressures at its end, cylinder by cylinder."""
    end = {str(n): kpa for n, kpa in enumerate(ends, start=1)}
    seen = {n: [where] for n, where in zip(end, at, strict=False)} or LEAK["crankcase-leak-at"]
    return {"crankcase-test": {**LEAK, "crankcase-pressure-end": end, "crankcase-leak-at": seen}}


def test_a_rule_fires_at_cylinder_2_alone(tmp_path: Path) -> None:
    """Chamber 2 of three leaks at its seal: one diagnosis, at cylinder 2, with the retest of that chamber."""
    made = assessed(tmp_path, 3, leaking(39.4, 20.0, 39.5))
    assert [d.id for d in made.advice.diagnoses if d.cause == "crank-seal-leaks"] == ["crank-seal-leaks.2"]
    loss = {f.position.id: str(f.verdict) for f in made.judged.findings
            if f.characteristic == "crankcase-pressure-loss"}  # fmt: skip
    assert loss == {"1": "as new", "2": "beyond limit", "3": "as new"}
    (retest,) = [w for w in made.advice.work if w.job == "retest-crankcase"]
    assert [p.words for p in retest.positions] == ["cylinder 2"]


def test_an_inner_seal_is_between_two_chambers(tmp_path: Path) -> None:
    """Air into the next chamber asks for the inner bearings and seals: two and four of three cylinders."""
    made = assessed(tmp_path, 3, leaking(39.4, 20.0, 39.5, at=("none", "inner seal", "none")))
    assert [d.id for d in made.advice.diagnoses] == ["inner-seal-leaks.2"]
    assert (counted(made, "inner-seal"), counted(made, "inner-bearing")) == (2.0, 4.0)


def test_hours_and_parts_count_by_cylinder(tmp_path: Path) -> None:
    """Reeds of two cylinders are two sets and twice the hours; several reeds of one cylinder are one set."""
    gaps = {
        "reeds": {
            "reed-gap": {"1": {"1": 0.9, "2": 0.9}, "2": {"1": 0.05, "2": 0.9}, "3": {"1": 0.05, "2": 0.05}}
        }
    }
    made = assessed(tmp_path, 3, gaps)
    (job,) = [w for w in made.advice.work if w.job == "replace-reeds"]
    assert [p.words for p in job.positions] == ["cylinder 1", "cylinder 2"]
    assert float(job.hours) == pytest.approx(0.6)
    assert counted(made, "reed-set") == 2.0
    assert counted(made, "reed-block-off") == pytest.approx(3 * 0.3)


def counted(assessment: Assessment, line_id: str) -> float:
    """How much of a part, or how many hours of a step, the estimate has."""
    lines = (line for total in assessment.advice.estimate.totals for line in total.lines)
    found = [line.quantity for line in lines if line.id == line_id]
    assert found
    return float(sum(found))


def test_a_single_may_leave_its_cylinder_out(tmp_path: Path) -> None:
    """With its number or without, in any depth of nesting, one cylinder reads alike."""
    short = {
        section: {item: _shorter(item, value) for item, value in of.items()}
        for section, of in filled(1).items()
    }
    assert short != filled(1)
    (tmp_path / "short").mkdir()
    (tmp_path / "long").mkdir()
    long_told = told(assessed(tmp_path / "long", 1, filled(1)), {})
    assert told(assessed(tmp_path / "short", 1, short), {}) == long_told


def _shorter(item_id: str, value: Any) -> Any:
    item = CHECKLIST.item(item_id)
    return value["1"] if item is not None and item.axes[:1] == ("cylinder",) else value


def test_a_twin_must_name_its_cylinders(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One value where two chambers are meant is refused at its place."""
    readings = {"crankcase-test": {"crankcase-pressure-end": 20.0}}
    assert main(["check", str(write(tmp_path, 2, readings))]) == 2
    told_ = capsys.readouterr().err
    assert "V305: value for each cylinder expected" in told_
