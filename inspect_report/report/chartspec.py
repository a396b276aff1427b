"""
Defines charts as data: what is drawn, every text ready, no colour and no size but the height.

Lengths along an axis are plain numbers in the unit the axis names; ``ticks`` carry the text at them.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

Tick = tuple[float, str]

LATE_TIMES: Final = 5
"""How many times larger than it is the angle is drawn by which a camshaft runs late."""


@dataclass(frozen=True, slots=True)
class Axis:
    """A scale: its two ends, the texts along it and what it measures."""

    low: float
    high: float
    ticks: tuple[Tick, ...]
    label: str


@dataclass(frozen=True, slots=True)
class Edge:
    """A limit drawn as a line, with the text that names it."""

    at: float
    text: str


@dataclass(frozen=True, slots=True)
class Row:
    """One bar: ``tone`` is the verdict's; ``spread`` the expanded uncertainty on either side."""

    label: str
    value: float
    text: str
    tone: str
    spread: float = 0.0


@dataclass(frozen=True, slots=True)
class BarChart:
    """Horizontal bars from zero, one below the other, with limits as upright lines."""

    title: str
    alt: str
    caption: str
    axis: Axis
    rows: tuple[Row, ...]
    edges: tuple[Edge, ...] = ()


@dataclass(frozen=True, slots=True)
class Gap:
    """One valve in the head: its gap now, and after the shim chosen for it."""

    label: str
    value: float
    text: str
    tone: str
    low: float | None
    high: float | None
    after: float | None = None
    after_text: str = ""


@dataclass(frozen=True, slots=True)
class ValveRow:
    """One side of the head: its valves in the order they stand, grouped by cylinder."""

    name: str
    gaps: tuple[tuple[Gap, ...], ...]


@dataclass(frozen=True, slots=True)
class ValveMap:
    """Valve clearances where the valves stand in the head, seen from above."""

    title: str
    alt: str
    caption: str
    axis: Axis
    cylinders: tuple[str, ...]
    rows: tuple[ValveRow, ...]


@dataclass(frozen=True, slots=True)
class BoreLine:
    """One measuring direction of a bore, from the top down: deviation and the text of each height."""

    name: str
    values: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class Bore:
    """One cylinder's bore."""

    label: str
    tone: str
    lines: tuple[BoreLine, ...]


@dataclass(frozen=True, slots=True)
class BoreMap:
    """How far each bore departs from its nominal size, by height and direction."""

    title: str
    alt: str
    caption: str
    axis: Axis
    heights: tuple[str, ...]
    bores: tuple[Bore, ...]
    limit: Edge | None = None


@dataclass(frozen=True, slots=True)
class Point:
    """One reading in a trend; ``half`` is the expanded uncertainty."""

    x: float
    y: float
    half: float


@dataclass(frozen=True, slots=True)
class Line:
    """Readings of one part, in order, with its name; lines of one ``mark`` have one kind of mark."""

    name: str
    points: tuple[Point, ...]
    mark: int = 0


@dataclass(frozen=True, slots=True)
class TrendChart:
    """Readings over running time, the fitted line, its prediction band, the limit and where it is met."""

    title: str
    alt: str
    caption: str
    x_axis: Axis
    y_axis: Axis
    lines: tuple[Line, ...]
    fit: tuple[tuple[float, float], ...] = ()
    band: tuple[tuple[float, float, float], ...] = ()
    limit: Edge | None = None
    meets: Edge | None = None


@dataclass(frozen=True, slots=True)
class Choice:
    """One gasket grade in the plane of squish gap and compression ratio; ``label`` tells its role, too."""

    label: str
    x: float
    y: float
    chosen: bool


@dataclass(frozen=True, slots=True)
class GasketChart:
    """Gasket grades on sale: the squish gap and ratio each would give, and the two bounds."""

    title: str
    alt: str
    caption: str
    x_axis: Axis
    y_axis: Axis
    choices: tuple[Choice, ...]
    floor: Edge | None
    ceiling: Edge | None


