"""Turns the heights of a two-stroke's ports into the crank angles of their opening, duration and blowdown."""

from collections.abc import Callable
from typing import Final

from inspect_report.measure.bench import Bench, Result, mean
from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics import ports
from inspect_report.mechanics.metrology import u_from_permissible_error
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position
from inspect_report.telling.manner import message, say

HEIGHT: Final = "port-height"
DECK: Final = "deck-height"
EXHAUST: Final = "exhaust"
TRANSFER: Final = "transfer"
PISTON_EDGE: Final = message("piston edge")
LEVEL: Final = message("piston edge taken level with the barrel's face at top dead centre")
DECK_OFF: Final = 3e-4
"""How far [m] the piston's edge may stand from where it was not measured, common practice."""

Deck = tuple[tuple[Reading, ...], tuple[Input, ...], str]


def opens(bench: Bench, at: Position) -> Result:
    """Crank angle after top dead centre at which a port opens."""
    return _of_one_port(bench, at, ports.port_opens, lambda angle: angle)


def duration(bench: Bench, at: Position) -> Result:
    """Crank angle for which a port is open."""
    return _of_one_port(bench, at, ports.port_duration, ports.port_duration)


def blowdown(bench: Bench, at: Position) -> Result:
    """Crank angle from the opening of the first exhaust port to that of the first transfer port."""
    exhausts, transfers = heights(bench, at, EXHAUST), heights(bench, at, TRANSFER)
    if not exhausts or not transfers:
        raise bench.missing(HEIGHT, at)
    (edges, given, said), opened = deck(bench, at), angle(bench)
    first, last = len(exhausts), len(exhausts) + len(transfers)

    def between(*numbers: float) -> float:
        # The higher a port's edge, the sooner it opens.
        level = mean(numbers[last:])
        return ports.blowdown(opened(min(numbers[:first]), level), opened(min(numbers[first:last]), level))

    readings = (*exhausts, *transfers, *edges)
    return bench.result(ports.blowdown, readings, "angle", by=between, picks=True, given=given, note=said)


def _of_one_port(
    bench: Bench, at: Position, formula: Callable[..., float], made: Callable[[float], float]
) -> Result:
    height = bench.one(HEIGHT, at)
    (edges, given, said), opened = deck(bench, at), angle(bench)

    def found(*numbers: float) -> float:
        return made(opened(numbers[0], mean(numbers[1:])))

    return bench.result(formula, (height, *edges), "angle", by=found, given=given, note=said)


def heights(bench: Bench, at: Position, port: str) -> tuple[Reading, ...]:
    """The heights read of ports of a cylinder whose name begins with a word."""
    there = bench.those_read(HEIGHT, at)
    return tuple(r for r in there if (r.position.label("port") or "").startswith(port))


def deck(bench: Bench, at: Position) -> Deck:
    """Piston edge below the face: as read, else by the spec sheet, else level; and what to say of it."""
    read = bench.those_read(DECK, at.without("port"))
    if read:
        return read, (), ""
    printed: float | None = bench.geometry.deck_height
    u = u_from_permissible_error(DECK_OFF)
    given = Input(printed or 0.0, shared=u, source=PISTON_EDGE, name=PISTON_EDGE, dimension="length")
    return (), (given,), say(LEVEL) if printed is None else say("nominal deck height")


def angle(bench: Bench) -> Callable[[float, float], float]:
    """The opening of a port as a function of its height and of the piston's edge."""
    stroke, rod = bench.printed("stroke"), bench.printed("rod_length")
    return lambda height, deck: ports.port_opens(height, deck_height=deck, stroke=stroke, rod_length=rod)


WAYS: Final = {"port-opens": opens, "port-duration": duration, "port-blowdown": blowdown}
