"""Turns the pressures of a crankcase test into how fast the crankcase loses its air, and through what hole.

A test under vacuum is the same sum with depressions in place of pressures: air comes in where it went out.
"""

import math
from typing import Literal

import numpy as np

from inspect_report.mechanics.arrays import Array
from inspect_report.mechanics.errors import require
from inspect_report.mechanics.gasflow import (
    AIR_GAMMA,
    AIR_GAS_CONSTANT,
    ROOM_TEMPERATURE,
    STANDARD_PRESSURE,
    nozzle_mass_flux,
)

Under = Literal["pressure", "vacuum"]

# Nodes of the sum over a test; in the root of the pressure the integrand is smooth and few are plenty.
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(24)


def pressure_loss_rate(p_start: float, p_end: float, time: float) -> float:
    r"""
    Mean rate at which a closed crankcase loses its test pressure.

    .. math:: \dot p = (p_1 - p_2) / t

    Args:
        p_start: Gauge pressure, or depression, when the pump was closed off. [Pa]
        p_end: Gauge pressure, or depression, at the end of the test. [Pa]
        time: Duration of the test. [s]

    Returns:
        Rate of loss, negative where it rose. [Pa/s]

    Raises:
        OutOfRange: ``p_start`` not above 0, ``p_end`` below 0, or ``time`` not above 0.

    Shapes: scalars. Holds for: two-strokes with ports and stubs closed, at one temperature. The rate falls
    with the pressure left, so compare tests of like pressure and time.
    Source: pressure test of two-stroke crankcases, common practice.
    Checked in: tests/mechanics/test_crankcase.py.

    >>> round(pressure_loss_rate(40e3, 34e3, 300.0), 6)
    20.0
    """
    require("p_start", p_start, "Pa", above=0.0)
    require("p_end", p_end, "Pa", at_least=0.0)
    require("time", time, "s", above=0.0)
    return (p_start - p_end) / time


def free_air_loss(
    p_start: float,
    p_end: float,
    time: float,
    *,
    volume: float,
    temperature: float = ROOM_TEMPERATURE,
    reference_temperature: float = ROOM_TEMPERATURE,
    reference_pressure: float = 100_000.0,
) -> float:
    r"""
    Free air a closed crankcase loses in a time, or takes in under vacuum: decay over volume.

    .. math:: \dot V = V \frac{p_1 - p_2}{t} \frac{T_0}{p_0 T}

    Args:
        p_start: Gauge pressure, or depression, when the pump was closed off. [Pa]
        p_end: Gauge pressure, or depression, at the end of the test. [Pa]
        time: Duration of the test. [s]
        volume: Volume closed off: crankcase with transfers and the cylinder below and above the piston. [m3]
        temperature: Absolute temperature of the air in it, the same all the time. [K]
        reference_temperature: Temperature at which the volume is stated. [K]
        reference_pressure: Absolute pressure at which the volume is stated. [Pa]

    Returns:
        Volume flow of free air, mean over the test, negative where the pressure rose. [m3/s]

    Raises:
        OutOfRange: ``volume``, a temperature or the reference pressure not above 0, or as
            `pressure_loss_rate`.

    Shapes: scalars. Holds for: as `pressure_loss_rate`; tells cases of unlike size from one another.
    Source: ideal gas law. Checked in: tests/published/test_pressure_decay.py.

    >>> round(free_air_loss(40e3, 34e3, 60.0, volume=0.6e-3) * 60e6, 3)
    36.0
    """
    require("volume", volume, "m3", above=0.0)
    require("temperature", temperature, "K", above=0.0)
    require("reference_temperature", reference_temperature, "K", above=0.0)
    require("reference_pressure", reference_pressure, "Pa", above=0.0)
    rate = pressure_loss_rate(p_start, p_end, time)
    return volume * rate / reference_pressure * reference_temperature / temperature


def decay_leak_bore(
    p_start: float,
    p_end: float,
    time: float,
    *,
    volume: float,
    under: Under = "pressure",
    temperature: float = ROOM_TEMPERATURE,
    p_ambient: float = STANDARD_PRESSURE,
    gamma: float = AIR_GAMMA,
    gas_constant: float = AIR_GAS_CONSTANT,
) -> float:
    r"""
    Bore of the one round hole that would empty a closed crankcase as its leak does.

    .. math:: A = \frac{V}{R T t} \int_{p_2}^{p_1} \frac{dp}{G(p_a + p, p_a)}, \quad d = \sqrt{4 A / \pi};
        \quad \text{under vacuum } G(p_a, p_a - p)

    Args:
        p_start: Gauge pressure, or depression, when the pump was closed off. [Pa]
        p_end: Gauge pressure, or depression, at the end of the test. [Pa]
        time: Duration of the test. [s]
        volume: Volume closed off. [m3]
        under: Whether the case was put under "pressure" or under "vacuum". [word]
        temperature: Absolute temperature of the air, the same all the time. [K]
        p_ambient: Absolute pressure of the air around. [Pa]
        gamma: Ratio of specific heats. [1]
        gas_constant: Specific gas constant. [J/(kg K)]

    Returns:
        Equivalent leak bore, 0 where nothing was lost; of an ideal nozzle. It depends little on the test
        pressure, on the time and on the size of the case. [m]

    Raises:
        OutOfRange: ``p_end`` not above 0 (the case was empty before the time was up) or above ``p_start``;
            a depression of ``p_ambient`` or more; another argument not above 0.

    Shapes: scalars. Holds for: slow tests, so that the walls keep the air at one temperature.
    Source: one-dimensional gas dynamics. Checked in: tests/published/test_pressure_decay.py.

    >>> round(decay_leak_bore(40e3, 34e3, 60.0, volume=0.6e-3) * 1e3, 4)
    0.0555
    """
    require("p_start", p_start, "Pa", above=0.0)
    require("p_end", p_end, "Pa", above=0.0, at_most=p_start)
    require("time", time, "s", above=0.0)
    require("volume", volume, "m3", above=0.0)
    require("p_ambient", p_ambient, "Pa", above=p_start if under == "vacuum" else 0.0)
    low, high = math.sqrt(p_end), math.sqrt(p_start)
    root: Array = (high + low) / 2.0 + (high - low) / 2.0 * _NODES
    inside = p_ambient + root**2 if under == "pressure" else p_ambient - root**2
    around = np.full_like(inside, p_ambient)
    flux = nozzle_mass_flux(
        np.maximum(inside, around),
        np.minimum(inside, around),
        temperature=temperature,
        gamma=gamma,
        gas_constant=gas_constant,
    )
    # dp = 2 q dq, with q the root of the pressure.
    held = float(np.sum(_WEIGHTS * 2.0 * root / flux)) * (high - low) / 2.0
    return math.sqrt(4.0 / math.pi * volume * held / (gas_constant * temperature * time))
