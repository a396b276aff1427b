from collections.abc import Sequence

import pytest

from inspect_report.judge.finding import Finding, Outlying, Verdict
from inspect_report.judge.outliers import outliers
from tests.judge.made import a_finding, at, mm, some_books


def found(values: Sequence[float], u: float = 0.001, axis: str = "cylinder") -> tuple[Outlying, ...]:
    """Outliers among values of one characteristic along an axis."""
    findings = [
        a_finding("bore-wear", Verdict.SERVICEABLE, at(**{axis: n}), quantity=mm(v, u))
        for n, v in enumerate(values, start=1)
    ]
    return outliers(findings, some_books())


def test_the_cylinder_that_stands_out() -> None:
    """Three alike and one far off: found, by the critical value of four (1.4813, two-sided)."""
    (out,) = found([0.020, 0.021, 0.090, 0.020])
    assert (out.characteristic, out.position, out.count) == ("bore-wear", at(cylinder=3), 4)
    assert out.critical == pytest.approx(1.4813, abs=1e-4)
    assert out.statistic > out.critical
    assert out.note == "only 4 values: the test finds gross differences alone"


def test_low_values_stand_out_too() -> None:
    """The test looks both ways."""
    (out,) = found([0.090, 0.089, 0.020, 0.090])
    assert out.position == at(cylinder=3)


def test_published_example() -> None:
    """NIST/SEMATECH e-Handbook 1.3.5.17.1: of eight readings 245.57 stands out, G 2.468765."""
    (out,) = found([199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57], axis="main_journal")
    assert out.position == at(main_journal=8)
    assert out.statistic == pytest.approx(2.468765, abs=1e-6)
    assert out.note == ""


@pytest.mark.parametrize("values", [[0.02, 0.03, 0.025, 0.03], [0.02, 0.09], [0.02, 0.02, 0.02, 0.02]])
def test_ordinary_spread_is_no_outlier(values: list[float]) -> None:
    """Spread alone, two values, or equal ones give none."""
    assert found(values) == ()


def test_one_step_of_the_gauge_is_no_outlier() -> None:
    """Three equal readings and one 0.01 off stand out by arithmetic; by a gauge of 0.01 it is noise."""
    assert found([0.10, 0.10, 0.11, 0.10], u=0.01) == ()
    assert len(found([0.10, 0.10, 0.11, 0.10], u=0.001)) == 1


def test_another_way_to_tell_a_reading_is_not_tested_again() -> None:
    """A characteristic without weight gives no second outlier for the same cylinder."""
    findings = [
        a_finding("leak-flow", Verdict.NO_LIMIT, at(cylinder=n), quantity=mm(v, 0.001))
        for n, v in enumerate([0.020, 0.021, 0.090, 0.020], start=1)
    ]
    assert outliers(findings, some_books()) == ()


def ring(cylinder: int, name: str, gap: float) -> Finding:
    """The end gap of a ring."""
    return a_finding(
        "ring-end-gap", Verdict.SERVICEABLE, at(cylinder=cylinder, ring=name), quantity=mm(gap, 0.001)
    )


def test_only_like_is_held_against_like() -> None:
    """A second ring's larger gap is no outlier among top rings."""
    findings = [ring(n, "top", 0.20 + n / 1000) for n in (1, 2, 3)] + [ring(n, "oil", 0.60) for n in (1, 2)]
    assert outliers(findings, some_books()) == ()
