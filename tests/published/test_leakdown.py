"""The leak-down reading against the text that defines it: FAA AC 43.13-1B, par. 8-14, page 8-15 (seen)."""

from math import hypot

import pytest
from uncertainties import ufloat, wrap

from inspect_report.judge.decision import decide
from inspect_report.judge.finding import Limit
from inspect_report.mechanics.gasflow import equivalent_leak_bore, leak_percent
from inspect_report.mechanics.metrology import contributions
from inspect_report.records.quantity import Quantity, read_amount
from inspect_report.records.workshop import DecisionRule
from tests.published.figures import PSI


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


@pytest.mark.parametrize(("orifice", "millimetres"), [("0.040 in", 1.04532), ("0.060 in", 1.56798)])
def test_master_orifices(orifice: str, millimetres: float) -> None:
    """
    FAA AC 43.13-1B Chg 1 par. 8-14 (seen): 0.040 in below 5 in of bore, 0.060 in from there on.

    60/80 psig through 0.040 in is a hole of 1.04532 mm (scipy); the hole goes with the orifice, 1.5 times.
    """
    bore = equivalent_leak_bore(
        80 * PSI, 60 * PSI, tester_bore=read_amount(orifice, "mm"), p_ambient=14.6959 * PSI
    )
    assert bore * 1e3 == pytest.approx(millimetres, rel=1e-5)


@pytest.mark.parametrize(("cylinder", "word"), [(60.0, "serviceable"), (59.0, "beyond limit")])
def test_quarter_of_the_input_is_suspect(cylinder: float, word: str) -> None:
    """FAA AC 43.13-1B p. 8-15 (seen): more than 25 % of the input pressure lost is suspect; 60/80 is not."""
    lost = Quantity(leak_percent(80.0, cylinder) / 100.0, 0.0, "ratio")
    limit = Limit(None, None, None, 0.25, "up", 0.75, "%", "FAA AC 43.13-1B", "seen", "spec sheet")
    assert (
        str(decide(lost, limit, DecisionRule.model_validate({"kind": "simple acceptance"})).verdict) == word
    )
