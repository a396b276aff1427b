"""Turns the head gaskets on sale into the squish gap and ratio each would give, and the one to fit."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from inspect_report.knowledge.case import row_for
from inspect_report.measure.bench import Bench, Result, split
from inspect_report.measure.derived import GasketChoice
from inspect_report.measure.gasket import DECK, Source, chamber_of, deck_of, grade_fitted, ratio_of
from inspect_report.measure.missing import MissingInput
from inspect_report.mechanics import slidercrank, squish
from inspect_report.records.position import Position
from inspect_report.records.specsheet import GasketGrade

# Readings are decimals: a gap less than this under its floor is float noise. [m, and of the ratio 1]
_NOISE: Final = 1e-9


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
    rows = [_choice(bench, grade, cylinders) for grade in on_sale]
    fitting = next((r for r in rows if r.squish_floor is not None and r.squish_ok and r.ratio_ok), None)
    yield from (replace(row, chosen=row is fitting) for row in rows)


def _choice(bench: Bench, grade: GasketGrade, cylinders: list[Position]) -> GasketChoice:
    gaps = {at: _gap(bench, grade.thickness, at) for at in cylinders}
    tightest = min(gaps, key=lambda at: gaps[at].quantity.value)
    gap, fitted = gaps[tightest].quantity, grade_fitted(bench)
    highest, ratio = _greatest_ratio(bench, grade.thickness, cylinders)
    floor, ceiling = _bound(bench, "squish-gap", "low"), _bound(bench, "compression-ratio", "high")
    return GasketChoice(
        grade.grade,
        grade.thickness,
        gap.value,
        ratio.quantity.value if ratio else None,
        floor,
        ceiling,
        squish_ok=floor is None or gap.value >= floor - _NOISE,
        ratio_ok=ceiling is None or (ratio is not None and ratio.quantity.value <= ceiling + _NOISE),
        fitted=fitted is not None and fitted.grade == grade.grade,
        chosen=False,
        squish_u=gap.u,
        ratio_u=ratio.quantity.u if ratio else None,
        tightest=tightest,
        highest=highest if ratio else None,
    )


def _gap(bench: Bench, thickness: float, at: Position) -> Result:
    deck = deck_of(bench, at)
    call = split(squish.squish_gap, _new(thickness).part, deck.part)
    return bench.result(squish.squish_gap, deck.readings, "length", by=call, alike=deck.readings)


def _greatest_ratio(
    bench: Bench, thickness: float, cylinders: list[Position]
) -> tuple[Position, Result | None]:
    try:
        ratios = {at: _ratio(bench, thickness, at) for at in cylinders}
    except MissingInput:
        return cylinders[0], None
    highest = max(ratios, key=lambda at: ratios[at].quantity.value)
    return highest, ratios[highest]


def _ratio(bench: Bench, thickness: float, at: Position) -> Result:
    chamber, deck = chamber_of(bench, at), deck_of(bench, at)
    call = split(ratio_of(bench), chamber.part, _new(thickness).part, deck.part)
    read = (*chamber.readings, *deck.readings)
    return bench.result(slidercrank.compression_ratio, read, "ratio", by=call, alike=deck.readings)


def _new(thickness: float) -> Source:
    """A gasket as it is sold."""
    return Source((), thickness)


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
