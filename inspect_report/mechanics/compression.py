"""Turns the gauge readings of a compression test into spreads, wet gain and the reading at standard air."""

from typing import Literal

from inspect_report.mechanics import atmosphere
from inspect_report.mechanics.arrays import Array, Number, Readings, row, shaped_like
from inspect_report.mechanics.atmosphere import STANDARD_AIR, StandardAir
from inspect_report.mechanics.errors import require

AltitudeMethod = Literal["pressure ratio", "density ratio"]


def _pressures(readings: Readings) -> Array:
    array = row("readings", readings, "Pa")
    require("readings", array, "Pa", at_least=0.0)
    require("greatest of readings", float(array.max()), "Pa", above=0.0)
    return array


def spread_below_best(readings: Readings) -> Array:
    r"""
    How far each cylinder lies below the best one.

    .. math:: s_i = (p_{max} - p_i) / p_{max}

    Args:
        readings: Gauge readings, one a cylinder. [Pa]

    Returns:
        Spread as a fraction, 0 for the best cylinder. [1]

    Raises:
        OutOfRange: no reading, a reading below 0, or none above 0.

    Shapes: ``(n_cylinders,)`` in and out. Holds for: one gauge, one session, equal cranking.
    Source: the share-of-the-highest rules of repair manuals.
    Checked in: tests/published/test_compression_rules.py.

    >>> spread_below_best([12e5, 9e5, 12e5, 11.4e5]).tolist()
    [0.0, 0.25, 0.0, 0.05]
    """
    array = _pressures(readings)
    best = array.max()
    spread: Array = (best - array) / best
    return spread


def spread_about_mean(readings: Readings) -> Array:
    r"""
    How far each cylinder lies from the mean of all.

    .. math:: s_i = (p_i - \bar p) / \bar p

    Args:
        readings: Gauge readings, one a cylinder. [Pa]

    Returns:
        Deviation from the mean as a fraction, positive above it. [1]

    Raises:
        OutOfRange: no reading, a reading below 0, or none above 0.

    Shapes: ``(n_cylinders,)`` in and out. Holds for: one gauge, one session, equal cranking.
    Source: definition. Checked in: tests/mechanics/test_compression.py.

    >>> spread_about_mean([9e5, 11e5]).round(6).tolist()
    [-0.1, 0.1]
    """
    array = _pressures(readings)
    deviation: Array = array / array.mean() - 1.0
    return deviation


def wet_gain(dry: Number, wet: Number) -> Number:
    r"""
    Rise of the compression reading after a spoonful of oil, which seals the rings for a moment.

    .. math:: g = p_{wet} / p_{dry} - 1

    Args:
        dry: Gauge reading as found. [Pa]
        wet: Gauge reading after oil. [Pa]

    Returns:
        Wet gain as a fraction, negative where the wet reading is the lower. [1]

    Raises:
        OutOfRange: ``dry`` not above 0 or ``wet`` below 0.

    Shapes: floats, or arrays ``(n_cylinders,)``. Holds for: the same gauge and cranking for both.
    Source: common practice. Checked in: tests/mechanics/test_compression.py.

    >>> round(wet_gain(8e5, 10e5), 6)
    0.25
    """
    require("dry", dry, "Pa", above=0.0)
    require("wet", wet, "Pa", at_least=0.0)
    return shaped_like(wet / dry - 1.0, dry)


def corrected_to_standard(
    reading: Number,
    *,
    p_ambient: float,
    method: AltitudeMethod = "pressure ratio",
    temperature: float | None = None,
    air: StandardAir = STANDARD_AIR,
) -> Number:
    r"""
    Compression reading the cylinder would give in standard air at sea level.

    .. math:: p_0 = p / \delta \quad \text{or} \quad p / \sigma

    Args:
        reading: Gauge reading. [Pa]
        p_ambient: Absolute pressure of the air around on the day (not reduced to sea level). [Pa]
        method: "pressure ratio", as polytropic compression scales, or "density ratio", as the factor tables
            handed round in the trade do. [word]
        temperature: Absolute temperature of the air of the day, which only the density ratio minds; None
            for that of the standard atmosphere where it has this pressure. [K]
        air: Constants of the standard atmosphere. [StandardAir]

    Returns:
        Corrected gauge reading; name the method with it. [Pa]

    Raises:
        OutOfRange: ``reading`` below 0, ``p_ambient`` outside the standard atmosphere's -5 km to 11 km, or
            ``temperature`` not above 0.

    Shapes: float, or array ``(n_cylinders,)``. Holds for: throttle open.
    Source: polytropic compression; standard atmosphere.
    Checked in: tests/published/test_compression_altitude.py.

    >>> round(corrected_to_standard(10e5, p_ambient=79_495.2, method="density ratio") / 1e5, 2)
    12.17
    """
    require("reading", reading, "Pa", at_least=0.0)
    altitude = atmosphere.pressure_altitude(p_ambient, air)
    day = atmosphere.standard_temperature(altitude, air) if temperature is None else temperature
    density = atmosphere.density_ratio_of_the_day(p_ambient, day, air)
    return shaped_like(
        reading / (p_ambient / air.pressure if method == "pressure ratio" else density), reading
    )
