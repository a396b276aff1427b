"""Straight lines and their bands against certified and printed results, and against numpy."""

import numpy as np
import pytest
from scipy import stats

from inspect_report.mechanics.student import t_quantile
from inspect_report.mechanics.trend import crossing, prediction, straight_line
from tests.published.figures import column, rows


def test_certified_line() -> None:
    """NIST StRD Norris, certified to 15 figures (as held in several public test suites): 1e-9."""
    line = straight_line(column("nist_norris.csv", "x"), column("nist_norris.csv", "y"))
    assert line.intercept == pytest.approx(-0.262323073774029, rel=1e-9)
    assert line.slope == pytest.approx(1.00211681802045, rel=1e-9)
    assert line.u_intercept == pytest.approx(0.232818234301152, rel=1e-9)
    assert line.u_slope == pytest.approx(0.000429796848199937, rel=1e-9)
    assert line.deviation == pytest.approx(0.884796396144373, rel=1e-9)


@pytest.mark.parametrize(
    ("x", "value", "reading", "mean"),
    [
        (500, 500.796, 1.82429, 0.30789),
        (1000, 1001.854, 1.89220, 0.58923),
        (1100, 1102.066, 1.91747, 0.66591),
    ],
)
def test_bands_of_the_certified_line(x: float, value: float, reading: float, mean: float) -> None:
    """The same data by a general statistics library, 95 %: band of a reading, then of the line itself."""
    line = straight_line(column("nist_norris.csv", "x"), column("nist_norris.csv", "y"))
    one, whole = prediction(line, x), prediction(line, x, weight=np.inf)
    assert one.value == pytest.approx(value, abs=6e-4)
    assert (one.high - one.low) / 2 == pytest.approx(reading, abs=1e-5)
    assert (whole.high - whole.low) / 2 == pytest.approx(mean, abs=1e-5)


def test_textbook_calibration() -> None:
    """Berthouex and Brown ch. 34 (seen): y = 0.566 + 139.759 x, s2 1.194; the digits printed."""
    line = straight_line(
        column("dye_calibration.csv", "dye_conc"), column("dye_calibration.csv", "peak_area")
    )
    assert line.intercept == pytest.approx(0.566, abs=5e-4)
    assert line.slope == pytest.approx(139.759, abs=5e-4)
    assert line.deviation**2 == pytest.approx(1.194, abs=5e-4)
    assert (line.u_intercept, line.u_slope) == pytest.approx((0.47345, 2.88904), abs=1e-5)


@pytest.mark.parametrize(
    ("x", "low", "high"), [(0.20, 26.043, 30.993), (0.35, 46.689, 52.275), (0.40, 53.512, 59.428)]
)
def test_bands_of_the_textbook_calibration(x: float, low: float, high: float) -> None:
    """The same data by a general statistics library, 95 %; three decimals."""
    line = straight_line(
        column("dye_calibration.csv", "dye_conc"), column("dye_calibration.csv", "peak_area")
    )
    band = prediction(line, x)
    assert (band.low, band.high) == pytest.approx((low, high), abs=1e-3)


def test_navy_leak_line() -> None:
    """NAVFAC MO-209 p. 0127 (seen): Q = 0.62 P - 12.75, 47 scfm at 96 psig."""
    line = straight_line(column("leak_decay.csv", "average_psig"), column("leak_decay.csv", "loss_scfm"))
    assert line.slope == pytest.approx(0.62, abs=0.005)
    assert line.intercept == pytest.approx(-12.75, abs=0.005)
    assert prediction(line, 96).value == pytest.approx(47, abs=0.5)


def test_weighted_line_of_numpy() -> None:
    """Numpy's polynomial fit takes the square root of the weights; line and errors agree to ten figures."""
    x, y, w = (
        np.array([0.0, 8.0, 20.0, 31.0, 44.0]),
        np.array([1.0, 1.5, 3.2, 3.9, 6.0]),
        np.array([1, 0.3, 2, 1, 0.7]),
    )
    (slope, intercept), covariance = np.polyfit(x, y, 1, w=np.sqrt(w), cov=True)
    line = straight_line(x, y, weights=w)
    assert (line.slope, line.intercept) == pytest.approx((slope, intercept), rel=1e-10)
    assert (line.u_slope, line.u_intercept) == pytest.approx(np.sqrt(covariance.diagonal()), rel=1e-10)


