"""Lengths at 20 °C against what is in print about expansion."""

import pytest

from inspect_report.mechanics.thermal import at_reference


def test_metre_of_steel_in_a_warm_room() -> None:
    """
    Rule of the measuring room (from memory): 1 m of steel of 11.5 µm/(m·K) grows 11.5 µm for each kelvin.

    Read at 23 °C it is 34.5 µm long too much; to first order, so 1 nm.
    """
    assert 1.0 - at_reference(1.0, 11.5e-6, 296.15) == pytest.approx(34.5e-6, abs=2e-9)


def test_steel_gauge_on_a_steel_part() -> None:
    """Rule of the measuring room (from memory): steel read with steel as warm as itself needs nothing."""
    read = at_reference(1.0, 11.5e-6, 296.15, gauge_temperature=296.15)
    assert read == pytest.approx(1.0, rel=1e-15)


def test_aluminium_piston_in_an_iron_bore() -> None:
    """
    Worked from the definition with coefficients from memory: iron 10.5, aluminium 21 µm/(m·K).

    A 100 mm pair read at 30 °C with 0.060 mm of play has 0.0105 mm more at 20 °C.
    """
    bore, piston = at_reference(0.1, 10.5e-6, 303.15), at_reference(0.09994, 21e-6, 303.15)
    assert bore - piston == pytest.approx(0.0705e-3, abs=0.03e-6)
