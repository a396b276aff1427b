"""Turns worn bores and the oversizes on sale into the growth each needs and the step all are bored to."""

from dataclasses import replace
from typing import Final

from inspect_report.measure.bench import Bench, Result, notes
from inspect_report.measure.bores import BORE, nominal_bore
from inspect_report.measure.missing import MissingInput
from inspect_report.measure.warmth import warmth
from inspect_report.mechanics import rebore
from inspect_report.records.position import Position
from inspect_report.telling.manner import message, say
from inspect_report.telling.positions import at_words
from inspect_report.telling.units import as_sold, sold_in, written

NO_STEP: Final = message("no oversize on sale leaves metal everywhere")
CLOSE: Final = message(
    "{place} may need the next oversize, by its uncertainty. Measure again before ordering pistons."
)
_COVERAGE: Final = 2.0


def growth_needed(bench: Bench, at: Position) -> Result:
    """Growth over the nominal bore that leaves metal everywhere, with what the step to take leaves."""
    readings, unworn, warm = bench.several(BORE, at), nominal_bore(bench, at), warmth(bench, "barrel", at)
    count = len(readings)

    def growth(*numbers: float) -> float:
        return rebore.least_oversize(max(warm.at_20(numbers[:count], numbers[count:])), unworn)

    read = (*readings, *warm.readings)
    found = bench.result(rebore.least_oversize, read, "length", by=growth, picks=True)
    honing = say("{size} of it for honing (common practice)", size=_mm(rebore.HONING_ALLOWANCE))
    chosen = rebore.oversize_to_fit(_rows(bench, found, unworn))
    return replace(found, note=notes(honing, warm.told, _cleans_up(bench, chosen)))


def oversize_to_fit(bench: Bench, at: Position) -> Result:
    """Smallest oversize on sale that leaves metal everywhere in every bore; pistons are changed as a set."""
    places = [p for p in bench.places(("cylinder",)) if bench.those_read(BORE, p)]
    if not places:
        raise bench.missing(BORE, at)
    if not bench.case.books.sheet.on_sale.oversizes:
        raise MissingInput(say("no oversize is on sale for this engine"), applies=False)
    needs = {place: growth_needed(bench, place) for place in places}
    worst = max(needs, key=lambda place: needs[place].quantity.value)
    chosen = rebore.oversize_to_fit(_rows(bench, needs[worst], nominal_bore(bench, worst)))
    if chosen is None:
        raise MissingInput(
            say("{no_step}: {place} is worn too far", no_step=say(NO_STEP), place=at_words(worst))
        )
    read = tuple(r for need in needs.values() for r in need.readings)
    note = say("{place} is worn most: {chosen}", place=at_words(worst), chosen=_told(bench, chosen))
    found = bench.result(rebore.oversize_to_fit, read, "length", by=lambda *_: chosen.step, note=note)
    need = needs[worst].quantity
    close = chosen.step - need.value < _COVERAGE * need.u
    unit = sold_in(bench.case.books.sheet.on_sale.oversizes)
    return replace(found, doubt=say(CLOSE, place=at_words(worst)) if close else "", sold_in=unit)


def _rows(bench: Bench, need: Result, unworn: float) -> tuple[rebore.Oversize, ...]:
    """What each step on sale leaves in a bore that needs so much growth."""
    largest = need.quantity.value - rebore.HONING_ALLOWANCE + unworn
    return rebore.oversizes(bench.case.books.sheet.on_sale.oversizes, largest=largest, unworn=unworn)


def _size(bench: Bench, row: rebore.Oversize) -> str:
    return as_sold(row.step, bench.case.books.sheet.on_sale.oversizes, ".2f")


def _cleans_up(bench: Bench, row: rebore.Oversize | None) -> str:
    return say(NO_STEP) if row is None else say("an oversize of {step} cleans it up", step=_size(bench, row))


def _told(bench: Bench, row: rebore.Oversize) -> str:
    """What a step leaves to cut, in words."""
    step = say("an oversize of {step}", step=_size(bench, row))
    one_sided = (
        say("{size} if all its wear lies on one side", size=_mm(row.metal_one_sided))
        if row.metal_one_sided > 0.0
        else say("nothing where all its wear lies on one side: look where the wear lies before boring")
    )
    return say(
        "{oversize} leaves {size} on the diameter, {one_sided}",
        oversize=step,
        size=_mm(row.metal),
        one_sided=one_sided,
    )


def _mm(value: float) -> str:
    return written(value, "mm", ".3f")


WAYS: Final = {"rebore-growth": growth_needed, "oversize-to-fit": oversize_to_fit}
