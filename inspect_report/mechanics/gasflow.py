"""Turns the two gauge readings of a leak-down test into a leak: percent, area, bore and free-air flow.

The tester's orifice and the leak are two nozzles in series with the same air temperature. Flow through a
nozzle is isentropic; it chokes where the pressure ratio falls to the critical one.
"""

import math

import numpy as np

from inspect_report.mechanics.arrays import Array, Number, shaped_like
from inspect_report.mechanics.errors import require

STANDARD_PRESSURE = 101_325.0
AIR_GAMMA = 1.4
AIR_GAS_CONSTANT = 287.05287
ROOM_TEMPERATURE = 293.15


def critical_pressure_ratio(gamma: float = AIR_GAMMA) -> float:
    r"""
    Pressure ratio across a nozzle below which the flow no longer grows.

    .. math:: r^* = (2 / (\gamma + 1))^{\gamma / (\gamma - 1)}

    Args:
        gamma: Ratio of specific heats of the gas. [1]

    Returns:
        Downstream over upstream absolute pressure at which the throat reaches the speed of sound. [1]

    Raises:
        OutOfRange: ``gamma`` not above 1.

    Shapes: scalars. Holds for: ideal gas, isentropic nozzle.
    Source: closed form for an ideal gas. Checked in: tests/published/test_orifice_flow.py.

    >>> round(critical_pressure_ratio(), 6)
    0.528282
    """
    require("gamma", gamma, "1", above=1.0)
    return float((2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))


def _flow_function(p_up: float | Array, p_down: float | Array, gamma: float) -> float | Array:
    """Mass flux times sqrt(R T). A ratio below the critical one counts as critical: that is choking."""
    ratio = np.maximum(p_down / p_up, (2.0 / (gamma + 1.0)) ** (gamma / (gamma - 1.0)))
    head = 2.0 * gamma / (gamma - 1.0) * ratio ** (2.0 / gamma) * (1.0 - ratio ** ((gamma - 1.0) / gamma))
    flow: float | Array = p_up * head**0.5
    return flow


def nozzle_mass_flux(
    p_up: Number,
    p_down: Number,
    *,
    temperature: float = ROOM_TEMPERATURE,
    gamma: float = AIR_GAMMA,
    gas_constant: float = AIR_GAS_CONSTANT,
) -> Number:
    r"""
    Mass flow of a gas through a nozzle, per area of its throat.

    .. math:: G = p_u \sqrt{\frac{2\gamma}{(\gamma-1) R T} (r^{2/\gamma} - r^{(\gamma+1)/\gamma})},
        \quad r = \max(p_d / p_u, r^*)

    Args:
        p_up: Absolute pressure before the nozzle. [Pa]
        p_down: Absolute pressure behind the nozzle. [Pa]
        temperature: Absolute temperature of the gas before the nozzle. [K]
        gamma: Ratio of specific heats. [1]
        gas_constant: Specific gas constant. [J/(kg K)]

    Returns:
        Mass flux, choked or not. [kg/(m2 s)]

    Raises:
        OutOfRange: ``p_up`` or ``temperature`` not above 0, ``p_down`` not in 0 to ``p_up``.

    Shapes: floats, or arrays of one shape. Holds for: ideal gas, isentropic, no losses.
    Source: one-dimensional gas dynamics. Checked in: tests/published/test_orifice_flow.py.

    >>> round(nozzle_mass_flux(7e5, 1e5), 1)
    1652.3
    """
    require("p_up", p_up, "Pa", above=0.0)
    require("p_down", p_down, "Pa", at_least=0.0, at_most=p_up)
    require("temperature", temperature, "K", above=0.0)
    require("gamma", gamma, "1", above=1.0)
    require("gas_constant", gas_constant, "J/(kg K)", above=0.0)
    flux = _flow_function(p_up, p_down, gamma) / math.sqrt(gas_constant * temperature)
    return shaped_like(flux, p_up)


