"""Turns the thicknesses of the clutch plates into that of the whole pack."""

from dataclasses import replace
from typing import Final

from inspect_report.measure.bench import Bench, Result
from inspect_report.records.position import Position

PLATE: Final = "friction-plate-thickness"


def pack_thickness(bench: Bench, at: Position) -> Result:
    """Thickness of all friction plates together."""
    plates = bench.several(PLATE, at)
    found = bench.result(total, plates, "length", note=f"sum of {len(plates)} friction plates")
    return replace(found, formula="reading")


def total(*thicknesses: float) -> float:
    """Sum of the plates."""
    return sum(thicknesses)


WAYS: Final = {"friction-pack-thickness": pack_thickness}
