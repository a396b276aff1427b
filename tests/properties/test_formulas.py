"""What must hold of every public formula: its docstring, its units, its answer to a number that is none."""

import dataclasses
import importlib
import inspect
import math
import pkgutil
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import inspect_report.mechanics
from inspect_report.mechanics import (
    assignment,
    atmosphere,
    bearing,
    bore,
    boreform,
    camshaft,
    chain,
    clutch,
    compression,
    crankcase,
    draws,
    evidence,
    gasflow,
    gearbox,
    metrology,
    oil,
    outliers,
    ports,
    rebore,
    shells,
    slidercrank,
    squish,
    student,
    thermal,
    trend,
    valvetrain,
)
from inspect_report.mechanics.errors import OutOfRange

Formula = Callable[..., Any]
Inputs = dict[str, st.SearchStrategy[Any]]
ROOT = Path(__file__).parents[2]
# Files of the package that hold tools of the formulas, and no formula.
TOOLS = {"arrays", "errors"}

# Each unit as powers of metre, kilogram, second, kelvin, and of the free units x and y of readings.
UNITS: dict[str, dict[str, int]] = {
    "1": {}, "%": {}, "deg": {}, "count": {}, "word": {}, "yes or no": {},
    "m": {"m": 1}, "m2": {"m": 2}, "m3": {"m": 3}, "K": {"K": 1}, "kg/s": {"kg": 1, "s": -1},
    "kg/m3": {"kg": 1, "m": -3}, "kg/(m2 s)": {"kg": 1, "m": -2, "s": -1}, "m3/s": {"m": 3, "s": -1},
    "1/K": {"K": -1}, "1/s": {"s": -1},
    "Pa": {"kg": 1, "m": -1, "s": -2}, "J/(kg K)": {"m": 2, "s": -2, "K": -1}, "K/m": {"K": 1, "m": -1},
    "s": {"s": 1}, "Pa/s": {"kg": 1, "m": -1, "s": -3},
    "m/s2": {"m": 1, "s": -2}, "x": {"x": 1}, "x2": {"x": 2}, "y": {"y": 1}, "y/x": {"y": 1, "x": -1},
}  # fmt: skip
BASE = ("m", "kg", "s", "K", "x", "y")
factors_of_base = st.fixed_dictionaries({base: st.floats(0.1, 10.0) for base in BASE})


def between(low: float, high: float) -> st.SearchStrategy[float]:
    """Any number of a range."""
    return st.floats(low, high)


def several(n: int, low: float, high: float) -> st.SearchStrategy[list[float]]:
    """A row of any numbers of a range."""
    return st.lists(st.floats(low, high), min_size=n, max_size=n)


fixed = st.just
GRID = fixed([[67.041e-3, 67.030e-3], [67.028e-3, 67.024e-3], [67.019e-3, 67.017e-3]])
LINE = fixed(trend.straight_line([0.0, 10.0, 20.0, 30.0], [1.0, 1.9, 3.1, 4.0]))
CRANK: Inputs = {
    "bore": between(0.04, 0.2), "stroke": between(0.03, 0.1), "rod_length": between(0.06, 0.3),
    "clearance_volume": between(1e-5, 1e-4),
}  # fmt: skip
ANGLES: Inputs = {"opens": between(0.0, 80.0), "closes": between(0.0, 80.0)}
LEAK: Inputs = {
    "p_supply": between(4e5, 9e5), "p_cylinder": between(1e4, 4e5), "tester_bore": between(5e-4, 2e-3),
}  # fmt: skip
NOZZLE: Inputs = {"p_up": between(2e5, 9e5), "p_down": between(0.0, 2e5)}
TESTER: Inputs = {"leak_bore": between(1e-4, 3e-3), "p_supply": between(3e5, 9e5)}
DECAY: Inputs = {
    "p_start": between(3e4, 5e4), "p_end": between(1e3, 3e4), "time": between(30.0, 900.0),
    "volume": between(2e-4, 2e-3),
}  # fmt: skip
ALTITUDE: Inputs = {"altitude": between(0.0, 900.0)}
SHIM: Inputs = {"fitted": fixed(2.8e-3), "measured": fixed(0.31e-3), "lever": between(0.9, 1.6)}
THREE: Inputs = {"values": several(3, 0.1, 9.0), "us": several(3, 0.0, 0.05)}
READINGS: Inputs = {"readings": several(4, 1e5, 15e5)}
SHARES: Inputs = {"with_cause": between(0.01, 0.99), "without_cause": between(0.01, 0.99)}
ROW: Inputs = {"values": fixed([3.0, 3.1, 2.9, 12.5])}