@dataclass(frozen=True, slots=True)
class Value:
    """One value where it was measured; an empty text where nothing was."""

    text: str
    tone: str


@dataclass(frozen=True, slots=True)
class PlanCylinder:
    """One cylinder seen from above: values in its bore, and those of its valves on either side."""

    label: str
    values: tuple[Value, ...]
    inlet: tuple[Value, ...]
    exhaust: tuple[Value, ...]


@dataclass(frozen=True, slots=True)
class EnginePlan:
    """
    The engine seen from above, values at their places.

    ``names`` tell the lines within each bore, ``sides`` inlet and exhaust. ``banks`` stand one below the
    other, two with the crankshaft between them. ``mains`` and ``pins`` are its bearings from one end on.
    """

    title: str
    alt: str
    caption: str
    names: tuple[str, ...]
    sides: tuple[str, str]
    banks: tuple[tuple[PlanCylinder, ...], ...]
    mains: tuple[Value, ...]
    pins: tuple[Value, ...]
    bearings: tuple[str, str]


@dataclass(frozen=True, slots=True)
class RangeRow:
    """One value with the range of new parts and the limits; ``after`` is expected with new parts."""

    label: str
    value: float
    half: float
    text: str
    tone: str
    new_low: float | None
    new_high: float | None
    low: float | None
    high: float | None
    after: float | None = None


@dataclass(frozen=True, slots=True)
class RangeChart:
    """Values of like parts, one below the other, each within its own range and limits."""

    title: str
    alt: str
    caption: str
    axis: Axis
    rows: tuple[RangeRow, ...]


@dataclass(frozen=True, slots=True)
class ChainCam:
    """A camshaft's sprocket: how late it runs and how late it may, in degrees; None where not known."""

    text: Value
    late: float | None
    limit: float | None


@dataclass(frozen=True, slots=True)
class ChainDiagram:
    """The timing chain with crankshaft, camshafts and tensioner, values at their places."""

    title: str
    alt: str
    caption: str
    cams: tuple[ChainCam, ...]
    chain: tuple[Value, ...]
    tensioner: tuple[Value, ...]
    crank: str


@dataclass(frozen=True, slots=True)
class Segment:
    """A piece of a stacked bar: which kind, and how much."""

    kind: int
    value: float
    text: str


@dataclass(frozen=True, slots=True)
class Stack:
    """One stacked bar with its total, which may reach further."""

    label: str
    segments: tuple[Segment, ...]
    text: str
    reaches: float


@dataclass(frozen=True, slots=True)
class StackChart:
    """Sums side by side, each made of the same kinds of cost."""

    title: str
    alt: str
    caption: str
    axis: Axis
    kinds: tuple[str, ...]
    stacks: tuple[Stack, ...]


ChartSpec = (
    BarChart
    | ValveMap
    | BoreMap
    | TrendChart
    | GasketChart
    | EnginePlan
    | RangeChart
    | ChainDiagram
    | StackChart
)


def round_step(span: float, wanted: int) -> float:
    """A step of 1, 2 or 5 times a power of ten that cuts a span in about the wanted number of parts."""
    rough = span / max(wanted, 1)
    power = 10.0 ** math.floor(math.log10(rough))
    return next(m * power for m in (1.0, 2.0, 5.0, 10.0) if m * power >= rough * 0.999)


def scale(low: float, high: float, label: str, text: Callable[[float, int], str], *, wanted: int = 5) -> Axis:
    """
    An axis that holds two values with round numbers along it.

    Args:
        low: Least value drawn.
        high: Greatest value drawn.
        label: What the axis measures, with its unit.
        text: Writes a number with a count of decimals.
        wanted: About how many parts.
    """
    if high <= low:
        low, high = low - 0.5 * (abs(low) or 1.0), high + 0.5 * (abs(high) or 1.0)
    step = round_step(high - low, wanted)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    ticks = tuple((n * step, text(n * step, decimals)) for n in range(first, last + 1))
    return Axis(min(low, first * step), max(high, last * step), ticks, label)
