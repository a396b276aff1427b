"""Turns the opening and closing angles of the valves into lobe centres, durations and overlap.

Angles are crank degrees, all taken at one stated check lift. A valve that opens after its dead centre, or
closes before it, has a negative angle.
"""

from inspect_report.mechanics.errors import require


def duration(opens: float, closes: float) -> float:
    r"""
    Crank angle for which a valve is open.

    .. math:: D = \theta_o + 180 + \theta_c

    Args:
        opens: Opening angle before the dead centre at which its stroke begins. [deg]
        closes: Closing angle after the dead centre at which its stroke ends. [deg]

    Returns:
        Duration. [deg]

    Raises:
        OutOfRange: an angle not in -180 to 180, or a duration not above 0.

    Shapes: scalars. Holds for: four-stroke engines; inlet IVO before TDC, IVC after BDC; exhaust EVO before
    BDC, EVC after TDC.
    Source: definition. Checked in: tests/published/test_cam_events.py.

    >>> duration(20.0, 60.0)
    260.0
    """
    require("opens", opens, "deg", at_least=-180.0, at_most=180.0)
    require("closes", closes, "deg", at_least=-180.0, at_most=180.0)
    total = opens + 180.0 + closes
    require("duration", total, "deg", above=0.0)
    return total


def inlet_lobe_centre(opens: float, closes: float) -> float:
    r"""
    Middle of the inlet valve's opening.

    .. math:: C_i = D / 2 - \theta_{IVO}

    Args:
        opens: Inlet opening before top dead centre. [deg]
        closes: Inlet closing after bottom dead centre. [deg]

    Returns:
        Lobe centre after top dead centre. [deg]

    Raises:
        OutOfRange: as `duration`.

    Shapes: scalars. Holds for: the middle is full lift only for a symmetrical lobe.
    Source: definition. Checked in: tests/published/test_cam_events.py.

    >>> inlet_lobe_centre(6.0, 42.0)
    108.0
    """
    return duration(opens, closes) / 2.0 - opens


def exhaust_lobe_centre(opens: float, closes: float) -> float:
    r"""
    Middle of the exhaust valve's opening.

    .. math:: C_e = D / 2 - \theta_{EVC}

    Args:
        opens: Exhaust opening before bottom dead centre. [deg]
        closes: Exhaust closing after top dead centre. [deg]

    Returns:
        Lobe centre before top dead centre. [deg]

    Raises:
        OutOfRange: as `duration`.

    Shapes: scalars. Holds for: the middle is full lift only for a symmetrical lobe.
    Source: definition. Checked in: tests/published/test_cam_events.py.

    >>> exhaust_lobe_centre(60.0, 20.0)
    110.0
    """
    return duration(opens, closes) / 2.0 - closes


def overlap(inlet_opens: float, exhaust_closes: float) -> float:
    r"""
    Crank angle for which inlet and exhaust valves are open together.

    .. math:: O = \theta_{IVO} + \theta_{EVC}

    Args:
        inlet_opens: Inlet opening before top dead centre. [deg]
        exhaust_closes: Exhaust closing after top dead centre. [deg]

    Returns:
        Overlap, negative where the exhaust closes before the inlet opens. [deg]

    Raises:
        OutOfRange: an angle not in -180 to 180.

    Shapes: scalars. Holds for: four-stroke engines.
    Source: definition. Checked in: tests/published/test_cam_events.py.

    >>> overlap(6.0, 12.0)
    18.0
    """
    require("inlet_opens", inlet_opens, "deg", at_least=-180.0, at_most=180.0)
    require("exhaust_closes", exhaust_closes, "deg", at_least=-180.0, at_most=180.0)
    return inlet_opens + exhaust_closes


def lobe_separation(inlet_centre: float, exhaust_centre: float) -> float:
    r"""
    Angle between the inlet and the exhaust lobe, in camshaft degrees.

    .. math:: S = (C_i + C_e) / 2

    Args:
        inlet_centre: Inlet lobe centre after top dead centre, in crank degrees. [deg]
        exhaust_centre: Exhaust lobe centre before top dead centre, in crank degrees. [deg]

    Returns:
        Lobe separation, in camshaft degrees. [deg]

    Raises:
        OutOfRange: a centre not in -360 to 360.

    Shapes: scalars. Holds for: four-stroke engines.
    Source: definition. Checked in: tests/published/test_cam_events.py.

    >>> lobe_separation(105.0, 115.0)
    110.0
    """
    require("inlet_centre", inlet_centre, "deg", at_least=-360.0, at_most=360.0)
    require("exhaust_centre", exhaust_centre, "deg", at_least=-360.0, at_most=360.0)
    return (inlet_centre + exhaust_centre) / 2.0