CASES: dict[Formula, Inputs] = {
    gasflow.critical_pressure_ratio: {},
    gasflow.nozzle_mass_flux: NOZZLE,
    gasflow.nozzle_mass_flow: NOZZLE | {"bore": between(0.0, 0.02)},
    gasflow.free_air_flow: NOZZLE | {"bore": between(0.0, 0.02)},
    gasflow.leak_percent: {name: LEAK[name] for name in ("p_supply", "p_cylinder")},
    gasflow.leak_area: LEAK,
    gasflow.equivalent_leak_bore: LEAK,
    gasflow.cylinder_pressure: TESTER | {"tester_bore": between(5e-4, 2e-3)},
    gasflow.reference_tester_percent: TESTER,
    atmosphere.geopotential_altitude: {"height": between(0.0, 900.0)},
    atmosphere.standard_temperature: ALTITUDE,
    atmosphere.pressure_ratio: ALTITUDE,
    atmosphere.density_ratio: ALTITUDE,
    atmosphere.standard_pressure: ALTITUDE,
    atmosphere.standard_density: ALTITUDE,
    atmosphere.pressure_altitude: {"pressure": between(95e3, 102e3)},
    atmosphere.pressure_of_the_day: ALTITUDE | {"temperature": between(250.0, 310.0)},
    atmosphere.density_ratio_of_the_day: {
        "pressure": between(7e4, 11e4), "temperature": between(250.0, 310.0),
    },
    slidercrank.swept_volume: {name: CRANK[name] for name in ("bore", "stroke")},
    slidercrank.piston_travel: {
        "crank_angle": between(-360.0, 360.0), "stroke": CRANK["stroke"], "rod_length": CRANK["rod_length"],
    },
    slidercrank.crank_angle_at: {
        "travel": between(0.001, 0.029), "stroke": CRANK["stroke"], "rod_length": CRANK["rod_length"],
    },
    slidercrank.volume_at: CRANK | {"crank_angle": between(-360.0, 360.0)},
    slidercrank.deck_volume: {"bore": CRANK["bore"], "deck_height": between(-0.001, 0.001)},
    slidercrank.clearance_volume: {
        "chamber": between(1e-5, 9e-5), "gasket": between(0.0, 5e-6), "deck": between(-2e-6, 2e-6),
        "dome": between(0.0, 5e-6), "dish": between(0.0, 5e-6), "pockets": between(0.0, 5e-6),
    },
    slidercrank.compression_ratio: {"swept": between(1e-4, 9e-4), "clearance": between(1e-5, 9e-5)},
    slidercrank.effective_ratio: CRANK | {"inlet_closes": between(0.0, 90.0)},
    slidercrank.cranking_pressure_estimate: {"ratio": between(5.0, 14.0)},
    compression.spread_below_best: READINGS,
    compression.spread_about_mean: READINGS,
    compression.wet_gain: {"dry": between(1e5, 15e5), "wet": between(1e5, 18e5)},
    compression.corrected_to_standard: {
        "reading": between(1e5, 15e5), "p_ambient": between(95e3, 102e3),
        "method": st.sampled_from(["pressure ratio", "density ratio"]), "temperature": between(250.0, 310.0),
    },
    crankcase.pressure_loss_rate: {
        "p_start": between(2e4, 5e4), "p_end": between(0.0, 5e4), "time": between(30.0, 900.0),
    },
    crankcase.free_air_loss: DECAY,
    crankcase.decay_leak_bore: DECAY | {"under": st.sampled_from(["pressure", "vacuum"])},
    ports.port_opens: {
        "height": between(0.005, 0.028), "deck_height": between(-1e-3, 1e-3), "stroke": CRANK["stroke"],
        "rod_length": CRANK["rod_length"],
    },
    ports.port_duration: {"opens": between(60.0, 130.0)},
    ports.blowdown: {"exhaust_opens": between(60.0, 100.0), "transfer_opens": between(100.0, 130.0)},
    squish.squish_gap: {"gasket_thickness": between(1e-4, 2e-3), "deck_height": between(-1e-3, 1e-3)},
    squish.gasket_volume: {"gasket_bore": between(0.04, 0.1), "gasket_thickness": between(1e-4, 2e-3)},
    squish.grade_difference: {"measured": between(4e-4, 7e-4), "nominal": between(4e-4, 7e-4)},
    squish.nearest_grade: {"measured": between(4e-4, 7e-4), "thicknesses": fixed([5e-4, 6e-4, 7e-4])},
    squish.spread: {"values": THREE["values"]},
    valvetrain.shim_needed: SHIM | {"aim": between(0.05e-3, 0.3e-3)},
    valvetrain.predicted_gap: SHIM | {"new": between(1e-3, 3e-3)},
    valvetrain.shim_sizes: {"first": fixed(1.2e-3), "last": fixed(2.9e-3), "step": fixed(0.025e-3)},
    valvetrain.shim_range_left: SHIM | {"aim": between(0.05e-3, 0.3e-3), "thinnest": between(1e-3, 2e-3)},
    valvetrain.spring_lean: {"out_of_square": between(0.0, 5e-3), "free_length": between(0.02, 0.08)},
    valvetrain.spring_loss: {"found": between(0.0, 500.0), "new": between(50.0, 500.0)},
    assignment.cheapest_assignment: {"costs": fixed([[4.0, 1.0, 3.0], [2.0, 0.0, 5.0]])},
    camshaft.duration: ANGLES,
    camshaft.inlet_lobe_centre: ANGLES,
    camshaft.exhaust_lobe_centre: ANGLES,
    camshaft.overlap: {"inlet_opens": ANGLES["opens"], "exhaust_closes": ANGLES["closes"]},
    camshaft.lobe_separation: {"inlet_centre": between(90.0, 120.0), "exhaust_centre": between(90.0, 120.0)},
    camshaft.inlet_lateness: {"centre": between(90.0, 120.0), "target": between(90.0, 120.0)},
    camshaft.exhaust_lateness: {"centre": between(90.0, 120.0), "target": between(90.0, 120.0)},
    camshaft.late_beyond_chain: {"lateness": between(-20.0, 20.0), "retard": between(-2.0, 20.0)},
    camshaft.teeth_out: {"lateness": between(-40.0, 40.0), "teeth": fixed(36)},
    camshaft.stroke_misfit: {
        "inlet_full": between(0.0, 720.0), "exhaust_full": between(0.0, 720.0),
        "inlet_centre": between(90.0, 120.0), "exhaust_centre": between(90.0, 120.0),
    },
    camshaft.lobe_wear: {"height": between(0.03, 0.04), "new": between(0.03, 0.04)},
    camshaft.lobe_lift: {"height": between(0.03, 0.04), "base_circle": between(0.02, 0.03)},
    chain.tensioner_used: {"travel": between(0.0, 0.01), "stroke": between(0.01, 0.03)},
    chain.elongation: {"length": between(0.3, 0.33), "pitch": between(0.015, 0.016), "pitches": fixed(20)},
    chain.pitch_radius: {"pitch": between(0.005, 0.02), "teeth": fixed(34)},
    chain.cam_retard: {
        "elongation": between(-0.01, 0.03), "span_length": between(0.1, 0.5),
        "sprocket_radius": between(0.02, 0.1),
    },
    bore.wear: {"diameters": GRID, "unworn": between(0.066, 0.067)},
    bore.taper: {"diameters": GRID},
    bore.out_of_round: {"diameters": GRID},
    bore.piston_clearance: {"diameters": GRID, "skirt": between(0.066, 0.067)},
    bore.ring_gap_growth: {"diameter_growth": between(-1e-4, 1e-3)},
    bore.side_clearance: {"groove_width": between(1e-3, 2e-3), "ring_thickness": between(1e-3, 2e-3)},
    boreform.bulge: {"diameters": GRID},
    boreform.flare: {"diameters": GRID},
    boreform.form: {"diameters": GRID, "doubt": between(0.0, 5e-6)},
    rebore.least_oversize: {"largest": between(0.0670, 0.0672), "unworn": between(0.066, 0.067)},
    rebore.oversizes: {
        "steps": fixed([0.25e-3, 0.5e-3]), "largest": fixed(67.1e-3), "unworn": fixed(67e-3),
    },
    rebore.oversize_to_fit: {"rows": fixed((rebore.Oversize(5e-4, 67.5e-3, 4e-4, 3e-4, True),))},
    thermal.at_reference: {
        "length": between(0.01, 0.1), "expansion": between(8e-6, 25e-6), "temperature": between(270.0, 370.0),
        "gauge_temperature": between(270.0, 320.0),
    },
    bearing.difference_of_ways: {"second": between(-1.0, 1.0), "first": between(-1.0, 1.0)},
    bearing.disagreement: {"difference": between(-1.0, 1.0), "u": between(0.1, 1.0)},
    shells.size_class: {
        "size": fixed(31.987e-3), "lows": fixed([31.992e-3, 31.984e-3]), "highs": fixed([32e-3, 31.992e-3]),
    },
    shells.class_margin: {
        "size": between(0.0319, 0.0321), "lows": fixed([31.992e-3, 31.984e-3]),
        "highs": fixed([32e-3, 31.992e-3]),
    },
    clutch.pack_thickness: {"plates": several(3, 1e-3, 3e-3)},
    clutch.pack_wear: {"plates": several(3, 1e-3, 3e-3), "new": between(5e-3, 10e-3)},
    gearbox.groove_clearance: {"groove": between(4e-3, 7e-3), "part": between(4e-3, 7e-3)},
    oil.wear_metal_rate: {
        "found": between(0.0, 3e-4), "running_time": between(3600.0, 4e5), "fresh": between(0.0, 1e-5),
    },
    bearing.oil_clearance: {"bearing_bore": between(0.03, 0.04), "journal": between(0.03, 0.04)},
    bearing.oil_clearance_from_shells: {
        "housing": between(0.03, 0.04), "shell_thickness": between(1e-3, 2e-3),
        "journal": between(0.03, 0.04),
    },
    bearing.journal_taper: {"diameters": GRID},
    bearing.journal_out_of_round: {"diameters": GRID},
    student.t_tail: {"t": between(-9.0, 9.0), "dof": between(1.0, 60.0)},
    student.t_quantile: {"probability": between(0.001, 0.999), "dof": between(1.0, 60.0)},
    evidence.weight_of_evidence: SHARES | {"chance": between(0.0, 1.0)},
    evidence.decibans_of: {"probability": between(0.01, 0.99)},
    evidence.probability_of: {"decibans": between(-40.0, 40.0)},
    evidence.entropy: {"probability": between(0.0, 1.0)},
    evidence.expected_information: {
        "probability": between(0.01, 0.99), "signs": fixed([(0.8, 0.1), (0.5, 0.25)]),
    },
    metrology.u_from_resolution: {"resolution": between(0.0, 1.0)},
    metrology.u_from_permissible_error: {"error": between(0.0, 1.0)},
    metrology.u_from_repeats: {"values": THREE["values"]},
    metrology.combine: {"us": THREE["us"]},
    metrology.contributions: THREE | {"formula": fixed(lambda a, b, c: a * b / c)},
    metrology.coverage_factor: {"dof": between(1.0, 60.0), "probability": between(0.5, 0.99)},
    metrology.expanded: {"u": between(0.0, 1.0)},
    metrology.welch_satterthwaite: {"us": several(2, 0.1, 1.0), "dofs": several(2, 1.0, 50.0)},
    metrology.probability_inside: {
        "value": between(0.0, 1.0), "u": between(0.1, 1.0), "low": between(0.0, 0.4),
        "high": between(0.5, 1.0), "dof": between(1.0, 60.0),
    },
    outliers.grubbs_statistic: ROW,
    outliers.grubbs_critical: {"n": fixed(4)},
    outliers.grubbs_test: ROW,
    outliers.scatter_seen_through: {"n": fixed(4)},
    trend.weights_from_uncertainties: {"us": several(3, 0.1, 1.0)},
    trend.straight_line: {
        "x": fixed([0.0, 10.0, 25.0, 30.0]), "y": several(4, 1.0, 9.0), "weights": several(4, 0.1, 1.0),
    },
    draws.happenings: {
        "chances": several(3, 0.0, 1.0), "draws": fixed(5), "seed": fixed(1),
    },
    draws.outcomes: {"chances": several(3, 0.0, 1.0)},
    draws.weighted_point: {
        "values": several(4, -9.0, 9.0), "weights": several(4, 0.1, 1.0), "share": between(0.01, 1.0),
    },
    draws.point_of_order: {"values": several(4, -9.0, 9.0), "share": between(0.01, 1.0)},
    trend.prediction: {"line": LINE, "x": between(-50.0, 90.0)},
    trend.crossing: {"line": LINE, "limit": between(-3.0, 9.0)},
}  # fmt: skip


