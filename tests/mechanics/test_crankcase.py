"""Crankcase pressure test: a fall over a time."""

import pytest

from inspect_report.mechanics.crankcase import pressure_loss_rate
from inspect_report.mechanics.errors import OutOfRange


def test_fall_over_the_time_of_the_test() -> None:
    """6 psi falling to 5 psi in one minute is 1 psi, 6.895 kPa, a minute."""
    psi = 6894.757
    assert pressure_loss_rate(6 * psi, 5 * psi, 60.0) * 60 == pytest.approx(psi)


def test_tight_case_loses_nothing() -> None:
    """The same pressure at the end is no loss; a warming case may even gain."""
    assert pressure_loss_rate(40e3, 40e3, 300.0) == 0.0
    assert pressure_loss_rate(40e3, 40.3e3, 300.0) < 0.0


def test_test_without_a_time_is_refused() -> None:
    """A rate over no time does not exist."""
    with pytest.raises(OutOfRange, match="time: found 0 s, allowed above 0 s"):
        pressure_loss_rate(40e3, 34e3, 0.0)


def test_test_without_pressure_is_refused() -> None:
    """A case that was never pumped up says nothing."""
    with pytest.raises(OutOfRange, match="p_start: found 0 Pa"):
        pressure_loss_rate(0.0, 0.0, 60.0)
