"""Turns a few lines of YAML into what the records make of them, for the tests of reading."""

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from inspect_report.records.checklist import Checklist
from inspect_report.records.further import with_further_items
from inspect_report.records.inspection import Inspection
from inspect_report.records.inspection_file import read_inspection
from inspect_report.records.problem import Problem, Read
from inspect_report.records.readings import Filled, read_readings
from inspect_report.records.shape import read_file
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.toolbox import Toolbox, read_toolbox
from inspect_report.records.vocabulary import Vocabulary
from inspect_report.records.yaml import Document, read_yaml

MADE: dict[str, Any] = read_file(Path(__file__).with_name("made.yaml")).data  # type: ignore[assignment]
SHEET = SpecSheet.model_validate(MADE["sheet"])
CHECKLIST = with_further_items(Checklist.model_validate(MADE["checklist"]), SHEET, ("bore-wear",))
WORDS = Vocabulary(
    damage=MADE["damage"],
    characteristics=frozenset({"bore-wear", "gap"}),
    parts=frozenset({"piston", "cam-chain"}),
    steps=frozenset({"plugs-out", "head-off"}),
)
TODAY = date(2026, 6, 1)
INSTRUMENTS = """
instruments:
  tester: {kind: leak-down tester, unit: bar, resolution: 0.02}
  blades: {kind: Feeler-Gauge, resolution: 0.01}
  bore-gauge: {kind: bore gauge, resolution: 0.001, permissible-error: 3 µm}
"""
HEAD = """
inspection: HW-2026-031
report: rebuild quote
depth: fully stripped
checklist: made
spec-sheet: books/sheet.yaml
workshop: books/workshop.yaml
dates: {received: 2026-03-02, inspected: 2026-03-05, issued: 2026-03-09}
customer: {name: Mira Holt}
inspector: {name: Jon Vale}
place: Bench 2
engine: {maker: Corvane, model: "600", serial: C6-1, running-time: 812 h}
reason: burns oil
"""


def document(text: str, file: str = "made.yaml") -> Document:
    """A document of some text."""
    return read_yaml(text, file)


def filled(readings: str, instruments: str = INSTRUMENTS) -> Read[Filled]:
    """What the readings block with these lines below ``readings:`` gives."""
    lines = "\n".join(f"  {line}" for line in readings.strip("\n").splitlines())
    whole = document(f"{instruments}\nreadings:\n{lines}\n")
    tools = read_toolbox(whole).value or Toolbox()
    return read_readings(whole, CHECKLIST, SHEET, tools, WORDS)


def inspected(text: str, folder: Path = Path("."), today: date = TODAY) -> Read[Inspection]:
    """What an inspection file with this text gives."""
    return read_inspection(document(text), CHECKLIST, SHEET, WORDS, folder=folder, today=today)


def the_one(read: Read[Any]) -> Problem:
    """The only problem of a reading."""
    (problem,) = read.problems
    return problem


def codes(read: Read[Any]) -> list[str]:
    """The codes of all problems, in file order."""
    return [p.code for p in read.problems]


def changed(text: str, changes: Mapping[str, str]) -> str:
    """Text with some pieces exchanged, each of which must be there."""
    for old, new in changes.items():
        assert old in text, old
        text = text.replace(old, new)
    return text
