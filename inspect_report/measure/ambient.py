"""Turns the conditions of the day into the air pressure and temperature that formulas need."""

from inspect_report.mechanics import atmosphere
from inspect_report.mechanics.gasflow import ROOM_TEMPERATURE
from inspect_report.records.inspection import Conditions


def air_pressure(conditions: Conditions) -> tuple[float, str]:
    """Absolute pressure of the air around [Pa]: as read, else by the altitude, else that at sea level."""
    if conditions.ambient_pressure is not None:
        pressure: float = conditions.ambient_pressure
        return pressure, f"air pressure {_hpa(pressure)} as read"
    if conditions.altitude is not None:
        altitude = atmosphere.geopotential_altitude(conditions.altitude)
        pressure = atmosphere.standard_pressure(altitude)
        place = f"by the standard atmosphere at {conditions.altitude:.0f} m"
        return pressure, f"air pressure {_hpa(pressure)} {place}"
    pressure = atmosphere.STANDARD_AIR.pressure
    return pressure, f"air pressure not noted, {_hpa(pressure)} taken"


def air_temperature(conditions: Conditions) -> float:
    """Absolute temperature of the air around [K]: as read, else 20 °C."""
    temperature: float | None = conditions.ambient_temperature
    return ROOM_TEMPERATURE if temperature is None else temperature


def _hpa(pressure: float) -> str:
    return f"{pressure / 100.0:.0f} hPa"
