"""Uncertainty against the guide's end-gauge example and against the general library `uncertainties`."""

import math

import pytest
from scipy import stats
from uncertainties import ufloat
from uncertainties import wrap as wrapped

from inspect_report.mechanics.gasflow import equivalent_leak_bore
from inspect_report.mechanics.metrology import (
    TWO_SIGMA,
    combine,
    contributions,
    coverage_factor,
    expanded,
    u_from_permissible_error,
    u_from_repeats,
    u_from_resolution,
    welch_satterthwaite,
)
from inspect_report.mechanics.student import t_quantile

# JCGM 100:2008 annex H.1 (numbers seen in three public test suites), lengths in nanometres.
GAUGE_VALUES = [50_000_623.0, 215.0, 0.0, -0.1, 11.5e-6, 0.0]
GAUGE_US = [25.0, 9.7, 0.58e-6, 0.41, 1.2e-6, 0.029]
GAUGE_DOFS = [18.0, 25.6, 50.0, math.inf, math.inf, 2.0]


def end_gauge(
    standard: float, difference: float, d_alpha: float, theta: float, alpha: float, d_theta: float
) -> float:
    """Length of the gauge, as the annex models it."""
    return standard + difference - standard * (d_alpha * theta + alpha * d_theta)


def test_rectangular_law() -> None:
    """JCGM 100:2008 4.3.7 (from memory): half-width 0.40e-6 gives 0.23e-6, variance 53.3e-15."""
    assert u_from_permissible_error(0.40) == pytest.approx(0.23, rel=0.01)
    assert u_from_permissible_error(0.40) ** 2 == pytest.approx(53.3e-3, rel=1e-3)


def test_resolution() -> None:
    """JCGM 100:2008 F.2.2.1 (from memory): 0.29 of the step."""
    assert u_from_resolution(1.0) == pytest.approx(0.29, abs=0.005)


def test_repeats() -> None:
    """JCGM 100:2008 H.1.3.2 (seen in test suites): five readings with deviation 13 nm give 5.8 nm."""
    unit = math.sqrt(2.5)  # standard deviation of the five readings below
    readings = [13.0 / unit * step for step in (-2.0, -1.0, 0.0, 1.0, 2.0)]
    assert u_from_repeats(readings) == pytest.approx(5.8, abs=0.02)


def test_parts_of_the_difference() -> None:
    """JCGM 100:2008 H.1.3.2: 5.8, 3.9 and 6.7 nm combine to 9.7 nm."""
    assert combine([5.8, 3.9, 6.7]) == pytest.approx(9.68, abs=0.02)


def test_end_gauge() -> None:
    """
    JCGM 100:2008 H.1: length 50.000838 mm, u 32 nm from 25, 9.7, 2.9 and 16.6 nm.

    The text's 16.6 is 16.68 from its own unrounded inputs.
    """
    assert end_gauge(*GAUGE_VALUES) == pytest.approx(50_000_838.0, abs=0.5)
    parts = [abs(part) for part in contributions(end_gauge, GAUGE_VALUES, GAUGE_US)]
    assert parts == pytest.approx([25.0, 9.7, 2.9, 0.0, 0.0, 16.68], abs=0.05)
    assert combine(parts) == pytest.approx(31.71, abs=0.01)


def test_end_gauge_expanded() -> None:
    """JCGM 100:2008 H.1.6: 16 effective degrees of freedom, k 2.92, U99 93 nm."""
    parts = [abs(part) for part in contributions(end_gauge, GAUGE_VALUES, GAUGE_US)]
    freedom = welch_satterthwaite(parts, GAUGE_DOFS)
    assert math.floor(freedom) == 16
    coverage = t_quantile(0.995, math.floor(freedom))
    assert expanded(combine(parts), coverage=coverage) == pytest.approx(93.0, abs=0.5)


def test_first_order_has_its_limits() -> None:
    """JCGM 100:2008 H.1.7: second-order terms of 11.9 and 1.7 nm would make 34 nm: the docstring warns."""
    assert math.hypot(*contributions(end_gauge, GAUGE_VALUES, GAUGE_US)) < 33.0
    assert combine([31.71, 11.9, 1.7]) == pytest.approx(33.9, abs=0.1)


def test_leak_bore_as_the_library_has_it() -> None:
    """`uncertainties` on the same formula, gauges 3 and 2 kPa, orifice 5 um: the same to five figures."""

    def bore(supply: float, cylinder: float, tester: float) -> float:
        return equivalent_leak_bore(supply, cylinder, tester_bore=tester)

    values, us = [6e5, 5.1e5, 1e-3], [3e3, 2e3, 5e-6]
    expected = wrapped(bore)(*(ufloat(value, u) for value, u in zip(values, us, strict=True))).std_dev
    assert math.hypot(*contributions(bore, values, us, step=1e-3)) == pytest.approx(expected, rel=1e-5)
    # With the step of one standard uncertainty the curvature of the formula shows, by less than one percent.
    assert math.hypot(*contributions(bore, values, us)) == pytest.approx(expected, rel=0.01)


@pytest.mark.parametrize(
    ("dof", "printed"),
    [
        (1, 13.97), (2, 4.53), (3, 3.31), (4, 2.87), (5, 2.65), (6, 2.52), (7, 2.43), (8, 2.37), (10, 2.28),
        (20, 2.13), (50, 2.05), (math.inf, 2.00),
    ],
)  # fmt: skip
def test_coverage_factors(dof: float, printed: float) -> None:
    """JCGM 100:2008 table G.2 and EA-4/02 table E.1, column 95.45 % (from memory): to the last digit."""
    assert coverage_factor(dof) == pytest.approx(printed, abs=0.005)
    assert coverage_factor(dof) == pytest.approx(stats.t.ppf((1 + TWO_SIGMA) / 2, dof), rel=1e-9)
