from collections.abc import Sequence

import pytest

from inspect_report.judge.finding import Compared, Finding, Outlying, Verdict
from inspect_report.judge.outliers import compared, outliers, what_few_tell
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
    assert out.note == (
        "4 values decide little: one stands out only where the others scatter by less than"
        " 9.8 % of its distance from them"
    )
    assert out.significance == 0.05


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


def held(values: Sequence[float], u: float = 0.001) -> tuple[Compared, ...]:
    """What was held against each other among values of one characteristic, cylinder by cylinder."""
    findings = [
        a_finding("bore-wear", Verdict.SERVICEABLE, at(cylinder=n), quantity=mm(v, u))
        for n, v in enumerate(values, start=1)
    ]
    return compared(findings, some_books())


def test_a_set_without_an_outlier_is_told_too() -> None:
    """Tested and none found is not the same as not tested: the statistic and what four can tell."""
    (one,) = held([0.02, 0.03, 0.025, 0.03])
    assert (one.characteristic, one.axes, one.count, one.stands_out) == ("bore-wear", ("cylinder",), 4, False)
    assert one.statistic is not None
    assert one.critical is not None
    assert one.critical == pytest.approx(1.4813, abs=1e-4)
    assert one.statistic < one.critical
    assert one.note.startswith("4 values decide little")


def test_a_set_with_an_outlier_says_so() -> None:
    """The same set is told once as outlier and once as compared, with one statistic."""
    (one,), (out,) = held([0.020, 0.021, 0.090, 0.020]), found([0.020, 0.021, 0.090, 0.020])
    assert (one.stands_out, one.statistic) == (True, out.statistic)
    (blurred,) = held([0.10, 0.10, 0.11, 0.10], u=0.01)
    assert not blurred.stands_out


def test_two_are_too_few_and_one_is_no_set() -> None:
    """Two cylinders have no test, which is said; one is compared with nothing."""
    (one,) = held([0.02, 0.09])
    assert (one.statistic, one.critical, one.stands_out) == (None, None, False)
    assert one.note == "2 values are too few for an outlier test"
    assert held([0.02]) == ()


def test_many_values_need_no_caution() -> None:
    """From six values on the test has something to go by; five still decide little."""
    assert what_few_tell(6) == ""
    assert what_few_tell(5).startswith("5 values decide little")
    assert "2.1 %" in what_few_tell(3)


@pytest.mark.parametrize(("u", "real"), [(0.0103, True), (0.0105, False)])
def test_difference_is_real_beyond_twice_its_uncertainty(u: float, real: bool) -> None:
    """0.024 against the mean of three: its doubt is u √(1 + 1/3), and twice that is 0.0238 or 0.0242."""
    assert bool(found([0.100, 0.100, 0.124, 0.100], u=u)) == real
