"""The shim to fit: range, ties, float noise, and valves no shim can mend."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.valvetrain import predicted_gap, shim_needed, shim_sizes, shim_to_fit

MM = 1e-3
SIZES = shim_sizes(1.200 * MM, 2.900 * MM, 0.025 * MM)


def fit(fitted: float, measured: float, sizes: tuple[float, ...] = SIZES, lever: float = 1.0) -> float | None:
    """The choice for an inlet valve, 0.15 to 0.20 mm with the middle as its aim."""
    return shim_to_fit(
        fitted * MM, measured * MM, aim=0.175 * MM, low=0.15 * MM, high=0.20 * MM, sizes=sizes, lever=lever
    )


def test_nearest_size_is_chosen() -> None:
    """0.10 found with 1.80: 1.725 wanted, and on sale."""
    assert fit(1.80, 0.10) == pytest.approx(1.725 * MM, rel=1e-12)


def test_gap_on_its_limit_counts_as_inside() -> None:
    """Only 1.75 is left: it brings the gap to 0.15 exactly, which is allowed whatever floats say."""
    assert fit(1.80, 0.10, sizes=(1.75 * MM,)) == 1.75 * MM


def test_thinner_of_two_equally_near() -> None:
    """1.725 wanted, 1.70 and 1.75 left: the thinner, because gaps close in use."""
    assert fit(1.80, 0.10, sizes=(1.75 * MM, 1.70 * MM)) == 1.70 * MM


def test_no_size_reaches() -> None:
    """A seat sunk so far that the thinnest shim still holds the gap below its range."""
    assert fit(1.20, 0.05) is None
    assert fit(2.90, 0.60) is None
    assert fit(1.80, 0.10, sizes=()) is None


def test_lever_shortens_the_step_at_the_cam() -> None:
    """A follower of 1.5: 0.075 too tight at the cam takes 0.1125 off the shim, 1.6875 is between sizes."""
    assert shim_needed(1.8 * MM, 0.1 * MM, 0.175 * MM, lever=1.5) == pytest.approx(1.6875 * MM, rel=1e-12)
    assert fit(1.80, 0.10, lever=1.5) == pytest.approx(1.675 * MM, rel=1e-12)


@given(fitted=st.floats(1.2, 2.9), measured=st.floats(0.0, 0.6), lever=st.floats(0.8, 1.8))
def test_exact_shim_gives_the_aim(fitted: float, measured: float, lever: float) -> None:
    """The shim wanted, if it could be had, brings the gap to its aim."""
    wanted = shim_needed(fitted * MM, measured * MM, 0.175 * MM, lever=lever)
    assert predicted_gap(fitted * MM, measured * MM, wanted, lever=lever) == pytest.approx(
        0.175 * MM, rel=1e-9
    )


@given(fitted=st.sampled_from(SIZES), measured=st.floats(0.0, 0.6))
def test_choice_keeps_the_gap_in_range(fitted: float, measured: float) -> None:
    """Whatever is chosen keeps the predicted gap in its range; none is given only where every size fails."""
    chosen = fit(fitted / MM, measured)
    gaps = [predicted_gap(fitted, measured * MM, size) for size in ([chosen] if chosen else SIZES)]
    inside = [0.15 * MM - 1e-9 <= gap <= 0.20 * MM + 1e-9 for gap in gaps]
    assert any(inside) is (chosen is not None)


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


def test_range_the_wrong_way_round() -> None:
    """A least gap above the greatest is refused."""
    with pytest.raises(OutOfRange, match="high"):
        shim_to_fit(2.0 * MM, 0.1 * MM, aim=0.2 * MM, low=0.3 * MM, high=0.2 * MM, sizes=SIZES)
