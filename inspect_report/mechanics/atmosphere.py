"""Turns an altitude or a barometer reading into the standard atmosphere's pressure, temperature and density.

The standard atmosphere of 1976 up to 11 km: temperature falls evenly with geopotential altitude.
"""

from dataclasses import dataclass

from inspect_report.mechanics.errors import require

_LOWEST, _TROPOPAUSE = -5_000.0, 11_000.0


@dataclass(frozen=True, slots=True)
class StandardAir:
    """
    Constants of the standard atmosphere of 1976 below the tropopause.

    Attributes:
        temperature: Temperature at sea level. [K]
        pressure: Pressure at sea level. [Pa]
        lapse: Fall of temperature with altitude. [K/m]
        gravity: Standard acceleration of free fall. [m/s2]
        gas_constant: Specific gas constant of air. [J/(kg K)]
    """

    temperature: float = 288.15
    pressure: float = 101_325.0
    lapse: float = 0.0065
    gravity: float = 9.80665
    gas_constant: float = 287.05287

    @property
    def exponent(self) -> float:
        """Power of the temperature ratio that gives the pressure ratio, about 5.2559."""
        return self.gravity / (self.gas_constant * self.lapse)


STANDARD_AIR = StandardAir()


def geopotential_altitude(height: float, *, earth_radius: float = 6_356_766.0) -> float:
    r"""
    Altitude in the standard atmosphere of a place at a height above sea level on the map.

    .. math:: H = r_0 z / (r_0 + z)

    Args:
        height: Geometric height above sea level. [m]
        earth_radius: Radius of the earth in the standard. [m]

    Returns:
        Geopotential altitude. [m]

    Raises:
        OutOfRange: ``height`` not in -5 km to 11 km, or ``earth_radius`` not above 11 km.

    Shapes: scalars. Holds for: the standard's latitude; the difference is 0.3 m at 1400 m.
    Source: US Standard Atmosphere 1976. Checked in: tests/published/test_standard_atmosphere.py.

    >>> round(geopotential_altitude(2000.0), 2)
    1999.37
    """
    require("height", height, "m", at_least=_LOWEST, at_most=_TROPOPAUSE)
    require("earth_radius", earth_radius, "m", above=_TROPOPAUSE)
    return earth_radius * height / (earth_radius + height)


def standard_temperature(altitude: float, air: StandardAir = STANDARD_AIR) -> float:
    r"""
    Temperature of the standard atmosphere.

    .. math:: T = T_0 - \lambda H

    Args:
        altitude: Geopotential altitude. [m]
        air: Constants of the atmosphere. [StandardAir]

    Returns:
        Absolute temperature. [K]

    Raises:
        OutOfRange: ``altitude`` not in -5 km to 11 km.

    Shapes: scalars. Holds for: the troposphere.
    Source: US Standard Atmosphere 1976. Checked in: tests/published/test_standard_atmosphere.py.

    >>> round(standard_temperature(1000.0), 2)
    281.65
    """
    require("altitude", altitude, "m", at_least=_LOWEST, at_most=_TROPOPAUSE)
    return air.temperature - air.lapse * altitude


def pressure_ratio(altitude: float, air: StandardAir = STANDARD_AIR) -> float:
    r"""
    Pressure of the standard atmosphere over its pressure at sea level.

    .. math:: \delta = (T / T_0)^{g / (R \lambda)}

    Args:
        altitude: Geopotential altitude. [m]
        air: Constants of the atmosphere. [StandardAir]

    Returns:
        Pressure ratio. [1]

    Raises:
        OutOfRange: ``altitude`` not in -5 km to 11 km.

    Shapes: scalars. Holds for: the troposphere.
    Source: US Standard Atmosphere 1976. Checked in: tests/published/test_standard_atmosphere.py.

    >>> round(pressure_ratio(1000.0), 5)
    0.88699
    """
    return float((standard_temperature(altitude, air) / air.temperature) ** air.exponent)


def density_ratio(altitude: float, air: StandardAir = STANDARD_AIR) -> float:
    r"""
    Density of the standard atmosphere over its density at sea level.

    .. math:: \sigma = (T / T_0)^{g / (R \lambda) - 1}

    Args:
        altitude: Geopotential altitude. [m]
        air: Constants of the atmosphere. [StandardAir]

    Returns:
        Density ratio. [1]

    Raises:
        OutOfRange: ``altitude`` not in -5 km to 11 km.

    Shapes: scalars. Holds for: the troposphere.
    Source: US Standard Atmosphere 1976. Checked in: tests/published/test_standard_atmosphere.py.

    >>> round(density_ratio(1000.0), 5)
    0.90746
    """
    return float((standard_temperature(altitude, air) / air.temperature) ** (air.exponent - 1.0))


