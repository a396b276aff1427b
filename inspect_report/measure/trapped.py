"""Turns the volume left above a two-stroke's piston, and its exhaust port, into compression ratios."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from inspect_report.measure import ports
from inspect_report.measure.bench import Bench, Result, mean, notes
from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics import slidercrank
from inspect_report.mechanics.metrology import u_from_permissible_error
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position
from inspect_report.telling.manner import message, say

VOLUME: Final = "clearance-volume"
BY_OIL: Final = message("by the oil it takes")
PORT_OFF: Final = 3.0
"""How far [°] an exhaust port may open from where the spec sheet has it, common practice."""


@dataclass(frozen=True, slots=True)
class Opening:
    """Where the exhaust port opens after top dead centre, by numbers read or given; and what to say of it."""

    readings: tuple[Reading, ...]
    given: tuple[Input, ...]
    angle: Callable[..., float]
    note: str


def full_stroke_ratio(bench: Bench, at: Position) -> Result:
    """Ratio over the whole stroke, from the volume of oil that fills what is left at top dead centre."""
    volume, swept = bench.one(VOLUME, at), _swept(bench)

    def ratio(clearance: float) -> float:
        return slidercrank.compression_ratio(swept, clearance)

    return bench.result(slidercrank.compression_ratio, (volume,), "ratio", by=ratio, note=say(BY_OIL))


def trapped_ratio(bench: Bench, at: Position) -> Result:
    """Ratio from where the piston closes the exhaust port: by the port's height as read, else as printed."""
    volume, opening = bench.one(VOLUME, at), _opening(bench, at)
    bore, stroke, rod = (bench.printed(name) for name in ("bore", "stroke", "rod_length"))

    def ratio(clearance: float, *numbers: float) -> float:
        return slidercrank.effective_ratio(
            180.0 - opening.angle(*numbers),
            bore=bore,
            stroke=stroke,
            rod_length=rod,
            clearance_volume=clearance,
        )

    note, formula = notes(say(BY_OIL), opening.note), slidercrank.effective_ratio
    readings = (volume, *opening.readings)
    return bench.result(formula, readings, "ratio", by=ratio, picks=True, given=opening.given, note=note)


def _opening(bench: Bench, at: Position) -> Opening:
    heights = ports.heights(bench, at, ports.EXHAUST)
    if not heights:
        printed = bench.printed("exhaust_port_opens")
        name, u = message("exhaust port opening"), u_from_permissible_error(PORT_OFF)
        given = Input(printed, shared=u, source=name, name=name, dimension="angle")
        told = say("exhaust port {angle}° by the spec sheet", angle=f"{printed:.0f}")
        return Opening((), (given,), lambda angle: angle, told)
    deck, given_deck, said = ports.deck(bench, at)
    opens, count = ports.angle(bench), len(heights)

    def first(*numbers: float) -> float:
        # The higher a port's edge, the sooner it opens and the later it closes.
        return opens(min(numbers[:count]), mean(numbers[count:]))

    return Opening((*heights, *deck), given_deck, first, notes(say("exhaust port as read"), said))


def _swept(bench: Bench) -> float:
    return slidercrank.swept_volume(bench.printed("bore"), bench.printed("stroke"))


WAYS: Final = {"full-stroke-ratio": full_stroke_ratio, "trapped-ratio": trapped_ratio}
