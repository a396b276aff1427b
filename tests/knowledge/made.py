"""Turns the sample inspection's neighbours into a folder of books that tests may spoil."""

from datetime import date
from pathlib import Path

from inspect_report.knowledge.shelf import load
from inspect_report.records.problem import InvalidInput, Problem

TODAY = date(2026, 6, 1)
SHEET = """spec-sheet: corvane-600
version: 1
maker: Corvane
model: 600
manual: Workshop manual
layout:
  strokes: 4
  cylinders: 4
  valves: {inlet: 2, exhaust: 2}
  valve-actuation: shim under bucket
  timing-drive: chain
  lubrication: wet sump
  camshafts: [inlet, exhaust]
  counts: {main-journal: 5, crankpin: 4}
characteristics:
  - {id: valve-clearance, where: {valve: inlet}, standard: [0.15, 0.24], page: 3-4}
  - {id: bore-wear, limit: {high: 0.05}, wears: up, page: 3-9}
"""
WORKSHOP = "workshop: Harbour Works\nversion: 1\nlabour-rate: 60\n"
INSPECTION = """inspection: HW-2026-031
report: rebuild quote
depth: top end off
checklist: four-stroke
spec-sheet: books/sheet.yaml
workshop: books/workshop.yaml
dates: {inspected: 2026-03-05, issued: 2026-03-09}
customer: {name: Mira Holt}
inspector: {name: Jon Vale}
place: Bench 2
engine: {maker: Corvane, model: 600, serial: C6-1}
reason: burns oil
readings:
  whole-engine: {turns-by-hand: free}
"""


def a_folder(folder: Path, **files: str) -> Path:
    """The inspection in a folder with its books; files are exchanged by their stem, ``__`` for a slash."""
    texts = {"inspection": INSPECTION, "books/sheet": SHEET, "books/workshop": WORKSHOP}
    (folder / "books").mkdir(parents=True, exist_ok=True)
    for name, text in {**texts, **{k.replace("__", "/"): v for k, v in files.items()}}.items():
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    return folder / "inspection.yaml"


def faults(path: Path) -> tuple[Problem, ...]:
    """The problems of loading a file, empty when it loads."""
    try:
        load(path, today=TODAY)
    except InvalidInput as fault:
        return fault.problems
    return ()


def the_fault(path: Path) -> Problem:
    """The one problem of loading a file."""
    (problem,) = faults(path)
    return problem
