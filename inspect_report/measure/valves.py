"""Turns shims, stems and springs into the shims left, stem clearances, and what springs have lost."""

from typing import Final

from inspect_report.measure.bearings import clearance
from inspect_report.measure.bench import Bench, Result, name_of
from inspect_report.measure.budget import propagated
from inspect_report.measure.missing import MissingInput
from inspect_report.measure.new_size import limit_is_printed, new_size
from inspect_report.measure.valve_gaps import GAP, NONE_ON_SALE, SHIM, sizes_on_sale, valve
from inspect_report.mechanics import valvetrain
from inspect_report.records.position import Position
from inspect_report.telling.manner import say
from inspect_report.telling.units import as_sold, written

LOAD: Final = "valve-spring-load"
LENGTH: Final = "valve-spring-length"
LEAN: Final = "valve-spring-squareness"


def shim_range_left(bench: Bench, at: Position) -> Result:
    """How much thinner shims can still become; the shim wanted, not the one fitted, is what wear moves."""
    gap, shim, on_sale = bench.one(GAP, at), bench.one(SHIM, at), sizes_on_sale(bench.case.books.sheet)
    if not on_sale:
        raise MissingInput(NONE_ON_SALE)
    here, thinnest = valve(bench, at), on_sale[0]

    def left(measured: float, fitted: float) -> float:
        return valvetrain.shim_range_left(fitted, measured, aim=here.aim, thinnest=thinnest, lever=here.lever)

    note = say("thinnest on sale {size}", size=as_sold(thinnest, on_sale, "g"))
    return bench.result(valvetrain.shim_range_left, (gap, shim), "length", by=left, note=note)


def spring_lean(bench: Bench, at: Position) -> Result:
    """Angle by which a valve spring leans, where the maker prints no limit for the gap at its end."""
    read = bench.one(LEAN, at), bench.one(LENGTH, at)
    if limit_is_printed(bench, LEAN, at):
        raise MissingInput(say("the maker prints a limit for the gap itself"), optional=True)
    return bench.result(valvetrain.spring_lean, read, "angle")


def load_loss(bench: Bench, at: Position) -> Result:
    """Share of its load that a valve spring has lost, where the maker prints a load and no limit for it."""
    reading = bench.one(LOAD, at)
    if limit_is_printed(bench, LOAD, at):
        raise MissingInput(say("the maker prints a limit for the load itself"), optional=True)
    inputs = (bench.input(reading), new_size(bench, LOAD, at, "force"))
    found = propagated(valvetrain.spring_loss, inputs)
    note = say("against {load} when new", load=written(inputs[1].value, "N", ".0f"))
    name = name_of(valvetrain.spring_loss)
    return Result(found.quantity("ratio"), name, (reading,), note, budget=found.budget)


WAYS: Final = {
    "shim-range-left": shim_range_left,
    "stem-clearance": clearance("guide-bore", "stem-diameter"),
    "valve-spring-lean": spring_lean,
    "valve-spring-load-loss": load_loss,
}
