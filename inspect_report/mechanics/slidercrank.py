"""Turns bore, stroke, rod and chamber into piston travel, cylinder volumes and compression ratios.

Crank angles are in degrees after top dead centre; pin offset is ignored.
"""

import math

from inspect_report.mechanics.errors import require


def swept_volume(bore: float, stroke: float) -> float:
    r"""
    Volume a piston sweeps in one stroke.

    .. math:: V_s = \frac{\pi}{4} B^2 S

    Args:
        bore: Cylinder diameter. [m]
        stroke: Piston travel from top to bottom dead centre. [m]

    Returns:
        Swept volume of one cylinder. [m3]

    Raises:
        OutOfRange: ``bore`` or ``stroke`` not above 0.

    Shapes: scalars. Holds for: any piston engine.
    Source: definition. Checked in: tests/published/test_engine_geometry.py.

    >>> round(swept_volume(0.070, 0.052) * 1e6, 3)
    200.119
    """
    require("bore", bore, "m", above=0.0)
    require("stroke", stroke, "m", above=0.0)
    return math.pi / 4.0 * bore**2 * stroke


def piston_travel(crank_angle: float, stroke: float, rod_length: float) -> float:
    r"""
    Distance of the piston from its top dead centre.

    .. math:: x = r (1 - \cos\theta) + l - \sqrt{l^2 - r^2 \sin^2\theta}, \quad r = S/2

    Args:
        crank_angle: Crank angle after top dead centre. [deg]
        stroke: Piston travel from top to bottom dead centre. [m]
        rod_length: Connecting rod length between centres. [m]

    Returns:
        Piston travel, 0 at the top and ``stroke`` at the bottom. [m]

    Raises:
        OutOfRange: ``stroke`` not above 0, or ``rod_length`` not above half the stroke.

    Shapes: scalars. Holds for: no pin offset.
    Source: crank geometry. Checked in: tests/published/test_engine_geometry.py.

    >>> round(piston_travel(90.0, 0.052, 0.095) * 1e3, 3)
    29.627
    """
    require("crank_angle", crank_angle, "deg")
    require("stroke", stroke, "m", above=0.0)
    require("rod_length", rod_length, "m", above=stroke / 2.0)
    angle, radius = math.radians(crank_angle), stroke / 2.0
    upright = math.sqrt(rod_length**2 - (radius * math.sin(angle)) ** 2)
    return radius * (1.0 - math.cos(angle)) + rod_length - upright


def crank_angle_at(travel: float, stroke: float, rod_length: float) -> float:
    r"""
    Crank angle after top dead centre at which the piston has gone a way down.

    .. math:: \cos\theta = \frac{s^2 + r^2 - l^2}{2 r s}, \quad s = r + l - x, \quad r = S/2

    Args:
        travel: Distance of the piston from its top dead centre. [m]
        stroke: Piston travel from top to bottom dead centre. [m]
        rod_length: Connecting rod length between centres. [m]

    Returns:
        Crank angle on the way down, 0 to 180. [deg]

    Raises:
        OutOfRange: ``travel`` not in 0 to ``stroke``, or as `piston_travel`.

    Shapes: scalars. Holds for: no pin offset; the inverse of `piston_travel`.
    Source: crank geometry. Checked in: tests/published/test_engine_geometry.py.

    >>> round(crank_angle_at(0.029627, 0.052, 0.095), 2)
    90.0
    """
    require("stroke", stroke, "m", above=0.0)
    require("rod_length", rod_length, "m", above=stroke / 2.0)
    require("travel", travel, "m", at_least=0.0, at_most=stroke)
    radius = stroke / 2.0
    reach = radius + rod_length - travel
    cosine = (reach**2 + radius**2 - rod_length**2) / (2.0 * radius * reach)
    # Rounding may carry the dead centres a hair beyond.
    return math.degrees(math.acos(min(1.0, max(-1.0, cosine))))


def volume_at(
    crank_angle: float, *, bore: float, stroke: float, rod_length: float, clearance_volume: float
) -> float:
    r"""
    Volume above the piston at a crank angle.

    .. math:: V = V_c + \frac{\pi}{4} B^2 x(\theta)

    Args:
        crank_angle: Crank angle after top dead centre. [deg]
        bore: Cylinder diameter. [m]
        stroke: Piston travel from top to bottom dead centre. [m]
        rod_length: Connecting rod length between centres. [m]
        clearance_volume: Volume left at top dead centre. [m3]

    Returns:
        Cylinder volume. [m3]

    Raises:
        OutOfRange: ``clearance_volume`` or ``bore`` not above 0, or as `piston_travel`.

    Shapes: scalars. Holds for: no pin offset.
    Source: crank geometry. Checked in: tests/published/test_engine_geometry.py.

    >>> at_bottom = volume_at(180.0, bore=0.07, stroke=0.052, rod_length=0.095, clearance_volume=19.059e-6)
    >>> round(at_bottom * 1e6, 3)
    219.178
    """
    require("clearance_volume", clearance_volume, "m3", above=0.0)
    require("bore", bore, "m", above=0.0)
    return clearance_volume + math.pi / 4.0 * bore**2 * piston_travel(crank_angle, stroke, rod_length)


