"""Turns the plates and springs of the clutch into the thickness of the pack and what both have lost."""

from collections.abc import Callable
from typing import Final

from inspect_report.measure.bench import Bench, Result, split
from inspect_report.measure.missing import MissingInput, in_words
from inspect_report.measure.new_size import new_size
from inspect_report.measure.twoways import Way, second_opinion
from inspect_report.mechanics import clutch, squish, valvetrain
from inspect_report.records.position import Position
from inspect_report.telling.manner import message, say
from inspect_report.telling.units import written

PLATE: Final = "friction-plate-thickness"
STEEL: Final = "steel-plate-thickness"
HEIGHT: Final = "clutch-pack-height"
SPRING: Final = "clutch-spring-length"
BEFORE_PLATES: Final = message("Count the plates and measure again before ordering any.")


def friction_pack(bench: Bench, at: Position) -> Result:
    """Thickness of all friction plates together."""
    plates = bench.several(PLATE, at)
    call = split(clutch.pack_thickness, (list, len(plates)))
    note = say("sum of {count} friction plates", count=len(plates))
    return bench.result(clutch.pack_thickness, plates, "length", by=call, note=note)


def friction_pack_wear(bench: Bench, at: Position) -> Result:
    """What the friction plates together have lost of their thickness when new."""
    plates = bench.several(PLATE, at)
    new = new_size(bench, PLATE, plates[0].position, "length")

    def lost(*numbers: float) -> float:
        return clutch.pack_wear(numbers[:-1], len(plates) * numbers[-1])

    note = say("{count} plates, each new {size}", count=len(plates), size=written(new.value, "mm", ".2f"))
    return bench.result(clutch.pack_wear, plates, "length", by=lost, given=(new,), note=note)


def whole_pack(bench: Bench, at: Position) -> Result:
    """Thickness of friction and steel plates together, held against the height of the pressed pack."""
    friction, steel = bench.several(PLATE, at), bench.several(STEEL, at)
    plates = (*friction, *steel)
    call = split(clutch.pack_thickness, (list, len(plates)))
    note = say(
        "sum of {friction} friction and {steel} steel plates", friction=len(friction), steel=len(steel)
    )
    found = bench.result(clutch.pack_thickness, plates, "length", by=call, note=note)
    height = bench.find(HEIGHT, at)
    if height is None:
        return found
    one = Way(say("by its plates"), say("the plates show"), plates, clutch.pack_thickness, call)
    other = Way(say("pressed together"), say("the pack pressed together shows"), (height,))
    return second_opinion(bench, found, one, other, say(BEFORE_PLATES))


def spring_loss(item: str) -> Callable[[Bench, Position], Result]:
    """Share of its free length a spring has lost since new, as a fraction."""

    def way(bench: Bench, at: Position) -> Result:
        spring = bench.one(item, at)
        new = new_size(bench, item, at, "length")
        note = say("new {size}", size=written(new.value, "mm", ".1f"))
        return bench.result(valvetrain.spring_loss, (spring,), "ratio", given=(new,), note=note)

    return way


def spring_spread(bench: Bench, at: Position) -> Result:
    """Longest less shortest clutch spring; uneven springs press the pack askew."""
    springs = bench.some(SPRING, at)
    if len(springs) < 2:
        raise MissingInput(say("{what} read of one spring only", what=in_words(SPRING)))
    call = split(squish.spread, (list, len(springs)))
    note = say("over {count} springs", count=len(springs))
    return bench.result(squish.spread, springs, "length", by=call, picks=True, note=note)


WAYS: Final = {
    "friction-pack-thickness": friction_pack,
    "friction-pack-wear": friction_pack_wear,
    "clutch-plate-pack": whole_pack,
    "clutch-spring-loss": spring_loss(SPRING),
    "clutch-spring-spread": spring_spread,
    "relief-spring-loss": spring_loss("relief-spring-length"),
}
