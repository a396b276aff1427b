"""Trends follow a part by its running time, and forecast only from three readings of one part on."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from scipy import stats

from inspect_report.judge.finding import PastReading, Trend
from inspect_report.judge.trends import past_readings, trends
from inspect_report.knowledge.case import Case
from inspect_report.measure.derived import Derived
from tests.judge.made import a_case, at, derived, mm, some_books

HOUR = 3600.0
ROW = {"id": "bore-wear", "standard": {"high": 0.010}, "limit": {"high": 0.10}, "wears": "up"}
PLACE = at(cylinder=1)


def visit(
    number: int,
    hours: float,
    *,
    barrel: str = "",
    serial: str = "E-1",
    cylinder: int = 1,
    fitted_at: float = 0.0,
    before: float = 0.0,
    taken_out: str = "",
) -> Case:
    """An inspection of an engine at some hours, with a named barrel or none."""
    part = {
        "part": "barrel", "id": barrel, "at": {"cylinder": cylinder},
        "fitted-at": fitted_at, "running-time-before": before,
        "taken-out": taken_out,
    }  # fmt: skip
    return a_case(
        some_books([ROW]),
        inspection=f"HW-{number}",
        dates={"inspected": f"2026-01-{number:02}", "issued": f"2026-01-{number:02}"},
        engine={"serial": serial, "running-time": hours},
        fitted_parts=[part] if barrel else [],
    )


def wear(value: float, cylinder: int = 1, u: float = 0.001) -> tuple[Derived, ...]:
    """Bore wear of a cylinder."""
    return (derived("bore-wear", at(cylinder=cylinder), mm(value, u)),)


def followed(*readings: tuple[Case, Sequence[Derived]]) -> Trend:
    """The one trend of the last of some inspections."""
    *before, (now, quantities) = readings
    past = [p for case, values in before for p in past_readings(case, values)]
    (trend,) = trends(now, quantities, past, [])
    return trend


def test_past_reading_of_an_engine() -> None:
    """Without a named part the engine's own serial and time count."""
    (past,) = past_readings(visit(3, 120), wear(0.02))
    assert (past.inspection, past.engine, past.part) == ("HW-3", "E-1", "E-1")
    assert past.engine_time == past.part_time == pytest.approx(120 * HOUR)


def test_running_time_of_a_part() -> None:
    """30 h before, fitted at 100 h, engine now at 120 h: 50 h."""
    (past,) = past_readings(visit(3, 120, barrel="B-7", fitted_at=100, before=30), wear(0.02))
    assert past.part == "B-7"
    assert past.part_time == pytest.approx(50 * HOUR)


def test_a_part_fitted_elsewhere_is_not_this_ones() -> None:
    """Barrel B-7 at cylinder 1 says nothing of cylinder 2."""
    (past,) = past_readings(visit(3, 120, barrel="B-7"), wear(0.02, cylinder=2))
    assert past.part == "E-1"


def test_no_running_time_no_trend() -> None:
    """Without hours there is nothing to draw a trend over, and nothing is invented."""
    case = a_case(some_books([ROW]))
    past: list[PastReading] = list(past_readings(visit(1, 10), wear(0.01)))
    assert trends(case, wear(0.02), past, []) == ()


def test_what_is_not_followed_has_no_trend() -> None:
    """The catalogue says what is followed."""
    gap = (derived("ring-end-gap", at(cylinder=1, ring="top"), mm(0.3)),)
    past = past_readings(visit(1, 10), gap)
    assert len(past) == 1
    assert trends(visit(2, 20), gap, past, []) == ()


def test_a_first_reading_has_no_trend() -> None:
    """One point is no trend."""
    assert trends(visit(1, 10), wear(0.01), (), []) == ()


def test_two_readings_give_their_difference_and_no_forecast() -> None:
    """Fewer than three points of a part: what changed, no line."""
    trend = followed((visit(1, 100), wear(0.010)), (visit(2, 131), wear(0.022)))
    assert trend.note == "no forecast: 2 of 3 readings; change +0.012 mm in 31 h"
    assert (trend.slope, trend.meets_limit, trend.band_times) == (None, None, ())


THREE = ((visit(1, 100), wear(0.020)), (visit(2, 200), wear(0.041)), (visit(3, 300), wear(0.060)))


def test_the_line_against_scipy() -> None:
    """Slope and intercept of equal weights are those of scipy's regression."""
    trend = followed(*THREE)
    line = stats.linregress([100 * HOUR, 200 * HOUR, 300 * HOUR], [0.020e-3, 0.041e-3, 0.060e-3])
    assert trend.slope == pytest.approx(line.slope)
    assert trend.intercept == pytest.approx(line.intercept)


def test_the_limit_is_met_between_its_bounds() -> None:
    """At 0.2 µm an hour 0.10 mm is met at about 500 h; the band gives an early and a late bound."""
    trend = followed(*THREE)
    assert trend.limit == pytest.approx(0.10e-3)
    assert trend.meets_limit == pytest.approx(499 * HOUR, rel=0.01)
    assert trend.meets_early is not None
    assert trend.meets_limit is not None
    assert 300 * HOUR < trend.meets_early < trend.meets_limit
    assert trend.meets_late is None or trend.meets_late > trend.meets_limit
    assert trend.note.startswith("limit expected in about 198 h (95 %: 87 to 461 h); ")
    assert "wear that speeds up meets the limit sooner" in trend.note


