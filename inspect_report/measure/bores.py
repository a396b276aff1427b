"""Turns bore and piston diameters into wear, taper, out-of-round and clearance of each cylinder."""

from collections.abc import Sequence
from typing import Final

from inspect_report.knowledge.case import row_for
from inspect_report.measure.bench import Bench, Result, only, split
from inspect_report.measure.missing import MissingInput
from inspect_report.mechanics import bore
from inspect_report.mechanics.arrays import Grid
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position

BORE: Final = "bore-diameter"
SKIRT: Final = "skirt-diameter"


def wear(bench: Bench, at: Position) -> Result:
    """Growth of the bore at its most worn place over its nominal diameter."""
    readings, unworn = bench.several(BORE, at), nominal_bore(bench, at)

    def growth(*diameters: float) -> float:
        return bore.wear([diameters], unworn)

    note = f"over the nominal {unworn * 1e3:.3f} mm"
    return bench.result(bore.wear, readings, "length", by=growth, picks=True, note=note)


def taper(bench: Bench, at: Position) -> Result:
    """Worst change of the bore along one axis."""
    readings = bench.several(BORE, at)
    call = split(bore.taper, (by_axis(readings), len(readings)))
    return bench.result(bore.taper, readings, "length", by=call, picks=True)


def out_of_round(bench: Bench, at: Position) -> Result:
    """Worst difference between the axes of the bore at one height."""
    readings = bench.several(BORE, at)
    call = split(bore.out_of_round, (by_axis(readings), len(readings)))
    return bench.result(bore.out_of_round, readings, "length", by=call, picks=True)


def piston_clearance(bench: Bench, at: Position) -> Result:
    """
    Play of the piston in its bore at middle height, on the narrower axis.

    Makers name a height of their own, most often in the middle of the stroke (common practice).
    """
    bores, skirt = bench.several(BORE, at.at("height", "middle")), bench.one(SKIRT, at)
    call = split(bore.piston_clearance, (by_axis(bores), len(bores)), (only, 1))
    note = "at the middle height of the bore, on its narrower axis"
    return bench.result(bore.piston_clearance, (*bores, skirt), "length", by=call, picks=True, note=note)


def nominal_bore(bench: Bench, at: Position) -> float:
    """
    Diameter of a new bore: the nominal, else what the limit table prints for it.

    Raises:
        MissingInput: the spec sheet gives neither.
    """
    if bench.geometry.bore is not None:
        nominal: float = bench.geometry.bore
        return nominal
    found = row_for(bench.case.books, BORE, at)
    row = found[0] if found else None
    printed = row and (row.nominal or (row.standard and row.standard.high))
    if not printed:
        raise MissingInput("nominal bore is not in the spec sheet")
    return printed


class _ByAxis:
    """Readings as a grid of heights or ends by axes, from the flat run in which they were taken."""

    def __init__(self, axes: int) -> None:
        self.axes = axes

    def __call__(self, values: Sequence[float]) -> Grid:
        return [values[i : i + self.axes] for i in range(0, len(values), self.axes)]


def by_axis(readings: Sequence[Reading]) -> _ByAxis:
    """How to lay the readings of one bore or journal out as a grid; their last axis is the one across."""
    return _ByAxis(len({reading.position.label("axis") for reading in readings}))


WAYS: Final = {
    "bore-wear": wear,
    "bore-taper": taper,
    "bore-out-of-round": out_of_round,
    "piston-clearance": piston_clearance,
}
