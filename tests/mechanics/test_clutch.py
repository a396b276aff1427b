"""Plates of a clutch: the pack is their sum, and what it lost of the pack when new."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.clutch import pack_thickness, pack_wear
from inspect_report.mechanics.errors import OutOfRange

MM = 1e-3


def test_pack_is_the_sum_of_its_plates() -> None:
    """2.9, 2.8 and 1.6 mm make 7.3 mm; of 7.5 mm when new 0.2 mm are gone."""
    plates = [2.9 * MM, 2.8 * MM, 1.6 * MM]
    assert pack_thickness(plates) == pytest.approx(7.3 * MM)
    assert pack_wear(plates, 7.5 * MM) == pytest.approx(0.2 * MM)


@given(st.permutations([2.9, 2.8, 2.7, 1.6]), st.floats(0.01, 0.5))
def test_order_does_not_matter_and_wear_adds_up(plates: list[float], worn: float) -> None:
    """Whatever the order, the pack is as thick; a plate worn by so much more wears the pack by as much."""
    pack = [plate * MM for plate in plates]
    thinner = [pack[0] - worn * MM, *pack[1:]]
    assert pack_thickness(pack) == pytest.approx(10 * MM)
    assert pack_wear(thinner, 10 * MM) == pytest.approx(worn * MM, abs=1e-12)


def test_no_plate_and_no_pack() -> None:
    """A plate of no thickness, no plate at all, or a new pack of nothing is refused."""
    with pytest.raises(OutOfRange, match="plates"):
        pack_thickness([2.9 * MM, 0.0])
    with pytest.raises(OutOfRange, match="number of plates"):
        pack_thickness([])
    with pytest.raises(OutOfRange, match="new"):
        pack_wear([2.9 * MM], 0.0)
