"""Spread of compression readings against the rules printed in repair manuals."""

import pytest

from inspect_report.mechanics.compression import spread_below_best


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
