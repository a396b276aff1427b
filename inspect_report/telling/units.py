"""
Turns the unit an amount is written in by the books into the units a report tells it in, and into text.

Files keep the units they were written in, and data is SI. Only what is told changes: ``units`` of the manner
says whether amounts are told as the books write them, metric, imperial, or metric with imperial in brackets.
"""

import math
from collections.abc import Callable, Iterable
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from functools import lru_cache, wraps
from typing import Final, ParamSpec, TypeVar

from inspect_report.records.quantity import UNITS, WITHOUT_SIGN, difference_from_si, from_si, unit_named
from inspect_report.telling.manner import figure, manner, message_as, say_as, telling

FINEST: Final = 6
"""Most decimals of a number."""
THIN: Final = 3e-3
"""Length in metres below which the trade speaks of thousandths of an inch: gaps, clearances, wear."""
SOLD_DECIMALS: Final = {"mm": 2, "in": 3}
"""The units that parts are sold in, each with the decimals of an oversize."""
SMALL_TORQUE: Final = 20.0
"""Torque in N·m below which it is told in pounds and inches."""
_NOISE: Final = 1e-9
_WHOLE: Final = 1e-6
"""How far from a whole count of steps a size may lie by rounding."""
_PRINTED: Final = 4
"""Most decimals of a printed limit; more are what is left of a computation."""

_SAID_APART: Final = ("mbar", "thou/in")
"""Units that are another by their size and yet told by their own sign: the millibar of leaks beside the
hectopascal of the weather, the thousandths of an inch to the inch beside millimetres to the metre."""
_CHOSEN: Final = ("lb·ft", "lb·in")
"""The signs taken of several, where it is not the first of the table of units."""


def _one_sign() -> dict[str, str]:
    """Each symbol that files may write, with the one sign by which reports tell its unit."""
    taken: dict[tuple[str, float, float], str] = {}
    for symbol in (*_CHOSEN, *UNITS):
        unit = UNITS[symbol]
        taken.setdefault((unit.dimension, unit.factor, unit.offset), symbol)
    of = {s: taken[u.dimension, u.factor, u.offset] for s, u in UNITS.items()}
    return of | {symbol: symbol for symbol in _SAID_APART}


_ONE_SIGN: Final = _one_sign()
_LENGTHS: Final = ("mm", "cm", "µm", "in", "thou")
_TORQUES: Final = ("N·m", "kgf·m", "lb·ft", "lb·in")
_IMPERIAL: Final = {
    "m": "ft", "km": "mi", "mm²": "in²", "cm²": "in²",
    "bar": "psi", "kPa": "psi", "MPa": "psi", "Pa": "psi", "mbar": "psi", "kgf/cm²": "psi",
    "hPa": "inHg", "mmHg": "inHg",
    "°C": "°F", "kg": "lb", "N": "lbf", "kN": "lbf", "kgf": "lbf", "l/min": "cfm",
    "kPa/min": "psi/min", "mbar/min": "psi/min", "bar/min": "psi/min", "Pa/s": "psi/min",
    "mm/m": "thou/in", "mm/100mm": "thou/in", "N/mm": "lbf/in", "N/m": "lbf/in",
}  # fmt: skip
"""The imperial unit of a metric one. What is not here stays as it is: cubic centimetres and grams, in which
workshops everywhere fill chambers and weigh pistons; litres, whose quart differs from country to country.
Lengths and torques go by their size."""
_METRIC: Final = {
    "in": "mm", "thou": "mm", "ft": "m", "mi": "km", "in²": "mm²", "in³": "cm³",
    "psi": "bar", "kgf/cm²": "bar", "inHg": "hPa", "mmHg": "hPa", "°F": "°C", "lb": "kg", "oz": "g",
    "lbf": "N", "kgf": "N", "kgf·m": "N·m", "lb·ft": "N·m", "lb·in": "N·m",
    "cfm": "l/min", "psi/min": "kPa/min", "thou/in": "mm/m", "lbf/in": "N/mm",
}  # fmt: skip
"""The metric unit of an imperial one, and of those that hang on weight."""
_SIGNS: Final = frozenset({
    message_as("unit", "in"), message_as("unit", "in²"), message_as("unit", "in³"),
    message_as("unit", "thou"), message_as("unit", "rpm"),
    message_as("unit", "thou/in"), message_as("unit", "ft"), message_as("unit", "mi"),
    message_as("unit", "lb"), message_as("unit", "lbf"), message_as("unit", "lbf/in"),
    message_as("unit", "lb·ft"), message_as("unit", "lb·in"), message_as("unit", "psi"),
    message_as("unit", "psi/min"), message_as("unit", "inHg"), message_as("unit", "cfm"),
})  # fmt: skip
"""Units whose sign a language may write otherwise."""


