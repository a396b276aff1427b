"""Turns a row of a limit table into the limit a finding is held against, and the unit it is shown in."""

import math
from dataclasses import dataclass
from typing import Final

from inspect_report.judge.finding import Limit
from inspect_report.knowledge.case import Books, Origin, row_for
from inspect_report.knowledge.catalogue import Known
from inspect_report.measure.budget import expanded
from inspect_report.records.position import Position
from inspect_report.records.quantity import Quantity, from_si, unit_named
from inspect_report.records.specsheet import Band, Characteristic
from inspect_report.telling.manner import manner
from inspect_report.telling.units import FINEST, Among, Way, ways

NOISE: Final = 1e-9
"""Share of a value by which two writings of one amount in other units may differ."""


@dataclass(frozen=True, slots=True)
class Shown:
    """
    How a characteristic is written: its unit and the decimals that tell it from its limits.

    ``told``: the ways in which the report tells it, where they were settled for a value beside its limits.
    """

    unit: str
    decimals: int
    told: tuple[Way, ...] = ()

    def ways(self, *values: float) -> tuple[Way, ...]:
        """How values in SI are told: as settled, else by their own size."""
        return self.told or ways(self.unit, self.decimals, Among(values))


def limit_at(books: Books, characteristic: str, position: Position) -> Limit | None:
    """The limit that holds at a place: the spec sheet's, else that of common practice, else None."""
    found = row_for(books, characteristic, position)
    if found is None:
        return None
    row, origin = found
    return limit_of(
        row, origin, books.sheet.source_of(row) if origin == "spec sheet" else row.source or origin
    )


def limit_of(row: Characteristic, origin: Origin, source: str) -> Limit:
    """A row as a limit: an amount of wear becomes a dimension, a nominal size alone a range of no width."""
    standard = row.standard or Band(low=row.nominal, high=row.nominal)
    low, high = _ends(row, standard)
    return Limit(
        standard_low=standard.low,
        standard_high=standard.high,
        low=low,
        high=high,
        wears=row.wears or _wears(low, high),
        watch=row.watch,
        unit=row.unit,
        source=source,
        sure=row.sure,
        origin=origin,
        condition=row.condition,
        disputed=row.disputed,
    )


def _ends(row: Characteristic, standard: Band) -> tuple[float | None, float | None]:
    if row.limit is not None:
        return row.limit.low, row.limit.high
    if row.wear is None:
        return None, None
    if row.wears == "up":
        return None, _edge(standard.high, standard.low, row.nominal) + row.wear
    return _edge(standard.low, standard.high, row.nominal) - row.wear, None


def _edge(*candidates: float | None) -> float:
    """The first edge given; a row with an amount of wear always has one."""
    return next(edge for edge in candidates if edge is not None)


def _wears(low: float | None, high: float | None) -> str:
    if low is not None and high is not None:
        return "either"
    return "up" if high is not None else "down" if low is not None else ""


def nominal_only(limit: Limit) -> bool:
    """Whether the source prints one size and nothing that may be kept or broken."""
    return limit.low is None and limit.high is None and limit.standard_low == limit.standard_high


def reaches(value: float, edge: float) -> bool:
    """Whether a value is at an edge or above it, but for the noise of unit conversion."""
    return value >= edge - NOISE * max(abs(value), abs(edge))


def within(value: float, low: float | None, high: float | None) -> bool:
    """Whether a value lies between two edges, both belonging to the range; None for an open end."""
    return (low is None or reaches(value, low)) and (high is None or reaches(high, value))


def shown(known: Known, limit: Limit | None, value: float | None = None) -> Shown:
    """
    Unit and decimals: the limit's unit where it is of the same kind as the catalogue's, as fine as it takes.

    Decimals grow until the value does not read like a limit that it does not equal.
    """
    unit, decimals = known.unit, known.decimals
    if limit is not None and comparable(limit.unit, known.unit):
        decimals = _regraded(decimals, known.unit, limit.unit)
        unit = limit.unit
    edges = () if limit is None or unit != limit.unit else _edges(limit)
    decimals = max((decimals, *(_decimals_of(edge, unit) for edge in edges)))
    while value is not None and decimals < FINEST and any(_alike(value, e, unit, decimals) for e in edges):
        decimals += 1
    return Shown(unit, min(decimals, FINEST))


def comparable(unit: str, other: str) -> bool:
    """Whether two units measure the same kind of thing; a count is a plain number."""
    return _kind(unit) == _kind(other)


def _kind(unit: str) -> str:
    dimension = unit_named(unit).dimension if unit else "ratio"
    return "ratio" if dimension == "count" else dimension


def _regraded(decimals: int, given: str, wanted: str) -> int:
    """Decimals that show about as much in another unit: 0.01 mm asks for a thou, 0.001 mm for a tenth."""
    if not given or not wanted:
        return decimals
    coarser = unit_named(wanted).factor / unit_named(given).factor
    return max(0, decimals + round(math.log10(coarser)))


def among(limit: Limit | None, *quantities: Quantity) -> Among:
    """
    Quantities and the limit they are held against, as what is told beside each other.

    Nothing where amounts are told as the books write them, which asks for none of it.
    """
    if not manner().units:
        return Among()
    values, doubts = (q.value for q in quantities), (expanded(q) for q in quantities)
    return Among(tuple(values), () if limit is None else _edges(limit), tuple(doubts))


def _edges(limit: Limit) -> tuple[float, ...]:
    """All ends of a limit."""
    ends = (limit.standard_low, limit.standard_high, limit.low, limit.high)
    return tuple(end for end in ends if end is not None)


def number(value: float, unit: str) -> float:
    """An SI value as the number that stands before a unit; without a unit as it is."""
    return from_si(value, unit) if unit else value


def _decimals_of(edge: float, unit: str) -> int:
    """Decimals it takes to write an edge as it is printed, conversion noise left aside."""
    written = f"{number(edge, unit):.{FINEST}f}".rstrip("0")
    return len(written.partition(".")[2])


def _alike(value: float, edge: float, unit: str, decimals: int) -> bool:
    """Whether a value is written like an edge that it does not equal."""
    same = reaches(value, edge) and reaches(edge, value)
    return not same and f"{number(value, unit):.{decimals}f}" == f"{number(edge, unit):.{decimals}f}"
