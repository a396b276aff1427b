"""Turns grooves and tracks and what runs in them into the play of the selector forks."""

from typing import Final

from inspect_report.measure.bench import Bench, Result
from inspect_report.measure.twoways import Way, second_opinion
from inspect_report.mechanics import gearbox
from inspect_report.records.position import Position
from inspect_report.telling.manner import message, say

BEFORE_FORKS: Final = message("Measure again before ordering forks or gears.")


def fork_play(bench: Bench, at: Position) -> Result:
    """Play of a fork in its groove by both widths, held against the blade that went in beside it."""
    read = (bench.one("fork-groove-width", at), bench.one("fork-thickness", at))
    found = bench.result(gearbox.groove_clearance, read, "length")
    blade = bench.find("fork-clearance", at)
    if blade is None:
        return found
    one = Way(say("by groove and fork"), say("groove and fork show"), read, gearbox.groove_clearance, _play)
    return second_opinion(
        bench, found, one, Way(say("by blade"), say("the blade shows"), (blade,)), say(BEFORE_FORKS)
    )


def pin_play(bench: Bench, at: Position) -> Result:
    """Play of a fork's pin in its track of the drum."""
    read = (bench.one("drum-track-width", at), bench.one("fork-pin-diameter", at))
    return bench.result(gearbox.groove_clearance, read, "length")


def _play(groove: float, fork: float) -> float:
    return gearbox.groove_clearance(groove, fork)


WAYS: Final = {"fork-groove-play": fork_play, "fork-pin-play": pin_play}
