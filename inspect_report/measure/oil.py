"""Turns what a laboratory found in the oil, and the hours it ran, into how fast each metal gathers."""

from typing import Final

from inspect_report.measure.bench import Bench, Result
from inspect_report.mechanics import oil
from inspect_report.records.position import Position
from inspect_report.telling.manner import say

FOUND: Final = "oil-laboratory"
FRESH: Final = "oil-laboratory-fresh"
HOURS: Final = "oil-hours"


def wear_metal_rate(bench: Bench, at: Position) -> Result:
    """Share of a metal gathered for each hour run on the oil, less what the fresh oil held."""
    found, hours, fresh = bench.one(FOUND, at), bench.one(HOURS, at), bench.find(FRESH, at)
    read = (found, hours) if fresh is None else (found, hours, fresh)
    note = "" if fresh is not None else say("fresh oil not analysed, taken as free of it")
    return bench.result(oil.wear_metal_rate, read, "share rate", note=note)


WAYS: Final = {"wear-metal-rate": wear_metal_rate}
