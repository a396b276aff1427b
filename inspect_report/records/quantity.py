"""
Turns what people write for a measured amount into a float in SI, and refuses what could be misread.

A number with a unit is read by the table below and nothing else, so no text is ever taken for a unit that
was not meant. A number without a unit takes the unit its place asks for.
"""

import re
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit of the table: SI value = number × factor + offset."""

    symbol: str
    dimension: str
    factor: float
    offset: float = 0.0


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value with its standard uncertainty, both in the SI unit of the dimension (see ``SI_SYMBOL``)."""

    value: float
    u: float
    dimension: str
    dof: float | None = None
    """Effective degrees of freedom of ``u``; None where it does not rest on a few repeats."""


class QuantityFault(ValueError):
    """Text that is no amount of the dimension asked for: what is allowed, and how to mend it."""

    def __init__(self, title: str, allowed: str, mend: str) -> None:
        self.title, self.allowed, self.mend = title, allowed, mend
        super().__init__(f"{title}; {allowed}; {mend}")


# The "SI" of angles is the degree here: crank and cam angles are written in degrees everywhere in the trade.
SI_SYMBOL: Final = {
    "length": "m", "area": "m²", "volume": "m³", "pressure": "Pa", "temperature": "K", "time": "s",
    "mass": "kg", "force": "N", "torque": "N·m", "ratio": "1", "angle": "°", "flow": "m³/s",
    "speed": "1/s", "count": "1", "voltage": "V", "pressure rate": "Pa/s", "slope": "1",
    "expansion": "1/K", "stiffness": "N/m", "share rate": "kg/(kg·s)",
}  # fmt: skip

_INCH, _PSI, _POUND_FORCE = 0.0254, 6894.757293168, 4.4482216152605
# Exact by definition (inch, pound, standard gravity) or decimal multiples; held against a general unit
# library in tests/published/test_unit_factors.py.
_ROWS: Final = """
length: m=1 mm=1e-3 cm=1e-2 µm=1e-6 um=1e-6 μm=1e-6 km=1000 in=0.0254 inch=0.0254 "=0.0254 thou=2.54e-5
 mi=1609.344 mile=1609.344 miles=1609.344 ft=0.3048
area: m²=1 mm²=1e-6 mm2=1e-6 cm²=1e-4 cm2=1e-4 in²=6.4516e-4 in2=6.4516e-4
volume: m³=1 l=1e-3 cm³=1e-6 cm3=1e-6 cc=1e-6 ml=1e-6 in³=1.6387064e-5 in3=1.6387064e-5
pressure: Pa=1 kPa=1e3 hPa=100 mbar=100 MPa=1e6 bar=1e5 psi=6894.757293168 psig=6894.757293168
 inHg=3386.388640341 mmHg=133.322387415 kgf/cm²=98066.5 kgf/cm2=98066.5
time: s=1 min=60 h=3600 hr=3600 hrs=3600 hour=3600 hours=3600
mass: kg=1 g=1e-3 mg=1e-6 lb=0.45359237 oz=0.028349523125
force: N=1 kN=1e3 kgf=9.80665 lbf=4.4482216152605
torque: N·m=1 Nm=1 N.m=1 kgf·m=9.80665 lbf·ft=1.3558179483314004 lb-ft=1.3558179483314004
 lb·ft=1.3558179483314004 ft-lb=1.3558179483314004 ft·lb=1.3558179483314004
 lbf·in=0.1129848290276167 in-lb=0.1129848290276167 lb·in=0.1129848290276167
ratio: 1=1 %=0.01 ppm=1e-6
angle: °=1 deg=1 degree=1 degrees=1
flow: m³/s=1 l/min=1.6666666666666667e-5 L/min=1.6666666666666667e-5 cfm=4.719474432e-4
 cm³/min=1.6666666666666667e-8 cm3/min=1.6666666666666667e-8
speed: 1/s=1 rpm=0.016666666666666666 1/min=0.016666666666666666
count: pcs=1 pc=1
voltage: V=1 mV=1e-3
pressure rate: Pa/s=1 kPa/min=16.666666666666668 mbar/min=1.6666666666666667 psi/min=114.91262155280001
 bar/min=1666.6666666666667
slope: mm/m=1e-3 mm/100mm=1e-2 thou/in=1e-3
expansion: 1/K=1 µm/(m·K)=1e-6 ppm/K=1e-6
stiffness: N/m=1 N/mm=1000 lbf/in=175.12683524647636
share rate: kg/(kg·s)=1 ppm/h=2.7777777777777777e-10
"""  # fmt: skip


