"""Turns compression gauge readings into the reading at sea level, the spread and the wet gain."""

from typing import Final

from inspect_report.measure.ambient import air_pressure
from inspect_report.measure.bench import Bench, Result, notes
from inspect_report.measure.missing import MissingInput, nothing_to_differ_from
from inspect_report.mechanics import compression
from inspect_report.records.position import ENGINE, Position

DRY: Final = "compression-dry"
WET: Final = "compression-wet"


def corrected(bench: Bench, at: Position) -> Result:
    """Dry reading as it would be in standard air at sea level, by the ratio of air pressures."""
    pressure, source = air_pressure(bench.conditions)

    def at_sea_level(reading: float) -> float:
        return compression.corrected_to_standard(reading, p_ambient=pressure, method="pressure ratio")

    note = notes("corrected by the pressure ratio of the standard atmosphere", source)
    dry = bench.one(DRY, at)
    return bench.result(compression.corrected_to_standard, (dry,), "pressure", by=at_sea_level, note=note)


def spread(bench: Bench, at: Position) -> Result:
    """How far a cylinder lies below the best one, as a fraction of the best."""
    if bench.layout.cylinders == 1:
        raise nothing_to_differ_from()
    own, all_read = bench.one(DRY, at), bench.those_read(DRY, ENGINE)
    if len(all_read) < 2:
        raise MissingInput("compression read on one cylinder only")
    mine = all_read.index(own)

    def below_best(*readings: float) -> float:
        return float(compression.spread_below_best(readings)[mine])

    note, formula = f"below the best of {len(all_read)} cylinders", compression.spread_below_best
    return bench.result(formula, all_read, "ratio", by=below_best, picks=True, note=note)


def wet_gain(bench: Bench, at: Position) -> Result:
    """Rise of the reading after oil was poured in, as a fraction."""
    dry, wet = bench.one(DRY, at), bench.one(WET, at)
    return bench.result(compression.wet_gain, (dry, wet), "ratio")


WAYS: Final = {"compression-corrected": corrected, "compression-spread": spread, "wet-gain": wet_gain}
