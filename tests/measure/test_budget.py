"""Checks what a formula's budget says of its inputs, against sums done by hand."""

from math import hypot, inf, sqrt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.knowledge.shelf import load
from inspect_report.measure.budget import as_it_stands, coverage, expanded, propagated
from inspect_report.measure.derived import BudgetLine
from inspect_report.measure.measuring import measure
from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics.errors import OutOfRange, require
from inspect_report.records.quantity import Quantity
from tests.samples import SAMPLES, sample_inspections


def difference(a: float, b: float) -> float:
    """One less the other."""
    return a - b


def test_shared_error_cancels_in_a_difference() -> None:
    """A difference of two readings of one gauge keeps only what is each one's own."""
    one, other = Input(5.0, 0.1, 0.4, "g"), Input(3.0, 0.1, 0.4, "g")
    assert propagated(difference, (one, other)).u == pytest.approx(sqrt(0.1**2 + 0.1**2))


def test_shared_error_adds_up_in_a_sum() -> None:
    """A sum of two readings of one gauge carries its error twice."""
    one, other = Input(5.0, 0.1, 0.4, "g"), Input(3.0, 0.1, 0.4, "g")
    assert propagated(lambda a, b: a + b, (one, other)).u == pytest.approx(sqrt(2 * 0.1**2 + 0.8**2))


def test_errors_of_two_gauges_do_not_cancel() -> None:
    """A clearance between two instruments carries the errors of both."""
    one, other = Input(5.0, 0.1, 0.4, "g"), Input(3.0, 0.1, 0.3, "h")
    expected = sqrt(0.1**2 + 0.4**2 + 0.1**2 + 0.3**2)
    assert propagated(difference, (one, other)).u == pytest.approx(expected)


def test_equal_readings_do_not_make_a_sure_range() -> None:
    """The range of two equal readings is 0, and as unsure as any other difference of them."""
    pair = (Input(5.0, 0.1), Input(5.0, 0.1))
    found = propagated(lambda *x: max(x) - min(x), pair, picks=True)
    assert found.value == 0.0
    assert found.u == pytest.approx(0.1 * sqrt(2), rel=1e-3)


def test_formula_out_of_its_range_says_so() -> None:
    """A formula that does not hold is not hidden by propagation."""

    def positive(x: float) -> float:
        require("x", x, "m", above=0.0)
        return x

    with pytest.raises(OutOfRange, match="x: found -1 m"):
        propagated(positive, (Input(-1.0, 0.1),))


def test_gauge_of_both_parts_of_a_difference_stands_in_the_budget_and_adds_nothing() -> None:
    """One line for the gauge, its sensitivities taken together: +1 and -1 are 0."""
    one, other = Input(5.0, 0.1, 0.4, "g", name="a"), Input(3.0, 0.1, 0.4, "g", name="b")
    budget = propagated(difference, (one, other)).budget
    assert [(line.name, line.cause) for line in budget] == [
        ("a", "resolution"), ("b", "resolution"), ("g", "permissible error"),
    ]  # fmt: skip
    assert budget[2] == BudgetLine("g", "permissible error", None, 0.4, "", 0.0, 0.0, None)


def test_gauge_read_against_its_scale_errs_with_the_other_sign() -> None:
    """Half the difference of two edges, one counted against the scale: the disc's error comes in whole."""
    one, other = Input(38.5, 0.0, 0.3, "disc"), Input(9.5, 0.0, 0.3, "disc", mirrored=True)
    (line,) = propagated(lambda a, b: (a - b) / 2.0, (one, other)).budget
    assert (line.sensitivity, line.contribution) == pytest.approx((1.0, 0.3))


def test_line_of_a_budget_is_sensitivity_times_uncertainty() -> None:
    """a·b² at 3 and 2: 4 and 12 for each; u 0.01 and 0.005 add 0.04 and 0.06; together 0.07211."""
    found = propagated(lambda a, b: a * b * b, (Input(3.0, 0.01, name="a"), Input(2.0, 0.005, name="b")))
    assert [line.sensitivity for line in found.budget] == pytest.approx([4.0, 12.0])
    assert [line.contribution for line in found.budget] == pytest.approx([0.04, 0.06])
    assert [line.value for line in found.budget] == [3.0, 2.0]
    assert found.quantity("area") == Quantity(12.0, found.u, "area", None)
    assert found.u == pytest.approx(0.0721110)


def test_reading_that_plays_no_part_has_no_line() -> None:
    """The greatest of three hangs on one of them."""
    three = [Input(v, 0.1, name=str(v)) for v in (1.0, 5.0, 3.0)]
    found = propagated(max, three, picks=True)
    assert [line.name for line in found.budget] == ["5.0"]


def test_few_repeats_limit_what_is_known_of_the_doubt() -> None:
    """
    Scatter 0.03 of three repeats beside 0.04 known well: u 0.05, and 2·(0.05/0.03)⁴ = 15.43 of freedom.

    Student's t at 95.45 per cent with 15.43 degrees of freedom is 2.176 (scipy): U is 0.1088, not 0.1.
    """
    found = propagated(difference, (Input(9.0, 0.04, scatter=0.03, repeats=3), Input(1.0)))
    assert (found.u, found.dof) == pytest.approx((0.05, 15.4321), rel=1e-5)
    assert coverage(found.quantity("length")) == pytest.approx(2.1757, abs=1e-4)
    assert expanded(found.quantity("length")) == pytest.approx(0.10878, abs=1e-5)