def deck_volume(bore: float, deck_height: float) -> float:
    r"""
    Volume between a flat piston at top dead centre and the top face of the barrel.

    .. math:: V_d = \frac{\pi}{4} B^2 h

    Args:
        bore: Cylinder diameter. [m]
        deck_height: Depth of the piston below the face, negative where it stands above. [m]

    Returns:
        Deck volume, negative where the piston stands above the face. [m3]

    Raises:
        OutOfRange: ``bore`` not above 0.

    Shapes: scalars. Holds for: flat edge of the crown; ring land volume is ignored.
    Source: definition. Checked in: tests/published/test_engine_geometry.py.

    >>> round(deck_volume(0.070, 0.0005) * 1e6, 3)
    1.924
    """
    require("bore", bore, "m", above=0.0)
    require("deck_height", deck_height, "m")
    return math.pi / 4.0 * bore**2 * deck_height


def clearance_volume(
    chamber: float, *, gasket: float, deck: float, dome: float = 0.0, dish: float = 0.0, pockets: float = 0.0
) -> float:
    r"""
    Volume left above the piston at top dead centre.

    .. math:: V_c = V_{chamber} + V_{gasket} + V_{deck} - V_{dome} + V_{dish} + V_{pockets}

    Args:
        chamber: Volume of the chamber in the head, plug and valves fitted. [m3]
        gasket: Volume inside the compressed head gasket. [m3]
        deck: Deck volume, negative where the piston stands above the face. [m3]
        dome: Volume of a crown raised above its edge. [m3]
        dish: Volume of a crown hollowed below its edge. [m3]
        pockets: Volume of the valve pockets in the crown. [m3]

    Returns:
        Clearance volume. [m3]

    Raises:
        OutOfRange: a volume other than ``deck`` below 0, or a sum not above 0.

    Shapes: scalars. Holds for: any piston engine.
    Source: definition. Checked in: tests/published/test_engine_geometry.py.

    >>> round(clearance_volume(64e-6, gasket=4.1e-6, deck=6.8e-6, dish=5e-6) * 1e6, 1)
    79.9
    """
    parts = {"chamber": chamber, "gasket": gasket, "dome": dome, "dish": dish, "pockets": pockets}
    for name, volume in parts.items():
        require(name, volume, "m3", at_least=0.0)
    total = chamber + gasket + deck - dome + dish + pockets
    require("clearance volume", total, "m3", above=0.0)
    return total


def compression_ratio(swept: float, clearance: float) -> float:
    r"""
    Volume at the bottom of the stroke over the volume at the top.

    .. math:: r = (V_s + V_c) / V_c

    Args:
        swept: Swept volume of one cylinder. [m3]
        clearance: Clearance volume. [m3]

    Returns:
        Compression ratio. [1]

    Raises:
        OutOfRange: ``swept`` or ``clearance`` not above 0.

    Shapes: scalars. Holds for: any piston engine.
    Source: definition. Checked in: tests/published/test_engine_geometry.py.

    >>> round(compression_ratio(200.119e-6, 19.059e-6), 3)
    11.5
    """
    require("swept", swept, "m3", above=0.0)
    require("clearance", clearance, "m3", above=0.0)
    return (swept + clearance) / clearance


def effective_ratio(
    inlet_closes: float, *, bore: float, stroke: float, rod_length: float, clearance_volume: float
) -> float:
    r"""
    Compression ratio counted from where the cylinder closes: at the inlet valve, or at an exhaust port.

    .. math:: r_e = V(180 + \theta_{IVC}) / V_c

    Args:
        inlet_closes: Crank angle after bottom dead centre at which the inlet valve closes; on a two-stroke
            the exhaust port, as many degrees as its opening lies before bottom dead centre. [deg]
        bore: Cylinder diameter. [m]
        stroke: Piston travel from top to bottom dead centre. [m]
        rod_length: Connecting rod length between centres. [m]
        clearance_volume: Volume left at top dead centre. [m3]

    Returns:
        Effective compression ratio. [1]

    Raises:
        OutOfRange: ``inlet_closes`` not in 0 to 180, or as `volume_at`.

    Shapes: scalars. Holds for: no pin offset, slow cranking.
    Source: crank geometry. Checked in: tests/published/test_engine_geometry.py.

    >>> round(effective_ratio(55.0, bore=0.07, stroke=0.052, rod_length=0.095, clearance_volume=19.059e-6), 3)
    9.75
    """
    require("inlet_closes", inlet_closes, "deg", at_least=0.0, at_most=180.0)
    trapped = volume_at(
        180.0 + inlet_closes,
        bore=bore,
        stroke=stroke,
        rod_length=rod_length,
        clearance_volume=clearance_volume,
    )
    return trapped / clearance_volume


def cranking_pressure_estimate(ratio: float, *, p_ambient: float = 101_325.0, exponent: float = 1.3) -> float:
    r"""
    Estimate of the gauge pressure of a sound cylinder on the starter, throttle open.

    .. math:: p = p_a (r_e^n - 1)

    Args:
        ratio: Effective compression ratio, counted from inlet closing. [1]
        p_ambient: Absolute pressure of the air around. [Pa]
        exponent: Polytropic exponent; 1.3 is common practice, 1.2 to 1.35 are seen. [1]

    Returns:
        Estimated compression reading; an estimate to compare with, never a limit. [Pa]

    Raises:
        OutOfRange: ``ratio`` below 1, ``p_ambient`` not above 0, ``exponent`` not in 1 to 1.4.

    Shapes: scalars. Holds for: warm engine, healthy starter; leakage and heat are hidden in the exponent.
    Source: polytropic compression. Checked in: tests/published/test_cranking_pressure.py.

    >>> round(cranking_pressure_estimate(9.75) / 1e5, 1)
    18.5
    """
    require("ratio", ratio, "1", at_least=1.0)
    require("p_ambient", p_ambient, "Pa", above=0.0)
    require("exponent", exponent, "1", at_least=1.0, at_most=1.4)
    return float(p_ambient * (ratio**exponent - 1.0))