def _table() -> dict[str, Unit]:
    units: dict[str, Unit] = {}
    dimension = ""
    for line in _ROWS.strip().splitlines():
        if not line.startswith(" "):
            dimension, _, line = line.partition(": ")
        for cell in line.split():
            symbol, _, written = cell.rpartition("=")
            units[symbol] = Unit(symbol, dimension, float(written))
    for symbol, factor, offset in (("K", 1.0, 0.0), ("°C", 1.0, 273.15), ("°F", 5 / 9, 459.67 * 5 / 9)):
        units[symbol] = Unit(symbol, "temperature", factor, offset)
    return units


UNITS: Final = _table()
_FOLDED: Final = {symbol.casefold(): unit for symbol, unit in UNITS.items() if len(symbol) > 1}
# "mil" is a thou to some and a millimetre to others; a bare C or F is as often a grade as a temperature.
_UNCLEAR: Final = {
    "mil": "write 'thou' for 0.001 in, or 'mm'",
    "mils": "write 'thou' for 0.001 in, or 'mm'",
    "c": "write '°C'",
    "f": "write '°F'",
    "lb ft": "write 'lb-ft'",
    "ft lb": "write 'ft-lb'",
    "tu": "write 'thou' for 0.001 in",
}
WITHOUT_SIGN: Final = frozenset({"", "1", "pcs", "pc"})
"""Units of counts and plain numbers, whose sign is not told behind the number."""
_USUAL: Final = {
    "length": ("mm", "in", "thou", "µm", "cm", "m"),
    "area": ("mm²", "cm²"),
    "volume": ("cm³", "l", "in³"),
    "pressure": ("bar", "psi", "kPa", "MPa", "hPa", "kgf/cm²"),
    "time": ("h", "min", "s"),
    "mass": ("g", "kg", "lb", "oz"),
    "force": ("N", "kgf", "lbf"),
    "torque": ("N·m", "lb-ft", "kgf·m", "in-lb"),
    "ratio": ("%", "1", "ppm"),
    "angle": ("°",),
    "flow": ("l/min", "cfm"),
    "speed": ("rpm",),
    "count": ("pcs",),
}
_ON_THE_ROAD: Final = ("km", "mi", "m")
_BY_LAND_AND_AIR: Final = (*_ON_THE_ROAD, "ft")
_MOST_OFFERS: Final = 3
_MISTAKEN: Final = {"mPa": "write 'MPa' for a million pascal, or 'Pa'"}
"""Symbols of something else, which folding of capitals would take for a unit of the table."""

_MOST_CHARACTERS: Final = 60
_AMOUNT = re.compile(
    r"""^\s*(?P<sign>[-+−]?)\s*
    (?P<number>(?:\d+\s+)?\d+/\d+|\d{1,3}(?:[ \u00a0\u202f]\d{3})+(?:\.\d+)?
        |\d*[.,]?\d+(?:[eE][-+]?\d+)?|\d+\.)
    \s*(?P<unit>[A-Za-z°"%µμ].*)?$""",
    re.VERBOSE,
)


def unit_named(symbol: str) -> Unit:
    """
    The unit of a symbol.

    Raises:
        QuantityFault: no such unit, or one with two meanings.
    """
    plain = symbol.strip().replace("\u00a0", " ").replace("*", "·")
    unit = UNITS.get(plain) or UNITS.get(plain.replace(" ", "")) or _FOLDED.get(plain.casefold())
    if unit is not None and plain not in _MISTAKEN:
        return unit
    hint = _MISTAKEN.get(plain) or _UNCLEAR.get(
        plain.casefold(), "check the spelling; a unit the trade uses may still be missing"
    )
    raise QuantityFault(f"unit {symbol!r} is not known", f"one of {units_text()}", hint)


def units_of(dimension: str) -> tuple[str, ...]:
    """Symbols that measure a dimension, the usual ones first."""
    return tuple(s for s, u in UNITS.items() if u.dimension == dimension)


def usual_units(dimension: str) -> tuple[str, ...]:
    """The few symbols of a dimension that a workshop writes, one for each size of unit."""
    return _USUAL.get(dimension, units_of(dimension))


def meant_units(number: float, unit: str, low: float, high: float, asked: str) -> list[str]:
    """
    Offers of up to three usual units, but for the one it was taken in, in which a number would be in range.

    Args:
        number: The number as written.
        unit: The unit it was taken in, which gives too much or too little.
        low: Least value of the range, in SI.
        high: Greatest value of the range, in SI.
        asked: The unit asked for.
    """
    others = _BY_LAND_AND_AIR if unit in _BY_LAND_AND_AIR else usual_units(unit_named(unit).dimension)
    fitting = [u for u in others if u != unit and low <= si(number, u) <= high]
    return [_offer(number, u, asked) for u in fitting[:_MOST_OFFERS]]


def _offer(number: float, unit: str, asked: str) -> str:
    if unit == "1":
        return f"if it is a share of one, write {from_si(number, asked):.10g} {asked}"
    return f"if the unit is {unit}, write {number:.10g} {unit}"