def test_the_band_holds_the_line_and_widens_ahead() -> None:
    """The band runs from the first reading to beyond the limit and grows away from the readings."""
    trend = followed(*THREE)
    assert trend.slope is not None
    assert trend.intercept is not None
    widths = [high - low for low, high in zip(trend.band_low, trend.band_high, strict=True)]
    assert trend.band_times[0] == pytest.approx(100 * HOUR)
    assert max(widths) == widths[-1] > widths[3]
    for time, low, high in zip(trend.band_times, trend.band_low, trend.band_high, strict=True):
        assert low < trend.intercept + trend.slope * time < high


def test_three_readings_on_a_line_by_luck_are_no_surer_than_the_gauge() -> None:
    """The band is at least as wide as the readings' own uncertainty asks for."""
    readings = [(visit(n, 100 * n), wear(0.02 * n)) for n in (1, 2, 3)]
    trend = followed(*readings)
    assert trend.band_high[0] - trend.band_low[0] > 2 * 12.7 * 0.001e-3


def test_a_surer_reading_weighs_more() -> None:
    """The line passes nearer to the point with the smaller uncertainty."""
    readings = [
        (visit(1, 100), wear(0.020)), (visit(2, 200), wear(0.050, u=0.020)), (visit(3, 300), wear(0.060)),
    ]  # fmt: skip
    trend = followed(*readings)
    assert trend.slope is not None
    assert trend.intercept is not None
    assert trend.intercept + trend.slope * 200 * HOUR == pytest.approx(0.040e-3, abs=0.0005e-3)


def test_readings_without_uncertainty_weigh_alike() -> None:
    """An uncertainty of 0 is not taken for infinite weight."""
    exact = [(visit(n, 100 * n), wear(v, u=0.0)) for n, v in enumerate((0.02, 0.041, 0.06), start=1)]
    assert followed(*exact).slope == pytest.approx(followed(*THREE).slope)


def test_a_part_change_starts_a_new_line() -> None:
    """The old barrel's readings are shown, and take no part in the new barrel's line."""
    trend = followed(
        (visit(1, 100, barrel="B-1"), wear(0.03)),
        (visit(2, 200, barrel="B-1"), wear(0.09)),
        (visit(3, 250, barrel="B-2", fitted_at=200), wear(0.01)),
        (visit(4, 300, barrel="B-2", fitted_at=200), wear(0.02)),
    )
    assert (trend.part, trend.starts, trend.slope) == ("B-2", (2,), None)
    assert [t / HOUR for t in trend.times] == pytest.approx([100, 200, 50, 100])
    assert trend.note.endswith("change +0.010 mm in 50 h")


def test_a_part_taken_out_has_its_readings_and_no_forecast() -> None:
    """A barrel that is scrapped at this opening wears no further; until then it has a line."""
    stays = [(visit(n, 100 * n, barrel="B-1"), wear(0.02 * n)) for n in (1, 2, 3)]
    assert followed(*stays).meets_limit is not None
    gone = followed(*stays[:2], (visit(3, 300, barrel="B-1", taken_out="scrapped"), wear(0.06)))
    assert (len(gone.values), gone.slope, gone.meets_limit) == (3, None, None)
    assert gone.note == "no forecast: B-1 was taken out at this opening"


def test_a_part_is_followed_from_engine_to_engine() -> None:
    """A barrel that was in another engine, at another cylinder, brings its readings with it."""
    trend = followed(
        (visit(1, 100, barrel="B-7", serial="E-2", cylinder=3), wear(0.02, cylinder=3)),
        (visit(2, 200, barrel="B-7", serial="E-2", cylinder=3), wear(0.04, cylinder=3)),
        (visit(3, 550, barrel="B-7", fitted_at=500, before=230), wear(0.056)),
    )
    assert [t / HOUR for t in trend.times] == pytest.approx([100, 200, 280])
    assert trend.starts == ()
    assert trend.slope == pytest.approx(0.0002e-3 / HOUR, rel=0.01)


def test_another_engines_own_readings_are_not_this_ones() -> None:
    """Without a named part nothing is carried over from another engine."""
    past = past_readings(visit(1, 100, serial="E-2"), wear(0.02))
    assert trends(visit(2, 200), wear(0.03), past, []) == ()


def test_the_same_inspection_issued_again_counts_once() -> None:
    """A reading does not become its own past."""
    past = past_readings(visit(1, 100), wear(0.02))
    assert trends(visit(1, 100), wear(0.02), past, []) == ()