def modules() -> Iterator[ModuleType]:
    """The modules that hold formulas."""
    for found in pkgutil.iter_modules(inspect_report.mechanics.__path__):
        if found.name not in TOOLS:
            yield importlib.import_module(f"inspect_report.mechanics.{found.name}")


def public_members(kind: Callable[[object], bool]) -> list[Any]:
    """What those modules define for others, of one kind."""
    return [
        member
        for module in modules()
        for name, member in inspect.getmembers(module, kind)
        if member.__module__ == module.__name__ and not name.startswith("_")
    ]


def short_name(member: Any) -> str:
    """Module and name, such as "bore.taper"."""
    return f"{member.__module__.rpartition('.')[2]}.{member.__name__}"


FORMULAS = public_members(inspect.isfunction)
RESULTS = {result.__name__: result for result in public_members(inspect.isclass)}
every_formula = pytest.mark.parametrize("formula", FORMULAS, ids=short_name)
every_result = pytest.mark.parametrize("result", RESULTS.values(), ids=short_name)


def section(member: Any, title: str) -> str:
    """The indented text under a title of a docstring, or nothing."""
    found = re.search(rf"^{title}:\n((?:    .*\n|\n)*)", f"{inspect.getdoc(member)}\n", re.MULTILINE)
    return found[1] if found else ""


