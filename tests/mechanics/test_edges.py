"""Where each formula of gas, compression, crankcase, ports and crank begins and ceases to hold."""

from collections.abc import Callable
from typing import Any

import pytest

from inspect_report.mechanics import (
    atmosphere,
    compression,
    crankcase,
    gasflow,
    outliers,
    ports,
    slidercrank,
)
from inspect_report.mechanics.errors import OutOfRange

SMALL = 1e-9
NOZZLE = {"p_up": 7e5, "p_down": 1e5}
FLOW = {"bore": 1e-3, **NOZZLE}
GAUGES = {"p_supply": 6e5, "p_cylinder": 5e5}
TESTER = {**GAUGES, "tester_bore": 1e-3}
LEAK = {"leak_bore": 1e-3, "p_supply": 6e5, "tester_bore": 1e-3}
FALL = {"p_start": 40e3, "p_end": 34e3, "time": 60.0}
CASE = {**FALL, "volume": 1e-3}
WARM = {"temperature": 288.0}
CRANK = {"stroke": 0.05, "rod_length": 0.1}
CYLINDER = {"bore": 0.07, **CRANK, "clearance_volume": 2e-5}

# A formula, its inputs, one of them, values it refuses, and values next to them that it takes.
EDGES: list[tuple[Callable[..., Any], dict[str, Any], str, tuple[float, ...], tuple[float, ...]]] = [
    (gasflow.critical_pressure_ratio, {}, "gamma", (1.0, 0.5), (1.0001, 1.4)),
    (gasflow.nozzle_mass_flux, NOZZLE, "p_up", (0.0, -1.0), (1e5,)),
    (gasflow.nozzle_mass_flux, {"p_up": SMALL, "p_down": 0.0}, "p_up", (0.0,), (SMALL,)),
    (gasflow.nozzle_mass_flux, NOZZLE, "p_down", (-SMALL, 7.0001e5), (0.0, SMALL, 7e5)),
    (gasflow.nozzle_mass_flux, NOZZLE, "temperature", (0.0, -1.0), (SMALL,)),
    (gasflow.nozzle_mass_flux, NOZZLE, "gas_constant", (0.0, -1.0), (SMALL,)),
    (gasflow.nozzle_mass_flux, NOZZLE, "gamma", (1.0,), (1.0001,)),
    (gasflow.nozzle_mass_flow, FLOW, "bore", (-SMALL,), (0.0, SMALL)),
    (gasflow.nozzle_mass_flow, FLOW, "discharge", (0.0, 1.0001), (SMALL, 1.0)),
    (gasflow.free_air_flow, FLOW, "reference_temperature", (0.0, -1.0), (SMALL,)),
    (gasflow.free_air_flow, FLOW, "reference_pressure", (0.0, -1.0), (SMALL,)),
    (gasflow.leak_percent, GAUGES, "p_supply", (-1.0,), (5e5,)),
    (gasflow.leak_percent, {"p_supply": 1.0, "p_cylinder": 0.0}, "p_supply", (0.0,), (SMALL,)),
    (gasflow.leak_percent, GAUGES, "p_cylinder", (-SMALL, 6.0001e5), (0.0, SMALL, 6e5)),
    (gasflow.leak_area, TESTER, "p_cylinder", (0.0, -1.0, 6.0001e5), (SMALL, 6e5)),
    (gasflow.leak_area, {**TESTER, "p_cylinder": SMALL}, "p_supply", (0.0,), (SMALL,)),
    (gasflow.leak_area, TESTER, "tester_bore", (0.0, -1.0), (SMALL,)),
    (gasflow.leak_area, TESTER, "p_ambient", (0.0, -1.0), (SMALL,)),
    (gasflow.leak_area, TESTER, "gamma", (1.0,), (1.0001,)),
    (gasflow.cylinder_pressure, LEAK, "leak_bore", (-SMALL,), (0.0, SMALL)),
    (gasflow.cylinder_pressure, LEAK, "p_supply", (0.0, -1.0), (SMALL,)),
    (gasflow.cylinder_pressure, LEAK, "tester_bore", (0.0, -1.0), (SMALL,)),
    (gasflow.cylinder_pressure, LEAK, "p_ambient", (0.0, -1.0), (SMALL,)),
    (gasflow.cylinder_pressure, LEAK, "gamma", (1.0,), (1.0001,)),
    (compression.wet_gain, {"dry": 1e6, "wet": 1e6}, "dry", (0.0, -1.0), (SMALL,)),
    (compression.wet_gain, {"dry": 1e6, "wet": 1e6}, "wet", (-SMALL,), (0.0, SMALL)),
    (compression.corrected_to_standard, {"p_ambient": 1e5}, "reading", (-SMALL,), (0.0, SMALL)),
    (crankcase.pressure_loss_rate, FALL, "p_start", (0.0, -1.0), (SMALL,)),
    (crankcase.pressure_loss_rate, FALL, "p_end", (-SMALL,), (0.0, SMALL, 50e3)),
    (crankcase.pressure_loss_rate, FALL, "time", (0.0, -1.0), (SMALL,)),
    (crankcase.free_air_loss, CASE, "volume", (0.0, -1.0), (SMALL,)),
    (crankcase.free_air_loss, CASE, "temperature", (0.0, -1.0), (SMALL,)),
    (crankcase.free_air_loss, CASE, "reference_temperature", (0.0, -1.0), (SMALL,)),
    (crankcase.free_air_loss, CASE, "reference_pressure", (0.0, -1.0), (SMALL,)),
    (crankcase.decay_leak_bore, {**CASE, "p_end": SMALL}, "p_start", (0.0, -1.0), (SMALL, 1.0)),
    (crankcase.decay_leak_bore, CASE, "p_end", (0.0, -1.0, 40.001e3), (SMALL, 40e3)),
    (crankcase.decay_leak_bore, CASE, "time", (0.0, -1.0), (SMALL,)),
    (crankcase.decay_leak_bore, CASE, "volume", (0.0, -1.0), (SMALL,)),
    (crankcase.decay_leak_bore, CASE, "p_ambient", (0.0, -1.0), (SMALL,)),
    (crankcase.decay_leak_bore, {**CASE, "under": "vacuum"}, "p_ambient", (0.0, 39e3, 40e3), (40.1e3,)),
    (ports.port_duration, {}, "opens", (-SMALL, 180.0001), (0.0, SMALL, 180.0)),
    (ports.blowdown, {"transfer_opens": 110.0}, "exhaust_opens", (-SMALL, 180.0001), (0.0, SMALL, 180.0)),
    (ports.blowdown, {"exhaust_opens": 80.0}, "transfer_opens", (-SMALL, 180.0001), (0.0, SMALL, 180.0)),
    (atmosphere.geopotential_altitude, {}, "height", (-5000.1, 11_000.1), (-5000.0, 11_000.0)),
    (atmosphere.geopotential_altitude, {"height": 100.0}, "earth_radius", (11_000.0, 0.0), (11_000.1,)),
    (atmosphere.standard_temperature, {}, "altitude", (-5000.1, 11_000.1), (-5000.0, 11_000.0)),
    (atmosphere.pressure_altitude, {}, "pressure", (0.0, -1.0), (101_325.0,)),
    (atmosphere.pressure_of_the_day, WARM, "altitude", (-5000.1, 11_000.1), (-5000.0, 11_000.0)),
    (atmosphere.pressure_of_the_day, {"altitude": 100.0}, "temperature", (0.0, -1.0), (SMALL,)),
    (atmosphere.pressure_of_the_day, {"altitude": -1000.0}, "temperature", (6.5,), (6.51,)),
    (atmosphere.density_ratio_of_the_day, WARM, "pressure", (0.0, -1.0), (SMALL,)),
    (atmosphere.density_ratio_of_the_day, {"pressure": 1e5}, "temperature", (0.0, -1.0), (SMALL,)),
    (slidercrank.swept_volume, {"stroke": 0.05}, "bore", (0.0, -1.0), (SMALL,)),
    (slidercrank.swept_volume, {"bore": 0.07}, "stroke", (0.0, -1.0), (SMALL,)),
    (slidercrank.piston_travel, {"crank_angle": 90.0, "rod_length": 0.1}, "stroke", (0.0, -1.0), (SMALL,)),
    (slidercrank.piston_travel, {"crank_angle": 9.0, "stroke": 0.05}, "rod_length", (0.025, 0.0), (0.02501,)),
    (slidercrank.crank_angle_at, CRANK, "travel", (-SMALL, 0.0500001), (0.0, SMALL, 0.05)),
    (slidercrank.crank_angle_at, {"travel": 0.0, "rod_length": 0.1}, "stroke", (0.0, -1.0), (SMALL,)),
    (slidercrank.crank_angle_at, {"travel": 0.01, "stroke": 0.05}, "rod_length", (0.025, 0.0), (0.02501,)),
    (slidercrank.volume_at, {"crank_angle": 90.0, **CYLINDER}, "clearance_volume", (0.0, -1.0), (SMALL,)),
    (slidercrank.volume_at, {"crank_angle": 90.0, **CYLINDER}, "bore", (0.0, -1.0), (SMALL,)),
    (slidercrank.deck_volume, {"deck_height": 1e-4}, "bore", (0.0, -1.0), (SMALL,)),
    (slidercrank.clearance_volume, {"gasket": 0.0, "deck": 1e-6}, "chamber", (-SMALL,), (0.0, SMALL)),
    (slidercrank.clearance_volume, {"chamber": 0.0, "gasket": 0.0}, "deck", (0.0, -SMALL), (SMALL,)),
    (slidercrank.compression_ratio, {"clearance": 2e-5}, "swept", (0.0, -1.0), (SMALL,)),
    (slidercrank.compression_ratio, {"swept": 2e-4}, "clearance", (0.0, -1.0), (SMALL,)),
    (slidercrank.effective_ratio, CYLINDER, "inlet_closes", (-SMALL, 180.0001), (0.0, SMALL, 180.0)),
    (slidercrank.cranking_pressure_estimate, {}, "ratio", (0.9999, 0.0), (1.0, 1.0001)),
    (slidercrank.cranking_pressure_estimate, {"ratio": 9.0}, "p_ambient", (0.0, -1.0), (SMALL,)),
    (slidercrank.cranking_pressure_estimate, {"ratio": 9.0}, "exponent", (0.9999, 1.4001), (1.0, 1.4)),
    (outliers.grubbs_critical, {}, "n", (2, 0), (3,)),
    (outliers.grubbs_critical, {"n": 5}, "alpha", (0.0, 1.0), (SMALL, 0.9999)),
    (outliers.scatter_seen_through, {}, "n", (2, 0), (3,)),
]  # fmt: skip


# Where the sum of several arguments is refused, the error names the sum.
WORDS: dict[tuple[Callable[..., Any], str], str] = {
    (slidercrank.clearance_volume, "deck"): "clearance volume",
}


def _name(edge: tuple[Any, ...]) -> str:
    return f"{edge[0].__name__}-{edge[2]}"


@pytest.mark.parametrize("edge", EDGES, ids=_name)
def test_formula_holds_to_its_edges_and_no_further(edge: tuple[Any, ...]) -> None:
    """The value at an edge is taken or refused as the docstring says, by name, and the next the other way."""
    formula, inputs, name, refused, taken = edge
    for value in refused:
        with pytest.raises(OutOfRange, match=rf"^{WORDS.get((formula, name), name)}: found"):
            formula(**inputs | {name: value})
    for value in taken:
        formula(**inputs | {name: value})


@pytest.mark.parametrize("readings", [[1.0, 0.0], [0.5, 0.5]])
def test_faint_readings_are_readings(readings: list[float]) -> None:
    """A pascal is little and not nothing: only readings of nothing at all give no spread."""
    assert compression.spread_below_best(readings).max() <= 1.0