@pytest.mark.parametrize(
    ("values", "note"),
    [
        ((0.060, 0.041, 0.020), "it does not move towards its limit"),
        ((0.06, 0.09, 0.121), "the line is at its limit already"),
        ((0.0200, 0.0201, 0.0203), "limit expected beyond 1000 h"),
    ],
)
def test_lines_that_meet_no_limit_ahead(values: tuple[float, ...], note: str) -> None:
    """Away from the limit, past it, and too slow for it each have their words."""
    readings = [(visit(n, 100 * n), wear(v)) for n, v in enumerate(values, start=1)]
    assert followed(*readings).note.startswith(note)


def test_a_limit_that_may_be_met_at_any_time_from_now_is_no_forecast() -> None:
    """Where the band reaches the limit now and never leaves it behind, only the line's own time is told."""
    readings = [(visit(n, 100 * n), wear(v)) for n, v in enumerate((0.06, 0.068, 0.092), start=1)]
    trend = followed(*readings)
    assert trend.meets_early == pytest.approx(300 * HOUR)
    assert trend.is_open
    assert trend.note.startswith("cannot be told yet; by the line alone in about 67 h; ")


def test_a_limit_met_from_now_on_and_by_a_latest_time_is_told_by_that_time() -> None:
    """
    Six readings near their limit: the band touches it now, and leaves it behind.

    Products 0.168, squares 17.5, so 0.0096 mm a hundred hours; (0.1 - 0.07467)/0.0096 = 2.639, at 614 h.
    """
    values = (0.050, 0.061, 0.069, 0.081, 0.089, 0.098)
    trend = followed(*((visit(n, 100 * n), wear(v)) for n, v in enumerate(values, start=1)))
    assert trend.meets_early == pytest.approx(600 * HOUR)
    assert not trend.is_open
    assert trend.note.startswith("limit expected in about 14 h (95 %: within 54 h); ")


def test_a_line_is_not_believed_without_end() -> None:
    """Five times the stretch of the readings ahead, no forecast is given."""
    readings = [(visit(n, 100 * n), wear(v)) for n, v in enumerate((0.0200, 0.0201, 0.0203), start=1)]
    assert followed(*readings).meets_limit is None


def test_no_limit_no_forecast_but_a_line() -> None:
    """Without a limit there is a line and nothing it could meet."""
    case = a_case(some_books(), inspection="HW-9", engine={"running-time": 300})
    past = [p for c, v in THREE[:2] for p in past_readings(c, v)]
    (trend,) = trends(case, wear(0.06), past, [])
    assert trend.slope is not None
    assert (trend.limit, trend.note) == (None, "no limit is known that it could meet")


def test_readings_all_at_one_time() -> None:
    """Three readings at the same hours give no line and no error."""
    readings = [(visit(n, 100), wear(0.02 + n / 1000)) for n in (1, 2, 3)]
    assert followed(*readings).note == "every reading was taken at one running time: no forecast"


def test_what_shrinks_runs_to_its_lower_limit() -> None:
    """A mirrored line meets the mirrored limit at the same hours."""
    row = {"id": "bore-wear", "standard": {"low": -0.010}, "limit": {"low": -0.10}, "wears": "down"}
    past = [p for c, v in THREE[:2] for p in past_readings(c, _mirrored(v))]
    case = a_case(some_books([row]), inspection="HW-3", engine={"running-time": 300})
    (trend,) = trends(case, _mirrored(THREE[2][1]), past, [])
    assert trend.meets_limit == pytest.approx(followed(*THREE).meets_limit)
    assert trend.meets_early == pytest.approx(followed(*THREE).meets_early)


def _mirrored(quantities: Sequence[Derived]) -> tuple[Derived, ...]:
    return tuple(
        derived(q.characteristic, q.position, mm(-q.quantity.value * 1e3, q.quantity.u * 1e3))
        for q in quantities
    )


def told(value: float, engine: str = "", basis: str = "") -> tuple[Derived, ...]:
    """Bore wear as read on an engine in some state, with some tester."""
    return tuple(replace(d, engine=engine, basis=basis) for d in wear(value))


@pytest.mark.parametrize(
    ("before", "now", "joined"),
    [
        (("hot", ""), ("hot", ""), True),
        (("warm", ""), ("hot", ""), True),
        (("cold", ""), ("cold", ""), True),
        (("cold", ""), ("hot", ""), False),
        (("warm", ""), ("cold", ""), False),
        (("", ""), ("cold", ""), True),
        (("cold", ""), ("", ""), True),
        (("", "orifice 1 mm"), ("", "orifice 1 mm"), True),
        (("", "orifice 1 mm"), ("", "orifice 0.8 mm"), False),
        (("", ""), ("", "orifice 0.8 mm"), True),
        (("hot", "orifice 1 mm"), ("cold", "orifice 1 mm"), False),
    ],
)
def test_hot_and_cold_and_unlike_testers_are_kept_apart(
    before: tuple[str, str], now: tuple[str, str], joined: bool
) -> None:
    """No line joins a cold reading to a warm one, or the percents of two testers, where both are noted."""
    past = past_readings(visit(1, 100), told(0.010, *before))
    found = trends(visit(2, 131), told(0.022, *now), past, [])
    assert len(found) == joined
