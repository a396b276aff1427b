"""
Turns readings and the instruments they were taken with into values with standard uncertainty.

A reading's uncertainty has three parts. Its own: the step of the scale, d/(2√3), and the scatter of repeats,
s/√n, which is itself known only as well as n - 1 degrees of freedom allow. The shared one: the instrument's
permissible error, a/√3, which moves everything read with that instrument the same way. A difference of two
readings of one bore gauge, taper for one, is therefore free of the gauge's error; a clearance between a bore
gauge and a micrometer carries both. An instrument with two gauges, such as a leak-down tester, shares its
error only among readings of the same item. A reading counted against the sense of its scale, such as degrees
before a dead centre, has the shared part with the other sign: a degree disc set wrong shows one edge of a
lobe early by as much as it shows the other late.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from inspect_report.mechanics import metrology
from inspect_report.records.inspection import InstrumentUsed, Reading

TWO_GAUGES: Final = frozenset({"leak down tester"})


@dataclass(frozen=True, slots=True)
class Input:
    """
    One number a formula takes.

    Attributes:
        value: Its value. [x]
        step: Standard uncertainty from the step of the scale, its own. [x]
        shared: Standard uncertainty it shares with every input of the same ``source``. [x]
        source: What the shared part comes from, an instrument or one gauge of it. [word]
        mirrored: Whether it counts against the sense of the scale: its shared part has the other sign.
        scatter: Standard uncertainty from the scatter of repeats, its own. [x]
        repeats: How often it was read. [count]
        name: What it is called in a budget, the id of its reading. [word]
        dimension: Dimension of its value. [word]
    """

    value: float
    step: float = 0.0
    shared: float = 0.0
    source: str = ""
    mirrored: bool = False
    scatter: float = 0.0
    repeats: int = 1
    name: str = ""
    dimension: str = ""

    @property
    def u(self) -> float:
        """Standard uncertainty, all its parts together."""
        return metrology.combine((self.step, self.scatter, self.shared))


def input_of(reading: Reading, instrument: InstrumentUsed | None) -> Input:
    """A reading as a formula takes it: the mean of its repeats with all parts of its uncertainty."""
    shared = 0.0
    if instrument is not None and instrument.permissible_error is not None:
        shared = metrology.u_from_permissible_error(instrument.permissible_error)
    return Input(
        value=float(np.mean(reading.values)),
        step=metrology.u_from_resolution(instrument.resolution) if instrument else 0.0,
        shared=shared,
        source=_source(reading, instrument) if instrument and shared else "",
        scatter=metrology.u_from_repeats(reading.values) if len(reading.values) > 1 else 0.0,
        repeats=len(reading.values),
        name=reading_id(reading),
        dimension=reading.dimension,
    )


def reading_id(reading: Reading) -> str:
    """How a reading is named: ``bore-diameter.1.top.along``."""
    return f"{reading.item}.{reading.position.id}" if reading.position.labels else reading.item


def _source(reading: Reading, instrument: InstrumentUsed) -> str:
    kind = instrument.kind.casefold().replace("-", " ")
    return f"{instrument.id} {reading.item}" if kind in TWO_GAUGES else instrument.id
