"""Lengths at 20 °C: what is warm is shorter there, what is cold longer."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.thermal import at_reference


def test_warm_part_shrinks_to_its_size() -> None:
    """67.000 mm grown by 11 µm/(m·K) over 10 K reads 67.00737 mm and is 67.000 mm at 20 °C."""
    read = 67e-3 * (1 + 11e-6 * 10)
    assert at_reference(read, 11e-6, 303.15) == pytest.approx(67e-3, rel=1e-12)
    assert at_reference(67e-3, 11e-6, 283.15) > 67e-3


@given(length=st.floats(1e-3, 1.0), expansion=st.floats(0.0, 30e-6))
def test_nothing_to_correct_at_20_degrees(length: float, expansion: float) -> None:
    """A part at 20 °C, and one that does not expand, is as it was read."""
    assert at_reference(length, expansion, 293.15) == length
    assert at_reference(length, 0.0, 350.0) == length


@given(temperature=st.floats(260.0, 380.0))
def test_there_and_back(temperature: float) -> None:
    """Grown to another temperature and corrected back a length is the same."""
    grown = 67e-3 * (1 + 23e-6 * (temperature - 293.15))
    assert at_reference(grown, 23e-6, temperature) == pytest.approx(67e-3, rel=1e-12)


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"length": 0.0}, "length"),
        ({"temperature": 0.0}, "temperature"),
        ({"reference": 0.0}, "reference"),
        ({"expansion": 0.2}, "growth of the part"),
        ({"expansion": -0.06}, "growth of the part"),
        ({"gauge_temperature": 0.0}, "gauge_temperature"),
        ({"gauge_temperature": 303.15, "gauge_expansion": 0.2}, "growth of the gauge"),
        ({"gauge_temperature": 303.15, "gauge_expansion": -0.06}, "growth of the gauge"),
    ],
)
def test_what_no_part_can_do(change: dict[str, float], name: str) -> None:
    """No length, no temperature, or a part that doubles or halves is refused."""
    with pytest.raises(OutOfRange, match=name):
        at_reference(**{"length": 67e-3, "expansion": 11e-6, "temperature": 303.15} | change)


def test_warm_gauge_reads_short() -> None:
    """A steel gauge of 30 °C reads 67 mm where there are 67.0077; on steel as warm as itself it is right."""
    assert at_reference(67e-3, 0.0, 293.15, gauge_temperature=303.15) == pytest.approx(67e-3 * (1 + 115e-6))
    assert at_reference(67e-3, 11.5e-6, 303.15, gauge_temperature=303.15) == pytest.approx(67e-3, rel=1e-15)


def test_gauges_bounds_are_taken() -> None:
    """A gauge doubled or halved exactly is the last that is taken."""
    assert at_reference(1.0, 0.0, 293.15, gauge_temperature=303.15, gauge_expansion=0.1) == pytest.approx(2.0)
    assert at_reference(1.0, 0.0, 293.15, gauge_temperature=303.15, gauge_expansion=-0.05) == pytest.approx(
        0.5
    )


def test_growth_may_reach_its_bounds() -> None:
    """Doubled and halved exactly are the last that is taken."""
    assert at_reference(1.0, 0.1, 303.15) == pytest.approx(0.5)
    assert at_reference(1.0, -0.05, 303.15) == pytest.approx(2.0)
