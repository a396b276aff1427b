"""Turns journals, bearing bores and plastic strips into oil clearances, taper and out-of-round."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from inspect_report.measure.bench import Bench, Result, mean, only, split
from inspect_report.measure.bores import by_axis
from inspect_report.measure.missing import MissingInput
from inspect_report.measure.twoways import Way, agrees, difference, second_opinion
from inspect_report.mechanics import bearing
from inspect_report.records.position import Position
from inspect_report.telling.manner import message, say

Measure = Callable[[Bench, Position], Result]
BEFORE_SHELLS: Final = message("Measure again before ordering shells.")


@dataclass(frozen=True, slots=True)
class Items:
    """
    The checklist items of one kind of bearing; empty for what it has not.

    Attributes:
        bore: Bore of the bearing, shells in.
        journal: Diameter of the journal.
        strip: Plastic strip.
        housing: Bore without shells.
        shell: Wall of a shell.
    """

    bore: str
    journal: str
    strip: str = ""
    housing: str = ""
    shell: str = ""


BIG_END: Final = (
    "big-end-bore", "crankpin-diameter", "big-end-strip", "big-end-housing", "big-end-shell-thickness",
)  # fmt: skip
MAIN: Final = ("main-bore", "main-journal-diameter", "main-strip", "main-housing", "main-shell-thickness")


def clearance(bore: str, journal: str, strip: str = "", housing: str = "", shell: str = "") -> Measure:
    """
    Oil clearance at the journal's smallest diameter: the surest way there is, with what others say of it.

    Args:
        bore: Item of the bearing's bore.
        journal: Item of the journal's diameter.
        strip: Item of the plastic strip.
        housing: Item of the bore without shells.
        shell: Item of a shell's wall.
    """
    items = Items(bore, journal, strip, housing, shell)

    def way(bench: Bench, at: Position) -> Result:
        first, *others = _ways(bench, items, at)
        found = first.result(bench)
        for other in others:
            found = second_opinion(bench, found, first, other, say(BEFORE_SHELLS))
        return found

    return way


def two_ways(items: Items) -> Measure:
    """
    What another way to the oil clearance shows more than the first: housing and shells, or a strip.

    Of several others the first that does not agree, if any.
    """

    def way(bench: Bench, at: Position) -> Result:
        first, *others = _ways(bench, items, at)
        if not others:
            raise MissingInput(say("measured one way only"), optional=True)
        apart = [difference(bench, other, first) for other in others]
        return next((one for one in apart if not agrees(one.quantity)), apart[0])

    return way


def _ways(bench: Bench, items: Items, at: Position) -> tuple[Way, ...]:
    """
    The ways there are readings for, the surest first.

    Raises:
        MissingInput: there is none; it names what the first one lacks.
    """
    found = tuple(_found(bench, items, at))
    if not found:
        bench.several(items.bore, at)
        raise bench.missing(items.journal, at)
    return found


def _found(bench: Bench, items: Items, at: Position) -> Iterator[Way]:
    journals = bench.those_read(items.journal, at)
    bores = bench.several(items.bore, at) if bench.those_read(items.bore, at) else ()
    housing, shell, strip = (
        bench.find(item, at) if item else None for item in (items.housing, items.shell, items.strip)
    )
    smallest = (
        say("from the smallest of {count} journal readings", count=len(journals)) if len(journals) > 1 else ""
    )
    if bores and journals:
        call = split(bearing.oil_clearance, (mean, len(bores)), (min, len(journals)))
        read = (*bores, *journals)
        yield Way(
            say("by bore gauge and micrometer"),
            say("the gauges show"),
            read,
            bearing.oil_clearance,
            call,
            smallest,
        )
    if housing and shell and journals:
        formula = bearing.oil_clearance_from_shells
        call = split(formula, (only, 1), (only, 1), (min, len(journals)))
        yield Way(
            say("from housing and shells"),
            say("housing and shells show"),
            (housing, shell, *journals),
            formula,
            call,
            smallest,
        )
    if strip:
        yield Way(
            say("by plastic strip"), say("the plastic strip shows"), (strip,), note=say("by plastic strip")
        )


def taper(journal: str) -> Measure:
    """Worst change of a journal's diameter from one end to the other."""

    def way(bench: Bench, at: Position) -> Result:
        readings = bench.several(journal, at)
        call = split(bearing.journal_taper, (by_axis(readings), len(readings)))
        return bench.result(bearing.journal_taper, readings, "length", by=call, picks=True)

    return way


def out_of_round(journal: str) -> Measure:
    """Worst difference between the axes of a journal at one end."""

    def way(bench: Bench, at: Position) -> Result:
        readings = bench.several(journal, at)
        call = split(bearing.journal_out_of_round, (by_axis(readings), len(readings)))
        return bench.result(bearing.journal_out_of_round, readings, "length", by=call, picks=True)

    return way


WAYS: Final[dict[str, Measure]] = {
    "cam-journal-clearance": clearance("cam-bearing-bore", "cam-journal-diameter"),
    "pin-clearance": clearance("pin-bore", "pin-diameter"),
    "small-end-clearance": clearance("small-end-bore", "pin-diameter"),
    "big-end-clearance": clearance(*BIG_END),
    "big-end-two-ways": two_ways(Items(*BIG_END)),
    "main-clearance": clearance(*MAIN),
    "main-two-ways": two_ways(Items(*MAIN)),
    "crankpin-taper": taper("crankpin-diameter"),
    "crankpin-out-of-round": out_of_round("crankpin-diameter"),
    "main-journal-taper": taper("main-journal-diameter"),
    "main-journal-out-of-round": out_of_round("main-journal-diameter"),
}
