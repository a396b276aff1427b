"""The outlier test against the NIST handbook's worked set and against critical values by scipy."""

import math

import pytest
from scipy import stats

from inspect_report.mechanics.outliers import (
    Side,
    grubbs_critical,
    grubbs_statistic,
    grubbs_test,
    scatter_seen_through,
)
from tests.published.figures import rows

MASSES = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]


def test_handbook_set() -> None:
    """NIST/SEMATECH e-Handbook 1.3.5.17.1, data of Tietjen and Moore (numbers seen): G 2.468765."""
    assert grubbs_statistic(MASSES) == pytest.approx(2.468765, abs=1e-6)
    verdict = grubbs_test(MASSES)
    assert verdict is not None
    assert (verdict.index, verdict.is_outlier) == (7, True)


def test_handbook_critical_value_is_one_sided() -> None:
    """The same page prints 2.032 for eight readings: that is the value of one end; both ends have 2.1266."""
    assert grubbs_critical(8, side="high") == pytest.approx(2.032, abs=5e-4)
    assert grubbs_critical(8) == pytest.approx(2.1266, abs=5e-5)


@pytest.mark.parametrize("row", rows("grubbs_critical_values.csv"), ids=lambda row: row["n"])
def test_critical_values(row: dict[str, str]) -> None:
    """
    Three to 24 readings, 5 and 1 %, one end and both; computed with scipy, four decimals.

    A printed table (LibreTexts appendix 7) agrees but for two misprints: n 7 has 2.202 for 2.020, n 15 at 1 %
    has 2.755 for 2.806.
    """
    n = int(row["n"])
    sides: dict[str, Side] = {"two_sided": "both", "one_sided": "low"}
    for words, side in sides.items():
        for alpha in (0.05, 0.01):
            found = grubbs_critical(n, alpha=alpha, side=side)
            assert found == pytest.approx(float(row[f"{words}_{alpha}"]), abs=6e-5)
    assert float(row["max_possible_G"]) == pytest.approx((n - 1) / math.sqrt(n), abs=6e-5)


@pytest.mark.parametrize("n", [3, 4, 8, 50, 500])
def test_critical_values_of_scipy(n: int) -> None:
    """The formula with scipy's t in place of ours, at an odd significance."""
    t = stats.t.isf(0.037 / (2 * n), n - 2)
    expected = (n - 1) / math.sqrt(n) * math.sqrt(t * t / (n - 2 + t * t))
    assert grubbs_critical(n, alpha=0.037) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("n", [3, 4, 5, 8, 24])
def test_scatter_that_still_lets_one_be_seen(n: int) -> None:
    """A set built with just that scatter sits on scipy's critical value; with a hair more, below it."""
    t = stats.t.isf(0.05 / (2 * n), n - 2)
    critical = (n - 1) / math.sqrt(n) * math.sqrt(t * t / (n - 2 + t * t))
    rest = stats.norm.ppf([(i + 0.5) / (n - 1) for i in range(n - 1)])
    rest = (rest - rest.mean()) / rest.std(ddof=1)
    for more, seen in ((0.999, True), (1.001, False)):
        odd = [*(scatter_seen_through(n) * more * rest), 1.0]
        statistic = (1.0 - sum(odd) / n) / stats.tstd(odd)
        assert (statistic > critical) == seen
        verdict = grubbs_test(odd)
        assert verdict is not None
        assert (verdict.index, verdict.is_outlier) == (n - 1, seen)