def nozzle_mass_flow(
    bore: Number,
    p_up: Number,
    p_down: Number,
    *,
    discharge: float = 1.0,
    temperature: float = ROOM_TEMPERATURE,
    gamma: float = AIR_GAMMA,
    gas_constant: float = AIR_GAS_CONSTANT,
) -> Number:
    r"""
    Mass flow of a gas through a round nozzle.

    .. math:: \dot m = C_d \, \frac{\pi}{4} d^2 \, G(p_u, p_d)

    Args:
        bore: Diameter of the throat. [m]
        p_up: Absolute pressure before the nozzle. [Pa]
        p_down: Absolute pressure behind the nozzle. [Pa]
        discharge: Discharge coefficient, 1 for the ideal nozzle. [1]
        temperature: Absolute temperature of the gas before the nozzle. [K]
        gamma: Ratio of specific heats. [1]
        gas_constant: Specific gas constant. [J/(kg K)]

    Returns:
        Mass flow. [kg/s]

    Raises:
        OutOfRange: ``bore`` below 0, ``discharge`` not in 0 to 1, or as `nozzle_mass_flux`.

    Shapes: floats, or arrays of one shape. Holds for: as `nozzle_mass_flux`.
    Source: definition of the discharge coefficient. Checked in: tests/published/test_orifice_flow.py.

    >>> round(nozzle_mass_flow(0.001, 7e5, 1e5) * 1e6, 1)
    1297.7
    """
    require("bore", bore, "m", at_least=0.0)
    require("discharge", discharge, "1", above=0.0, at_most=1.0)
    flux = nozzle_mass_flux(p_up, p_down, temperature=temperature, gamma=gamma, gas_constant=gas_constant)
    return shaped_like(discharge * math.pi / 4.0 * bore**2 * flux, bore)


def free_air_flow(
    bore: Number,
    p_up: Number,
    p_down: Number,
    *,
    discharge: float = 1.0,
    temperature: float = ROOM_TEMPERATURE,
    reference_temperature: float = ROOM_TEMPERATURE,
    reference_pressure: float = 100_000.0,
    gamma: float = AIR_GAMMA,
    gas_constant: float = AIR_GAS_CONSTANT,
) -> Number:
    r"""
    Volume the air through a round nozzle fills once it is free air at reference conditions.

    .. math:: \dot V = \dot m R T_0 / p_0

    Args:
        bore: Diameter of the throat. [m]
        p_up: Absolute pressure before the nozzle. [Pa]
        p_down: Absolute pressure behind the nozzle. [Pa]
        discharge: Discharge coefficient, 1 for the ideal nozzle. [1]
        temperature: Absolute temperature of the air before the nozzle. [K]
        reference_temperature: Temperature at which the volume is stated. [K]
        reference_pressure: Absolute pressure at which the volume is stated. [Pa]
        gamma: Ratio of specific heats. [1]
        gas_constant: Specific gas constant. [J/(kg K)]

    Returns:
        Volume flow of free air. [m3/s]

    Raises:
        OutOfRange: a reference not above 0, or as `nozzle_mass_flow`.

    Shapes: floats, or arrays of one shape. Holds for: ideal gas; state the reference with the result.
    Source: ideal gas law. Checked in: tests/published/test_orifice_flow.py.

    >>> round(free_air_flow(0.001, 7e5, 1e5) * 60e3, 2)
    65.52
    """
    require("reference_temperature", reference_temperature, "K", above=0.0)
    require("reference_pressure", reference_pressure, "Pa", above=0.0)
    mass = nozzle_mass_flow(
        bore,
        p_up,
        p_down,
        discharge=discharge,
        temperature=temperature,
        gamma=gamma,
        gas_constant=gas_constant,
    )
    return shaped_like(mass * (gas_constant * reference_temperature / reference_pressure), bore)


