"""Turns forecasts of wear into checks of what they make of the work."""

from dataclasses import replace
from decimal import Decimal

import pytest

from inspect_report.advise.advice import Advice
from inspect_report.advise.due import due_soon
from inspect_report.advise.work import plan_work
from inspect_report.judge.finding import Trend
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from tests.advise.builders import at, books, finding
from tests.samples import SAMPLES

GAP = finding("valve-clearance", at(1, "exhaust-1"), "serviceable")


def trend(*hours: float, meets: float | None, starts: tuple[int, ...] = ()) -> Trend:
    """A trend of the gap over running hours, with the hours at which its line meets the limit."""
    times = tuple(h * 3600.0 for h in hours)
    return Trend(
        GAP.characteristic, "Gap", GAP.position, "E-1", "mm", 2, times, (0.0,) * len(times), (), (), starts,
        meets_limit=None if meets is None else meets * 3600.0,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("of", "due"),
    [
        (trend(10, 18, 26, meets=36.0), True),
        (trend(10, 18, 26, meets=36.1), False),
        (trend(10, 18, 26, meets=None), False),
        (trend(4, 30, 2, 8, meets=15.4, starts=(2,)), True),
        (trend(4, 30, 2, 8, meets=15.6, starts=(2,)), False),
        (trend(4, 30, 2, meets=2.1, starts=(2,)), False),
    ],
)
def test_due_is_what_the_next_stretch_of_running_brings_to_its_limit(of: Trend, due: bool) -> None:
    """The next stretch is a quarter longer than the last of the part: 10 h, then 7.5 h."""
    assert due_soon([of]) == (frozenset({GAP.id}) if due else frozenset())


def test_a_finding_that_is_due_asks_as_one_undecided() -> None:
    """A gap still serviceable asks for nothing by itself, and to be set if the next stretch takes it out."""
    assert not plan_work(books(), [GAP], ())
    (item,) = plan_work(books(), [GAP], (), (), due_soon([trend(10, 18, 26, meets=30)]))
    assert (item.job, item.why, item.hours) == ("set-gaps", (GAP.id,), Decimal("0.25"))


def advice(name: str) -> Advice:
    """Advice on an engine of the race team."""
    return assess(load(SAMPLES / "race-team" / f"{name}.yaml")).advice


def test_the_race_engine_near_its_limit_gets_its_crankshaft_now() -> None:
    """
    Side clearance reaches 0.70 mm in 6.7 h, and a meeting takes 8 h.

    By hand: 0.39, 0.47, 0.52, 0.59, 0.64 mm at 32, 40, 48, 55, 63 h; least squares give
    4.774 / 593.2 = 0.008048 mm/h and 0.1389 mm at 0 h, so 0.70 mm at 69.7 h, and the crankshaft has 63 h.
    """
    work = {w.job: w for w in advice("c-5").work}
    assert work["rebuild-crankshaft"].urgency == "at this opening"
    assert work["rebuild-crankshaft"].why == ("big-end-side-clearance.1",)


def test_a_bore_that_would_last_minutes_longer_than_the_next_meeting_is_not_sent_out() -> None:
    """Bore wear of engine C meets 0.035 mm 8.05 h from now; the last stretch was 8 h, so 10 h count."""
    work = {w.job: w for w in advice("c-5").work}
    assert work["replate-barrels"].why == ("bore-wear.1",)


@pytest.mark.parametrize("name", ["a-5", "b-5"])
def test_engines_with_hours_left_get_no_work(name: str) -> None:
    """Their side clearance meets its limit 16 h and 31 h from now, two meetings and more."""
    assert not advice(name).work


def test_a_part_that_left_the_engine_asks_for_nothing() -> None:
    """Engine B's scored barrel is scrapped at this opening: no honing; left in, it would be honed."""
    case = load(SAMPLES / "race-team" / "b-3.yaml")
    assert not assess(case).advice.work
    head = case.inspection.head
    kept = tuple(part.model_copy(update={"taken_out": ""}) for part in head.fitted_parts)
    stays = replace(case.inspection, head=head.model_copy(update={"fitted_parts": kept}))
    assert [w.job for w in assess(replace(case, inspection=stays)).advice.work] == ["hone"]
