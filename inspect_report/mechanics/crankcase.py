"""Turns the pressures of a crankcase test into how fast the crankcase loses its air."""

from inspect_report.mechanics.errors import require


def pressure_loss_rate(p_start: float, p_end: float, time: float) -> float:
    r"""
    Mean rate at which a closed crankcase loses its test pressure.

    .. math:: \dot p = (p_1 - p_2) / t

    Args:
        p_start: Gauge pressure when the pump was closed off. [Pa]
        p_end: Gauge pressure at the end of the test. [Pa]
        time: Duration of the test. [s]

    Returns:
        Rate of loss, negative where the pressure rose. [Pa/s]

    Raises:
        OutOfRange: ``p_start`` not above 0, ``p_end`` below 0, or ``time`` not above 0.

    Shapes: scalars. Holds for: two-strokes with ports and stubs closed, at one temperature. The rate falls
    with the pressure left, so compare tests of like pressure and time.
    Source: pressure test of two-stroke crankcases, common practice.
    Checked in: tests/mechanics/test_crankcase.py.

    >>> round(pressure_loss_rate(40e3, 34e3, 300.0), 6)
    20.0
    """
    require("p_start", p_start, "Pa", above=0.0)
    require("p_end", p_end, "Pa", at_least=0.0)
    require("time", time, "s", above=0.0)
    return (p_start - p_end) / time
