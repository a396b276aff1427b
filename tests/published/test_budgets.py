"""Whole uncertainty budgets against GTC, a general library of uncertain numbers with degrees of freedom."""

import math
from collections.abc import Callable, Sequence

import numpy as np
import pytest
from GTC import core, dof, ureal

from inspect_report.measure.budget import coverage, propagated
from inspect_report.measure.uncertainty import Input, input_of
from tests.cases import an_instrument, read

Formula = Callable[..., float]
BORE, MICROMETER = an_instrument("bore-gauge"), an_instrument("micrometer")
BORES = (
    read("bore-diameter.1.top.along", 67.012, 67.018, 67.015),
    read("bore-diameter.1.top.across", 67.020, 67.023),
    read("bore-diameter.1.middle.along", 67.008),
)
SKIRT = read("skirt-diameter.1", 66.962, 66.965, 66.961, 66.966)


def by_library(formula: Formula, inputs: Sequence[Input]) -> tuple[float, float, float]:
    """Value, standard uncertainty and degrees of freedom by GTC: one uncertain number for each cause."""
    gauges = {i.source: ureal(0.0, i.shared) for i in inputs if i.shared}
    numbers = [
        i.value
        + ureal(0.0, i.step)
        + ureal(0.0, i.scatter, i.repeats - 1 if i.repeats > 1 else math.inf)
        + gauges[i.source] * (-1.0 if i.mirrored else 1.0)
        for i in inputs
    ]
    result = formula(*numbers)
    return float(core.value(result)), float(core.uncertainty(result)), float(dof(result))


def clearance(a: float, b: float, c: float, skirt: float) -> float:
    """Mean bore less skirt."""
    return (a + b + c) / 3 - skirt


def areas(a: float, b: float, c: float, skirt: float) -> float:
    """A curved formula: ratio of areas times a length."""
    return a * b / skirt**2 * c


@pytest.mark.parametrize("formula", [clearance, areas])
def test_shared_gauge_and_few_repeats(formula: Formula) -> None:
    """One gauge for three readings, another for a fourth, two to four repeats: u to 1e-6, freedom to 1e-5."""
    inputs = [*(input_of(r, BORE) for r in BORES), input_of(SKIRT, MICROMETER)]
    value, u, freedom = by_library(formula, inputs)
    found = propagated(formula, inputs)
    assert found.value == pytest.approx(value, rel=1e-12)
    assert found.u == pytest.approx(u, rel=1e-6)
    assert found.dof == pytest.approx(freedom, rel=1e-5)


def test_difference_of_two_readings_of_one_gauge() -> None:
    """Taper: the gauge's error falls out, and most of what is left rests on three and two repeats."""
    inputs = [input_of(r, BORE) for r in BORES[:2]]
    value, u, freedom = by_library(lambda a, b: b - a, inputs)
    found = propagated(lambda a, b: b - a, inputs)
    assert (found.value, found.u) == pytest.approx((value, u), rel=1e-7)
    assert found.dof == pytest.approx(freedom, rel=1e-5)
    assert freedom < 4.0
    assert coverage(found.quantity("length")) > 2.8


def test_disc_read_against_its_scale() -> None:
    """A lobe centre from two edges, one counted against the disc: its error comes in whole."""
    disc = an_instrument("degree-disc")
    opens, closes = (input_of(read(f"{item}.exhaust", angle), disc) for item, angle in EDGES)
    inputs = [Input(opens.value, opens.step, opens.shared, opens.source, mirrored=True), closes]
    _, u, _ = by_library(lambda a, b: (180 + a + b) / 2 - b, inputs)
    assert propagated(lambda a, b: (180 + a + b) / 2 - b, inputs).u == pytest.approx(u, rel=1e-9)


EDGES = (("cam-opening", 38.5), ("cam-closing", 9.5))


@pytest.mark.parametrize("seed", range(5))
def test_random_budgets(seed: int) -> None:
    """Five readings of two gauges with random steps, errors, repeats and weights, sown by a fixed seed."""
    dice = np.random.default_rng(seed)
    shared = {"a": float(dice.uniform(0.1, 1.0)), "b": float(dice.uniform(0.1, 1.0))}
    inputs = [
        Input(
            value=float(dice.uniform(1, 9)),
            step=float(dice.uniform(0.01, 0.5)),
            shared=shared[source],
            source=source,
            mirrored=bool(dice.integers(2)),
            scatter=float(dice.uniform(0.01, 0.9)),
            repeats=int(dice.integers(2, 6)),
        )
        for source in "aabab"
    ]
    weights = [float(w) for w in dice.normal(size=5)]

    def summed(*values: float) -> float:
        return sum(w * v for w, v in zip(weights, values, strict=True))

    _, u, freedom = by_library(summed, inputs)
    found = propagated(summed, inputs)
    assert (found.u, found.dof) == pytest.approx((u, freedom), rel=1e-6)
