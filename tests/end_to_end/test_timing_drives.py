"""Belts, gears and single camshafts from file to verdict, by the shipped books: all samples have chains."""

from pathlib import Path
from typing import Any, Final

import pytest
import yaml

from inspect_report.assessment import Assessment
from inspect_report.judge.finding import Finding
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess

SHEET: Final[dict[str, Any]] = {
    "spec-sheet": "small-single",
    "version": 1,
    "maker": "Example",
    "model": "Single",
    "manual": "Example manual",
    "layout": {
        "strokes": 4,
        "cylinders": 1,
        "arrangement": "single",
        "valves": {"inlet": 1, "exhaust": 1},
        "valve-actuation": "rocker with screw",
        "lubrication": "wet sump",
        "camshafts": ["single"],
        "camshaft-lobes": "both sides",
    },
    "characteristics": [],
}
INSPECTION: Final[dict[str, Any]] = {
    "inspection": "EX-7",
    "report": "rebuild quote",
    "depth": "top end off",
    "checklist": "four-stroke",
    "spec-sheet": "sheet.yaml",
    "workshop": "shop.yaml",
    "dates": {"inspected": "2026-03-05", "issued": "2026-03-09"},
    "customer": {"name": "Example customer"},
    "inspector": {"name": "Example inspector"},
    "place": "Example workshop",
    "engine": {"maker": "Example", "model": "Single", "serial": "1"},
    "reason": "Example",
    "instruments": {
        "dial": {"kind": "dial gauge", "unit": "mm", "resolution": 0.002, "permissible-error": 0.004},
        "caliper": {"kind": "vernier caliper", "unit": "mm", "resolution": 0.02, "permissible-error": 0.03},
        "rule": {"kind": "steel rule", "unit": "mm", "resolution": 0.5, "permissible-error": 0.3},
        "micrometer": {"kind": "micrometer", "unit": "mm", "resolution": 0.001, "permissible-error": 0.002},
        "disc": {"kind": "degree disc", "unit": "°", "resolution": 0.5, "permissible-error": 0.5},
    },
}


def assessed(folder: Path, drive: str, readings: dict[str, Any], *rows: dict[str, Any]) -> Assessment:
    """A small single with one kind of timing drive, judged by the shipped books."""
    layout = {**SHEET["layout"], "timing-drive": drive}
    sheet = {**SHEET, "layout": layout, "characteristics": list(rows)}
    files = {
        "sheet.yaml": sheet,
        "shop.yaml": {"workshop": "Example", "version": 1, "labour-rate": 60},
        "one.yaml": {**INSPECTION, "readings": readings},
    }
    for name, written in files.items():
        (folder / name).write_text(yaml.safe_dump(written, allow_unicode=True, sort_keys=False))
    return assess(load(folder / "one.yaml"))


def verdicts(assessment: Assessment, *ids: str) -> list[str]:
    """The verdicts of some findings."""
    return [str(one(assessment, finding).verdict) for finding in ids]


def one(assessment: Assessment, finding_id: str) -> Finding:
    """The finding of an id."""
    (found,) = [f for f in assessment.judged.findings if f.id == finding_id]
    return found


