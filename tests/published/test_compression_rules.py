"""Spread of compression readings against the rules printed in repair manuals."""

import pytest

from inspect_report.mechanics.compression import spread_below_best
from inspect_report.records.quantity import si


def test_seventy_percent_of_the_highest() -> None:
    """A car maker's text of 2006 (seen): highest 1035 kPa, lowest 725 kPa by 70 %; rounded to 5 kPa."""
    assert spread_below_best([1035e3, 725e3])[1] == pytest.approx(0.30, abs=0.005)


def test_misprinted_fifteen_percent() -> None:
    """
    An outboard maker's manual, p. 1C-18 (seen), calls both rows of its example 15 percent.

    180 to 162 is 10 %, a misprint there; 150 to 127.5 is 15 %.
    """
    assert spread_below_best([180.0, 162.0])[1] == pytest.approx(0.10, rel=1e-12)
    assert spread_below_best([150.0, 127.5])[1] == pytest.approx(0.15, rel=1e-12)


def test_lowest_at_three_quarters_of_the_highest() -> None:
    """Ford text of 1997 (seen): the lowest at least 75 % of the highest: 112.5 of 150 psi is 25 % below."""
    assert spread_below_best([150.0, 112.5])[1] == pytest.approx(0.25, rel=1e-12)


def test_hundred_kilopascal_between_cylinders() -> None:
    """Suzuki DF140 manual p. 2-23 (seen): 1300 to 1700 kPa, 100 kPa apart: 5.9 to 7.7 % of the best."""
    for best, share in ((1300e3, 0.0769), (1700e3, 0.0588)):
        assert spread_below_best([best, best - 100e3])[1] == pytest.approx(share, abs=5e-5)
    assert si(14.0, "psi") == pytest.approx(100e3, rel=0.04)
