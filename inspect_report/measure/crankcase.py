"""Turns the pressure test of a two-stroke's crankcase into how fast it loses pressure."""

from typing import Final

from inspect_report.measure.bench import Bench, Result
from inspect_report.mechanics import crankcase
from inspect_report.records.position import Position

START: Final = "crankcase-pressure-start"
END: Final = "crankcase-pressure-end"
TIME: Final = "crankcase-test-time"


def pressure_loss(bench: Bench, at: Position) -> Result:
    """Mean rate at which the crankcase loses its test pressure."""
    test = tuple(bench.one(item, at) for item in (START, END, TIME))
    return bench.result(crankcase.pressure_loss_rate, test, "pressure rate")


WAYS: Final = {"crankcase-pressure-loss": pressure_loss}
