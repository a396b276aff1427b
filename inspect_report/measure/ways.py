"""Turns the ways of all areas into one table: which function gives which characteristic."""

from collections.abc import Callable, Mapping
from typing import Final

from inspect_report.measure import (
    bearings,
    bores,
    camshaft,
    chain,
    clutch,
    compression,
    crankcase,
    gasket,
    gearbox,
    leakdown,
    oil,
    ports,
    reboring,
    rings,
    squish,
    trapped,
    valves,
)
from inspect_report.measure.bench import Bench, Result
from inspect_report.records.position import Position

Way = Callable[[Bench, Position], Result]

WAYS: Final[Mapping[str, Way]] = {
    **leakdown.WAYS,
    **compression.WAYS,
    **valves.WAYS,
    **camshaft.WAYS,
    **chain.WAYS,
    **gasket.WAYS,
    **bores.WAYS,
    **rings.WAYS,
    **bearings.WAYS,
    **clutch.WAYS,
    **reboring.WAYS,
    **gearbox.WAYS,
    **oil.WAYS,
    **crankcase.WAYS,
    **ports.WAYS,
    **squish.WAYS,
    **trapped.WAYS,
}
