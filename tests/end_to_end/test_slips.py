"""Turns slips of the pen in a sample into the problems they must give."""

import shutil
from datetime import date
from pathlib import Path

import pytest

from inspect_report.knowledge.shelf import load
from inspect_report.records.problem import InvalidInspection, Problem
from tests.samples import ROOT

TODAY = date(2026, 11, 25)


def told(folder: Path, right: str, wrong: str) -> tuple[Problem, ...]:
    """The problems of the stripped inline four with one slip in it."""
    home = Path(shutil.copytree(ROOT / "sample_inspections", folder / "samples"))
    path = home / "inline-four-strip.yaml"
    text = path.read_text(encoding="utf-8")
    assert right in text
    path.write_text(text.replace(right, wrong, 1), encoding="utf-8")
    try:
        return load(path, today=TODAY).warnings
    except InvalidInspection as fault:
        return fault.problems


@pytest.mark.parametrize(
    ("right", "wrong", "code", "mend"),
    [
        ("distance: 52 300 km", "distance: 52.300 km", "V329", "52"),
        ("drive-paint-marked: done", "drive-paint-marked: yes", "V", "done"),
        ("unit: bar, resolution: 0.02", "unit: bar, resolution: 100", "V328", "smallest step"),
    ],
)
def test_a_slip_is_told_with_its_mend(tmp_path: Path, right: str, wrong: str, code: str, mend: str) -> None:
    """The slip is told by its code, and the mend says what to write."""
    assert any(p.code.startswith(code) and mend in p.mend for p in told(tmp_path, right, wrong))
