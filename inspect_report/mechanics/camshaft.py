"""Turns the angles at which valves open and close, and lobe sizes, into cam timing and lobe wear.

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


def inlet_lateness(centre: float, target: float) -> float:
    r"""
    How late an inlet camshaft runs against its target.

    .. math:: \delta_i = C_i - C_{target}

    Args:
        centre: Inlet lobe centre after top dead centre. [deg]
        target: The centre it should have. [deg]

    Returns:
        Lateness in crank degrees; negative is early. [deg]

    Raises:
        OutOfRange: a centre not in -360 to 360.

    Shapes: scalars. Holds for: both at one check lift.
    Source: definition. Checked in: tests/published/test_cam_events.py.

    >>> inlet_lateness(115.0, 110.0)
    5.0
    """
    require("centre", centre, "deg", at_least=-360.0, at_most=360.0)
    require("target", target, "deg", at_least=-360.0, at_most=360.0)
    return centre - target


def exhaust_lateness(centre: float, target: float) -> float:
    r"""
    How late an exhaust camshaft runs against its target.

    .. math:: \delta_e = C_{target} - C_e

    Args:
        centre: Exhaust lobe centre before top dead centre. [deg]
        target: The centre it should have. [deg]

    Returns:
        Lateness in crank degrees; negative is early. [deg]

    Raises:
        OutOfRange: a centre not in -360 to 360.

    Shapes: scalars. Holds for: both at one check lift.
    Source: definition; counted before the dead centre, a smaller angle is later.
    Checked in: tests/published/test_cam_events.py.

    >>> exhaust_lateness(105.0, 110.0)
    5.0
    """
    return -inlet_lateness(centre, target)


def late_beyond_chain(lateness: float, retard: float) -> float:
    r"""
    Lateness of a camshaft that the length of its chain does not explain.

    .. math:: \delta_r = \delta - \theta

    Args:
        lateness: Lateness against the target, from the events. [deg]
        retard: Retard that the elongation of the chain gives. [deg]

    Returns:
        What is left in crank degrees: near 0 the chain explains all of it. [deg]

    Raises:
        OutOfRange: an angle not finite.

    Shapes: scalars. Holds for: events and chain read at one opening of the engine.
    Source: definition. Checked in: tests/published/test_cam_events.py.

    >>> round(late_beyond_chain(7.0, 6.5), 6)
    0.5
    """
    require("lateness", lateness, "deg")
    require("retard", retard, "deg")
    return lateness - retard


def teeth_out(lateness: float, teeth: int) -> float:
    r"""
    Lateness of a camshaft in teeth of its sprocket.

    .. math:: n = \delta z / 720

    Args:
        lateness: Lateness in crank degrees. [deg]
        teeth: Number of teeth of the camshaft's sprocket. [count]

    Returns:
        Teeth by which the chain, belt or gear may have been put on late; negative is early. [1]

    Raises:
        OutOfRange: ``lateness`` not finite, ``teeth`` below 3.

    Shapes: scalars. Holds for: four-stroke engines, sprocket on the camshaft itself.
    Source: geometry: one tooth is 360/z degrees of the camshaft, twice that of the crank.
    Checked in: tests/published/test_cam_events.py.

    >>> teeth_out(18.0, 40)
    1.0
    """
    require("lateness", lateness, "deg")
    require("teeth", teeth, "1", at_least=3)
    return lateness * teeth / 720.0


def stroke_misfit(
    inlet_full: float, exhaust_full: float, *, inlet_centre: float, exhaust_centre: float
) -> float:
    r"""
    How far apart two camshafts stand from where their events say they should.

    A degree disc shows the same angle once in every turn of the crank, and alignment marks agree twice in a
    turn of the camshaft: neither sees a camshaft that is half a turn out. Counted over both turns of the
    cycle, full lift of the inlet follows that of the exhaust by the sum of the lobe centres; half a turn of
    one camshaft adds a turn of the crank.

    .. math:: m = ((\phi_i - \phi_e) - (C_i + C_e) + 180) \bmod 720 - 180

    Args:
        inlet_full: Crank angle from any dead centre, counted on over two turns, to full inlet lift. [deg]
        exhaust_full: The same to full exhaust lift of the same cylinder. [deg]
        inlet_centre: Inlet lobe centre after top dead centre, from its events. [deg]
        exhaust_centre: Exhaust lobe centre before top dead centre, from its events. [deg]

    Returns:
        Misfit, -180 to below 540: near 0 both are on one stroke, near 360 one is half a turn out. [deg]

    Raises:
        OutOfRange: an angle not in -720 to 720, a centre not in -360 to 360.

    Shapes: scalars. Holds for: four-stroke engines, crank turned in its running direction.
    Source: geometry of the four-stroke cycle. Checked in: tests/published/test_cam_events.py.

    >>> stroke_misfit(470.0, 250.0, inlet_centre=110.0, exhaust_centre=110.0)
    0.0
    >>> stroke_misfit(110.0, 250.0, inlet_centre=110.0, exhaust_centre=110.0)
    360.0
    """
    for name, angle in (("inlet_full", inlet_full), ("exhaust_full", exhaust_full)):
        require(name, angle, "deg", at_least=-720.0, at_most=720.0)
    expected = 2.0 * lobe_separation(inlet_centre, exhaust_centre)
    return (inlet_full - exhaust_full - expected + 180.0) % 720.0 - 180.0


def lobe_wear(height: float, new: float) -> float:
    r"""
    Height a cam lobe has lost.

    .. math:: w = h_{new} - h

    Args:
        height: Lobe height, across nose and heel. [m]
        new: Lobe height when new. [m]

    Returns:
        Wear; a little below 0 is a new lobe or a reading error. [m]

    Raises:
        OutOfRange: a height not above 0.

    Shapes: scalars. Holds for: nose and heel together; wear of the heel alone shows as a wider gap.
    Source: definition. Checked in: tests/published/test_cam_events.py.

    >>> round(lobe_wear(35.55e-3, 35.67e-3) * 1e3, 6)
    0.12
    """
    require("height", height, "m", above=0.0)
    require("new", new, "m", above=0.0)
    return new - height


def lobe_lift(height: float, base_circle: float) -> float:
    r"""
    Lift of a cam lobe.

    .. math:: l = h - d_b

    Args:
        height: Lobe height, across nose and heel. [m]
        base_circle: Diameter of the base circle, across the flanks' feet. [m]

    Returns:
        Cam lift; times the lever ratio it is valve lift without gap. [m]

    Raises:
        OutOfRange: ``base_circle`` not above 0, ``height`` below it.

    Shapes: scalars. Holds for: a base circle of which half or more is left to measure across.
    Source: definition. Checked in: tests/published/test_cam_events.py.

    >>> round(lobe_lift(35.65e-3, 27.95e-3) * 1e3, 6)
    7.7
    """
    require("base_circle", base_circle, "m", above=0.0)
    require("height", height, "m", at_least=base_circle)
    return height - base_circle
