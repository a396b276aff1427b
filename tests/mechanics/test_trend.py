"""Lines over running hours: luck, weights, and the crossing in all its cases."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.trend import (
    crossing,
    prediction,
    straight_line,
    weights_from_uncertainties,
)

HOURS, WEAR = [0.0, 10.0, 20.0, 30.0], [1.0, 1.9, 3.1, 4.0]


@pytest.mark.parametrize("n", [0, 1, 2])
def test_two_points_make_no_trend(n: int) -> None:
    """Fewer than three readings are refused."""
    with pytest.raises(OutOfRange, match=f"number of x: found {n}, allowed at least 3"):
        straight_line(HOURS[:n], WEAR[:n])


def test_readings_at_one_time_make_no_trend() -> None:
    """Three readings at the same hours have no slope."""
    with pytest.raises(OutOfRange, match="spread of x"):
        straight_line([5.0, 5.0, 5.0], [1.0, 2.0, 3.0])


def test_each_reading_has_its_hours_and_weight() -> None:
    """Rows of unequal length are refused by name."""
    with pytest.raises(OutOfRange, match="number of y"):
        straight_line(HOURS, WEAR[:3])
    with pytest.raises(OutOfRange, match="number of weights"):
        straight_line(HOURS, WEAR, weights=[1.0, 1.0])


def test_points_on_a_line_by_luck_keep_their_doubt() -> None:
    """Three rounded readings in line: the reading's own uncertainty still makes a band."""
    lucky = straight_line([0.0, 10.0, 20.0], [1.0, 2.0, 3.0])
    honest = straight_line([0.0, 10.0, 20.0], [1.0, 2.0, 3.0], least_deviation=0.1)
    assert lucky.deviation == pytest.approx(0.0, abs=1e-12)
    assert honest.deviation == 0.1
    assert prediction(honest, 30.0).high - prediction(honest, 30.0).value > 1.0


def test_reading_of_weight_two_is_two_readings() -> None:
    """Slope and intercept are as if the reading stood twice."""
    weighted = straight_line(HOURS, WEAR, weights=[1.0, 2.0, 1.0, 1.0])
    twice = straight_line([*HOURS, 10.0], [*WEAR, 1.9])
    assert (weighted.slope, weighted.intercept) == pytest.approx((twice.slope, twice.intercept), rel=1e-12)


def test_weights_of_unequal_gauges() -> None:
    """Half the uncertainty, four times the weight; the best has 1."""
    assert weights_from_uncertainties([0.002, 0.001, 0.004]).tolist() == [0.25, 1.0, 0.0625]
    with pytest.raises(OutOfRange, match="us: found 0"):
        weights_from_uncertainties([0.0, 1.0])


def test_band_is_narrowest_at_the_centre() -> None:
    """Farther from the readings the band widens on both sides alike."""
    line = straight_line(HOURS, WEAR)
    widths = [prediction(line, x).high - prediction(line, x).low for x in (15.0, 5.0, 25.0, 60.0)]
    assert widths[1] == pytest.approx(widths[2])
    assert widths[0] < widths[1] < widths[3]


@given(limit=st.floats(-20.0, 30.0), probability=st.floats(0.5, 0.95))
def test_bounds_lie_where_the_band_meets_the_limit(limit: float, probability: float) -> None:
    """At each bound an edge of the band is the limit; the line meets it between them."""
    line = straight_line(HOURS, WEAR)
    met = crossing(line, limit, probability=probability)
    assert met.low is not None
    assert met.x is not None
    assert met.high is not None
    assert met.low < met.x < met.high
    assert prediction(line, met.x).value == pytest.approx(limit, abs=1e-9)
    for bound in (met.low, met.high):
        band = prediction(line, bound, probability=probability)
        assert min(abs(band.low - limit), abs(band.high - limit)) == pytest.approx(0.0, abs=1e-8)


def test_unsure_slope_has_no_latest_hours() -> None:
    """Scatter as large as the rise: the limit may come early, and no latest hour can be told."""
    line = straight_line([0.0, 10.0, 20.0, 30.0], [1.0, 2.5, 1.2, 2.6])
    met = crossing(line, 12.0)
    assert met.high is None
    assert met.low is not None
    assert met.x is not None
    assert 30.0 < met.low < met.x
    assert prediction(line, met.low).high == pytest.approx(12.0, rel=1e-9)


def test_unsure_slope_below_the_readings_has_no_earliest_hours() -> None:
    """The same scatter, a limit on the other side: the bounds change places."""
    line = straight_line([0.0, 10.0, 20.0, 30.0], [1.0, 2.5, 1.2, 2.6])
    met = crossing(line, -9.0)
    assert met.low is None
    assert met.high is not None
    assert prediction(line, met.high).low == pytest.approx(-9.0, rel=1e-9)


def test_limit_inside_the_scatter_has_no_bounds() -> None:
    """A limit within the band everywhere is undecided everywhere."""
    met = crossing(straight_line([0.0, 10.0, 20.0, 30.0], [1.0, 2.5, 1.2, 2.6]), 1.8)
    assert (met.low, met.high) == (None, None)


def test_level_line_never_meets_a_limit() -> None:
    """No slope, no crossing, no bound."""
    met = crossing(straight_line([0.0, 10.0, 20.0], [2.0, 2.0, 2.0]), 5.0)
    assert (met.x, met.low, met.high) == (None, None, None)


def test_falling_readings_meet_a_lower_limit() -> None:
    """A spring or a plate that grows thinner works as a bore that grows wider."""
    up = crossing(straight_line(HOURS, WEAR), 6.0)
    down = crossing(straight_line(HOURS, [-wear for wear in WEAR]), -6.0)
    assert up == down


@given(readings=st.lists(st.floats(-5.0, 5.0), min_size=3, max_size=8), limit=st.floats(-50.0, 50.0))
def test_bounds_hold_for_any_readings(readings: list[float], limit: float) -> None:
    """Whatever the scatter: every bound given is an edge of the band, and the line's crossing lies inside."""
    hours = [float(i) for i in range(len(readings))]
    line = straight_line(hours, readings, least_deviation=0.05)
    assume(abs(line.slope) > 1e-6)
    met = crossing(line, limit)
    assert met.x is not None
    assert (
        (-math.inf if met.low is None else met.low) <= met.x <= (math.inf if met.high is None else met.high)
    )
    for bound in (met.low, met.high):
        if bound is not None:
            band = prediction(line, bound)
            scale = abs(band.value) + abs(limit) + band.high - band.low
            assert min(abs(band.low - limit), abs(band.high - limit)) <= 1e-7 * scale


def test_band_holds_the_next_reading_nineteen_times_of_twenty() -> None:
    """Simulated wear with a fixed seed: the 95 % band holds the next reading in 95 of 100 trials."""
    random = np.random.default_rng(20)
    hours, held = np.arange(0.0, 60.0, 10.0), 0
    for _ in range(400):
        line = straight_line(hours, 0.01 * hours + random.normal(0.0, 0.05, hours.size))
        low, high = prediction(line, 90.0).low, prediction(line, 90.0).high
        held += low <= 0.9 + random.normal(0.0, 0.05) <= high
    assert held / 400 == pytest.approx(0.95, abs=0.03)