def units_by_name(text: str) -> dict[str, str]:
    """Names and units of entries like "bore: Diameter of the throat. [m]"."""
    entries = re.findall(r"^    (\w+): ((?:.|\n        )*)", text, re.MULTILINE)
    return {name: unit_at_end(words) for name, words in entries}


def unit_at_end(words: str) -> str:
    """The unit in the brackets that end a text."""
    found = re.search(r"\[([^\[\]]+)\]\s*\Z", words)
    return found[1] if found else f"no unit in: {words}"


def is_unit(unit: str) -> bool:
    """Whether a unit is one we know how to rescale."""
    return unit in UNITS or unit in RESULTS or unit == "x -> y"


def rescaled(value: Any, unit: str, factors: dict[str, float]) -> Any:
    """The same amount when the base units are made smaller by the factors."""
    if isinstance(value, tuple | list):
        return [rescaled(part, unit, factors) for part in value]
    if unit in RESULTS:
        return rescaled_fields(value, factors)
    if unit == "x -> y":
        return lambda *xs: value(*(x / factors["x"] for x in xs)) * factors["y"]
    return value if value is None or not UNITS[unit] else value * factor(unit, factors)


def factor(unit: str, factors: dict[str, float]) -> float:
    """How many times larger a number of the unit becomes."""
    return math.prod(factors[base] ** power for base, power in UNITS[unit].items())


