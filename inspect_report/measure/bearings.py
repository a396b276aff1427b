"""Turns journals, bearing bores and plastic strips into oil clearances, taper and out-of-round."""

import math
from collections.abc import Callable
from typing import Final

from inspect_report.measure.bench import Bench, Result, mean, notes, split
from inspect_report.measure.bores import by_axis
from inspect_report.mechanics import bearing
from inspect_report.records.position import Position
from inspect_report.records.quantity import Quantity, from_si

Way = Callable[[Bench, Position], Result]
# Two ways that differ by more than this many joint standard uncertainties contradict each other.
_COVERAGE: Final = 2.0
DIFFER: Final = "the two differ by more than their joint uncertainty"
BEFORE_SHELLS: Final = "Measure again before ordering shells."


def clearance(bore: str, journal: str, strip: str = "") -> Way:
    """
    Oil clearance between the items of a bearing bore and of a journal, at the journal's smallest diameter.

    Args:
        bore: Item of the bearing's bore.
        journal: Item of the journal's diameter.
        strip: Item of the plastic strip, a second opinion.
    """

    def way(bench: Bench, at: Position) -> Result:
        if strip and not bench.those_read(bore, at) and bench.find(strip, at):
            return bench.as_read(bench.one(strip, at), note="by plastic strip")
        bores, journals = bench.several(bore, at), bench.some(journal, at)
        call = split(bearing.oil_clearance, (mean, len(bores)), (min, len(journals)))
        note = f"from the smallest of {len(journals)} journal readings" if len(journals) > 1 else ""
        read = (*bores, *journals)
        found = bench.result(bearing.oil_clearance, read, "length", by=call, picks=True, note=note)
        return second_opinion(bench, at, strip, found)

    return way


def second_opinion(bench: Bench, at: Position, strip: str, found: Result) -> Result:
    """A clearance with what the plastic strip says of it; the two are never averaged."""
    reading = bench.find(strip, at) if strip else None
    if reading is None:
        return found
    read = bench.input(reading)
    agree = _agree(found.quantity, Quantity(read.value, read.u, "length"))
    shown = f"the plastic strip shows {from_si(read.value, 'mm'):.3f} mm"
    said = f"{shown}, which agrees" if agree else f"{shown}: {DIFFER}, measure again"
    gauged = (
        f"{from_si(found.quantity.value, 'mm'):.3f} mm by gauge, {from_si(read.value, 'mm'):.3f} mm by strip"
    )
    doubt = "" if agree else f"{gauged}: {DIFFER}. {BEFORE_SHELLS}"
    return Result(found.quantity, found.formula, (*found.readings, reading), notes(found.note, said), doubt)


def _agree(first: Quantity, second: Quantity) -> bool:
    return abs(first.value - second.value) <= _COVERAGE * math.hypot(first.u, second.u) + 1e-9


def taper(journal: str) -> Way:
    """Worst change of a journal's diameter from one end to the other."""

    def way(bench: Bench, at: Position) -> Result:
        readings = bench.several(journal, at)
        call = split(bearing.journal_taper, (by_axis(readings), len(readings)))
        return bench.result(bearing.journal_taper, readings, "length", by=call, picks=True)

    return way


def out_of_round(journal: str) -> Way:
    """Worst difference between the axes of a journal at one end."""

    def way(bench: Bench, at: Position) -> Result:
        readings = bench.several(journal, at)
        call = split(bearing.journal_out_of_round, (by_axis(readings), len(readings)))
        return bench.result(bearing.journal_out_of_round, readings, "length", by=call, picks=True)

    return way


WAYS: Final[dict[str, Way]] = {
    "cam-journal-clearance": clearance("cam-bearing-bore", "cam-journal-diameter"),
    "pin-clearance": clearance("pin-bore", "pin-diameter"),
    "small-end-clearance": clearance("small-end-bore", "pin-diameter"),
    "big-end-clearance": clearance("big-end-bore", "crankpin-diameter", "big-end-strip"),
    "main-clearance": clearance("main-bore", "main-journal-diameter", "main-strip"),
    "crankpin-taper": taper("crankpin-diameter"),
    "crankpin-out-of-round": out_of_round("crankpin-diameter"),
    "main-journal-taper": taper("main-journal-diameter"),
    "main-journal-out-of-round": out_of_round("main-journal-diameter"),
}
