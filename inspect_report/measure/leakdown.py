"""Turns the two gauges of a leak-down test into percent, leak bore, free-air flow and spread."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from inspect_report.measure.ambient import air_pressure, air_temperature, engine_words
from inspect_report.measure.bench import Bench, Result, notes
from inspect_report.measure.missing import MissingInput, nothing_to_differ_from
from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics import gasflow
from inspect_report.mechanics.metrology import u_from_permissible_error
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position
from inspect_report.records.workshop import ReferenceTester
from inspect_report.telling.manner import message, say, word
from inspect_report.telling.units import written

SUPPLY: Final = "leak-down-supply"
CYLINDER: Final = "leak-down-cylinder"
HEARD: Final = "leak-down-heard"
NO_SEAL: Final = message("the cylinder does not hold any pressure: the leak has no finite size")
ANY_TESTER: Final = message("no seal at all: the cylinder holds no pressure, and any tester shows 100 %")
NO_LEAK: Final = message("both gauges agree: no leak to be seen")
# Printed beside tables of free air through orifices: 0.97 for a rounded entry, 0.65 for a sharp edge.
IDEAL: Final = message(
    "the tester's hole taken as an ideal nozzle, discharge coefficient 1; one with a sharp edge "
    "passes 20 to 40 % less (common practice)"
)
DRILLED: Final = 2e-5
"""How far [m] an orifice may be from its bore where nobody measured it, common practice."""


@dataclass(frozen=True, slots=True)
class Test:
    """The items of one leak-down test; ``state`` of the engine where the test itself says it."""

    supply: str
    cylinder: str
    state: str = ""


MAIN: Final = Test(SUPPLY, CYLINDER)
COLD: Final = Test("leak-down-cold-supply", "leak-down-cold-cylinder", "cold")


def percent(bench: Bench, at: Position) -> Result:
    """Share of the supply pressure lost, as a fraction, with where the air was heard."""
    return _percent(bench, at, MAIN, _heard(bench, at))


def cold_percent(bench: Bench, at: Position) -> Result:
    """Share of the supply pressure lost on the cold engine, where it was tested cold as well."""
    return _percent(bench, at, COLD)


def leak_bore(bench: Bench, at: Position) -> Result:
    """Bore of the one round hole that would leak as the cylinder does."""
    return _leak_bore(bench, at, MAIN)


def cold_leak_bore(bench: Bench, at: Position) -> Result:
    """Bore of the hole that would leak as the cold cylinder does."""
    return _leak_bore(bench, at, COLD)


def reference_percent(bench: Bench, at: Position) -> Result:
    """Leak-down the same leak would show on the workshop's reference tester, as a fraction."""
    supply, cylinder = _gauges(bench, at)
    orifice, (pressure, source) = _orifice(bench, cylinder), air_pressure(bench.conditions)
    reference = bench.case.books.workshop.reference_tester
    open_wide = bench.input(cylinder).value == 0.0
    result = bench.result(
        gasflow.reference_tester_percent,
        (supply, cylinder),
        "ratio",
        by=_on(reference),
        given=(orifice, pressure),
        note=notes(reference_words(reference), say(ANY_TESTER) if open_wide else _tight(bench, at), source),
    )
    return _in_its_state(result, bench, MAIN)


def reference_words(tester: ReferenceTester) -> str:
    """What the reference tester is."""
    orifice, supply = written(tester.orifice, "mm", ".4g"), written(tester.supply, "bar", ".4g")
    air = written(tester.air_pressure, "hPa", ".4g")
    return say(
        "as a tester of {orifice} orifice at {supply} would show it, leaking into air of {air}",
        orifice=orifice,
        supply=supply,
        air=air,
    )


def free_air_flow(bench: Bench, at: Position) -> Result:
    """
    Air lost, as free air of 20 °C and 100 kPa.

    Taken at the tester's orifice, which passes what the leak passes and also tells a cylinder without seal.
    """
    supply, cylinder = _gauges(bench, at)
    pressure, source = air_pressure(bench.conditions)
    temperature, warmth = air_temperature(bench.conditions)
    result = bench.result(
        gasflow.free_air_flow,
        (supply, cylinder),
        "flow",
        by=_flow,
        given=(_orifice(bench, cylinder), pressure, temperature),
        note=notes(say("free air of 20 °C and 100 kPa"), say(IDEAL), source, warmth),
    )
    return _in_its_state(result, bench, MAIN)


def spread(bench: Bench, at: Position) -> Result:
    """Worst less best leak-down over the cylinders, as a fraction."""
    if bench.layout.cylinders == 1:
        raise nothing_to_differ_from()
    read = [p for p in bench.places(("cylinder",)) if bench.find(SUPPLY, p) and bench.find(CYLINDER, p)]
    if not read:
        raise bench.missing(CYLINDER, at)
    if len(read) < 2:
        raise MissingInput(say("leak-down read on one cylinder only"))
    gauges = [gauge for place in read for gauge in _gauges(bench, place)]
    shares = [_share(*(bench.input(g).value for g in _gauges(bench, place))) for place in read]
    worst, best = shares.index(max(shares)), shares.index(min(shares))

    def difference(*values: float) -> float:
        return _share_of(values, worst) - _share_of(values, best)

    note = say("worst less best of {count} cylinders", count=len(read))
    found = bench.result(gasflow.leak_percent, gauges, "ratio", by=difference, note=note)
    return _in_its_state(found, bench, MAIN)