def leak_percent(p_supply: Number, p_cylinder: Number) -> Number:
    r"""
    Share of the supply pressure lost across the tester's orifice.

    .. math:: L = 100 \, (p_s - p_c) / p_s

    Args:
        p_supply: Gauge pressure set at the regulator. [Pa]
        p_cylinder: Gauge pressure behind the orifice. [Pa]

    Returns:
        Leak-down reading, 0 tight to 100 open. [%]

    Raises:
        OutOfRange: ``p_supply`` not above 0, or ``p_cylinder`` not in 0 to ``p_supply``.

    Shapes: floats, or arrays ``(n_cylinders,)``. Holds for: both gauges read together, piston held still.
    Source: definition of the reading, FAA AC 43.13-1B par. 8-14.
    Checked in: tests/published/test_leakdown.py.

    >>> leak_percent(80.0, 60.0)
    25.0
    """
    require("p_supply", p_supply, "Pa", above=0.0)
    require("p_cylinder", p_cylinder, "Pa", at_least=0.0, at_most=p_supply)
    return shaped_like(100.0 * (p_supply - p_cylinder) / p_supply, p_supply)


def leak_area(
    p_supply: Number,
    p_cylinder: Number,
    *,
    tester_bore: float,
    p_ambient: float = STANDARD_PRESSURE,
    gamma: float = AIR_GAMMA,
) -> Number:
    r"""
    Area of the one round hole that would leak as the cylinder does.

    .. math:: A_l = \frac{\pi}{4} d_t^2 \, G(p_s + p_a, p_c + p_a) / G(p_c + p_a, p_a)

    Args:
        p_supply: Gauge pressure set at the regulator. [Pa]
        p_cylinder: Gauge pressure behind the tester's orifice. [Pa]
        tester_bore: Diameter of the tester's orifice. [m]
        p_ambient: Absolute pressure of the air around. [Pa]
        gamma: Ratio of specific heats. [1]

    Returns:
        Leak area, 0 where the cylinder holds the supply pressure. [m2]

    Raises:
        OutOfRange: ``p_cylinder`` not above 0 (no seal at all, so no finite leak) or above ``p_supply``;
            ``p_supply``, ``tester_bore`` or ``p_ambient`` not above 0.

    Shapes: floats, or arrays ``(n_cylinders,)``. Holds for: leak straight to the air around, one
    temperature throughout, the same discharge coefficient for orifice and leak.
    Source: two nozzles in series. Checked in: tests/published/test_orifices_in_series.py.

    >>> round(leak_area(6e5, 5.4e5, tester_bore=0.001) * 1e6, 4)
    0.4945
    """
    require("p_supply", p_supply, "Pa", above=0.0)
    require("p_cylinder", p_cylinder, "Pa", above=0.0, at_most=p_supply)
    require("tester_bore", tester_bore, "m", above=0.0)
    require("p_ambient", p_ambient, "Pa", above=0.0)
    require("gamma", gamma, "1", above=1.0)
    behind = p_cylinder + p_ambient
    into, out = _flow_function(p_supply + p_ambient, behind, gamma), _flow_function(behind, p_ambient, gamma)
    return shaped_like(math.pi / 4.0 * tester_bore**2 * into / out, p_supply)


def equivalent_leak_bore(
    p_supply: Number,
    p_cylinder: Number,
    *,
    tester_bore: float,
    p_ambient: float = STANDARD_PRESSURE,
    gamma: float = AIR_GAMMA,
) -> Number:
    r"""
    Bore of the one round hole that would leak as the cylinder does.

    .. math:: d_l = \sqrt{4 A_l / \pi}

    Args:
        p_supply: Gauge pressure set at the regulator. [Pa]
        p_cylinder: Gauge pressure behind the tester's orifice. [Pa]
        tester_bore: Diameter of the tester's orifice. [m]
        p_ambient: Absolute pressure of the air around. [Pa]
        gamma: Ratio of specific heats. [1]

    Returns:
        Equivalent leak bore, 0 where the cylinder holds the supply pressure. [m]

    Raises:
        OutOfRange: as `leak_area`.

    Shapes: floats, or arrays ``(n_cylinders,)``. Holds for: as `leak_area`.
    Source: two nozzles in series. Checked in: tests/published/test_orifices_in_series.py.

    >>> round(equivalent_leak_bore(6e5, 5.4e5, tester_bore=0.001) * 1e3, 4)
    0.7935
    """
    area = leak_area(p_supply, p_cylinder, tester_bore=tester_bore, p_ambient=p_ambient, gamma=gamma)
    return shaped_like((4.0 * area / math.pi) ** 0.5, p_supply)


