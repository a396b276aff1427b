"""Turns what the file of an engine with one cylinder writes without its number into places with it."""

from collections.abc import Sequence
from typing import Any, Final

from inspect_report.records.checklist import CYLINDER, Checklist, Item, positions
from inspect_report.records.position import finding_id
from inspect_report.records.specsheet import SpecSheet

ONE: Final = "1"
"""What the one cylinder of a single is called."""


def leaves_cylinder_out(item: Item, value: Any, axes: Sequence[str], further: Sequence[str]) -> bool:
    """
    Whether a value of an engine with one cylinder is written without it: nested less deep than its axes.

    Args:
        item: The item.
        value: What stands in the file.
        axes: Axes still to come, the cylinder first.
        further: Labels along the second of them; empty where there is none.
    """
    if axes[0] != CYLINDER or (isinstance(value, dict) and "all" in value):
        return False
    names_it = isinstance(value, dict) and ONE in value and ONE not in further
    return not names_it and _depth(item, value) < len(axes)


def _depth(item: Item, value: Any) -> int:
    """How many axes deep a value is nested; a rating and its like are no deeper than a number."""
    if not isinstance(value, dict):
        return 0
    if "read" in value:
        return _depth(item, value["read"])
    if (item.kind == "rating" and "damage" in value) or (item.amounts and item.options.keys() & value.keys()):
        return 0
    return 1 + max((_depth(item, inner) for inner in value.values()), default=0)


def whole_id(shown: str, checklist: Checklist, sheet: SpecSheet) -> str:
    """What a picture shows, with the cylinder that an engine with one may leave out: ``reed-state.1.2``."""
    name, _, label = shown.partition(".")
    item = checklist.item(name)
    if item is None or sheet.layout.cylinders > 1:
        return shown
    try:
        known = positions(item.axes, sheet, checklist)
    except KeyError:
        return shown
    as_it_is = any(p.id == label or p.id.startswith(f"{label}.") for p in known)
    if as_it_is:
        return shown
    meant = next((p for p in known if p.without(CYLINDER).id == label), None)
    begun = any(p.without(CYLINDER).id.startswith(f"{label}.") for p in known)
    return finding_id(name, meant) if meant else f"{name}.{ONE}.{label}" if begun else shown
