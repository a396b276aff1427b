"""Classes of a selection table: the edge belongs to both, the first counts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.shells import class_margin, size_class

MM = 1e-3
LOWS, HIGHS = [31.992 * MM, 31.984 * MM], [32.000 * MM, 31.992 * MM]


@pytest.mark.parametrize(
    ("size", "number"),
    [(32.000, 0), (31.996, 0), (31.992, 0), (31.9919, 1), (31.984, 1), (31.9839, None), (32.0001, None)],
)
def test_class_of_a_size(size: float, number: int | None) -> None:
    """Edges are inside, a shared one counts to the first class, a size outside has none."""
    assert size_class(size * MM, LOWS, HIGHS) == number


def test_margin_is_the_way_to_the_nearest_edge() -> None:
    """31.987 is 3 µm inside its class; 31.980 lies 4 µm below every class and 32.001 1 µm above."""
    margins = [class_margin(size * MM, LOWS, HIGHS) / MM for size in (31.987, 31.980, 32.001, 31.992)]
    assert margins == pytest.approx([0.003, -0.004, -0.001, 0.0], abs=1e-9)


@given(size=st.floats(31.97, 32.01))
def test_margin_tells_whether_there_is_a_class(size: float) -> None:
    """Inside a class the margin is not below 0, outside every class it is."""
    margin = class_margin(size * MM, LOWS, HIGHS)
    if abs(margin) > 1e-9:
        assert (size_class(size * MM, LOWS, HIGHS) is not None) == (margin > 0)


def test_tables_that_are_none() -> None:
    """No class, ends that do not pair, a class upside down, or a part without size."""
    for formula in (size_class, class_margin):
        with pytest.raises(OutOfRange, match="number of lows"):
            formula(0.03, [], [])
        with pytest.raises(OutOfRange, match="number of highs"):
            formula(0.03, [0.03], [0.03, 0.04])
        with pytest.raises(OutOfRange, match="highs: found"):
            formula(0.03, [0.04], [0.03])
        with pytest.raises(OutOfRange, match="size"):
            formula(0.0, [0.03], [0.04])