def rescaled_fields(value: Any, factors: dict[str, float]) -> Any:
    """A result with each of its fields rescaled by the unit its docstring tells."""
    if value is None:
        return None
    units = units_by_name(section(type(value), "Attributes"))
    return dataclasses.replace(
        value, **{name: rescaled(getattr(value, name), unit, factors) for name, unit in units.items()}
    )


def leaves(value: Any) -> list[Any]:
    """All numbers of a result in one row, whatever its shape."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return leaves([getattr(value, field.name) for field in dataclasses.fields(value)])
    if isinstance(value, tuple | list | np.ndarray):
        return [leaf for part in value for leaf in leaves(part)]
    return [value]


def with_defaults(formula: Formula, inputs: dict[str, Any]) -> dict[str, Any]:
    """Inputs with the constants that are given as defaults, so that they are rescaled too."""
    defaults = {name: parameter.default for name, parameter in inspect.signature(formula).parameters.items()}
    known = {name: value for name, value in defaults.items() if value is not inspect.Parameter.empty}
    return known | inputs


@every_formula
def test_docstring_has_its_parts_in_order(formula: Formula) -> None:
    """A sentence, the formula, arguments, result, validity, source and an example stand in one order."""
    text = inspect.getdoc(formula) or ""
    marks = [".. math::", "Args:", "Returns:", "Raises:", "Shapes:", "Holds for:", "Source:", ">>>"]
    found = [text.find(mark) for mark in marks if mark != "Raises:" or mark in text]
    assert -1 not in found
    assert found == sorted(found)
    assert text.splitlines()[0].endswith(".")


@every_formula
def test_docstring_names_every_argument_with_a_unit(formula: Formula) -> None:
    """The arguments told are those of the signature, in order, each with a unit we know, the result too."""
    units = units_by_name(section(formula, "Args"))
    assert list(units) == list(inspect.signature(formula).parameters)
    assert [unit for unit in units.values() if not is_unit(unit)] == []
    assert is_unit(unit_at_end(section(formula, "Returns")))


@every_result
def test_result_names_every_field_with_a_unit(result: Any) -> None:
    """The attributes told are the fields, in their order, each with a unit we know."""
    units = units_by_name(section(result, "Attributes"))
    assert list(units) == [field.name for field in dataclasses.fields(result)]
    assert [unit for unit in units.values() if not is_unit(unit)] == []


@every_formula
def test_formula_is_checked_where_its_docstring_says(formula: Formula) -> None:
    """The test file named in the docstring exists and uses the formula."""
    named = re.findall(r"Checked in: (\S+\.py)\.", inspect.getdoc(formula) or "")
    assert len(named) == 1
    assert re.search(rf"\b{formula.__name__}\b", (ROOT / named[0]).read_text())


def test_every_formula_has_inputs_here() -> None:
    """No formula escapes the tests below for want of inputs."""
    assert {short_name(formula) for formula in FORMULAS} == {short_name(formula) for formula in CASES}


@every_formula
@settings(max_examples=40, deadline=None)
@given(data=st.data(), factors=factors_of_base)
def test_answer_scales_as_its_unit_says(
    formula: Formula, data: st.DataObject, factors: dict[str, float]
) -> None:
    """Other base units change the numbers going in and coming out, never the amounts."""
    inputs = with_defaults(formula, data.draw(st.fixed_dictionaries(CASES[formula])))
    units = units_by_name(section(formula, "Args"))
    unit = unit_at_end(section(formula, "Returns"))
    expected = rescaled(formula(**inputs), unit, factors)
    actual = formula(**{name: rescaled(value, units[name], factors) for name, value in inputs.items()})
    smallest = 1e-12 * min([1.0, *(factor(one, factors) for one in (unit, "y", "y/x", "x") if one in UNITS)])
    if unit == "word":
        assert actual == expected
    else:
        assert leaves(actual) == pytest.approx(leaves(expected), rel=1e-9, abs=smallest)


def with_nan(value: Any) -> Any:
    """The value with its first number replaced by one that is no number."""
    if isinstance(value, tuple | list):
        return [with_nan(value[0]), *value[1:]]
    return math.nan


def is_numeric(value: Any) -> bool:
    """Whether a value is a number, or rows of numbers."""
    first = value[0] if isinstance(value, tuple | list) else value
    if isinstance(first, tuple | list):
        return is_numeric(first)
    return isinstance(first, int | float) and not isinstance(first, bool)


@every_formula
@settings(max_examples=3, deadline=None)
@given(data=st.data())
def test_no_formula_computes_with_nan(formula: Formula, data: st.DataObject) -> None:
    """Every number given is checked: one that is no number is refused, and never turns into a result."""
    inputs = with_defaults(formula, data.draw(st.fixed_dictionaries(CASES[formula])))
    for name, value in inputs.items():
        if is_numeric(value):
            with pytest.raises(OutOfRange, match="found nan"):
                formula(**inputs | {name: with_nan(value)})
