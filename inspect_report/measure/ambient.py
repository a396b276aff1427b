"""Turns the conditions of the day into the air and the state of the engine that formulas and notes need."""

from typing import Final

from inspect_report.measure.bench import notes
from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics import atmosphere
from inspect_report.mechanics.gasflow import ROOM_TEMPERATURE
from inspect_report.mechanics.metrology import u_from_permissible_error
from inspect_report.records.inspection import Conditions
from inspect_report.telling.manner import message, say, word
from inspect_report.telling.units import written

# How far each may be off, common practice: a barometer read on the day, weather where only the altitude is
# known, and any weather up to some 400 m where nothing is.
BAROMETER, WEATHER, ANYWHERE = 100.0, 2_000.0, 6_000.0
THERMOMETER, ANY_DAY = 1.0, 10.0
_CELSIUS: Final = 273.15

AIR_PRESSURE: Final = message("air pressure")
"""What the pressure of the air is called in a budget."""


def air_pressure(conditions: Conditions) -> tuple[Input, str]:
    """
    Absolute pressure of the air around [Pa] with its uncertainty, and where it comes from in words.

    As read, else by the altitude and, where noted, the temperature of the day, else that at sea level.
    """
    if conditions.ambient_pressure is not None:
        pressure: float = conditions.ambient_pressure
        said = notes(
            say("air pressure {pressure} as read", pressure=_hpa(pressure)), _misfit(conditions, pressure)
        )
        return _air(pressure, BAROMETER), said
    if conditions.altitude is not None:
        pressure = _by_altitude(conditions, conditions.altitude)
        return _air(pressure, WEATHER), say(
            "air pressure {pressure} {ground}", pressure=_hpa(pressure), ground=_place(conditions)
        )
    pressure = atmosphere.STANDARD_AIR.pressure
    return _air(pressure, ANYWHERE), say("air pressure not noted, {pressure} taken", pressure=_hpa(pressure))


def air_temperature(conditions: Conditions) -> tuple[Input, str]:
    """Absolute temperature of the air around [K] with its uncertainty, and where it comes from in words."""
    read = conditions.ambient_temperature
    kelvin = ROOM_TEMPERATURE if read is None else float(read)
    doubt = u_from_permissible_error(ANY_DAY if read is None else THERMOMETER)
    name, degrees = message("air temperature"), written(kelvin, "°C", ".0f")
    given = Input(kelvin, shared=doubt, source=name, name=name, dimension="temperature")
    if read is None:
        return given, say("air temperature not noted, {degrees} taken", degrees=degrees)
    return given, say("air {degrees} as read", degrees=degrees)


def engine_words(state: str) -> str:
    """The state of the engine at a test as a note."""
    return (
        say("engine {state} at the test", state=word(state))
        if state
        else say("state of the engine not noted")
    )


def _air(pressure: float, error: float) -> Input:
    doubt = u_from_permissible_error(error)
    return Input(pressure, shared=doubt, source=AIR_PRESSURE, name=AIR_PRESSURE, dimension="pressure")


def _by_altitude(conditions: Conditions, height: float) -> float:
    altitude = atmosphere.geopotential_altitude(height)
    if conditions.ambient_temperature is None:
        return atmosphere.standard_pressure(altitude)
    return atmosphere.pressure_of_the_day(altitude, conditions.ambient_temperature)


def _place(conditions: Conditions) -> str:
    height: float = conditions.altitude or 0.0
    if conditions.ambient_temperature is None:
        return say("by the standard atmosphere at {height}", height=written(height, "m", ".0f"))
    return say(
        "by altitude {height} and {temperature}",
        height=written(height, "m", ".0f"),
        temperature=written(float(conditions.ambient_temperature), "°C", ".0f"),
    )


def _misfit(conditions: Conditions, pressure: float) -> str:
    """A barometer that was set for sea level shows too much up in the hills."""
    height: float | None = conditions.altitude
    if height is None or abs(pressure - _by_altitude(conditions, height)) <= 2 * WEATHER:
        return ""
    return say(
        "which does not fit {height}: was it reduced to sea level?", height=written(height, "m", ".0f")
    )


def _hpa(pressure: float) -> str:
    return written(pressure, "hPa", ".0f")
