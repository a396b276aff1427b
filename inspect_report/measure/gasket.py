"""Turns gasket, deck and chamber readings into squish gap, compression ratio and the table of gaskets."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from inspect_report.knowledge.case import row_for
from inspect_report.measure.bench import Bench, Result, mean, notes, split
from inspect_report.measure.derived import GasketChoice
from inspect_report.measure.missing import MissingInput, in_words
from inspect_report.mechanics import slidercrank, squish
from inspect_report.records.inspection import Reading
from inspect_report.records.position import ENGINE, Position

THICKNESS: Final = "gasket-thickness"
GRADE: Final = "gasket-grade-fitted"
DECK: Final = "deck-height"
CHAMBER: Final = "chamber-volume"
# Readings are decimals: a gap less than this under its floor is float noise. [m, and of the ratio 1]
_NOISE: Final = 1e-9


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

    def value(self, bench: Bench) -> float:
        """The number itself."""
        return mean([bench.input(r).value for r in self.readings]) if self.readings else self.printed


def squish_gap(bench: Bench, at: Position) -> Result:
    """Gap between piston edge and head at top dead centre: gasket and mean deck height."""
    deck, gasket = bench.some(DECK, at), _gasket(bench)
    call = split(squish.squish_gap, gasket.part, (mean, len(deck)))
    return bench.result(squish.squish_gap, (*gasket.readings, *deck), "length", by=call, note=gasket.note)


def compression_ratio(bench: Bench, at: Position) -> Result:
    """Ratio from the volumes of chamber, gasket and deck; what was not read is taken from the spec sheet."""
    chamber, deck = _chamber(bench, at), _deck(bench, at)
    if not (chamber.readings or deck.readings):
        raise bench.missing(CHAMBER, at)
    gasket = _gasket(bench)
    read = (*chamber.readings, *gasket.readings, *deck.readings)
    call = split(_ratio(bench), chamber.part, gasket.part, deck.part)
    note = notes(chamber.note, gasket.note, deck.note)
    return bench.result(slidercrank.compression_ratio, read, "ratio", by=call, note=note)


def grades(bench: Bench) -> Iterator[GasketChoice]:
    """
    Every gasket on sale with the least squish gap and the greatest ratio it would give over the cylinders.

    To fit is the thinnest that keeps the squish gap at or above its floor and the ratio at or below its
    ceiling (common practice); without a floor none is chosen, without a ceiling the floor alone decides.
    """
    cylinders = [p for p in bench.places(("cylinder",)) if bench.those_read(DECK, p)]
    if not cylinders:
        return
    on_sale = sorted(bench.case.books.sheet.on_sale.head_gaskets, key=lambda g: g.thickness)
    rows = [_choice(bench, g.grade, g.thickness, cylinders) for g in on_sale]
    fitting = next((r for r in rows if r.squish_floor is not None and r.squish_ok and r.ratio_ok), None)
    yield from (replace(row, chosen=row is fitting) for row in rows)


def _choice(bench: Bench, grade: str, thickness: float, cylinders: list[Position]) -> GasketChoice:
    gap = min(squish.squish_gap(thickness, _deck(bench, at).value(bench)) for at in cylinders)
    ratio = _greatest_ratio(bench, thickness, cylinders)
    floor, ceiling = _bound(bench, "squish-gap", "low"), _bound(bench, "compression-ratio", "high")
    return GasketChoice(
        grade,
        thickness,
        gap,
        ratio,
        floor,
        ceiling,
        squish_ok=floor is None or gap >= floor - _NOISE,
        ratio_ok=ceiling is None or (ratio is not None and ratio <= ceiling + _NOISE),
        fitted=grade.casefold() == _grade_fitted(bench).casefold(),
        chosen=False,
    )


def _greatest_ratio(bench: Bench, thickness: float, cylinders: list[Position]) -> float | None:
    try:
        ratio = _ratio(bench)
        return max(
            ratio(_chamber(bench, at).value(bench), thickness, _deck(bench, at).value(bench))
            for at in cylinders
        )
    except MissingInput:
        return None


def _bound(bench: Bench, characteristic: str, end: str) -> float | None:
    """
    An end of the standard range, else of the limit, of the first cylinder's row.

    A new gasket is chosen as for a new engine; the limit says how far a used one may be off.
    """
    found = row_for(bench.case.books, characteristic, bench.places(("cylinder",))[0])
    if found is None:
        return None
    ends = (getattr(band, end) for band in (found[0].standard, found[0].limit) if band)
    return next((value for value in ends if value is not None), None)


def _ratio(bench: Bench) -> Callable[[float, float, float], float]:
    """The ratio as a function of chamber volume, gasket thickness and deck height."""
    bore, stroke = _printed(bench, "bore"), _printed(bench, "stroke")
    gasket_bore, dome = _printed(bench, "gasket_bore"), _printed(bench, "dome_volume")
    swept = slidercrank.swept_volume(bore, stroke)

    def ratio(chamber: float, thickness: float, deck: float) -> float:
        clearance = slidercrank.clearance_volume(
            chamber,
            gasket=squish.gasket_volume(gasket_bore, thickness),
            deck=slidercrank.deck_volume(bore, deck),
            dome=dome,
        )
        return slidercrank.compression_ratio(swept, clearance)

    return ratio


def _printed(bench: Bench, name: str) -> float:
    value: float | None = getattr(bench.geometry, name)
    if value is None:
        raise MissingInput(f"{in_words(name)} is not in the spec sheet")
    return value


def _chamber(bench: Bench, at: Position) -> Source:
    readings = bench.those_read(CHAMBER, at)
    return Source(readings) if readings else _nominal(bench, "chamber_volume")


def _deck(bench: Bench, at: Position) -> Source:
    readings = bench.those_read(DECK, at)
    return Source(readings) if readings else _nominal(bench, "deck_height")


def _nominal(bench: Bench, name: str) -> Source:
    return Source((), _printed(bench, name), f"nominal {in_words(name)}")


def _gasket(bench: Bench) -> Source:
    """The gasket's thickness as read, else as the grade found on it is sold."""
    readings = bench.those_read(THICKNESS, ENGINE)
    if readings:
        return Source(readings)
    fitted = _grade_fitted(bench)
    for gasket in bench.case.books.sheet.on_sale.head_gaskets:
        if gasket.grade.casefold() == fitted.casefold():
            return Source((), gasket.thickness, f"gasket as its grade {gasket.grade} is sold")
    raise bench.missing(THICKNESS, ENGINE)


def _grade_fitted(bench: Bench) -> str:
    answers = (a for a in bench.case.inspection.answers if a.item == GRADE)
    return next((answer.chosen[0].strip() for answer in answers if answer.chosen), "")


WAYS: Final = {"squish-gap": squish_gap, "compression-ratio": compression_ratio}
