"""Turns clearances and shims fitted into valves as shim rules see them: gap, shim, range, aim and lever."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from inspect_report.knowledge.case import row_for
from inspect_report.measure.bench import Bench
from inspect_report.measure.budget import Propagated, propagated
from inspect_report.measure.missing import MissingInput
from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics import metrology, valvetrain
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position
from inspect_report.records.quantity import Quantity
from inspect_report.records.specsheet import SpecSheet
from inspect_report.telling.manner import message, say

GAP: Final = "valve-clearance"
SHIM: Final = "shim-fitted"
NONE_ON_SALE: Final = message("shims on sale are not in the spec sheet")
_NOISE: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Valve:
    """One valve with all that decides its shim; lengths in m."""

    at: Position
    readings: tuple[Reading, Reading]
    """Of the gap and of the shim."""
    gap: Input
    shim: Input
    low: float
    high: float
    aim: float
    lever: float

    def holds(self, gap: float) -> bool:
        """Whether a gap lies in the valve's range."""
        return self.low - _NOISE <= gap <= self.high + _NOISE

    def chance(self, gap: Quantity) -> float:
        """Probability that a gap lies in the valve's range."""
        if gap.u == 0.0:
            return float(self.holds(gap.value))
        dof = math.inf if gap.dof is None else gap.dof
        return metrology.probability_inside(gap.value, gap.u, low=self.low, high=self.high, dof=dof)

    def gap_with(self, thickness: float) -> float:
        """Gap to expect with another shim."""
        return valvetrain.predicted_gap(self.shim.value, self.gap.value, thickness, lever=self.lever)

    def predicted(self, shim: Input) -> Quantity:
        """Gap to expect with another shim; the error of one micrometer that read both shims drops out."""

        def gap(fitted: float, measured: float, new: float) -> float:
            return valvetrain.predicted_gap(fitted, measured, new, lever=self.lever)

        return propagated(gap, (self.shim, self.gap, shim)).quantity("length")

    def wanted(self) -> Propagated:
        """The shim that would bring the gap exactly to its aim."""

        def needed(fitted: float, measured: float) -> float:
            return valvetrain.shim_needed(fitted, measured, self.aim, lever=self.lever)

        return propagated(needed, (self.shim, self.gap))


def valves(bench: Bench) -> Iterator[Valve]:
    """Every valve whose gap, shim and range are known."""
    for at in bench.places(("cylinder", "valve")):
        if bench.find(GAP, at) and bench.find(SHIM, at) and _range(bench, at):
            yield valve(bench, at)


def valve(bench: Bench, at: Position) -> Valve:
    """
    The valve at a place.

    Raises:
        MissingInput: its gap or shim was not read, or the ends of its range are not known.
    """
    gap, shim, ends = bench.one(GAP, at), bench.one(SHIM, at), _range(bench, at)
    if ends is None:
        raise MissingInput(say("the range of the valve clearance is not in the spec sheet"))
    low, high = ends
    aim = low + bench.case.books.workshop.valve_gap_aim * (high - low)
    read = bench.input(gap), bench.input(shim)
    return Valve(at, (gap, shim), *read, low, high, aim, bench.geometry.lever_ratio)


def _range(bench: Bench, at: Position) -> tuple[float, float] | None:
    found = row_for(bench.case.books, GAP, at)
    band = (found[0].standard or found[0].limit) if found else None
    return None if band is None or band.low is None or band.high is None else (band.low, band.high)


def sizes_on_sale(sheet: SpecSheet) -> tuple[float, ...]:
    """Shims that can be bought for the engine [m], thinnest first."""
    series = sheet.on_sale.shims
    if series is None:
        return ()
    if series.first is None or series.last is None or series.step is None:
        return tuple(sorted(series.sizes))
    return valvetrain.shim_sizes(series.first, series.last, series.step)
