"""A history tells of each engine what must be done, what was answered, and where its parts are and were."""

import pytest

from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from inspect_report.report.chartspec import TrendChart
from inspect_report.report.reportview import HistoryView
from inspect_report.report.view import view
from inspect_report.report.view_history import history_view
from tests.samples import SAMPLES


@pytest.fixture(scope="module")
def season() -> HistoryView:
    """The latest inspection of each engine of the race team, and one from which parts went to another."""
    names = ("a-3", "a-5", "b-5", "c-5")
    return history_view([assess(load(SAMPLES / "race-team" / f"{n}.yaml")) for n in names], "Season")


def test_a_history_tells_what_must_be_done_and_what_was_answered(season: HistoryView) -> None:
    """Engine C, whose seats must be cut, stands first, with the job, its cost and the inspector's no."""
    first, second, third = season.engines
    assert first.name == "Engine C: Ostrand R250, no. R250-0109"
    assert first.must == ("Cut valve seats: cylinder 1, exhaust valves 1 and 2",)
    assert first.must_cost.startswith("€649.44 to €682.65, plus ")
    assert first.answer.startswith("Not for the next meeting.")
    assert (second.must, third.must, second.must_cost) == ((), (), "")
    assert second.answer == "Yes. Steady."


def test_a_history_tells_where_each_part_is(season: HistoryView) -> None:
    """Barrel and piston of engine A run on in engine B: 21.5 h there, 15.5 h here."""
    assert season.parts is not None
    assert season.parts.kinds == ("Barrel", "Piston", "Ring set", "Crankshaft")
    cells = {row.engine: row.cells for row in season.parts.rows}
    assert cells["Engine B"][0] == ("BR-101, 37\u00a0h (fitted at 20\u00a0h; before in Engine A)",)
    assert cells["Engine C"][3] == ("CK-38, 63\u00a0h",)
    assert season.parts.gone == "Ring set RS-311 (7.5\u00a0h, Engine A: renewed)."


def test_an_engine_with_few_readings_stands_beside_the_others(season: HistoryView) -> None:
    """Engine A has two readings on its new barrel and no line yet: it is drawn all the same."""
    bore = next(c for c in season.compared if c.title == "Bore wear, cylinder 1")
    assert isinstance(bore, TrendChart)
    assert {line.name: len(line.points) for line in bore.lines} == {
        "Engine A": 2,
        "Engine B": 5,
        "Engine C": 5,
    }


def test_parts_taken_out_are_told_with_why() -> None:
    """Two barrels left: one to another engine that is not in this history, one scrapped."""
    shown = history_view([assess(load(SAMPLES / "race-team" / f"{n}-3.yaml")) for n in "ab"], "")
    assert shown.parts is not None
    assert "Barrel BR-101 (21.5\u00a0h, Engine A: goes to engine B)" in shown.parts.gone
    assert "barrel BR-102 (20\u00a0h, Engine B: scored by a stone; scrapped)" in shown.parts.gone


def test_inspections_of_another_engine_are_named_where_a_part_came_from_it() -> None:
    """Barrel and piston of engine B were read in engine A three times."""
    past = {fact.label: fact.text for fact in view(assess(load(SAMPLES / "race-team" / "b-4.yaml"))).past}
    assert past["FR-26-3B"] == "26 May 2026"
    assert past["FR-26-3A"] == "26 May 2026, engine no. R250-0117"
    assert len(past) == 6


def test_a_job_that_must_be_done_shows_in_headline_grade_and_what_was_not_looked_at() -> None:
    """Engine C has gaps as new and seats that leak: no page calls it serviceable or its valves done with."""
    shown = view(assess(load(SAMPLES / "race-team" / "c-5.yaml")))
    assert shown.front.verdict.headline == "Needs work"
    valves = next(g for g in shown.grades if g.name == "Valves and valve seats")
    assert (valves.chip.word, valves.why) == ("as new", ("Must be done all the same: cut valve seats",))
    (group,) = shown.front.missing_groups
    assert group.names == "Stem clearance"
    assert shown.missing[0].reason == (
        "the checklist used does not ask for it; the price of a job depends on it"
    )
