"""Turns the pressure and vacuum tests of a two-stroke's crankcase into loss, free air lost, and a hole."""

from dataclasses import dataclass, replace
from typing import Final

from inspect_report.measure.ambient import air_pressure, air_temperature
from inspect_report.measure.bench import Bench, Result, notes
from inspect_report.measure.missing import MissingInput
from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics import crankcase
from inspect_report.mechanics.metrology import u_from_permissible_error
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position
from inspect_report.telling.manner import message, say

VOLUME: Final = "crankcase-test-volume"
EMPTY: Final = message("empty before the time was up: it lost at least so much")
NO_HOLE_TOLD: Final = message(
    "the crankcase was empty before the time was up: the hole is larger than can be told"
)
TIGHT: Final = message("no loss to be seen")
VOLUME_OFF: Final = 0.05
"""Share by which the closed volume of a spec sheet may be off, common practice: plugs and hoses differ."""


@dataclass(frozen=True, slots=True)
class Test:
    """The items of one test of the closed crankcase, and what it was put under."""

    start: str
    end: str
    time: str
    under: crankcase.Under


PRESSURE: Final = Test(
    "crankcase-pressure-start", "crankcase-pressure-end", "crankcase-test-time", "pressure"
)
VACUUM: Final = Test("crankcase-vacuum-start", "crankcase-vacuum-end", "crankcase-vacuum-time", "vacuum")


def pressure_loss(bench: Bench, at: Position) -> Result:
    """Mean rate at which the crankcase loses its test pressure."""
    return _loss(bench, at, PRESSURE)


def vacuum_loss(bench: Bench, at: Position) -> Result:
    """Mean rate at which the crankcase loses its test vacuum."""
    return _loss(bench, at, VACUUM)


def leak_flow(bench: Bench, at: Position) -> Result:
    """Free air lost under pressure: the decay over the volume closed off."""
    return _flow(bench, at, PRESSURE)


def vacuum_flow(bench: Bench, at: Position) -> Result:
    """Free air drawn in under vacuum: the decay over the volume closed off."""
    return _flow(bench, at, VACUUM)


def leak_bore(bench: Bench, at: Position) -> Result:
    """Bore of the one round hole that would lose the test pressure as the crankcase does."""
    return _bore(bench, at, PRESSURE)


def vacuum_bore(bench: Bench, at: Position) -> Result:
    """Bore of the one round hole that would let in air as the crankcase does under vacuum."""
    return _bore(bench, at, VACUUM)


def _loss(bench: Bench, at: Position, test: Test) -> Result:
    readings = _readings(bench, at, test)
    found = bench.result(crankcase.pressure_loss_rate, readings, "pressure rate")
    return replace(found, note=notes(_said(bench, readings), say("the rate falls with what is left")))


def _flow(bench: Bench, at: Position, test: Test) -> Result:
    readings, (closed_off, volume, source) = _readings(bench, at, test), _volume(bench, at)
    temperature, warmth = air_temperature(bench.conditions)

    def flow(start: float, end: float, time: float, closed: float, kelvin: float) -> float:
        return crankcase.free_air_loss(start, end, time, volume=closed, temperature=kelvin)

    note = notes("free air of 20 °C and 100 kPa", _said(bench, readings), source, warmth)
    given, formula = (*volume, temperature), crankcase.free_air_loss
    return bench.result(formula, (*readings, *closed_off), "flow", by=flow, given=given, note=note)


def _bore(bench: Bench, at: Position, test: Test) -> Result:
    readings, (closed_off, volume, source) = _readings(bench, at, test), _volume(bench, at)
    temperature, warmth = air_temperature(bench.conditions)
    pressure, weather = air_pressure(bench.conditions)
    if bench.input(readings[1]).value == 0.0:
        raise MissingInput(say(NO_HOLE_TOLD))

    def bore(start: float, end: float, time: float, closed: float, kelvin: float, around: float) -> float:
        return crankcase.decay_leak_bore(
            start, end, time, volume=closed, under=test.under, temperature=kelvin, p_ambient=around
        )

    note = notes(_said(bench, readings), source, warmth, weather)
    given, formula = (*volume, temperature, pressure), crankcase.decay_leak_bore
    return bench.result(formula, (*readings, *closed_off), "length", by=bore, given=given, note=note)


def _readings(bench: Bench, at: Position, test: Test) -> tuple[Reading, Reading, Reading]:
    return bench.one(test.start, at), bench.one(test.end, at), bench.one(test.time, at)


def _said(bench: Bench, readings: tuple[Reading, Reading, Reading]) -> str:
    """What to say of a test that came to its end, or never began to fall."""
    start, end = (bench.input(reading).value for reading in readings[:2])
    return say(EMPTY) if end == 0.0 else say(TIGHT) if end == start else ""


def _volume(bench: Bench, at: Position) -> tuple[tuple[Reading, ...], tuple[Input, ...], str]:
    """The volume closed off as a reading, else as a number the spec sheet has; and what to say of it."""
    reading = bench.find(VOLUME, at)
    if reading is not None:
        return (reading,), (), say("volume as measured")
    printed: float | None = bench.geometry.crankcase_volume
    if printed is None:
        raise MissingInput(say("volume closed off neither measured nor in the spec sheet"), optional=True)
    u, name = u_from_permissible_error(VOLUME_OFF * printed), message("volume closed off")
    given = Input(printed, shared=u, source=name, name=name, dimension="volume")
    return (
        (),
        (given,),
        say("volume {volume} by the spec sheet", volume=f"{1e6 * printed:.0f} cm³"),
    )


WAYS: Final = {
    "crankcase-pressure-loss": pressure_loss,
    "crankcase-leak-flow": leak_flow,
    "crankcase-leak-bore": leak_bore,
    "crankcase-vacuum-loss": vacuum_loss,
    "crankcase-vacuum-flow": vacuum_flow,
    "crankcase-vacuum-bore": vacuum_bore,
}
