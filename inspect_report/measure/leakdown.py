"""Turns the two gauges of a leak-down test into percent, leak bore, free-air flow and spread."""

from collections.abc import Callable, Sequence
from typing import Final

from inspect_report.measure.ambient import air_pressure, air_temperature
from inspect_report.measure.bench import Bench, Result, notes
from inspect_report.measure.missing import MissingInput, nothing_to_differ_from
from inspect_report.mechanics import gasflow
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position

SUPPLY: Final = "leak-down-supply"
CYLINDER: Final = "leak-down-cylinder"
NO_SEAL: Final = "the cylinder does not hold any pressure: the leak has no finite size"
NO_LEAK: Final = "both gauges agree: no leak to be seen"
REFERENCE: Final = "as a tester of 1.0 mm orifice at 6 bar would show it"
# Printed beside tables of free air through orifices: 0.97 for a rounded entry, 0.65 for a sharp edge.
IDEAL: Final = (
    "the tester's hole taken as an ideal nozzle, discharge coefficient 1; one with a sharp edge passes"
    " 20 to 40 % less (common practice)"
)


def percent(bench: Bench, at: Position) -> Result:
    """Share of the supply pressure lost, as a fraction."""
    supply, cylinder = _gauges(bench, at)
    note = "depends on the tester's orifice"
    return bench.result(gasflow.leak_percent, (supply, cylinder), "ratio", by=_share, note=note)


def leak_bore(bench: Bench, at: Position) -> Result:
    """Bore of the one round hole that would leak as the cylinder does."""
    bore, note = _leak(bench, at)
    return bench.result(gasflow.equivalent_leak_bore, _gauges(bench, at), "length", by=bore, note=note)


def reference_percent(bench: Bench, at: Position) -> Result:
    """Leak-down the same leak would show on the reference tester, as a fraction."""
    bore, note = _leak(bench, at)
    pressure, _ = air_pressure(bench.conditions)

    def share(supply: float, cylinder: float) -> float:
        return gasflow.reference_tester_percent(bore(supply, cylinder), p_ambient=pressure) / 100.0

    said = notes(REFERENCE, note)
    return bench.result(gasflow.reference_tester_percent, _gauges(bench, at), "ratio", by=share, note=said)


def free_air_flow(bench: Bench, at: Position) -> Result:
    """
    Air lost, as free air of 20 °C and 100 kPa.

    Taken at the tester's orifice, which passes what the leak passes and also tells a cylinder without seal.
    """
    supply, cylinder = _gauges(bench, at)
    orifice = _orifice(bench, cylinder)
    pressure, source = air_pressure(bench.conditions)
    temperature = air_temperature(bench.conditions)

    def flow(p_supply: float, p_cylinder: float) -> float:
        up, down = p_supply + pressure, p_cylinder + pressure
        return gasflow.free_air_flow(orifice, up, down, temperature=temperature)

    note = notes("free air of 20 °C and 100 kPa", IDEAL, source)
    return bench.result(gasflow.free_air_flow, (supply, cylinder), "flow", by=flow, note=note)


def spread(bench: Bench, at: Position) -> Result:
    """Worst less best leak-down over the cylinders, as a fraction."""
    if bench.layout.cylinders == 1:
        raise nothing_to_differ_from()
    read = [p for p in bench.places(("cylinder",)) if bench.find(SUPPLY, p) and bench.find(CYLINDER, p)]
    if not read:
        raise bench.missing(CYLINDER, at)
    if len(read) < 2:
        raise MissingInput("leak-down read on one cylinder only")
    gauges = [gauge for place in read for gauge in _gauges(bench, place)]
    shares = [_share(*(bench.input(g).value for g in _gauges(bench, place))) for place in read]
    worst, best = shares.index(max(shares)), shares.index(min(shares))

    def difference(*values: float) -> float:
        return _share_of(values, worst) - _share_of(values, best)

    note = f"worst less best of {len(read)} cylinders"
    return bench.result(gasflow.leak_percent, gauges, "ratio", by=difference, note=note)


def _share_of(values: Sequence[float], cylinder: int) -> float:
    """Leak-down of one cylinder from the gauges of all, supply and cylinder by turns."""
    return _share(values[2 * cylinder], values[2 * cylinder + 1])


def _gauges(bench: Bench, at: Position) -> tuple[Reading, Reading]:
    # The cylinder gauge first: where nothing was read, its item gives the reason.
    cylinder = bench.one(CYLINDER, at)
    return bench.one(SUPPLY, at), cylinder


def _share(supply: float, cylinder: float) -> float:
    return gasflow.leak_percent(supply, cylinder) / 100.0


def _leak(bench: Bench, at: Position) -> tuple[Callable[[float, float], float], str]:
    """The leak's bore as a function of the two gauges, and what to say of it."""
    supply, cylinder = _gauges(bench, at)
    orifice = _orifice(bench, cylinder)
    pressure, source = air_pressure(bench.conditions)
    if bench.input(cylinder).value == 0.0:
        raise MissingInput(NO_SEAL)

    def bore(p_supply: float, p_cylinder: float) -> float:
        return gasflow.equivalent_leak_bore(p_supply, p_cylinder, tester_bore=orifice, p_ambient=pressure)

    tight = bench.input(cylinder).value == bench.input(supply).value
    return bore, notes(NO_LEAK if tight else "", source)


def _orifice(bench: Bench, reading: Reading) -> float:
    instrument = bench.case.inspection.instrument(reading.instrument)
    if instrument is None or instrument.orifice is None:
        raise MissingInput("bore of the leak-down tester's orifice not given")
    return instrument.orifice


WAYS: Final = {
    "leak-down": percent,
    "leak-bore": leak_bore,
    "leak-flow": free_air_flow,
    "leak-down-reference": reference_percent,
    "leak-down-spread": spread,
}