def _percent(bench: Bench, at: Position, test: Test, heard: str = "") -> Result:
    supply, cylinder = _gauges(bench, at, test)
    open_wide = say(ANY_TESTER) if bench.input(cylinder).value == 0.0 else ""
    note = notes(say("depends on the tester's orifice"), open_wide, _tight(bench, at, test), heard)
    result = bench.result(gasflow.leak_percent, (supply, cylinder), "ratio", by=_share, note=note)
    return replace(_in_its_state(result, bench, test), basis=_basis(bench, cylinder))


def _basis(bench: Bench, reading: Reading) -> str:
    """The tester's orifice: percents of unlike testers do not compare."""
    instrument = bench.case.inspection.instrument(reading.instrument)
    return f"orifice {1e3 * instrument.orifice:.4g} mm" if instrument and instrument.orifice else ""


def _leak_bore(bench: Bench, at: Position, test: Test) -> Result:
    supply, cylinder = _gauges(bench, at, test)
    orifice, (pressure, source) = _orifice(bench, cylinder), air_pressure(bench.conditions)
    if bench.input(cylinder).value == 0.0:
        raise MissingInput(say(NO_SEAL))
    result = bench.result(
        gasflow.equivalent_leak_bore,
        (supply, cylinder),
        "length",
        by=_bore,
        given=(orifice, pressure),
        note=notes(_tight(bench, at, test), source),
    )
    return _in_its_state(result, bench, test)


def _in_its_state(result: Result, bench: Bench, test: Test) -> Result:
    """A result with the state of the engine: hot and cold readings are not of one kind."""
    state = test.state or bench.engine_at(test.supply)
    return replace(result, engine=state, note=notes(result.note, engine_words(state)))


def _share_of(values: Sequence[float], cylinder: int) -> float:
    """Leak-down of one cylinder from the gauges of all, supply and cylinder by turns."""
    return _share(values[2 * cylinder], values[2 * cylinder + 1])


def _gauges(bench: Bench, at: Position, test: Test = MAIN) -> tuple[Reading, Reading]:
    # The cylinder gauge first: where nothing was read, its item gives the reason.
    cylinder = bench.one(test.cylinder, at)
    return bench.one(test.supply, at), cylinder


def _share(supply: float, cylinder: float) -> float:
    return gasflow.leak_percent(supply, cylinder) / 100.0


def _bore(supply: float, cylinder: float, orifice: float, pressure: float) -> float:
    return gasflow.equivalent_leak_bore(supply, cylinder, tester_bore=orifice, p_ambient=pressure)


def _flow(supply: float, cylinder: float, orifice: float, pressure: float, temperature: float) -> float:
    return gasflow.free_air_flow(orifice, supply + pressure, cylinder + pressure, temperature=temperature)


def _on(tester: ReferenceTester) -> Callable[[float, float, float, float], float]:
    """The reading of a reference tester as a function of the two gauges, the orifice and the air."""

    def share(supply: float, cylinder: float, orifice: float, pressure: float) -> float:
        if cylinder == 0.0:
            return 1.0
        shown = gasflow.reference_tester_percent(
            _bore(supply, cylinder, orifice, pressure),
            p_supply=tester.supply,
            tester_bore=tester.orifice,
            p_ambient=tester.air_pressure,
        )
        return shown / 100.0

    return share


def _tight(bench: Bench, at: Position, test: Test = MAIN) -> str:
    supply, cylinder = _gauges(bench, at, test)
    return say(NO_LEAK) if bench.input(cylinder).value == bench.input(supply).value else ""


def _heard(bench: Bench, at: Position) -> str:
    """Where the air was heard, which is half of what a leak-down test tells."""
    answer = bench.case.inspection.answer(HEARD, at)
    if answer is None:
        return say("where the air went was not noted") if bench.asks_for(HEARD) else ""
    heard = [place for place in answer.chosen if place != "none"]
    return say("air heard: {places}", places=", ".join(map(word, heard))) if heard else say("no air heard")


def _orifice(bench: Bench, reading: Reading) -> Input:
    """The bore of the tester's orifice with the error its papers allow, else that of a drilled hole."""
    instrument = bench.case.inspection.instrument(reading.instrument)
    if instrument is None or instrument.orifice is None:
        raise MissingInput(say("bore of the leak-down tester's orifice not given"))
    u = u_from_permissible_error(instrument.orifice_error or DRILLED)
    name = say("orifice of {instrument}", instrument=instrument.id)
    return Input(instrument.orifice, shared=u, source=name, name=name, dimension="length")


WAYS: Final = {
    "leak-down": percent,
    "leak-bore": leak_bore,
    "leak-flow": free_air_flow,
    "leak-down-reference": reference_percent,
    "leak-down-spread": spread,
    "leak-down-cold": cold_percent,
    "leak-bore-cold": cold_leak_bore,
}