@dataclass(frozen=True, slots=True)
class Among:
    """
    What an amount is told beside, all SI.

    What is told together has one unit and one count of decimals, which tell each value from every edge that
    it does not equal: a value just beyond its limit never reads like the limit.
    """

    values: tuple[float, ...] = ()
    edges: tuple[float, ...] = ()
    doubts: tuple[float, ...] = ()
    """Expanded uncertainties of the values; decimals grow by one where rounding up would overstate one."""
    sold: bool = False
    """Whether it is a size by which a part is sold, which keeps its unit."""

    @property
    def size(self) -> float:
        """What the size of the unit goes by: the limits, which all places share, else the values."""
        return max((abs(v) for v in self.edges or self.values), default=0.0)


@dataclass(frozen=True, slots=True)
class Way:
    """One way to write an amount; ``converted``: the books write it in another unit, so no edge is exact."""

    unit: str
    decimals: int
    converted: bool = False


def ways(unit: str, decimals: int, among: Among) -> tuple[Way, ...]:
    """
    How an amount is told: once, or metric first and imperial second.

    Args:
        unit: The unit the books write it in; empty for a plain number.
        decimals: Decimals in that unit.
        among: What it is told beside.
    """
    units = manner().units
    if not units or among.sold or unit in WITHOUT_SIGN:
        return (Way(unit, decimals),)
    return _ways(Way(_ONE_SIGN[unit_named(unit).symbol], decimals), units, _small_length(), among)


def one_way(unit: str, decimals: int, among: Among) -> Way:
    """How an amount is told where there is room for one unit: the first of its ways."""
    return ways(unit, decimals, among)[0]


def _small_length() -> str:
    """
    The unit of small lengths in the language told now.

    A thousandth is one of a millimetre in most languages: those translate this message as ``in``.
    """
    told = say_as("unit of lengths under 3 mm", "thou")
    return told if told in ("thou", "in") else "in"


@lru_cache(maxsize=4096)
def _ways(own: Way, units: str, small: str, among: Among) -> tuple[Way, ...]:
    metric = _converted(own, _METRIC.get(own.unit, own.unit), among)
    imperial = _converted(own, _imperial(own.unit, small, among.size), among)
    if units == "metric":
        return (metric,)
    if units == "imperial":
        return (imperial,)
    return (metric,) if metric.unit == imperial.unit else (metric, imperial)


def _imperial(unit: str, small: str, size: float) -> str:
    if unit in _LENGTHS:
        return small if size < THIN else "in"
    if unit in _TORQUES:
        return "lb·in" if size < SMALL_TORQUE else "lb·ft"
    return _IMPERIAL.get(unit, unit)


def _converted(own: Way, unit: str, among: Among) -> Way:
    """The way in another unit, with decimals enough for all it is told beside."""
    if unit == own.unit:
        return own
    edges = (_decimals_of(edge, own.unit) for edge in among.edges)
    printed = max((own.decimals, *(d for d in edges if d <= _PRINTED)))
    if unit in ("thou", "in"):
        decimals = _regraded_length(printed, own.unit, unit, among.size < THIN)
    else:
        decimals = _regraded(printed, own.unit, unit)
    decimals += any(_overstated(doubt, unit, decimals) for doubt in among.doubts)
    while decimals < FINEST and _some_alike(among, unit, decimals):
        decimals += 1
    return Way(unit, decimals, converted=True)


def _regraded(decimals: int, given: str, wanted: str) -> int:
    """Decimals that show about as much in another unit: 0.1 bar asks for a psi, 1 kPa for a tenth of one."""
    step = 10.0**-decimals * UNITS[given].factor / UNITS[wanted].factor
    return max(0, math.ceil(-math.log10(step) - 0.3))


def _regraded_length(decimals: int, given: str, wanted: str, thin: bool) -> int:
    """Decimals as the trade writes lengths: 0.01 and 0.001 mm ask for a tenth of a thou, 0.0001 in."""
    of_mm = decimals - round(math.log10(UNITS[given].factor / 1e-3))
    tenths = max(1, of_mm - 2)
    if wanted == "thou":
        return tenths
    return tenths + 3 if thin else min(tenths + 3, max(3, of_mm + 2))


def _decimals_of(edge: float, unit: str) -> int:
    written = f"{from_si(edge, unit):.{FINEST}f}".rstrip("0")
    return len(written.partition(".")[2])


