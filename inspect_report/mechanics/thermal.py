"""Turns a length read at one temperature into the length it has at 20 °C."""

from inspect_report.mechanics.errors import require

REFERENCE_TEMPERATURE = 293.15
STEEL = 11.5e-6
"""Linear expansion of gauges and micrometers of steel; common practice. [1/K]"""


def at_reference(
    length: float,
    expansion: float,
    temperature: float,
    *,
    gauge_temperature: float = REFERENCE_TEMPERATURE,
    gauge_expansion: float = STEEL,
    reference: float = REFERENCE_TEMPERATURE,
) -> float:
    r"""
    Length that a part has at the reference temperature.

    .. math:: l_{20} = l \, \frac{1 + \alpha_g (T_g - T_{20})}{1 + \alpha (T - T_{20})}

    Args:
        length: Length read. [m]
        expansion: Mean coefficient of linear expansion of the part. [1/K]
        temperature: Temperature of the part when it was read. [K]
        gauge_temperature: Temperature of what it was read with. [K]
        gauge_expansion: Coefficient of linear expansion of that. [1/K]
        reference: Temperature for which sizes are stated and gauges are right. [K]

    Returns:
        Length at the reference temperature. [m]

    Raises:
        OutOfRange: ``length`` or a temperature not above 0, or an expansion that would halve or double
            part or gauge.

    Shapes: scalars. Holds for: part and gauge of one material each, warm right through, within about 100 K of
    20 °C.
    Source: ISO 1 for 20 °C, from memory; linear expansion. Checked in: tests/published/test_expansion.py.

    >>> round(at_reference(67.030e-3, 11e-6, 303.15) * 1e3, 4)
    67.0226
    """
    require("length", length, "m", above=0.0)
    require("temperature", temperature, "K", above=0.0)
    require("gauge_temperature", gauge_temperature, "K", above=0.0)
    require("reference", reference, "K", above=0.0)
    growth = expansion * (temperature - reference)
    stretch = gauge_expansion * (gauge_temperature - reference)
    require("growth of the part", growth, "1", at_least=-0.5, at_most=1.0)
    require("growth of the gauge", stretch, "1", at_least=-0.5, at_most=1.0)
    return length * (1.0 + stretch) / (1.0 + growth)
