"""The outlier test on engines of one to many cylinders."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.outliers import GrubbsTest, grubbs_critical, grubbs_statistic, grubbs_test


@pytest.mark.parametrize("values", [[5.0], [5.0, 90.0]])
def test_fewer_than_three_are_not_tested(values: list[float]) -> None:
    """One or two cylinders give no test, which is not the same as a passed one."""
    assert grubbs_test(values) is None
    with pytest.raises(OutOfRange, match="number of values"):
        grubbs_statistic(values)


def test_one_tired_cylinder_of_four() -> None:
    """Three cylinders nearly alike and one far off: it is found, at its place."""
    verdict = grubbs_test([3.0, 12.5, 3.1, 2.9])
    assert verdict is not None
    assert (verdict.index, verdict.is_outlier) == (1, True)


def test_scatter_is_no_outlier() -> None:
    """Four cylinders spread evenly: the farthest is named, and not an outlier."""
    verdict = grubbs_test([3.0, 4.0, 5.0, 6.5])
    assert verdict is not None
    assert (verdict.index, verdict.is_outlier) == (3, False)


def test_critical_value_itself_is_no_outlier() -> None:
    """Only a statistic above the critical value stands apart."""
    verdicts = [GrubbsTest(0, statistic, 2.0).is_outlier for statistic in (1.99, 2.0, 2.01)]
    assert verdicts == [False, False, True]


@pytest.mark.parametrize("value", [0.0, 0.1, 1e5])
def test_equal_readings_have_no_outlier(value: float) -> None:
    """Equal readings have no spread and nothing stands apart, whatever floats leave over."""
    verdict = grubbs_test([value] * 6)
    assert verdict is not None
    assert (verdict.statistic, verdict.is_outlier) == (0.0, False)


def test_one_side_sees_one_side() -> None:
    """A high reading is nothing to a test for low ones."""
    values = [3.0, 12.5, 3.1, 2.9, 3.05]
    low, high = grubbs_test(values, side="low"), grubbs_test(values, side="high")
    assert low is not None
    assert high is not None
    assert (low.is_outlier, high.is_outlier) == (False, True)


@given(
    values=st.lists(st.integers(-999, 999), min_size=3, max_size=12, unique=True), shift=st.integers(-99, 99)
)
def test_statistic_ignores_where_zero_lies(values: list[int], shift: int) -> None:
    """Gauge or absolute, the reading that stands apart stands apart; and never beyond (n - 1) / sqrt n."""
    found = grubbs_statistic([float(value) for value in values])
    assert found == pytest.approx(grubbs_statistic([float(value + shift) for value in values]), rel=1e-9)
    assert found <= (len(values) - 1) / len(values) ** 0.5 * (1 + 1e-12)


@pytest.mark.parametrize("alpha", [0.0, 1.0])
def test_significance_lies_between_0_and_1(alpha: float) -> None:
    """A chance of 0 or 1 is no significance."""
    with pytest.raises(OutOfRange, match="alpha"):
        grubbs_critical(5, alpha=alpha)


def test_one_sided_statistic_is_the_distance_itself() -> None:
    """Looked at from the side it lies on, the farthest reading is as far as from both: 1.5 of four."""
    high, low = [0.0, 0.0, 0.0, 4.0], [0.0, 0.0, 0.0, -4.0]
    assert grubbs_statistic(high, side="high") == pytest.approx(1.5, rel=1e-12)
    assert grubbs_statistic(low, side="low") == pytest.approx(1.5, rel=1e-12)
