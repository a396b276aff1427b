"""
Every unit of the table against a general-purpose unit library, Pint (its definitions: NIST SP 811, CODATA).

Pint is asked by its own names, never given what people write. Angles are kept in degrees here and revolutions
count as 1, so both are compared in degrees and revolutions.
"""

import pint
import pytest

from inspect_report.records.quantity import SI_SYMBOL, UNITS, Unit, si

# What each symbol means, in the library's words.
MEANING = {
    "m": "metre", "mm": "millimetre", "cm": "centimetre", "µm": "micrometre", "um": "micrometre",
    "μm": "micrometre", "km": "kilometre", "in": "inch", "inch": "inch", '"': "inch", "thou": "thou",
    "mi": "mile", "mile": "mile", "miles": "mile", "ft": "foot",
    "m²": "metre**2", "mm²": "millimetre**2", "mm2": "millimetre**2", "cm²": "centimetre**2",
    "cm2": "centimetre**2", "in²": "inch**2", "in2": "inch**2",
    "m³": "metre**3", "l": "litre", "cm³": "centimetre**3", "cm3": "centimetre**3", "cc": "centimetre**3",
    "ml": "millilitre", "in³": "inch**3", "in3": "inch**3",
    "Pa": "pascal", "kPa": "kilopascal", "hPa": "hectopascal", "mbar": "millibar", "MPa": "megapascal",
    "bar": "bar", "psi": "pound_force_per_square_inch", "psig": "pound_force_per_square_inch",
    "inHg": "inHg", "mmHg": "millimeter_Hg",
    "kgf/cm²": "kilogram_force/centimetre**2", "kgf/cm2": "kilogram_force/centimetre**2",
    "s": "second", "min": "minute", "h": "hour", "hr": "hour", "hrs": "hour", "hour": "hour", "hours": "hour",
    "kg": "kilogram", "g": "gram", "mg": "milligram", "lb": "pound", "oz": "ounce",
    "N": "newton", "kN": "kilonewton", "kgf": "kilogram_force", "lbf": "pound_force",
    "N·m": "newton*metre", "Nm": "newton*metre", "N.m": "newton*metre", "kgf·m": "kilogram_force*metre",
    "lbf·ft": "pound_force*foot", "lb-ft": "pound_force*foot", "lb·ft": "pound_force*foot",
    "ft-lb": "pound_force*foot", "ft·lb": "pound_force*foot", "lbf·in": "pound_force*inch",
    "in-lb": "pound_force*inch", "lb·in": "pound_force*inch",
    "1": "dimensionless", "%": "percent", "ppm": "ppm",
    "°": "degree", "deg": "degree", "degree": "degree", "degrees": "degree",
    "m³/s": "metre**3/second", "l/min": "litre/minute", "L/min": "litre/minute", "cfm": "foot**3/minute",
    "cm³/min": "centimetre**3/minute", "cm3/min": "centimetre**3/minute",
    "1/s": "1/second", "rpm": "1/minute", "1/min": "1/minute",
    "pcs": "count", "pc": "count",
    "V": "volt", "mV": "millivolt",
    "Pa/s": "pascal/second", "kPa/min": "kilopascal/minute", "mbar/min": "millibar/minute",
    "psi/min": "pound_force_per_square_inch/minute", "bar/min": "bar/minute",
    "mm/m": "millimetre/metre", "mm/100mm": "centimetre/metre", "thou/in": "thou/inch",
    "1/K": "1/kelvin", "µm/(m·K)": "micrometre/metre/kelvin", "ppm/K": "ppm/kelvin",
    "kg/(kg·s)": "kilogram/kilogram/second", "ppm/h": "ppm/hour",
    "N/m": "newton/metre", "N/mm": "newton/millimetre", "lbf/in": "pound_force/inch",
    "K": "kelvin", "°C": "degree_Celsius", "°F": "degree_Fahrenheit",
}  # fmt: skip
BASE = {
    "length": "metre",
    "area": "metre**2",
    "volume": "metre**3",
    "pressure": "pascal",
    "temperature": "kelvin",
    "time": "second",
    "mass": "kilogram",
    "force": "newton",
    "torque": "newton*metre",
    "ratio": "dimensionless",
    "angle": "degree",
    "flow": "metre**3/second",
    "speed": "1/second",
    "count": "count",
    "voltage": "volt",
    "pressure rate": "pascal/second",
    "slope": "dimensionless",
    "expansion": "1/kelvin",
    "stiffness": "newton/metre",
    "share rate": "1/second",
}


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    """The library with its own definitions."""
    return pint.UnitRegistry()


def test_every_unit_of_the_table_is_held_against_the_library() -> None:
    """No symbol and no dimension is left out of the comparison."""
    assert set(MEANING) == set(UNITS)
    assert set(BASE) == set(SI_SYMBOL) == {u.dimension for u in UNITS.values()}


@pytest.mark.parametrize("unit", UNITS.values(), ids=lambda u: u.symbol)
@pytest.mark.parametrize("number", [1.0, 67.019, -40.0])
def test_a_number_in_any_unit_becomes_what_the_library_says(
    registry: pint.UnitRegistry[float], unit: Unit, number: float
) -> None:
    """To a part in a thousand million, for the factors are exact by definition or printed to ten figures."""
    expected = registry.Quantity(number, MEANING[unit.symbol]).to(BASE[unit.dimension]).magnitude
    assert si(number, unit.symbol) == pytest.approx(expected, rel=1e-9, abs=1e-12)
