"""Turns groove widths and ring heights into the side clearance of each ring."""

from typing import Final

from inspect_report.measure.bench import Bench, Result
from inspect_report.mechanics import bore
from inspect_report.records.position import Position


def side_clearance(bench: Bench, at: Position) -> Result:
    """Play of a ring in the height of its groove."""
    groove, ring = bench.one("ring-groove-width", at), bench.one("ring-thickness", at)
    return bench.result(bore.side_clearance, (groove, ring), "length")


WAYS: Final = {"ring-side-clearance": side_clearance}
