"""Turns solder squeezed at several places round one piston into how unevenly the squish gap runs."""

from typing import Final

from inspect_report.measure.bench import Bench, Result
from inspect_report.measure.missing import MissingInput
from inspect_report.mechanics import squish
from inspect_report.records.position import Position
from inspect_report.telling.manner import say

SOLDER: Final = "squish-solder"


def spread(bench: Bench, at: Position) -> Result:
    """Greatest squish gap less the least, over the places where solder was squeezed."""
    gaps = bench.some(SOLDER, at)
    if len(gaps) < 2:
        raise MissingInput(say("squish read at one place only"))
    note = say(
        "greatest less least of {count} places; by a base that is not square, or a piston that rocked",
        count=len(gaps),
    )
    return bench.result(
        squish.spread, gaps, "length", by=lambda *read: squish.spread(read), picks=True, note=note
    )


WAYS: Final = {"squish-spread": spread}
