"""Turns the heights of a two-stroke's ports into the crank angles at which they open, and for how long."""

from inspect_report.mechanics.errors import require
from inspect_report.mechanics.slidercrank import crank_angle_at


def port_opens(height: float, *, deck_height: float, stroke: float, rod_length: float) -> float:
    r"""
    Crank angle at which the piston's edge comes to the upper edge of a port.

    .. math:: \theta = \theta(x = h - d)

    Args:
        height: From the top face of the barrel down to the upper edge of the port. [m]
        deck_height: Piston edge below that face at top dead centre; negative where it stands above. [m]
        stroke: Piston travel from top to bottom dead centre. [m]
        rod_length: Connecting rod length between centres. [m]

    Returns:
        Crank angle after top dead centre. [deg]

    Raises:
        OutOfRange: the port's edge above the piston at the top or below it at the bottom, or as
            `slidercrank.crank_angle_at`.

    Shapes: scalars. Holds for: ports opened by the edge of a flat or evenly domed crown; no pin offset.
    Source: crank geometry. Checked in: tests/published/test_engine_geometry.py.

    >>> round(port_opens(27.0e-3, deck_height=0.2e-3, stroke=54.4e-3, rod_length=110e-3), 1)
    82.1
    """
    require("height", height, "m")
    require("deck_height", deck_height, "m")
    return crank_angle_at(height - deck_height, stroke, rod_length)


def port_duration(opens: float) -> float:
    r"""
    Crank angle over which a port is open, from its opening to its closing.

    .. math:: D = 2 (180 - \theta_o)

    Args:
        opens: Crank angle after top dead centre at which the port opens. [deg]

    Returns:
        Duration, the same before and after bottom dead centre. [deg]

    Raises:
        OutOfRange: ``opens`` not in 0 to 180.

    Shapes: scalars. Holds for: ports ruled by the piston; no pin offset.
    Source: definition. Checked in: tests/mechanics/test_ports.py.

    >>> port_duration(82.0)
    196.0
    """
    require("opens", opens, "deg", at_least=0.0, at_most=180.0)
    return 2.0 * (180.0 - opens)


def blowdown(exhaust_opens: float, transfer_opens: float) -> float:
    r"""
    Crank angle from the opening of the exhaust to that of the transfers.

    .. math:: B = \theta_t - \theta_e

    Args:
        exhaust_opens: Crank angle after top dead centre at which the exhaust port opens. [deg]
        transfer_opens: Crank angle after top dead centre at which the first transfer port opens. [deg]

    Returns:
        Blowdown, negative where the transfers open first. [deg]

    Raises:
        OutOfRange: an angle not in 0 to 180.

    Shapes: scalars. Holds for: ports ruled by the piston.
    Source: definition. Checked in: tests/mechanics/test_ports.py.

    >>> blowdown(82.0, 114.0)
    32.0
    """
    require("exhaust_opens", exhaust_opens, "deg", at_least=0.0, at_most=180.0)
    require("transfer_opens", transfer_opens, "deg", at_least=0.0, at_most=180.0)
    return transfer_opens - exhaust_opens
