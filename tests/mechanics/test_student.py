"""Student's t: symmetry and the closed forms of one and two degrees of freedom."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.student import t_quantile, t_tail


@given(probability=st.floats(1e-6, 1 - 1e-6))
def test_one_degree_of_freedom_is_a_tangent(probability: float) -> None:
    """With one degree of freedom the quantile is tan(pi (p - 1/2))."""
    expected = math.tan(math.pi * (probability - 0.5))
    assert t_quantile(probability, 1.0) == pytest.approx(expected, rel=1e-8, abs=1e-9)


@given(t=st.floats(-50.0, 50.0))
def test_two_degrees_of_freedom_have_a_root(t: float) -> None:
    """With two degrees of freedom the tail is (1 - t / sqrt(2 + t^2)) / 2."""
    assert t_tail(t, 2.0) == pytest.approx((1.0 - t / math.sqrt(2.0 + t * t)) / 2.0, abs=1e-12)


@given(probability=st.floats(1e-5, 1 - 1e-5), dof=st.floats(0.5, 500.0))
def test_quantile_and_tail_undo_each_other(probability: float, dof: float) -> None:
    """The tail above a quantile is what the quantile leaves."""
    assert t_tail(t_quantile(probability, dof), dof) == pytest.approx(1.0 - probability, rel=1e-8)


@pytest.mark.parametrize("probability", [0.0, 1.0, -0.1, 1.5])
def test_probability_lies_between_0_and_1(probability: float) -> None:
    """Neither end has a finite quantile."""
    with pytest.raises(OutOfRange, match="probability"):
        t_quantile(probability, 5.0)


def test_no_freedom_at_all() -> None:
    """Degrees of freedom are above 0."""
    with pytest.raises(OutOfRange, match="dof"):
        t_tail(1.0, 0.0)
