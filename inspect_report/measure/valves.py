"""Turns valve clearances, shims and stems into stem clearances and the shim to fit at each valve."""

from collections.abc import Iterator
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

from inspect_report.knowledge.case import row_for
from inspect_report.measure.bearings import clearance
from inspect_report.measure.bench import Bench, notes
from inspect_report.measure.derived import ShimChoice
from inspect_report.measure.shim_supply import supplied
from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics import valvetrain
from inspect_report.records.position import Position

GAP: Final = "valve-clearance"
SHIM: Final = "shim-fitted"
SHIMMED: Final = frozenset({"shim under bucket", "shim over bucket", "finger follower"})
NONE_REACHES: Final = "no size on sale brings the gap into its range: seat or valve tip needs work"
HELD_OPEN: Final = "no gap at all: the valve may be held open; fit the thinner shim and measure again"
NEAR_EDGE: Final = "in range, but too near its edge to be sure"
_NOISE: Final = 1e-9


@dataclass(frozen=True, slots=True)
class _Valve:
    """One valve with all that decides its shim; lengths in m."""

    at: Position
    gap: Input
    fitted: float
    low: float
    high: float

    @property
    def aim(self) -> float:
        """Middle of the range: as far from too tight, where seats sink to, as from too wide."""
        return (self.low + self.high) / 2.0

    @property
    def in_range(self) -> bool:
        return self.low - _NOISE <= self.gap.value <= self.high + _NOISE


def shim_plan(bench: Bench) -> tuple[ShimChoice, ...]:
    """
    The shim to fit at every valve whose gap, shim and range are known, and where it comes from.

    A shim is changed where the gap is outside its standard range or, under the rule "shown at confidence",
    not shown to be inside. The size is the one nearest to the middle of the range; of two equally near, one
    from the workshop's box goes before one to buy, then the thinner.
    """
    if bench.layout.valve_actuation not in SHIMMED:
        return ()
    return supplied(_planned(bench), bench.case.books.workshop.shims_in_stock)


def _planned(bench: Bench) -> Iterator[ShimChoice]:
    on_sale = sizes_on_sale(bench)
    for valve in _valves(bench):
        if valve.in_range and not (on_sale and _near_edge(bench, valve)):
            yield _stays(bench, valve)
        else:
            yield _changed(bench, valve, on_sale)


def sizes_on_sale(bench: Bench) -> tuple[float, ...]:
    """Shims that can be bought for the engine, thinnest first."""
    series = bench.case.books.sheet.on_sale.shims
    if series is None:
        return ()
    if series.first is None or series.last is None or series.step is None:
        return tuple(sorted(series.sizes))
    return valvetrain.shim_sizes(series.first, series.last, series.step)


def _valves(bench: Bench) -> Iterator[_Valve]:
    for at in bench.places(("cylinder", "valve")):
        gap, shim = bench.find(GAP, at), bench.find(SHIM, at)
        found = row_for(bench.case.books, GAP, at)
        band = (found[0].standard or found[0].limit) if found else None
        if gap and shim and band and band.low is not None and band.high is not None:
            yield _Valve(at, bench.input(gap), bench.input(shim).value, band.low, band.high)


def _near_edge(bench: Bench, valve: _Valve) -> bool:
    """Whether the reading's uncertainty does not let the gap be shown inside its range."""
    rule = bench.case.books.workshop.decision_rule
    if rule.kind == "simple acceptance":
        return False
    reach = NormalDist().inv_cdf(rule.confidence) * valve.gap.u
    return valve.gap.value - reach < valve.low or valve.gap.value + reach > valve.high


def _stays(bench: Bench, valve: _Valve) -> ShimChoice:
    return _shim(bench, valve, valve.fitted, change=False)


def _changed(bench: Bench, valve: _Valve, on_sale: tuple[float, ...]) -> ShimChoice:
    stock: tuple[float, ...] = bench.case.books.workshop.shims_in_stock
    size = _nearest(bench, valve, (*on_sale, *stock))
    from_box = _nearest(bench, valve, stock)
    if size is None:
        note = NONE_REACHES if on_sale else "shims on sale are not in the spec sheet"
        return _shim(bench, valve, None, change=True, note=note)
    if from_box is not None and _miss(bench, valve, from_box) <= _miss(bench, valve, size) + _NOISE:
        size = from_box
    if valve.in_range and _miss(bench, valve, valve.fitted) <= _miss(bench, valve, size) + _NOISE:
        return _shim(bench, valve, valve.fitted, change=False, note=f"{NEAR_EDGE}; no size on sale is nearer")
    held_open = HELD_OPEN if valve.gap.value == 0.0 else ""
    near = NEAR_EDGE if valve.in_range else ""
    return _shim(bench, valve, size, change=True, note=notes(near, held_open))


def _nearest(bench: Bench, valve: _Valve, sizes: tuple[float, ...]) -> float | None:
    return valvetrain.shim_to_fit(
        valve.fitted,
        valve.gap.value,
        aim=valve.aim,
        low=valve.low,
        high=valve.high,
        sizes=sizes,
        lever=bench.geometry.lever_ratio,
    )


def _miss(bench: Bench, valve: _Valve, size: float) -> float:
    """How far a size leaves the gap from its aim."""
    return abs(_predicted(bench, valve, size) - valve.aim)


def _predicted(bench: Bench, valve: _Valve, size: float) -> float:
    lever = bench.geometry.lever_ratio
    return valvetrain.predicted_gap(valve.fitted, valve.gap.value, size, lever=lever)


def _shim(bench: Bench, valve: _Valve, size: float | None, *, change: bool, note: str = "") -> ShimChoice:
    lever = bench.geometry.lever_ratio
    return ShimChoice(
        position=valve.at,
        measured=valve.gap.value,
        fitted=valve.fitted,
        aim=valve.aim,
        low=valve.low,
        high=valve.high,
        exact=valvetrain.shim_needed(valve.fitted, valve.gap.value, valve.aim, lever=lever),
        size=size,
        predicted=None if size is None else _predicted(bench, valve, size),
        change=change,
        note=note,
    )


WAYS: Final = {"stem-clearance": clearance("guide-bore", "stem-diameter")}