def standard_pressure(altitude: float, air: StandardAir = STANDARD_AIR) -> float:
    r"""
    Pressure of the standard atmosphere.

    .. math:: p = p_0 \, \delta(H)

    Args:
        altitude: Geopotential altitude. [m]
        air: Constants of the atmosphere. [StandardAir]

    Returns:
        Absolute pressure. [Pa]

    Raises:
        OutOfRange: ``altitude`` not in -5 km to 11 km.

    Shapes: scalars. Holds for: the troposphere.
    Source: US Standard Atmosphere 1976. Checked in: tests/published/test_standard_atmosphere.py.

    >>> round(standard_pressure(1000.0), 1)
    89874.6
    """
    return air.pressure * pressure_ratio(altitude, air)


def standard_density(altitude: float, air: StandardAir = STANDARD_AIR) -> float:
    r"""
    Density of the standard atmosphere.

    .. math:: \rho = p / (R T)

    Args:
        altitude: Geopotential altitude. [m]
        air: Constants of the atmosphere. [StandardAir]

    Returns:
        Density. [kg/m3]

    Raises:
        OutOfRange: ``altitude`` not in -5 km to 11 km.

    Shapes: scalars. Holds for: the troposphere.
    Source: US Standard Atmosphere 1976. Checked in: tests/published/test_standard_atmosphere.py.

    >>> round(standard_density(1000.0), 5)
    1.11164
    """
    return standard_pressure(altitude, air) / (air.gas_constant * standard_temperature(altitude, air))


def pressure_altitude(pressure: float, air: StandardAir = STANDARD_AIR) -> float:
    r"""
    Altitude at which the standard atmosphere has a given pressure.

    .. math:: H = \frac{T_0}{\lambda} \left(1 - (p / p_0)^{R \lambda / g}\right)

    Args:
        pressure: Absolute pressure, as a barometer at the place shows it (not reduced to sea level). [Pa]
        air: Constants of the atmosphere. [StandardAir]

    Returns:
        Geopotential altitude. [m]

    Raises:
        OutOfRange: ``pressure`` not between those of 11 km and -5 km.

    Shapes: scalars. Holds for: the troposphere; the inverse of `standard_pressure`.
    Source: US Standard Atmosphere 1976. Checked in: tests/published/test_standard_atmosphere.py.

    >>> round(pressure_altitude(89_874.6), 1)
    1000.0
    """
    require("pressure", pressure, "Pa", above=0.0)
    ratio = pressure / air.pressure
    altitude = float(air.temperature / air.lapse * (1.0 - ratio ** (1.0 / air.exponent)))
    require("altitude of that pressure", altitude, "m", at_least=_LOWEST, at_most=_TROPOPAUSE)
    return altitude


def pressure_of_the_day(altitude: float, temperature: float, air: StandardAir = STANDARD_AIR) -> float:
    r"""
    Air pressure at a place of known altitude on a day of known temperature.

    .. math:: p = p_0 \left(\frac{T}{T + \lambda H}\right)^{g / (R \lambda)}

    Args:
        altitude: Geopotential altitude. [m]
        temperature: Absolute temperature of the air at the place. [K]
        air: Constants of the atmosphere. [StandardAir]

    Returns:
        Absolute pressure; the standard atmosphere's where the day is as warm as that. [Pa]

    Raises:
        OutOfRange: ``altitude`` not in -5 km to 11 km, or ``temperature`` not above 0 and above what the
            lapse takes.

    Shapes: scalars. Holds for: an even lapse down to a sea level of standard pressure; weather moves the
    pressure of the day by some 20 hPa either way (common practice).
    Source: hydrostatic balance of the standard atmosphere with its temperature shifted.
    Checked in: tests/published/test_standard_atmosphere.py.

    >>> round(pressure_of_the_day(1500.0, 303.15), -1)
    85790.0
    """
    require("altitude", altitude, "m", at_least=_LOWEST, at_most=_TROPOPAUSE)
    require("temperature", temperature, "K", above=max(0.0, -air.lapse * altitude))
    return float(air.pressure * (temperature / (temperature + air.lapse * altitude)) ** air.exponent)


def density_ratio_of_the_day(pressure: float, temperature: float, air: StandardAir = STANDARD_AIR) -> float:
    r"""
    Density of the air of the day over that of standard air at sea level.

    .. math:: \sigma = \frac{p}{p_0} \frac{T_0}{T}

    Args:
        pressure: Absolute pressure of the air. [Pa]
        temperature: Absolute temperature of the air. [K]
        air: Constants of the atmosphere. [StandardAir]

    Returns:
        Density ratio. [1]

    Raises:
        OutOfRange: ``pressure`` or ``temperature`` not above 0.

    Shapes: scalars. Holds for: dry air as an ideal gas.
    Source: ideal gas law. Checked in: tests/published/test_standard_atmosphere.py.

    >>> round(density_ratio_of_the_day(89_874.6, 281.65), 5)
    0.90746
    """
    require("pressure", pressure, "Pa", above=0.0)
    require("temperature", temperature, "K", above=0.0)
    return pressure / air.pressure * air.temperature / temperature
