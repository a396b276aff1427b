"""The cranking pressure estimate against worked examples of polytropic compression."""

import pytest

from inspect_report.mechanics.slidercrank import cranking_pressure_estimate, effective_ratio
from tests.published.figures import PSI


def test_encyclopedia_example() -> None:
    """Article "Compression ratio" (copy at altsci.com, seen): 7.5^1.3 x 14.7 = 201.8 psia, 187.1 gauge."""
    found = cranking_pressure_estimate(7.5, p_ambient=14.7 * PSI, exponent=1.3)
    assert found / PSI == pytest.approx(187.1, abs=0.06)


def test_textbook_example() -> None:
    """Pulkrabek, Engineering Fundamentals of the IC Engine, example 3-1 (from memory): 1826 kPa absolute."""
    found = cranking_pressure_estimate(8.6, p_ambient=100e3, exponent=1.35)
    assert (found + 100e3) / 1e3 == pytest.approx(1826, abs=1)


@pytest.mark.parametrize(
    ("bore", "stroke", "rod", "ratio", "closes", "effective", "bar_absolute"),
    [
        (101.6, 88.392, 144.78, 10.0, 70, 7.65861, 14.293),
        (70.0, 52.0, 95.0, 11.5, 55, 9.74956, 19.561),
        (67.0, 42.5, 90.0, 12.0, 50, 10.41953, 21.326),
    ],
)
def test_worked_engines(
    bore: float, stroke: float, rod: float, ratio: float, closes: float, effective: float, bar_absolute: float
) -> None:
    """Worked from crank geometry by hand, n = 1.3, 1.01325 bar; five figures."""
    clearance = 3.141592653589793 / 4 * bore**2 * stroke * 1e-9 / (ratio - 1.0)
    found = effective_ratio(
        closes, bore=bore * 1e-3, stroke=stroke * 1e-3, rod_length=rod * 1e-3, clearance_volume=clearance
    )
    assert found == pytest.approx(effective, rel=1e-5)
    assert (cranking_pressure_estimate(found) + 101_325) / 1e5 == pytest.approx(bar_absolute, rel=5e-5)
