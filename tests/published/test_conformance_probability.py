"""Conformance probabilities against the examples of JCGM 106:2012 and against scipy's normal law."""

import pytest
from scipy import stats

from inspect_report.mechanics.metrology import combine, probability_inside


def test_both_limits() -> None:
    """JCGM 106:2012 7.4 (inputs seen at metrologyrules.com): 13.6 with 1.8 inside 12.5 to 16.3: 0.66263."""
    assert probability_inside(13.6, 1.8, low=12.5, high=16.3) == pytest.approx(0.66263, abs=1e-5)


def test_upper_limit() -> None:
    """JCGM 106:2012 7.3.3 example 1 (from memory): -5.47 with 0.05 below -5.40: 0.92."""
    assert probability_inside(-5.47, 0.05, high=-5.40) == pytest.approx(0.92, abs=0.005)


def test_lower_limit() -> None:
    """JCGM 106:2012 7.3.3 example 2 (from memory): 509.7 with 8.6 above 490: 0.989."""
    assert probability_inside(509.7, 8.6, low=490.0) == pytest.approx(0.989, abs=0.0005)


@pytest.mark.parametrize(("guard", "risk"), [(2.0, 0.02275), (1.6449, 0.05)])
def test_guard_bands(guard: float, risk: float) -> None:
    """Normal law; ILAC-G8:09/2019 (rule from memory): on the guarded limit 2.275 % or 5 % lie beyond."""
    assert 1.0 - probability_inside(10.0 - guard, 1.0, high=10.0) == pytest.approx(risk, abs=1e-5)


def test_piston_clearance() -> None:
    """Worked: bore u 0.003, piston u 0.002, clearance 0.060 under 0.065 mm."""
    assert probability_inside(0.060, combine([0.003, 0.002]), high=0.065) == pytest.approx(0.9172, abs=1e-4)


@pytest.mark.parametrize("value", [-9.0, -3.0, -0.4, 0.0, 0.5, 1.0, 2.6, 8.0, 30.0])
def test_normal_law_of_scipy(value: float) -> None:
    """Scipy's tails, taken where they lose no digits: equal to eleven figures, far out as well."""
    expected = stats.norm.cdf(0.7, value, 1.0) - stats.norm.cdf(-0.3, value, 1.0)
    mirrored = stats.norm.sf(-0.3, value, 1.0) - stats.norm.sf(0.7, value, 1.0)
    found = probability_inside(value, 1.0, low=-0.3, high=0.7)
    assert found == pytest.approx(expected if value > 0.2 else mirrored, rel=1e-11, abs=0.0)


@pytest.mark.parametrize("dof", [1.0, 2.0, 4.5, 30.0])
@pytest.mark.parametrize("value", [-9.0, 0.1, 0.5, 2.6, 30.0])
def test_few_repeats_by_scipy(value: float, dof: float) -> None:
    """Scipy's Student's t, scaled and shifted, from the tail where it loses no digits: nine figures."""
    law = stats.t(dof, loc=value, scale=0.4)
    expected = law.cdf(0.7) - law.cdf(-0.3) if value > 0.2 else law.sf(-0.3) - law.sf(0.7)
    found = probability_inside(value, 0.4, low=-0.3, high=0.7, dof=dof)
    assert found == pytest.approx(expected, rel=1e-9)
    assert probability_inside(value, 0.4, high=0.7, dof=dof) == pytest.approx(law.cdf(0.7), rel=1e-9)
