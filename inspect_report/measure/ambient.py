"""Turns the conditions of the day into the air and the state of the engine that formulas and notes need."""

from typing import Final

from inspect_report.measure.bench import notes
from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics import atmosphere
from inspect_report.mechanics.gasflow import ROOM_TEMPERATURE
from inspect_report.mechanics.metrology import u_from_permissible_error
from inspect_report.records.inspection import Conditions

# How far each may be off, common practice: a barometer read on the day, weather where only the altitude is
# known, and any weather up to some 400 m where nothing is.
BAROMETER, WEATHER, ANYWHERE = 100.0, 2_000.0, 6_000.0
THERMOMETER, ANY_DAY = 1.0, 10.0
_CELSIUS: Final = 273.15


def air_pressure(conditions: Conditions) -> tuple[Input, str]:
    """
    Absolute pressure of the air around [Pa] with its uncertainty, and where it comes from in words.

    As read, else by the altitude and, where noted, the temperature of the day, else that at sea level.
    """
    if conditions.ambient_pressure is not None:
        pressure: float = conditions.ambient_pressure
        said = notes(f"air pressure {_hpa(pressure)} as read", _misfit(conditions, pressure))
        return _air(pressure, BAROMETER), said
    if conditions.altitude is not None:
        pressure = _by_altitude(conditions, conditions.altitude)
        return _air(pressure, WEATHER), f"air pressure {_hpa(pressure)} {_place(conditions)}"
    pressure = atmosphere.STANDARD_AIR.pressure
    return _air(pressure, ANYWHERE), f"air pressure not noted, {_hpa(pressure)} taken"


def air_temperature(conditions: Conditions) -> tuple[Input, str]:
    """Absolute temperature of the air around [K] with its uncertainty, and where it comes from in words."""
    read = conditions.ambient_temperature
    kelvin = ROOM_TEMPERATURE if read is None else float(read)
    doubt = u_from_permissible_error(ANY_DAY if read is None else THERMOMETER)
    name, degrees = "air temperature", f"{kelvin - _CELSIUS:.0f} °C"
    given = Input(kelvin, shared=doubt, source=name, name=name, dimension="temperature")
    return given, f"{name} not noted, {degrees} taken" if read is None else f"air {degrees} as read"


def engine_words(state: str) -> str:
    """The state of the engine at a test as a note."""
    return f"engine {state} at the test" if state else "state of the engine not noted"


def _air(pressure: float, error: float) -> Input:
    doubt = u_from_permissible_error(error)
    return Input(pressure, shared=doubt, source="air pressure", name="air pressure", dimension="pressure")


def _by_altitude(conditions: Conditions, height: float) -> float:
    altitude = atmosphere.geopotential_altitude(height)
    if conditions.ambient_temperature is None:
        return atmosphere.standard_pressure(altitude)
    return atmosphere.pressure_of_the_day(altitude, conditions.ambient_temperature)


def _place(conditions: Conditions) -> str:
    if conditions.ambient_temperature is None:
        return f"by the standard atmosphere at {conditions.altitude:.0f} m"
    return f"by altitude {conditions.altitude:.0f} m and {conditions.ambient_temperature - _CELSIUS:.0f} °C"


def _misfit(conditions: Conditions, pressure: float) -> str:
    """A barometer that was set for sea level shows too much up in the hills."""
    height: float | None = conditions.altitude
    if height is None or abs(pressure - _by_altitude(conditions, height)) <= 2 * WEATHER:
        return ""
    return f"which does not fit {height:.0f} m: was it reduced to sea level?"


def _hpa(pressure: float) -> str:
    return f"{pressure / 100.0:.0f} hPa"
