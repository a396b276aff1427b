"""Student's t against scipy, and against the points printed in the guide to measurement uncertainty."""

import math

import numpy as np
import pytest
from scipy import stats

from inspect_report.mechanics.student import t_quantile, t_tail

DOFS = (0.7, 1.0, 2.0, 3.0, 5.0, 16.0, 25.6, 100.0, 1e4, 1e6)


@pytest.mark.parametrize("dof", DOFS)
def test_quantiles_of_scipy(dof: float) -> None:
    """Points from 1e-6 to 1 - 1e-6 agree to nine figures."""
    for probability in (1e-6, 0.001, 0.025, 0.3, 0.5, 0.75, 0.975, 0.995, 1 - 1e-6):
        expected = stats.t.ppf(probability, dof)
        assert t_quantile(probability, dof) == pytest.approx(expected, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("dof", DOFS)
def test_tails_of_scipy(dof: float) -> None:
    """Tails agree to nine figures on both sides of 0, to eight at a million degrees of freedom."""
    for t in np.linspace(-12.0, 12.0, 49):
        assert t_tail(float(t), dof) == pytest.approx(
            stats.t.sf(t, dof), rel=1e-9 if dof < 1e5 else 1e-8, abs=0.0
        )


def test_endless_freedom_is_the_normal_law() -> None:
    """With infinite degrees of freedom the points are those of the normal law."""
    assert t_quantile(0.975, math.inf) == pytest.approx(stats.norm.ppf(0.975), rel=1e-12)
    assert t_tail(1.5, math.inf) == pytest.approx(stats.norm.sf(1.5), rel=1e-12)


@pytest.mark.parametrize(("probability", "printed"), [(0.995, 2.92), (0.975, 2.12)])
def test_guide_points(probability: float, printed: float) -> None:
    """JCGM 100:2008 table G.2, 16 degrees of freedom (from memory): 2.92 at 99 %, 2.12 at 95 %."""
    assert t_quantile(probability, 16) == pytest.approx(printed, abs=0.005)
