"""Turns two ways to one quantity into their difference, and into a doubt where they contradict each other."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from inspect_report.measure.bench import Bench, Result, notes
from inspect_report.measure.budget import Formula
from inspect_report.mechanics import bearing
from inspect_report.records.inspection import Reading
from inspect_report.records.quantity import Quantity
from inspect_report.telling.manner import say
from inspect_report.telling.units import written

_COVERAGE: Final = 2.0
"""Two ways that differ by more than this many standard uncertainties of their difference do not agree."""
_NOISE: Final = 1e-9
"""Float noise of a length. [m]"""


@dataclass(frozen=True, slots=True)
class Way:
    """
    One way to a length.

    Attributes:
        by: What it is done with, ``by plastic strip``.
        shows: What shows it, in a sentence that its value ends: ``the plastic strip shows``.
        readings: What it is made from.
        formula: The formula it is named after; None for a reading taken as it is.
        call: How the formula is called with one number for each reading.
        note: What to say of it.
    """

    by: str
    shows: str
    readings: tuple[Reading, ...]
    formula: Callable[..., object] | None = None
    call: Formula | None = None
    note: str = ""

    def result(self, bench: Bench) -> Result:
        """What it comes to."""
        if self.formula is None or self.call is None:
            return bench.as_read(self.readings[0], note=self.note)
        return bench.result(self.formula, self.readings, "length", by=self.call, picks=True, note=self.note)

    def value(self, *numbers: float) -> float:
        """What it comes to for one number for each reading."""
        return numbers[0] if self.call is None else self.call(*numbers)


def difference(bench: Bench, other: Way, one: Way) -> Result:
    """One way less another; a reading or a gauge that serves both brings no doubt to what they differ by."""
    count = len(other.readings)

    def apart(*numbers: float) -> float:
        return bearing.difference_of_ways(other.value(*numbers[:count]), one.value(*numbers[count:]))

    read = (*other.readings, *one.readings)
    note = say("{other} less {one}", other=other.by, one=one.by)
    return bench.result(bearing.difference_of_ways, read, "length", by=apart, picks=True, note=note)


def second_opinion(bench: Bench, found: Result, one: Way, other: Way, then: str) -> Result:
    """
    A quantity found one way with what another says of it; the two are never averaged.

    Args:
        bench: The bench.
        found: What the first way came to.
        one: The first way.
        other: The other way.
        then: What to do where the two contradict each other, a sentence.
    """
    second, agree = other.result(bench).quantity, agrees(difference(bench, other, one).quantity)
    said = say("{way} {value}, which agrees", way=other.shows, value=_mm(second.value)) if agree else ""
    both = (
        say("{value} {way}", value=_mm(found.quantity.value), way=one.by)
        + ", "
        + say("{value} {way}", value=_mm(second.value), way=other.by)
    )
    doubt = (
        ""
        if agree
        else say("{both}: the two differ by more than their joint uncertainty. {then}", both=both, then=then)
    )
    return replace(
        found,
        readings=(*found.readings, *other.readings),
        note=notes(found.note, said),
        doubt=" ".join(part for part in (found.doubt, doubt) if part),
    )


def agrees(apart: Quantity) -> bool:
    """Whether a difference of two ways is no more than its uncertainty covers."""
    return bearing.disagreement(max(0.0, abs(apart.value) - _NOISE), apart.u) <= _COVERAGE


def _mm(value: float) -> str:
    return written(value, "mm", ".3f")