def test_life_from_a_line_is_too_long_when_wear_speeds_up() -> None:
    """
    Crack growth of Lu and Meeker, Technometrics 35 (1993), twelve specimens run to failure at 1.60 in.

    A line through the readings up to 0.06 million cycles sees failure 34 to 78 % too late (by numpy);
    the warning in the docstring stands on this.
    """
    ratios = []
    for specimen in range(1, 13):
        path = [row for row in rows("crack_growth.csv") if int(row["Path"]) == specimen]
        cycles, length = (np.array([float(row[name]) for row in path]) for name in ("cycles", "a_in"))
        early = cycles <= 0.06 + 1e-9
        met = crossing(straight_line(cycles[early], length[early]), 1.60)
        assert met.x is not None
        ratios.append(met.x / np.interp(1.60, length, cycles))
    assert min(ratios) == pytest.approx(1.34, abs=0.01)
    assert max(ratios) == pytest.approx(1.78, abs=0.01)


def test_certified_coefficients_of_many_regressors() -> None:
    """
    NIST StRD Longley: of six regressors each coefficient is the slope of what the others leave of both.

    Our line knows one regressor; numpy takes the others out first. Certified 15.0618722713733 for the price
    index and 1829.15146461355 for the year, residual deviation 304.854074 with nine degrees of freedom. The
    data are known to cost seven digits: 1e-7.
    """
    names = ("gnpdefl", "gnp", "unemp", "armed", "pop", "year")
    data = np.array([column("longley.csv", name) for name in names]).T
    total = np.array(column("longley.csv", "totemp"))
    for name, certified in (("gnpdefl", 15.0618722713733), ("year", 1829.15146461355)):
        kept = names.index(name)
        others = np.column_stack([np.ones(len(total)), np.delete(data, kept, axis=1)])
        others[:, 1:] -= others[:, 1:].mean(axis=0)
        left = [y - others @ np.linalg.lstsq(others, y, rcond=None)[0] for y in (data[:, kept], total)]
        line = straight_line(*left)
        assert line.slope == pytest.approx(certified, rel=1e-7)
        assert line.deviation * (line.dof / 9) ** 0.5 == pytest.approx(304.854074, rel=1e-7)


def test_next_of_ten() -> None:
    """Lecture notes (gradebuddy.com 43292, seen): ten readings of deviation 25: the next within 59, 95 %."""
    assert t_quantile(0.975, 9) * 25 * 1.1**0.5 == pytest.approx(59, abs=0.5)


def test_specimens_that_reach_failure() -> None:
    """Crack growth of Lu and Meeker: 21 specimens, 262 points, 12 reach 1.60 in, one at 0.0875 million."""
    table = rows("crack_growth.csv")
    paths = {int(row["Path"]): [r for r in table if r["Path"] == row["Path"]] for row in table}
    failed = {n: p for n, p in paths.items() if max(float(row["a_in"]) for row in p) >= 1.60}
    assert (len(table), len(paths), len(failed)) == (262, 21, 12)
    for specimen, cycles in ((1, 0.0875), (12, 0.1175)):
        length, at = ([float(row[name]) for row in paths[specimen]] for name in ("a_in", "cycles"))
        assert np.interp(1.60, length, at) == pytest.approx(cycles, abs=1e-4)


@pytest.mark.parametrize("seed", range(3))
def test_line_of_a_general_library(seed: int) -> None:
    """Scipy's `linregress` on readings sown by a fixed seed: line and both errors agree to ten figures."""
    dice = np.random.default_rng(seed)
    x = np.sort(dice.uniform(0, 60, 7))
    y = 0.02 * x + dice.normal(0, 0.05, 7)
    theirs, line = stats.linregress(x, y), straight_line(x, y)
    assert (line.slope, line.intercept) == pytest.approx((theirs.slope, theirs.intercept), rel=1e-10)
    errors = (theirs.stderr, theirs.intercept_stderr)
    assert (line.u_slope, line.u_intercept) == pytest.approx(errors, rel=1e-10)