def test_a_belt_is_read_plainly(tmp_path: Path) -> None:
    """Width, deflection and what the eye finds are judged as they stand; frayed edges ask for a new belt."""
    readings = {
        "timing-belt": {
            "timing-belt-hours": "420 h",
            "timing-belt-deflection": 6.5,
            "timing-belt-width": 18.62,
            "timing-belt-state": {"damage": "chipped edge", "amount": 2, "size": 2},
            "belt-pulley-state": {"crank": "none", "inlet": "none", "exhaust": "none"},
            "belt-tensioner-state": {"damage": "rough running", "amount": 1, "size": 1},
        }
    }
    rows = (
        {
            "id": "timing-belt-width",
            "standard": [18.9, 19.1],
            "limit": {"low": 18.5},
            "wears": "down",
            "page": "4",
        },
        {"id": "timing-belt-deflection", "standard": [5, 7], "limit": [4, 9], "wears": "either", "page": "4"},
        {"id": "timing-belt-hours", "unit": "h", "limit": {"high": 400}, "wears": "up", "page": "4"},
    )
    made = assessed(tmp_path, "belt", readings, *rows)
    told = verdicts(
        made, "timing-belt-width", "timing-belt-deflection", "timing-belt-hours", "timing-belt-state",
        "belt-pulley-state.crank", "belt-tensioner-state",
    )  # fmt: skip
    assert told == ["serviceable", "as new", "beyond limit", "beyond limit", "as new", "marginal"]
    assert "replace-timing-belt" in {work.job for work in made.advice.work}
    assert not [f for f in made.judged.findings if f.characteristic.startswith(("chain", "timing-gear"))]


def test_gears_are_read_plainly(tmp_path: Path) -> None:
    """Backlash is held against common practice where the maker prints none; a limit for the play has none."""
    readings = {
        "timing-gears": {
            "timing-gear-backlash": {"crank": 0.08, "inlet": 0.31, "exhaust": 0.16},
            "timing-gear-play": 0.02,
            "timing-gear-state": {"crank": "none", "inlet": "none", "exhaust": "none"},
        }
    }
    made = assessed(tmp_path, "gear", readings)
    told = verdicts(
        made, "timing-gear-backlash.crank", "timing-gear-backlash.inlet", "timing-gear-backlash.exhaust",
        "timing-gear-play", "timing-gear-state.inlet",
    )  # fmt: skip
    assert told == ["as new", "beyond limit", "serviceable", "no limit known", "as new"]
    limit = one(made, "timing-gear-backlash.inlet").limit
    assert limit is not None
    assert limit.origin == "common practice"
    assert "replace-timing-gears" in {work.job for work in made.advice.work}


def test_a_single_camshaft_is_timed_by_side(tmp_path: Path) -> None:
    """Openings and closings of both sides give centres, lateness, overlap; lobes of each side their wear."""
    readings = {
        "camshaft": {
            "cam-check-lift": 1.0,
            "cam-opening-by-side": {"single": {"inlet": 2, "exhaust": 40}},
            "cam-closing-by-side": {"single": {"inlet": 46, "exhaust": 4}},
            "cam-lobe-height-by-side": {"1": {"single": {"inlet": 33.10, "exhaust": 32.60}}},
        }
    }
    rows = (
        {"id": "cam-lobe-centre-by-side", "unit": "°", "where": {"valve-side": "inlet"},
         "standard": [104, 108], "limit": [102, 110], "page": "5"},
        {"id": "cam-lobe-centre-by-side", "unit": "°", "where": {"valve-side": "exhaust"},
         "nominal": 110, "page": "5"},
        {"id": "cam-lobe-height-by-side", "where": {"valve-side": "inlet"}, "nominal": 33.20, "page": "5"},
    )  # fmt: skip
    made = assessed(tmp_path, "chain", readings, *rows)
    inlet = one(made, "cam-lobe-centre-by-side.single.inlet")
    assert inlet.quantity is not None
    assert (inlet.quantity.value, str(inlet.verdict)) == (112.0, "beyond limit")
    late = [one(made, f"cam-lateness-by-side.single.{side}").quantity for side in ("inlet", "exhaust")]
    assert [q.value for q in late if q] == [6.0, 2.0]
    overlap = one(made, "cam-overlap-by-side").quantity
    wear = one(made, "cam-lobe-wear-by-side.1.single.inlet").quantity
    assert overlap is not None
    assert wear is not None
    assert (overlap.value, wear.value) == pytest.approx((6.0, 0.10e-3))
    assert not [f for f in made.judged.findings if f.characteristic in ("cam-lobe-centre", "cam-overlap")]
