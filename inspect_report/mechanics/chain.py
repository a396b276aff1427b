"""Turns the length of a timing chain into its elongation, and that into retard and the tensioner left."""

import math

from inspect_report.mechanics.errors import require


def elongation(length: float, *, pitch: float, pitches: int) -> float:
    r"""
    Growth of a chain over its nominal length.

    .. math:: \epsilon = (L - n p) / (n p)

    Args:
        length: Length between pin centres, the chain under its stated load. [m]
        pitch: Nominal distance from pin to pin. [m]
        pitches: Number of pitches measured over. [count]

    Returns:
        Elongation as a fraction; a little below 0 is a new chain or a reading error. [1]

    Raises:
        OutOfRange: ``length`` or ``pitch`` not above 0, ``pitches`` below 1.

    Shapes: scalars. Holds for: roller, bush and silent chains.
    Source: definition. Checked in: tests/published/test_timing_chains.py.

    >>> round(elongation(0.323, pitch=0.015875, pitches=20), 5)
    0.01732
    """
    require("length", length, "m", above=0.0)
    require("pitch", pitch, "m", above=0.0)
    require("pitches", pitches, "1", at_least=1)
    nominal = pitches * pitch
    return (length - nominal) / nominal


def pitch_radius(pitch: float, teeth: int) -> float:
    r"""
    Radius of the circle on which a sprocket carries the chain's pins.

    .. math:: R = p / (2 \sin(\pi / z))

    Args:
        pitch: Nominal distance from pin to pin. [m]
        teeth: Number of teeth. [count]

    Returns:
        Pitch radius. [m]

    Raises:
        OutOfRange: ``pitch`` not above 0, ``teeth`` below 3.

    Shapes: scalars. Holds for: roller and bush chains on unworn sprockets.
    Source: geometry of a polygon. Checked in: tests/published/test_timing_chains.py.

    >>> round(pitch_radius(0.00635, 34) * 1e3, 3)
    34.41
    """
    require("pitch", pitch, "m", above=0.0)
    require("teeth", teeth, "1", at_least=3)
    return pitch / (2.0 * math.sin(math.pi / teeth))


def cam_retard(elongation: float, *, span_length: float, sprocket_radius: float) -> float:
    r"""
    How late a stretched chain lets a camshaft run.

    .. math:: \theta = 2 \, \frac{180}{\pi} \epsilon \frac{l}{R}

    Args:
        elongation: Elongation of the chain as a fraction. [1]
        span_length: Nominal free length of the pulling strand from the crank to this camshaft; where the
            chain passes another camshaft first, the strand up to that one and the strand between. [m]
        sprocket_radius: Pitch radius of the camshaft's sprocket. [m]

    Returns:
        Retard in crank degrees, twice that of the camshaft; negative is early. [deg]

    Raises:
        OutOfRange: ``elongation`` not above -1, ``span_length`` below 0, ``sprocket_radius`` not above 0.

    Shapes: scalars. Holds for: four-stroke engines, even wear along the chain. A tensioner takes up the slack
    of the returning strand and does not mend the retard. Links that lie on a sprocket passed on the way turn
    with its teeth and add nothing.
    Source: geometry. Checked in: tests/published/test_timing_chains.py.

    >>> round(cam_retard(0.01, span_length=30 * 0.00635, sprocket_radius=pitch_radius(0.00635, 34)), 4)
    6.3439
    """
    require("elongation", elongation, "1", above=-1.0)
    require("span_length", span_length, "m", at_least=0.0)
    require("sprocket_radius", sprocket_radius, "m", above=0.0)
    return 2.0 * math.degrees(elongation * span_length / sprocket_radius)


def tensioner_used(travel: float, stroke: float) -> float:
    r"""
    Share of a tensioner's stroke that the chain has taken up.

    .. math:: u = s / s_{max}

    Args:
        travel: How far the plunger stands out. [m]
        stroke: How far it can come out. [m]

    Returns:
        Share used, 0 for a plunger that is all in, 1 at its end. [1]

    Raises:
        OutOfRange: ``stroke`` not above 0, ``travel`` not in 0 to ``stroke``.

    Shapes: scalars. Holds for: travel read before the plunger is let go.
    Source: definition. Checked in: tests/published/test_timing_chains.py.

    >>> tensioner_used(0.012, 0.016)
    0.75
    """
    require("stroke", stroke, "m", above=0.0)
    require("travel", travel, "m", at_least=0.0, at_most=stroke)
    return travel / stroke
