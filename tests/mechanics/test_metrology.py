"""Uncertainty: edges of a formula's range, and values without doubt."""

import math
from collections.abc import Callable, Sequence
from operator import sub

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.gasflow import equivalent_leak_bore, leak_percent
from inspect_report.mechanics.metrology import (
    combine,
    contributions,
    coverage_factor,
    probability_inside,
    u_from_repeats,
    welch_satterthwaite,
)


def doubt_of(formula: Callable[..., float], values: Sequence[float], us: Sequence[float]) -> float:
    """Standard uncertainty of a formula's result."""
    return math.hypot(*contributions(formula, values, us))


def test_difference_is_taken_inside_the_range() -> None:
    """At 0 % leak the cylinder cannot be above the supply: the side on which the formula holds counts."""
    assert doubt_of(leak_percent, [6e5, 6e5], [0.0, 3e3]) == pytest.approx(0.5, rel=1e-9)
    assert doubt_of(leak_percent, [6e5, 6e5], [3e3, 0.0]) == pytest.approx(0.4975, rel=1e-4)


def test_steep_edge_gives_a_finite_uncertainty() -> None:
    """The bore's slope is endless at 0 leak; one uncertainty's step gives the bore that would pass unseen."""

    def bore(cylinder: float) -> float:
        return equivalent_leak_bore(6e5, cylinder, tester_bore=1e-3)

    assert doubt_of(bore, [6e5], [3e3]) == pytest.approx(bore(6e5 - 3e3), rel=1e-12)


def test_formula_that_holds_nowhere_says_so() -> None:
    """The formula's own error comes through."""
    with pytest.raises(OutOfRange, match="p_supply"):
        contributions(leak_percent, [-6e5, 5e5], [1e3, 1e3])


def test_formula_that_holds_only_here_says_so() -> None:
    """A range narrower than the uncertainty has no difference to take."""

    def narrow(x: float) -> float:
        if x != 1.0:
            raise OutOfRange("x", x, 1.0, 1.0, "1")
        return x

    with pytest.raises(OutOfRange, match=r"x: found 1\.5"):
        contributions(narrow, [1.0], [0.5])


@given(us=st.lists(st.floats(0.0, 10.0), min_size=2, max_size=6))
def test_combined_doubt_lies_between_the_largest_and_the_sum(us: list[float]) -> None:
    """Root of squares is never below the largest nor above the sum."""
    assert max(us) * (1 - 1e-12) <= combine(us) <= sum(us) * (1 + 1e-12)


def test_sum_propagates_as_root_of_squares() -> None:
    """For a plain sum the two ways are one."""
    us = [0.3, 0.4, 1.2]
    assert doubt_of(lambda a, b, c: a + b + c, [1.0, 2.0, 3.0], us) == pytest.approx(combine(us), rel=1e-12)


def test_single_reading_tells_nothing_of_repeats() -> None:
    """Two readings are the least."""
    with pytest.raises(OutOfRange, match="number of values"):
        u_from_repeats([3.0])


def test_exactly_known_parts_have_endless_freedom() -> None:
    """Where nothing is estimated from a few readings, freedom is infinite."""
    assert welch_satterthwaite([1.0, 2.0], [math.inf, math.inf]) == math.inf
    assert welch_satterthwaite([0.0, 3.0], [2.0, 7.0]) == pytest.approx(7.0)


@pytest.mark.parametrize(
    ("value", "limits", "inside"),
    [
        (5.0, {"high": 5.0}, 1.0),
        (5.1, {"high": 5.0}, 0.0),
        (5.0, {"low": 5.0}, 1.0),
        (4.9, {"low": 5.0, "high": 6.0}, 0.0),
        (5.5, {"low": 5.0, "high": 6.0}, 1.0),
    ],
)
def test_no_doubt_leaves_two_answers(value: float, limits: dict[str, float], inside: float) -> None:
    """Without uncertainty a value is inside or not, the limit itself inside."""
    assert probability_inside(value, 0.0, **limits) == inside


@given(value=st.floats(-5.0, 5.0), u=st.floats(0.01, 3.0), limit=st.floats(-5.0, 5.0))
def test_inside_and_outside_make_one(value: float, u: float, limit: float) -> None:
    """Below a limit and above it are all there is; on the limit the chances are even."""
    below, above = probability_inside(value, u, high=limit), probability_inside(value, u, low=limit)
    assert below + above == pytest.approx(1.0, abs=1e-12)
    assert probability_inside(limit, u, high=limit) == 0.5


def test_no_limit_is_no_conformance() -> None:
    """Without a limit there is nothing to conform to: an error, never 1."""
    with pytest.raises(OutOfRange, match="number of limits: found 0"):
        probability_inside(1.0, 0.1)


def test_limits_the_wrong_way_round() -> None:
    """An upper limit below the lower one is refused."""
    with pytest.raises(OutOfRange, match="high: found 1, allowed at least 2"):
        probability_inside(1.0, 0.1, low=2.0, high=1.0)


def test_contributions_keep_their_sign() -> None:
    """A difference takes the second input away."""
    np.testing.assert_allclose(contributions(sub, [3.0, 1.0], [0.2, 0.1]), [0.2, -0.1], rtol=1e-12)


@pytest.mark.parametrize("dof", [1.0, 2.0, 4.5, 20.0, 210.0])
def test_few_repeats_ask_for_more_standard_uncertainties(dof: float) -> None:
    """The factor lies above 2, falls as freedom grows, and covers what it says by Student's t."""
    k = coverage_factor(dof)
    assert k > coverage_factor(2 * dof) > 2.0
    assert probability_inside(0.0, 1.0, low=-k, high=k, dof=dof) == pytest.approx(0.9544997, abs=1e-6)


@pytest.mark.parametrize("bad", [0.0, 1.0, math.nan])
def test_certainty_has_no_factor(bad: float) -> None:
    """Nothing covers everything."""
    with pytest.raises(OutOfRange, match="probability"):
        coverage_factor(3.0, probability=bad)


def test_few_repeats_make_a_value_less_surely_inside() -> None:
    """By t with two degrees of freedom one standard uncertainty of room says less than by the normal law."""
    assert probability_inside(9.0, 1.0, high=10.0, dof=2.0) < probability_inside(9.0, 1.0, high=10.0)
    with pytest.raises(OutOfRange, match="dof: found 0"):
        probability_inside(9.0, 1.0, high=10.0, dof=0.0)


def test_contributions_keep_their_sign_at_an_edge() -> None:
    """With both gauges alike the supply can only be more, the cylinder only less: +0.4975 and -0.5 %."""
    parts = contributions(leak_percent, [6e5, 6e5], [3e3, 3e3])
    np.testing.assert_allclose(parts, [300.0 / 603.0, -0.5], rtol=1e-9)