def _overstated(doubt: float, unit: str, decimals: int) -> bool:
    """Whether an uncertainty rounded up would be told as more than half more than it is."""
    wide = abs(difference_from_si(doubt, unit))
    scale = 10.0**decimals
    return wide > 0.0 and math.ceil(wide * scale - 1e-6) / scale > 1.5 * wide


def _some_alike(among: Among, unit: str, decimals: int) -> bool:
    return any(_alike(v, e, unit, decimals) for v in among.values for e in among.edges)


def _alike(value: float, edge: float, unit: str, decimals: int) -> bool:
    """Whether a value is written like an edge that it does not equal."""
    same = abs(value - edge) <= _NOISE * max(abs(value), abs(edge))
    return not same and f"{from_si(value, unit):.{decimals}f}" == f"{from_si(edge, unit):.{decimals}f}"


def finer(way: Way, decimals: int) -> Way:
    """A way with at least so many decimals."""
    return replace(way, decimals=max(way.decimals, decimals))


Made = TypeVar("Made")
Taken = ParamSpec("Taken")


def in_one_unit(make: Callable[Taken, Made]) -> Callable[Taken, Made]:
    """A function that makes a picture, where amounts are told in the first of their units alone."""

    @wraps(make)
    def made(*args: Taken.args, **named: Taken.kwargs) -> Made:
        now = manner()
        with telling(replace(now, units="metric") if now.units == "both" else now):
            return make(*args, **named)

    return made


def as_the_books() -> AbstractContextManager[None]:
    """Within it, amounts are told as the books write them: sizes by which parts are sold."""
    return telling(replace(manner(), units=""))


def sign(unit: str) -> str:
    """The one sign of a unit, however a file writes it, as the language told now writes it."""
    own = unit if unit in WITHOUT_SIGN else _ONE_SIGN[unit_named(unit).symbol]
    return say_as("unit", own) if own in _SIGNS else own


def together(told: Iterable[str]) -> str:
    """One text of an amount told once or twice: ``0.045 mm (1.8 thou)``."""
    first, *second = told
    if not second:
        return first
    return f"{first} / {second[0]}" if "(" in first else f"{first} ({second[0]})"


def signs(unit: str, among: Among) -> str:
    """The unit or units in which an amount is told, for where they stand once for many: ``mm (thou)``."""
    told = [sign(w.unit) for w in ways(unit, 0, among) if w.unit not in WITHOUT_SIGN]
    return together(told) if told else ""


def each(unit: str, decimals: int, among: Among, make: Callable[[Way], str]) -> str:
    """An amount in each of its ways, made by ``make``, as one text."""
    return together(make(way) for way in ways(unit, decimals, among))


def within_brackets(text: str) -> str:
    """A text for within round brackets: its own become square ones."""
    return text.replace("(", "[").replace(")", "]")


def written(value: float, unit: str, form: str) -> str:
    """
    An amount for a sentence, by the locale told now.

    Args:
        value: The amount in SI.
        unit: Its unit.
        form: How its number is formatted in this unit: ``.3f``, ``g``.
    """
    own = f"{from_si(value, unit):{form}}"
    decimals = len(own.partition(".")[2])

    def told(way: Way) -> str:
        number = f"{from_si(value, way.unit):.{way.decimals}f}" if way.converted else own
        return figure(f"{number} {sign(way.unit)}")

    return each(unit, decimals, Among((value,)), told)


def sold_in(sizes: Iterable[float]) -> str:
    """
    The unit by which sizes of a part [m] are sold.

    Inches where all are whole thousandths of one and not all are whole hundredths of a millimetre: oversizes
    of 0.020 and 0.040 in; else millimetres.
    """
    series = tuple(sizes)
    inches = _whole(series, "thou", 1.0) and not _whole(series, "mm", 0.01)
    return "in" if inches else "mm"


def _whole(sizes: Iterable[float], unit: str, step: float) -> bool:
    counts = [from_si(size, unit) / step for size in sizes]
    return all(abs(count - round(count)) <= _WHOLE for count in counts)


def as_sold(value: float, sizes: Iterable[float], form: str) -> str:
    """
    A size by which a part is sold: in the unit it is sold in, whatever the report's.

    Args:
        value: The size. [m]
        sizes: All sizes on sale. [m]
        form: How its number is formatted in millimetres: ``.2f``, ``g``; in inches it has three decimals.
    """
    unit = sold_in(sizes)
    written_as = form if unit == "mm" else f".{SOLD_DECIMALS[unit]}f"
    return figure(f"{from_si(value, unit):{written_as}} {sign(unit)}")
