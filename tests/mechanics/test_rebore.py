"""The oversize that cleans a bore up: the smallest that leaves metal everywhere."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.rebore import least_oversize, oversize_to_fit, oversizes

MM = 1e-3


def test_metal_left_by_each_step() -> None:
    """Worn to 67.10 of 67: 67.25 leaves 0.15, 0.05 where all wear is on one side; 67.50 leaves 0.40, 0.30."""
    rows = oversizes([0.50 * MM, 0.25 * MM], largest=67.10 * MM, unworn=67 * MM)
    assert [row.bore for row in rows] == pytest.approx([67.25 * MM, 67.50 * MM])
    assert [row.metal for row in rows] == pytest.approx([0.15 * MM, 0.40 * MM])
    assert [row.metal_one_sided for row in rows] == pytest.approx([0.05 * MM, 0.30 * MM])


def test_one_sided_wear_takes_the_whole_wear_from_one_wall() -> None:
    """Worst case by hand: wall at 33.60 from the old axis, new wall at 33.625: 0.025 on the radius left."""
    (row,) = oversizes([0.25 * MM], largest=67.10 * MM, unworn=67 * MM)
    assert row.metal_one_sided / 2 == pytest.approx((67.25 / 2 - (67.10 - 67 / 2)) * MM)


def test_honing_allowance_itself_is_enough() -> None:
    """Wear of 0.20 and 0.05 to hone need 0.25: a step of 0.25 is enough, whatever floats make of it."""
    assert least_oversize(67.20 * MM, 67 * MM) == pytest.approx(0.25 * MM)
    assert [row.cleans_up for row in oversizes([0.25 * MM], largest=67.20 * MM, unworn=67 * MM)] == [True]
    assert [row.cleans_up for row in oversizes([0.25 * MM], largest=67.201 * MM, unworn=67 * MM)] == [False]


def test_allowance_is_the_workshops_own() -> None:
    """Without anything to hone a step as large as the wear is enough."""
    (row,) = oversizes([0.20 * MM], largest=67.20 * MM, unworn=67 * MM, allowance=0.0)
    assert row.cleans_up


def test_smallest_that_cleans_up_is_bored() -> None:
    """Of 0.25, 0.50 and 1.00 the second is the first that leaves metal over a wear of 0.30."""
    rows = oversizes([1.0 * MM, 0.25 * MM, 0.50 * MM], largest=67.30 * MM, unworn=67 * MM)
    chosen = oversize_to_fit(reversed(rows))
    assert chosen is not None
    assert chosen.step == 0.50 * MM


def test_metal_that_is_too_little_to_hone_is_not_enough() -> None:
    """0.25 over a wear of 0.22 leaves 0.03, which the boring bar's marks alone take: 0.50 is bored."""
    rows = oversizes([0.25 * MM, 0.50 * MM], largest=67.22 * MM, unworn=67 * MM)
    chosen = oversize_to_fit(rows)
    assert rows[0].metal == pytest.approx(0.03 * MM)
    assert chosen == rows[1]


def test_worn_beyond_the_last_step() -> None:
    """No step cleans up, or none is on sale: none is chosen."""
    assert oversize_to_fit(oversizes([0.25 * MM], largest=67.4 * MM, unworn=67 * MM)) is None
    assert oversize_to_fit(oversizes([], largest=67.4 * MM, unworn=67 * MM)) is None


@given(wear=st.floats(0.0, 1.5), more=st.floats(0.001, 0.5))
def test_more_wear_never_asks_for_a_smaller_step(wear: float, more: float) -> None:
    """The step grows with the wear, until none is left."""
    steps = [0.25 * MM, 0.5 * MM, 0.75 * MM, 1.0 * MM]

    def step(worn: float) -> float:
        chosen = oversize_to_fit(oversizes(steps, largest=(67 + worn) * MM, unworn=67 * MM))
        return chosen.step if chosen else 1.0

    assert step(wear + more) >= step(wear)


@pytest.mark.parametrize(
    ("change", "name"),
    [({"largest": 0.0}, "largest"), ({"unworn": 0.0}, "unworn"), ({"allowance": -1e-6}, "allowance")],
)
def test_sizes_that_cannot_be(change: dict[str, float], name: str) -> None:
    """No bore, or an allowance below nothing, is refused; so is a step of nothing."""
    with pytest.raises(OutOfRange, match=name):
        least_oversize(**{"largest": 67e-3, "unworn": 67e-3} | change)
    with pytest.raises(OutOfRange, match="step"):
        oversizes([0.0], largest=67e-3, unworn=67e-3)