def test_one_thing_at_several_places_scatters() -> None:
    """
    Lengths 1.00, 1.02, 1.04 enter as their mean: s 0.02, over √3 0.011547, two degrees of freedom.

    Each has a step of 0.003, which adds a third of it: 0.003/√3 = 0.0017321 together; u 0.011676.
    """
    lengths = [Input(v, 0.003, name=f"length.{v}") for v in (1.00, 1.02, 1.04)]
    found = propagated(lambda *x: sum(x) / 3.0, lengths, alike=(0, 1, 2))
    assert found.u == pytest.approx(0.0116762, rel=1e-5)
    (scatter,) = (line for line in found.budget if line.cause == "scatter")
    assert (scatter.name, scatter.dof) == ("length, 3 places", 2.0)
    assert scatter.u == pytest.approx(0.0115470)
    assert found.dof == pytest.approx(2.0 * (0.0116762 / 0.0115470) ** 4, rel=1e-4)


def test_one_place_has_no_scatter_over_places() -> None:
    """Of a single length no scatter is known, and none is made up."""
    assert propagated(lambda x: x, [Input(1.0, 0.003)], alike=(0,)).u == pytest.approx(0.003)


def test_without_doubt_there_is_no_budget() -> None:
    """Counts are exact: no line, no uncertainty, no degrees of freedom, k = 2."""
    found = propagated(difference, (Input(20.0), Input(3.0)))
    assert (found.value, found.u, found.dof, found.budget) == (17.0, 0.0, None, ())
    assert coverage(found.quantity("count")) == 2.0


def test_doubt_known_to_a_million_degrees_is_known() -> None:
    """Scatter that is almost nothing beside the gauge leaves the normal law."""
    found = propagated(difference, (Input(9.0, 0.1, scatter=0.001, repeats=2), Input(1.0)))
    assert found.dof is None


def test_reading_as_it_stands_has_its_own_budget() -> None:
    """Step, repeats and gauge, each with sensitivity 1 exactly."""
    found = as_it_stands(Input(67.0, 0.3, 1.7, "gauge", scatter=0.6, repeats=3, name="r", dimension="length"))
    assert [(b.cause, b.sensitivity, b.u, b.dof) for b in found.budget] == [
        ("resolution", 1.0, 0.3, None), ("repeats", 1.0, 0.6, 2.0), ("permissible error", 1.0, 1.7, None),
    ]  # fmt: skip
    assert found.u == pytest.approx(sqrt(0.3**2 + 0.6**2 + 1.7**2))


@given(
    st.lists(st.tuples(st.floats(-9, 9), st.floats(0, 0.5), st.floats(0, 0.5)), min_size=2, max_size=5),
    st.lists(st.floats(-3, 3), min_size=5, max_size=5),
)
def test_budget_of_a_weighted_sum_is_the_sum_of_squares(
    read: list[tuple[float, float, float]], weights: list[float]
) -> None:
    """Own parts by root sum of squares, the one gauge's part by plain sum: exact for a straight formula."""
    inputs = [Input(v, step, shared, "g" if shared else "") for v, step, shared in read]
    found = propagated(lambda *x: sum(w * v for w, v in zip(weights, x, strict=False)), inputs)
    own = hypot(*(w * i.step for w, i in zip(weights, inputs, strict=False)))
    shared = sum(w * i.shared for w, i in zip(weights, inputs, strict=False))
    assert found.u == pytest.approx(hypot(own, shared), rel=1e-6, abs=1e-6)


@pytest.mark.parametrize("path", sample_inspections(), ids=lambda p: str(p.relative_to(SAMPLES)))
def test_every_quantity_of_the_samples_has_a_budget_that_adds_up(path: Path) -> None:
    """Root sum of squares of the lines is the uncertainty told, and each line is its two factors' product."""
    quantities = measure(load(path)).quantities
    assert any(derived.budget for derived in quantities)
    for derived in quantities:
        lines = derived.budget
        assert hypot(*(b.contribution for b in lines)) == pytest.approx(derived.quantity.u, rel=1e-9), (
            derived.id
        )
        assert all(b.contribution == pytest.approx(b.sensitivity * b.u, rel=1e-9) for b in lines), derived.id
        assert (derived.quantity.dof or inf) > 0.0


def test_places_scatter_also_where_each_reading_is_exact() -> None:
    """Two exact lengths of one thing, 1.0 and 1.2: s 0.1414, over √2 their mean is doubtful by 0.1."""
    found = propagated(lambda a, b: (a + b) / 2.0, (Input(1.0), Input(1.2)), alike=(0, 1))
    assert found.value == pytest.approx(1.1)
    assert found.u == pytest.approx(0.1)
    assert [line.cause for line in found.budget] == ["scatter"]
