"""Rules of thumb for ring gaps and bearing clearances against what manuals print for real engines."""

import math

import pytest

from inspect_report.mechanics.bearing import journal_out_of_round, journal_taper, oil_clearance
from inspect_report.mechanics.bore import ring_gap_growth
from tests.published.limit_tables import Printed, petrol_engine

INCH = 0.0254
BORE, JOURNAL = 87.2, 62.95
"""Of the petrol engine in TM 10-3930-653-14&P, in mm."""


def printed(name: str) -> Printed:
    """A row of the petrol engine's table by the end of its name."""
    (row,) = (r for r in petrol_engine() if r.name.endswith(name))
    return row


def test_gap_for_each_inch_of_bore() -> None:
    """
    A ring maker's page (hastingsmfg.com, oversize cylinders; seen): 0.0035 in an inch, 0.008 is too much.

    3 in ask for 0.0105 in. From the one to the other the bore grows by 0.0045/pi of itself, 0.14 %.
    """
    assert pytest.approx(0.0105) == 3 * 0.0035
    grown = 3 * (0.008 - 0.0035) / math.pi
    assert ring_gap_growth(grown * INCH) == pytest.approx(3 * 0.0045 * INCH, rel=1e-12)


@pytest.mark.parametrize(("shaft", "least", "most"), [(2.375, 0.0024, 0.0024), (2.0, 0.0015, 0.0020)])
def test_clearance_for_each_inch_of_shaft(shaft: float, least: float, most: float) -> None:
    """Bearing makers' rules (Mopar Muscle, 0.001; mightyram50.net, 0.00075 to 0.001 in an inch; seen)."""
    smallest = 0.001 if least == most else 0.00075
    assert smallest * shaft == pytest.approx(least, abs=5e-5)
    assert 0.001 * shaft == pytest.approx(most, abs=5e-5)
    bearing = oil_clearance((shaft + 0.001 * shaft) * INCH, shaft * INCH)
    assert bearing / INCH == pytest.approx(most, abs=5e-5)


def test_journal_form_of_a_loader() -> None:
    """TM 5-3805-281-24-2 p. 0251 (seen): taper 0.0025 in 25.4 mm, roundness 0.025, play 0.030 to 0.107 mm."""
    ends = [(95.2000e-3, 95.2000e-3), (95.1975e-3, 95.1750e-3)]
    assert journal_taper([(d,) for d, _ in ends]) == pytest.approx(0.0025e-3, rel=1e-6)
    assert journal_out_of_round([ends[1]]) == pytest.approx(0.0225e-3, rel=1e-6)
    assert 0.030 / 95.2 < 0.001 < 0.107 / 95.2


@pytest.mark.parametrize(
    ("name", "size", "least", "most"),
    [
        ("end gap top", BORE, 0.0029, 0.0046),
        ("main journal oil clearance", JOURNAL, 0.00032, 0.00098),
        ("piston to bore clearance at 20 C", BORE, 0.00029, 0.00052),
    ],
)
def test_ratios_of_a_petrol_engine(name: str, size: float, least: float, most: float) -> None:
    """TM 10-3930-653-14&P (seen): printed ranges over bore or journal, of the rules' size; two figures."""
    row = printed(name)
    assert float(row.low or 0) / size == pytest.approx(least, abs=5e-5 if least > 0.001 else 5e-6)
    assert float(row.high or 0) / size == pytest.approx(most, abs=5e-5 if most > 0.001 else 5e-6)
