"""Turns gasket, deck and chamber readings into squish gap, compression ratio and what sets them apart."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from inspect_report.measure.bench import Bench, Result, mean, notes, split
from inspect_report.measure.budget import Formula
from inspect_report.measure.missing import MissingInput, in_words, nothing_to_differ_from
from inspect_report.measure.plain import mean_of
from inspect_report.measure.twoways import Way, difference, second_opinion
from inspect_report.mechanics import slidercrank, squish
from inspect_report.records.inspection import Reading
from inspect_report.records.position import ENGINE, Position
from inspect_report.records.specsheet import GasketGrade
from inspect_report.telling.manner import message, say
from inspect_report.telling.units import written

THICKNESS: Final = "gasket-thickness"
GRADE: Final = "gasket-grade-fitted"
DECK: Final = "deck-height"
CHAMBER: Final = "chamber-volume"
BY_SOLDER: Final = "squish-by-solder"
BEFORE_GASKET: Final = message("Measure again before a gasket is chosen.")
_COVERAGE: Final = 2.0


@dataclass(frozen=True, slots=True)
class Source:
    """A number for a formula: the mean of some readings, else what the spec sheet says."""

    readings: tuple[Reading, ...]
    printed: float = 0.0
    note: str = ""

    @property
    def part(self) -> tuple[Callable[..., float], int]:
        """How ``split`` makes the number."""
        if self.readings:
            return mean, len(self.readings)
        return (lambda _: self.printed), 0


def squish_gap(bench: Bench, at: Position) -> Result:
    """Gap between piston edge and head at top dead centre: gasket and mean deck height, or by solder."""
    solder = _by_solder(bench, at)
    try:
        computed = _computed_gap(bench, at)
    except MissingInput:
        if solder is None:
            raise
        return solder.result(bench)
    found = _gap(bench, computed)
    return found if solder is None else second_opinion(bench, found, computed, solder, say(BEFORE_GASKET))


def squish_two_ways(bench: Bench, at: Position) -> Result:
    """What solder or clay shows more than gasket and deck height."""
    solder = _by_solder(bench, at)
    if solder is None:
        raise bench.missing(BY_SOLDER, at)
    return difference(bench, solder, _computed_gap(bench, at))


def _computed_gap(bench: Bench, at: Position) -> Way:
    deck, gasket = bench.some(DECK, at), gasket_fitted(bench)
    call = split(squish.squish_gap, gasket.part, (mean, len(deck)))
    read = (*gasket.readings, *deck)
    return Way(
        say("by gasket and deck"), say("gasket and deck show"), read, squish.squish_gap, call, gasket.note
    )


def _by_solder(bench: Bench, at: Position) -> Way | None:
    reading = bench.find(BY_SOLDER, at)
    return (
        Way(say("by solder"), say("solder shows"), (reading,), note=say("by solder or clay"))
        if reading
        else None
    )


def _gap(bench: Bench, way: Way) -> Result:
    """The computed gap; the points of one deck count with their scatter."""
    deck = [r for r in way.readings if r.item == DECK]
    return bench.result(squish.squish_gap, way.readings, "length", by=way.call, alike=deck, note=way.note)


def compression_ratio(bench: Bench, at: Position) -> Result:
    """Ratio from the volumes of chamber, gasket and deck; what was not read is taken from the spec sheet."""
    read, call, note = _ratio_at(bench, at)
    deck = [r for r in read if r.item == DECK]
    return bench.result(slidercrank.compression_ratio, read, "ratio", by=call, alike=deck, note=note)


def _ratio_at(bench: Bench, at: Position) -> tuple[tuple[Reading, ...], Formula, str]:
    """What the ratio of one cylinder is made from, how, and what to say of it."""
    chamber, deck = chamber_of(bench, at), deck_of(bench, at)
    if not (chamber.readings or deck.readings):
        raise bench.missing(CHAMBER, at)
    gasket = gasket_fitted(bench)
    read = (*chamber.readings, *gasket.readings, *deck.readings)
    call = split(ratio_of(bench), chamber.part, gasket.part, deck.part)
    return read, call, notes(chamber.note, gasket.note, deck.note)


def ratio_spread(bench: Bench, at: Position) -> Result:
    """Highest less lowest ratio over the cylinders; gasket and gauges serve all of them alike."""
    made = [_ratio_at(bench, place) for place in _read_at(bench, at, CHAMBER, DECK)]
    counts = [len(read) for read, _, _ in made]

    def apart(*numbers: float) -> float:
        starts = [sum(counts[:i]) for i in range(len(counts))]
        ratios = [
            call(*numbers[start : start + count])
            for (_, call, _), start, count in zip(made, starts, counts, strict=True)
        ]
        return squish.spread(ratios)

    read = tuple(r for readings, _, _ in made for r in readings)
    note = notes(say("over {count} cylinders", count=len(made)), *(note for _, _, note in made))
    return bench.result(squish.spread, read, "ratio", by=apart, picks=True, note=note)


def chamber_spread(bench: Bench, at: Position) -> Result:
    """Largest less smallest chamber."""
    chambers = [bench.one(CHAMBER, place) for place in _read_at(bench, at, CHAMBER)]
    note = say("over {count} chambers", count=len(chambers))
    call = split(squish.spread, (list, len(chambers)))
    return bench.result(squish.spread, chambers, "volume", by=call, picks=True, note=note)


def _read_at(bench: Bench, at: Position, *items: str) -> list[Position]:
    """Cylinders at which at least one of some items was read, two or more."""
    cylinders = bench.places(("cylinder",))
    if len(cylinders) == 1:
        raise nothing_to_differ_from()
    read = [p for p in cylinders if any(bench.those_read(item, p) for item in items)]
    if not read:
        raise bench.missing(items[0], at)
    if len(read) < 2:
        raise MissingInput(say("{what} read on one cylinder only", what=in_words(items[0])))
    return read


def deck_mean(bench: Bench, at: Position) -> Result:
    """Mean deck height of the points that were read, with their scatter."""
    points = bench.some(DECK, at)
    note = say("mean of {count} points", count=len(points)) if len(points) > 1 else ""
    found = bench.result(mean_of, points, "length", alike=points, note=note)
    return replace(found, formula="reading")


def deck_spread(bench: Bench, at: Position) -> Result:
    """How far the points of one deck height lie apart: a piston that rocks, or a face out of square."""
    points = bench.some(DECK, at)
    if len(points) < 2:
        raise MissingInput(say("{what} read at one point only", what=in_words(DECK)))
    call = split(squish.spread, (list, len(points)))
    note = say("over {count} points", count=len(points))
    return bench.result(squish.spread, points, "length", by=call, picks=True, note=note)


def against_grade(bench: Bench, at: Position) -> Result:
    """How much thicker the old gasket is than the grade it is marked as; one that fits better is named."""
    points, grade = bench.some(THICKNESS, at), grade_fitted(bench)
    if grade is None:
        raise MissingInput(say("the grade of the gasket is not known"), optional=True)
    call = split(lambda t: squish.grade_difference(t, grade.thickness), (mean, len(points)))
    note = say(
        "clamped thickness less {thickness} of grade {grade}",
        thickness=from_mm(grade.thickness),
        grade=grade.grade,
    )
    found = bench.result(squish.grade_difference, points, "length", by=call, alike=points, note=note)
    return _with_likelier_grade(bench, found, grade)


def _with_likelier_grade(bench: Bench, found: Result, grade: GasketGrade) -> Result:
    """With a doubt where the thickness is clearly nearer to another grade on sale than to the one marked."""
    on_sale = bench.case.books.sheet.on_sale.head_gaskets
    measured = found.quantity.value + grade.thickness
    nearest = squish.nearest_grade(measured, [g.thickness for g in on_sale])
    past_middle = (abs(found.quantity.value) - abs(measured - nearest)) / 2.0
    if past_middle <= _COVERAGE * found.quantity.u:
        return found
    other = next(g for g in on_sale if g.thickness == nearest)
    doubt = say(
        "marked {grade}, and measures {thickness} as grade {other} does. Look at its mark again.",
        grade=grade.grade,
        thickness=from_mm(measured),
        other=other.grade,
    )
    return replace(found, doubt=doubt)


def from_mm(value: float) -> str:
    """A length in words."""
    return written(value, "mm", ".3f")


def ratio_of(bench: Bench) -> Callable[[float, float, float], float]:
    """The ratio as a function of chamber volume, gasket thickness and deck height."""
    bore, stroke = bench.printed("bore"), bench.printed("stroke")
    gasket_bore, crown = bench.printed("gasket_bore"), bench.printed("dome_volume")
    swept = slidercrank.swept_volume(bore, stroke)

    def ratio(chamber: float, thickness: float, deck: float) -> float:
        clearance = slidercrank.clearance_volume(
            chamber,
            gasket=squish.gasket_volume(gasket_bore, thickness),
            deck=slidercrank.deck_volume(bore, deck),
            dome=max(crown, 0.0),
            dish=max(-crown, 0.0),
        )
        return slidercrank.compression_ratio(swept, clearance)

    return ratio


def chamber_of(bench: Bench, at: Position) -> Source:
    """The chamber of a cylinder as read, else the nominal one."""
    readings = bench.those_read(CHAMBER, at)
    return Source(readings) if readings else _nominal(bench, "chamber_volume")


def deck_of(bench: Bench, at: Position) -> Source:
    """The deck height of a cylinder as read, else the nominal one."""
    readings = bench.those_read(DECK, at)
    return Source(readings) if readings else _nominal(bench, "deck_height")


def _nominal(bench: Bench, name: str) -> Source:
    return Source((), bench.printed(name), say("nominal {what}", what=in_words(name)))


def gasket_fitted(bench: Bench) -> Source:
    """The gasket's thickness as read, else as the grade found on it is sold."""
    readings = bench.those_read(THICKNESS, ENGINE)
    if readings:
        return Source(readings)
    grade = grade_fitted(bench)
    if grade is None:
        raise bench.missing(THICKNESS, ENGINE)
    return Source((), grade.thickness, say("gasket as its grade {grade} is sold", grade=grade.grade))


def grade_fitted(bench: Bench) -> GasketGrade | None:
    """The grade on sale whose mark was found on the gasket."""
    answers = (a for a in bench.case.inspection.answers if a.item == GRADE)
    fitted = next((answer.chosen[0].strip() for answer in answers if answer.chosen), "").casefold()
    on_sale = bench.case.books.sheet.on_sale.head_gaskets
    return next((g for g in on_sale if g.grade.casefold() == fitted), None)


WAYS: Final = {
    "squish-gap": squish_gap,
    "squish-two-ways": squish_two_ways,
    "compression-ratio": compression_ratio,
    "compression-ratio-spread": ratio_spread,
    "chamber-spread": chamber_spread,
    "deck-mean": deck_mean,
    "deck-spread": deck_spread,
    "gasket-against-grade": against_grade,
}