def units_text() -> str:
    """The units in a sentence, for messages."""
    return "mm, µm, in, thou, bar, kPa, psi, °C, °F, h, km, mi, N, N·m, cm³, %, °, l/min, g …"


def si(number: float, unit: str) -> float:
    """A number of a unit as SI."""
    known = unit_named(unit)
    return number * known.factor + known.offset


def from_si(value: float, unit: str) -> float:
    """An SI value as a number of a unit."""
    known = unit_named(unit)
    return (value - known.offset) / known.factor


def difference_from_si(value: float, unit: str) -> float:
    """A difference or an uncertainty in SI as a number of a unit, without the zero of its scale."""
    return value / unit_named(unit).factor


def read_amount(written: object, unit: str) -> float:
    """
    What is written for an amount, as SI.

    Args:
        written: A number, which takes ``unit``, or text of a number with or without a unit.
        unit: The unit asked for; it also fixes the dimension.

    Raises:
        QuantityFault: not an amount, ambiguous, or of another dimension.
    """
    number, symbol = number_and_unit(written, unit)
    return si(number, symbol)


def read_difference(written: object, unit: str) -> float:
    """
    What is written for a difference, a resolution or an error, as SI; the zero of a scale plays no part.

    Args:
        written: A number, which takes ``unit``, or text of a number with or without a unit.
        unit: The unit asked for; it also fixes the dimension.

    Raises:
        QuantityFault: not an amount, ambiguous, or of another dimension.
    """
    number, symbol = number_and_unit(written, unit)
    return number * unit_named(symbol).factor


def number_and_unit(written: object, unit: str) -> tuple[float, str]:
    """
    What is written for an amount, as its number and the symbol of its unit.

    Args:
        written: A number, which takes ``unit``, or text of a number with or without a unit.
        unit: The unit asked for; it also fixes the dimension.

    Raises:
        QuantityFault: not an amount, ambiguous, or of another dimension.
    """
    asked = unit_named(unit)
    if isinstance(written, bool) or not isinstance(written, int | float | str):
        raise QuantityFault(
            "not an amount", _allowed(asked), "write a number, with its unit if it is another"
        )
    if isinstance(written, int | float):
        return _finite(float(written), asked), unit
    number, symbol = _split(written, asked)
    if symbol is None:
        return number, unit
    _same_dimension(symbol, asked)
    return number, symbol


def _same_dimension(symbol: str, asked: Unit) -> None:
    given = unit_named(symbol)
    if given.dimension != asked.dimension:
        raise QuantityFault(
            f"{symbol} measures {given.dimension}, not {asked.dimension}", _allowed(asked),
            f"write the reading in {asked.symbol}, or check that it stands at the right item",
        )  # fmt: skip


def _split(written: str, asked: Unit) -> tuple[float, str | None]:
    match = _AMOUNT.match(written) if len(written) <= _MOST_CHARACTERS else None
    if match is None:
        mend = "write one number and its unit"
        if "±" in written or "+/-" in written:
            mend = "leave the ± out: the instrument's resolution and permissible error give the uncertainty"
        elif re.search(r"\d[.,]\d+[.,]\d", written):
            mend = "write thousands without a separator: 1234.5"
        raise QuantityFault("not an amount", _allowed(asked), mend)
    number = _number(match["number"], asked)
    if match["sign"] in ("-", "−"):
        number = -number
    return _finite(number, asked), match["unit"].strip() if match["unit"] else None


def _number(text: str, asked: Unit) -> float:
    if "/" in text:
        return _fraction(text, asked)
    before, comma, after = text.partition(",")
    if comma and len(after) == 3 and before not in ("", "0"):
        raise QuantityFault(
            "a comma that could mean two things",
            _allowed(asked),
            f"write {before}.{after} if it is a decimal comma, {before}{after} if it marks thousands",
        )
    return float(re.sub(r"[ \u00a0\u202f]", "", text).replace(",", "."))


def _fraction(text: str, asked: Unit) -> float:
    *whole, fraction = text.split()
    above, _, below = fraction.partition("/")
    if int(below) == 0:
        raise QuantityFault("division by zero", _allowed(asked), "correct the fraction")
    return sum(map(int, whole)) + int(above) / int(below)


def _finite(number: float, asked: Unit) -> float:
    if number != number or number in (float("inf"), float("-inf")):
        raise QuantityFault("not a number", _allowed(asked), "write a plain number")
    return number


def _allowed(asked: Unit) -> str:
    usual = _ON_THE_ROAD if asked.symbol in _ON_THE_ROAD else usual_units(asked.dimension)
    others = [s for s in usual if s != asked.symbol]
    return f"a number in {asked.symbol}" + (f", or with one of {', '.join(others)}" if others else "")
