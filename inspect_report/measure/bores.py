"""Turns bore and piston diameters into wear, taper, out-of-round, form and clearance of each cylinder."""

from collections.abc import Sequence
from typing import Final

from inspect_report.knowledge.case import row_for
from inspect_report.measure.bench import Bench, Result, notes
from inspect_report.measure.missing import MissingInput
from inspect_report.measure.warmth import both_or_neither, warmth
from inspect_report.mechanics import bore, boreform
from inspect_report.mechanics.arrays import Grid
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position
from inspect_report.telling.manner import say, say_as, word
from inspect_report.telling.units import written
from inspect_report.telling.words_of_data import FORM

BORE: Final = "bore-diameter"
SKIRT: Final = "skirt-diameter"
USUAL_HEIGHT: Final = "middle"
"""Where makers most often state the clearance of a piston (common practice)."""
SQUARE_TO_PIN: Final = "across"
"""The pin lies along the crank: this is the way in which the skirt is read, and the piston presses."""
_COVERAGE: Final = 2.0
"""Standard uncertainties within which two heights are no different."""


def wear(bench: Bench, at: Position) -> Result:
    """Growth of the bore at its most worn place over its nominal diameter, at 20 °C where that is known."""
    readings, unworn, warm = bench.several(BORE, at), nominal_bore(bench, at), warmth(bench, "barrel", at)
    count = len(readings)

    def growth(*numbers: float) -> float:
        return bore.wear([warm.at_20(numbers[:count], numbers[count:])], unworn)

    note = notes(say("over the nominal {size}", size=written(unworn, "mm", ".3f")), warm.told)
    read = (*readings, *warm.readings)
    return bench.result(bore.wear, read, "length", by=growth, picks=True, note=note)


def taper(bench: Bench, at: Position) -> Result:
    """Worst change of the bore along one axis."""
    readings = bench.several(BORE, at)
    grid = by_axis(readings)
    return bench.result(bore.taper, readings, "length", by=lambda *ds: bore.taper(grid(ds)), picks=True)


def out_of_round(bench: Bench, at: Position) -> Result:
    """Worst difference between the axes of the bore at one height."""
    readings = bench.several(BORE, at)
    grid = by_axis(readings)
    return bench.result(
        bore.out_of_round, readings, "length", by=lambda *ds: bore.out_of_round(grid(ds)), picks=True
    )


def form(bench: Bench, at: Position) -> Result:
    """Bulge of the bore between its ends, with the name of its form: barrel, waist, bell or taper."""
    readings = bench.several(BORE, at)
    grid = by_axis(readings)
    flare = bench.result(boreform.flare, readings, "length", by=lambda *ds: boreform.flare(grid(ds)))
    now = grid([bench.input(r).value for r in readings])
    name = boreform.form(now, _COVERAGE * flare.quantity.u)
    return bench.result(
        boreform.bulge, readings, "length", by=lambda *ds: boreform.bulge(grid(ds)), note=say_as(FORM, name)
    )


def piston_clearance(bench: Bench, at: Position) -> Result:
    """Play of the piston in its bore at the height the maker names, both read square to the pin."""
    height, why = clearance_height(bench)
    bores, skirt = _facing_the_skirt(bench, at.at("height", height)), bench.one(SKIRT, at)
    barrel, piston, told = both_or_neither(warmth(bench, "barrel", at), warmth(bench, "piston", at))
    grid, count = by_axis(bores), len(bores)
    piston_at = count + 1 + len(barrel.readings)

    def play(*numbers: float) -> float:
        walls = barrel.at_20(numbers[:count], numbers[count + 1 : piston_at])
        (across,) = piston.at_20(numbers[count : count + 1], numbers[piston_at:])
        return bore.piston_clearance(grid(walls), across)

    note = notes(
        say("at the {height} height of the bore{why}, square to the pin", height=word(height), why=why),
        _skirt(bench),
        told,
    )
    read = (*bores, skirt, *barrel.readings, *piston.readings)
    return bench.result(bore.piston_clearance, read, "length", by=play, picks=True, note=note)


def _facing_the_skirt(bench: Bench, at: Position) -> tuple[Reading, ...]:
    """
    The readings of the bore that the skirt is held against: those square to the pin.

    A skirt is ground oval and widest there, so that a bore read along the pin says nothing of its play.
    All readings at the height where the checklist does not tell the ways apart.
    """
    facing = at.at("axis", SQUARE_TO_PIN)
    return bench.several(BORE, facing if facing in bench.within(BORE, at) else at)


def clearance_height(bench: Bench) -> tuple[str, str]:
    """Where the maker states the clearance, else where most do, and what to say of it."""
    named: str = bench.geometry.clearance_height
    return (named, say(", as the maker states it")) if named else (USUAL_HEIGHT, "")


def _skirt(bench: Bench) -> str:
    height: float | None = bench.geometry.skirt_height
    return (
        ""
        if height is None
        else say("skirt {height} above its lower edge", height=written(height, "mm", "g"))
    )


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
        raise MissingInput(say("nominal bore is not in the spec sheet"))
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
    "bore-form": form,
    "piston-clearance": piston_clearance,
}
