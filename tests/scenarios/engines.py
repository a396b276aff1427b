"""Turns the readings of a scenario, laid over a healthy engine of its kind, into an assessment."""

import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import yaml

from inspect_report.assessment import Assessment
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess

HERE: Final = Path(__file__).resolve().parent
SCENARIOS: Final = HERE / "scenarios.yaml"
_CHECKLISTS: Final = HERE.parent.parent / "inspect_report" / "knowledge" / "checklists"
_BOOKS: Final = ("spec-sheet", "workshop")


@dataclass(frozen=True, slots=True)
class Scenario:
    """An invented engine: what is wrong with it, what should be read out of it, the readings that show it."""

    id: str
    kind: str
    depth: str
    truth: str
    should_read: str
    readings: Mapping[str, Any]


def scenarios() -> tuple[Scenario, ...]:
    """All invented engines, in the order of their file."""
    return tuple(
        Scenario(
            id=row["id"],
            kind=row["kind"],
            depth=row.get("depth", "fully stripped"),
            truth=row["truth"],
            should_read=row["should-read"],
            readings=row["readings"],
        )
        for row in _written(SCENARIOS)
    )


_ASSESSED: Final[dict[str, Assessment]] = {}


def assessed(scenario: Scenario) -> Assessment:
    """What the program says of an invented engine, by the shipped books; reckoned once."""
    if scenario.id not in _ASSESSED:
        _ASSESSED[scenario.id] = _assess(scenario)
    return _ASSESSED[scenario.id]


def _assess(scenario: Scenario) -> Assessment:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / f"{scenario.id}.yaml"
        text = yaml.dump(inspection_of(scenario), Dumper=_WrittenOut, sort_keys=False, allow_unicode=True)
        file.write_text(text, encoding="utf-8")
        return assess(load(file))


def inspection_of(scenario: Scenario) -> dict[str, Any]:
    """The inspection file of an invented engine: the healthy one, its depth, and what differs."""
    healthy = _written(HERE / f"healthy-{scenario.kind}.yaml")
    readings = _laid_over(healthy["readings"], scenario.readings)
    books = {key: str((HERE / healthy[key]).resolve()) for key in _BOOKS}
    kept = _at_depth(readings, scenario)
    items = {item for section in kept.values() for item in section}
    out = [
        left for left in healthy["left-out"] if scenario.depth == "fully stripped" or left["item"] in items
    ]
    return {**healthy, **books, "depth": scenario.depth, "readings": kept, "left-out": out}


def _laid_over(base: Any, change: Any) -> Any:
    """The base with what differs in its place, label by label; a rating, a choice or an amount as a whole."""
    if not _by_label(base) or not _by_label(change):
        return change
    if "read" in base and "read" not in change:
        return {**base, "read": _laid_over(base["read"], change)}
    return {**base, **{key: _laid_over(base.get(key), value) for key, value in change.items()}}


def _by_label(value: Any) -> bool:
    return isinstance(value, Mapping) and "damage" not in value


def _at_depth(readings: Mapping[str, Any], scenario: Scenario) -> dict[str, Any]:
    """Only what is asked at the depth of the scenario: the healthy engine has been read at all depths."""
    asked = _asked_at(scenario.kind, scenario.depth)
    kept = {
        section: {item: value for item, value in items.items() if item in asked}
        for section, items in readings.items()
    }
    return {section: items for section, items in kept.items() if items}


def _asked_at(kind: str, depth: str) -> frozenset[str]:
    """The items asked at a depth; a full strip keeps what was read before it began."""
    sections = _written(_CHECKLISTS / f"{kind}.yaml")["sections"]
    return frozenset(
        item["id"]
        for section in sections
        for item in section["items"]
        if depth == "fully stripped" or depth in item.get("depths", section.get("depths", [depth]))
    )


def _written(file: Path) -> Any:
    return yaml.safe_load(file.read_text(encoding="utf-8"))


class _WrittenOut(yaml.SafeDumper):
    """Writes every value out in full, as the reader of inspections asks."""

    def ignore_aliases(self, data: Any) -> bool:
        """Never refers to another part of the file."""
        return True
