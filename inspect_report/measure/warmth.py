"""Turns the temperature of a part and its expansion into diameters at 20 °C."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from inspect_report.measure.bench import Bench, mean
from inspect_report.measure.missing import in_words
from inspect_report.mechanics import thermal
from inspect_report.records.inspection import Conditions, Reading
from inspect_report.records.position import Position
from inspect_report.records.specsheet import Geometry
from inspect_report.telling.manner import say
from inspect_report.telling.units import written


@dataclass(frozen=True, slots=True)
class Warmth:
    """How warm a part was when it was measured, and how far it expands; what is not known is None."""

    part: str
    reading: Reading | None
    expansion: float | None
    gauge: float | None = None
    """Temperature of the gauges, that of the room; None where it was not noted. [K]"""

    @property
    def is_known(self) -> bool:
        """Whether sizes can be corrected."""
        return self.reading is not None and self.expansion is not None

    @property
    def readings(self) -> tuple[Reading, ...]:
        """What a formula takes behind the diameters of the part."""
        return (self.reading,) if self.reading is not None and self.is_known else ()

    def at_20(self, diameters: Sequence[float], temperatures: Sequence[float]) -> list[float]:
        """Diameters at 20 °C; as they are where the part's temperature or expansion is not known."""
        if self.expansion is None or not temperatures:
            return list(diameters)
        room = thermal.REFERENCE_TEMPERATURE if self.gauge is None else self.gauge
        return [
            thermal.at_reference(d, self.expansion, temperatures[0], gauge_temperature=room)
            for d in diameters
        ]

    @property
    def told(self) -> str:
        """What to say of it."""
        if self.is_known:
            return say("corrected to 20 °C: {part}, {gauges}", part=self.degrees, gauges=self.gauges)
        if self.reading is None:
            return ""
        return say(
            "not corrected to 20 °C: {part}, its expansion is not in the spec sheet",
            part=self.degrees,
        )

    @property
    def gauges(self) -> str:
        """How warm the gauges were, in words."""
        if self.gauge is None:
            return say("gauges taken as at 20 °C")
        return say("gauges of steel at {temperature}", temperature=written(self.gauge, "°C", ".1f"))

    @property
    def degrees(self) -> str:
        """How warm the part was, in words."""
        values = self.reading.values if self.reading else ()
        warm = written(mean(values) if values else 0.0, "°C", ".1f")
        return say("{part} read at {temperature}", part=self.part, temperature=warm)


def warmth(bench: Bench, part: str, at: Position) -> Warmth:
    """The warmth of a part at a place: ``barrel`` or ``piston``."""
    return warmth_of(part, bench.find(f"{part}-temperature", at), bench.geometry, bench.conditions)


def warmth_of(part: str, reading: Reading | None, geometry: Geometry, conditions: Conditions) -> Warmth:
    """The warmth of a part of an engine by the reading of its temperature, None where that was not read."""
    expansion: float | None = getattr(geometry, f"{part}_expansion")
    return Warmth(in_words(part), reading, expansion, conditions.ambient_temperature)


def barrel_at_20(
    bore: Reading, readings: Iterable[Reading], geometry: Geometry, conditions: Conditions
) -> float | None:
    """
    The mean of a bore's reading at 20 °C [m], as its wear is reckoned; None where that is not known.

    Args:
        bore: A reading of the bore. [m]
        readings: All readings of the inspection, among them the temperature of its barrel. [K]
        geometry: Of the engine, with the expansion of the barrel.
        conditions: Of the day, with the temperature of the gauges.
    """
    at = bore.position
    read = next((r for r in readings if r.item == "barrel-temperature" and _is_part_of(at, r.position)), None)
    warm = warmth_of("barrel", read, geometry, conditions)
    if not warm.is_known or read is None:
        return None
    (corrected,) = warm.at_20([mean(bore.values)], [mean(read.values)])
    return corrected


def _is_part_of(place: Position, whole: Position) -> bool:
    return all(place.label(axis) == whole.label(axis) for axis in whole.axes)


def both_or_neither(one: Warmth, other: Warmth) -> tuple[Warmth, Warmth, str]:
    """
    Two parts that are measured against each other, as both are to be corrected, and what to say of it.

    One corrected and the other not would be worse than neither.
    """
    if one.is_known and other.is_known:
        return (
            one,
            other,
            say(
                "corrected to 20 °C: {one}, {other}, {gauges}",
                one=one.degrees,
                other=other.degrees,
                gauges=one.gauges,
            ),
        )
    told = ""
    if one.reading or other.reading:
        told = say(
            "not corrected to 20 °C: temperature and expansion are not known of both {one} and {other}",
            one=one.part,
            other=other.part,
        )
    return Warmth(one.part, None, None), Warmth(other.part, None, None), told