def cylinder_pressure(
    leak_bore: float,
    *,
    p_supply: float,
    tester_bore: float,
    p_ambient: float = STANDARD_PRESSURE,
    gamma: float = AIR_GAMMA,
) -> float:
    r"""
    Pressure a leak-down tester would show in a cylinder with a given leak.

    .. math:: d_t^2 \, G(p_s + p_a, p_c + p_a) = d_l^2 \, G(p_c + p_a, p_a) \quad \text{solved for } p_c

    Args:
        leak_bore: Equivalent bore of the leak. [m]
        p_supply: Gauge pressure set at the regulator. [Pa]
        tester_bore: Diameter of the tester's orifice. [m]
        p_ambient: Absolute pressure of the air around. [Pa]
        gamma: Ratio of specific heats. [1]

    Returns:
        Gauge pressure behind the tester's orifice. [Pa]

    Raises:
        OutOfRange: ``leak_bore`` below 0; another argument not above 0.

    Shapes: scalars. Holds for: as `leak_area`, whose inverse it is.
    Source: two nozzles in series. Checked in: tests/published/test_orifices_in_series.py.

    >>> round(cylinder_pressure(0.79349e-3, p_supply=6e5, tester_bore=0.001), -2)
    540000.0
    """
    require("leak_bore", leak_bore, "m", at_least=0.0)
    require("p_supply", p_supply, "Pa", above=0.0)
    require("tester_bore", tester_bore, "m", above=0.0)
    require("p_ambient", p_ambient, "Pa", above=0.0)
    require("gamma", gamma, "1", above=1.0)
    low, high = 0.0, p_supply
    while low < (middle := (low + high) / 2.0) < high:
        behind = middle + p_ambient
        into = tester_bore**2 * _flow_function(p_supply + p_ambient, behind, gamma)
        # More air in than out: the cylinder settles at a higher pressure.
        if into >= leak_bore**2 * _flow_function(behind, p_ambient, gamma):
            low = middle
        else:
            high = middle
    return high


def reference_tester_percent(
    leak_bore: float,
    *,
    p_supply: float = 600_000.0,
    tester_bore: float = 0.001,
    p_ambient: float = STANDARD_PRESSURE,
    gamma: float = AIR_GAMMA,
) -> float:
    r"""
    Leak-down percent the same leak would show on a reference tester, so that testers can be compared.

    .. math:: L = 100 \, (p_s - p_c(d_l)) / p_s

    Args:
        leak_bore: Equivalent bore of the leak. [m]
        p_supply: Gauge pressure of the reference tester. [Pa]
        tester_bore: Orifice bore of the reference tester. [m]
        p_ambient: Absolute pressure of the air around. [Pa]
        gamma: Ratio of specific heats. [1]

    Returns:
        Leak-down reading of the reference tester. [%]

    Raises:
        OutOfRange: as `cylinder_pressure`.

    Shapes: scalars. Holds for: as `cylinder_pressure`. The defaults, 6 bar and 1 mm, are our own choice of
    a reference and are to be stated with the result.
    Source: two nozzles in series. Checked in: tests/published/test_orifices_in_series.py.

    >>> round(reference_tester_percent(0.0008), 2)
    10.31
    """
    p_cylinder = cylinder_pressure(
        leak_bore, p_supply=p_supply, tester_bore=tester_bore, p_ambient=p_ambient, gamma=gamma
    )
    return leak_percent(p_supply, p_cylinder)
