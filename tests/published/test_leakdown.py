"""The leak-down reading against the text that defines it: FAA AC 43.13-1B, par. 8-14, page 8-15 (seen)."""

from math import hypot

import pytest
from uncertainties import ufloat, wrap

from inspect_report.mechanics.gasflow import leak_percent
from inspect_report.mechanics.metrology import contributions


def test_sixty_over_eighty() -> None:
    """The text's loss is regulated less cylinder pressure over the input: 60/80 psi is 25 %."""
    assert leak_percent(80.0, 60.0) == 25.0


@pytest.mark.parametrize(
    ("supply", "cylinder", "percent"), [(80, 75, 6.25), (80, 70, 12.5), (80, 40, 50.0), (100, 95, 5.0)]
)
def test_readings_by_the_same_definition(supply: float, cylinder: float, percent: float) -> None:
    """Worked from the same definition."""
    assert leak_percent(supply, cylinder) == pytest.approx(percent, rel=1e-12)


def test_uncertainty_of_a_reading() -> None:
    """Both gauges 0.5 psi at 70/80: u = 0.8305 %, as the general library `uncertainties` has it."""
    by_library = wrap(leak_percent)(ufloat(80.0, 0.5), ufloat(70.0, 0.5)).std_dev
    assert by_library == pytest.approx(0.8305, abs=5e-5)
    parts = contributions(leak_percent, [80.0, 70.0], [0.5, 0.5], step=1e-3)
    assert hypot(*parts) == pytest.approx(by_library, rel=1e-6)
