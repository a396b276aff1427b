"""The shim to fit: range, ties, float noise, and valves no shim can mend."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.valvetrain import (
    predicted_gap,
    shim_needed,
    shim_range_left,
    shim_sizes,
    spring_lean,
    spring_loss,
)

MM = 1e-3
SIZES = shim_sizes(1.200 * MM, 2.900 * MM, 0.025 * MM)


def test_lever_shortens_the_step_at_the_cam() -> None:
    """A follower of 1.5: 0.075 too tight at the cam takes 0.1125 off the shim, 1.6875 is between sizes."""
    assert shim_needed(1.8 * MM, 0.1 * MM, 0.175 * MM, lever=1.5) == pytest.approx(1.6875 * MM, rel=1e-12)


@given(fitted=st.floats(1.2, 2.9), measured=st.floats(0.0, 0.6), lever=st.floats(0.8, 1.8))
def test_exact_shim_gives_the_aim(fitted: float, measured: float, lever: float) -> None:
    """The shim wanted, if it could be had, brings the gap to its aim."""
    wanted = shim_needed(fitted * MM, measured * MM, 0.175 * MM, lever=lever)
    assert predicted_gap(fitted * MM, measured * MM, wanted, lever=lever) == pytest.approx(
        0.175 * MM, rel=1e-9
    )


def test_sizes_do_not_drift() -> None:
    """Each size is the decimal on its packet, even where the ends carry binary noise."""
    noisy = 1.1 * 3 * 0.001
    assert noisy != 0.0033
    assert shim_sizes(noisy, 3.4 * 0.001, 0.025 * 0.001) == (0.0033, 0.003325, 0.00335, 0.003375, 0.0034)


def test_last_size_is_left_out_where_the_steps_miss_it() -> None:
    """1.0 to 1.1 in steps of 0.03 ends at 1.09."""
    assert shim_sizes(1.0 * MM, 1.1 * MM, 0.03 * MM)[-1] == pytest.approx(1.09 * MM, rel=1e-12)


def test_slipped_step_is_refused() -> None:
    """A step of a few nanometres would make a list without end."""
    with pytest.raises(OutOfRange, match="number of sizes"):
        shim_sizes(1.2 * MM, 2.9 * MM, 1e-9)


@given(shim=st.sampled_from(SIZES), other=st.sampled_from(SIZES), gap=st.floats(0.2, 0.3))
def test_range_left_does_not_change_with_the_shim_fitted(shim: float, other: float, gap: float) -> None:
    """Whatever shim is fitted, the valve wants the same: gap and shim change by the same amount."""
    lever, aim = 1.2, 0.175 * MM
    before = shim_range_left(shim, gap * MM, aim=aim, thinnest=1.2 * MM, lever=lever)
    then = predicted_gap(shim, gap * MM, other, lever=lever)
    if then >= 0.0:
        after = shim_range_left(other, then, aim=aim, thinnest=1.2 * MM, lever=lever)
        assert after == pytest.approx(before, abs=1e-12)


def test_range_left_is_nothing_at_the_thinnest() -> None:
    """The thinnest size with the gap at its aim leaves 0; a gap below the aim leaves less than nothing."""
    assert shim_range_left(1.2 * MM, 0.2 * MM, aim=0.2 * MM, thinnest=1.2 * MM) == 0.0
    assert shim_range_left(1.2 * MM, 0.1 * MM, aim=0.2 * MM, thinnest=1.2 * MM) == pytest.approx(-0.1 * MM)


def test_range_left_counts_a_lever_once() -> None:
    """Ratio 1.5: a gap of 0.1 at the cam is 0.15 of shim."""
    left = shim_range_left(2.0 * MM, 0.3 * MM, aim=0.2 * MM, thinnest=1.2 * MM, lever=1.5)
    assert left == pytest.approx(0.95 * MM)


@pytest.mark.parametrize("thinnest", [0.0, -1e-3])
def test_thinnest_without_a_thickness(thinnest: float) -> None:
    """A shim is as thick as something."""
    with pytest.raises(OutOfRange, match="thinnest"):
        shim_range_left(2.0 * MM, 0.3 * MM, aim=0.2 * MM, thinnest=thinnest)


def test_straight_spring_does_not_lean() -> None:
    """No gap, no lean; as far aside as it is long, 45 degrees."""
    assert spring_lean(0.0, 40.0 * MM) == 0.0
    assert spring_lean(40.0 * MM, 40.0 * MM) == pytest.approx(45.0)


@pytest.mark.parametrize(
    ("gap", "length", "name"), [(-1e-9, 0.04, "out_of_square"), (0.001, 0.0, "free_length")]
)
def test_spring_that_cannot_be(gap: float, length: float, name: str) -> None:
    """A gap below nothing, a spring without length."""
    with pytest.raises(OutOfRange, match=name):
        spring_lean(gap, length)


def test_spring_loss_runs_from_nothing_to_all() -> None:
    """A new spring has lost nothing, a broken one all, one above its new size less than nothing."""
    assert (spring_loss(200.0, 200.0), spring_loss(0.0, 200.0)) == (0.0, 1.0)
    assert spring_loss(210.0, 200.0) == pytest.approx(-0.05)


@pytest.mark.parametrize(("found", "new", "name"), [(-1.0, 200.0, "found"), (100.0, 0.0, "new")])
def test_spring_load_that_cannot_be(found: float, new: float, name: str) -> None:
    """A load below nothing, a new spring without load."""
    with pytest.raises(OutOfRange, match=name):
        spring_loss(found, new)


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        ({"fitted": 0.0}, "fitted"),
        ({"measured": -1e-9}, "measured"),
        ({"lever": 0.0}, "lever"),
    ],
)
def test_shim_that_cannot_be(changes: dict[str, float], name: str) -> None:
    """Each number has its range, in both directions of the rule; no gap at all is a reading."""
    numbers = {"fitted": 2.0 * MM, "measured": 0.1 * MM, "lever": 1.0} | changes
    with pytest.raises(OutOfRange, match=name):
        shim_needed(aim=0.2 * MM, **numbers)
    with pytest.raises(OutOfRange, match=name):
        predicted_gap(new=2.1 * MM, **numbers)


def test_no_gap_at_all_is_a_reading() -> None:
    """0 is measured, aimed at and asked for."""
    assert shim_needed(2.0 * MM, 0.0, 0.0) == 2.0 * MM
    assert predicted_gap(2.0 * MM, 0.0, 1.9 * MM) == pytest.approx(0.1 * MM)


def test_aim_and_new_shim_that_cannot_be() -> None:
    """An aim below nothing, a new shim without thickness."""
    with pytest.raises(OutOfRange, match="new"):
        predicted_gap(2.0 * MM, 0.1 * MM, 0.0)
    with pytest.raises(OutOfRange, match="aim"):
        shim_needed(2.0 * MM, 0.1 * MM, -1e-9)


@pytest.mark.parametrize(
    ("first", "last", "step", "name"),
    [(0.0, 2.0, 0.1, "first"), (2.0, 1.9, 0.1, "last"), (1.0, 2.0, 0.0, "step")],
)
def test_series_that_cannot_be(first: float, last: float, step: float, name: str) -> None:
    """A first size of nothing, a last below the first, a step of nothing."""
    with pytest.raises(OutOfRange, match=name):
        shim_sizes(first * MM, last * MM, step * MM)


def test_one_size_is_a_series() -> None:
    """First and last may be one."""
    assert shim_sizes(2.0 * MM, 2.0 * MM, 0.1 * MM) == (2.0 * MM,)


def test_ten_thousand_sizes_are_the_most() -> None:
    """A list of so many is taken, one of one more is not."""
    assert len(shim_sizes(1.0, 1.0 + 9_999e-6, 1e-6)) == 10_000
    with pytest.raises(OutOfRange, match="number of sizes"):
        shim_sizes(1.0, 1.0 + 10_000e-6, 1e-6)


def test_spring_loss_of_a_length() -> None:
    """Lengths in metres are small numbers: 39.2 of 40 mm are 2 per cent lost."""
    assert spring_loss(39.2 * MM, 40.0 * MM) == pytest.approx(0.02)
