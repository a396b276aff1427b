"""Turns ring gaps, groove widths and ring heights into the side clearance and the widest gap of each ring."""

from typing import Final

from inspect_report.measure.bench import Bench, Result
from inspect_report.measure.bores import BORE
from inspect_report.mechanics import bore
from inspect_report.records.position import Position
from inspect_report.telling.manner import say


def side_clearance(bench: Bench, at: Position) -> Result:
    """Play of a ring in the height of its groove."""
    groove, ring = bench.one("ring-groove-width", at), bench.one("ring-thickness", at)
    return bench.result(bore.side_clearance, (groove, ring), "length")


def gap_where_worn(bench: Bench, at: Position) -> Result:
    """End gap of a ring where its bore is worn most, from the gap read where it is worn least."""
    gap, bores = bench.one("ring-end-gap", at), bench.several(BORE, at)

    def widest(read: float, *diameters: float) -> float:
        return read + bore.ring_gap_growth(max(diameters) - min(diameters))

    note = say("end gap, and what the bore's wear opens it by at its widest place")
    return bench.result(bore.ring_gap_growth, (gap, *bores), "length", by=widest, picks=True, note=note)


WAYS: Final = {"ring-side-clearance": side_clearance, "ring-gap-where-worn": gap_where_worn}
