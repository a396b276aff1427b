"""Turns what a customer decided into checks: it changes the order, and nothing that was judged."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from inspect_report.advise.advice import Chosen, WorkItem
from inspect_report.advise.chosen import choices
from inspect_report.assessment import Assessment, from_json, to_json
from inspect_report.knowledge.case import Case, IssuedReport
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from inspect_report.records.inspection import CustomerChoice
from inspect_report.records.problem import InvalidInspection
from tests.advise.builders import at, case, item
from tests.samples import SAMPLES

KART = SAMPLES / "kart-two-stroke.yaml"
GAPS = item("set-gaps", "before running", at(1))


def choice(job: str, decision: str, day: str = "2026-03-06") -> dict[str, Any]:
    """A choice as written in a file."""
    return {"job": job, "decision": decision, "date": day, "name": "A. Customer"}


def decided(*made: dict[str, Any], work: tuple[WorkItem, ...] = (GAPS,)) -> tuple[Chosen, ...]:
    """The choices that hold."""
    return choices(case(head={"choices": list(made)}), work)


def test_the_last_day_holds() -> None:
    """Declined on the 6th, ordered on the 8th, written in either order."""
    first, then = choice("set-gaps", "declined"), choice("set-gaps", "ordered", "2026-03-08")
    for made in ((first, then), (then, first)):
        (held,) = decided(*made)
        assert (held.decision, held.day.day, held.by) == ("ordered", 8, "A. Customer")


@pytest.mark.parametrize(("decision", "unsafe"), [("ordered", False), ("declined", True), ("later", True)])
def test_a_job_that_must_be_done_and_is_not_wanted_is_unsafe(decision: str, unsafe: bool) -> None:
    """Declined or put off; a job that can wait is not."""
    assert decided(choice("set-gaps", decision))[0].leaves_unsafe is unsafe
    can_wait = replace(GAPS, urgency="next opening")
    assert not decided(choice("set-gaps", decision), work=(can_wait,))[0].leaves_unsafe


def test_a_choice_about_work_that_is_asked_for_no_more() -> None:
    """It stays on record, without urgency and risk; so does one about a job another makes needless."""
    needless = replace(GAPS, covered_by="reseat", if_left="It burns.")
    assert decided(choice("chain", "declined"))[0].urgency == ""
    (held,) = decided(choice("set-gaps", "declined"), work=(needless,))
    assert (held.urgency, held.risk, held.leaves_unsafe) == ("", "", False)


@pytest.fixture(scope="module")
def kart() -> Case:
    """The kart engine that seized, second issue."""
    return load(KART)


def deciding(kart: Case, *made: dict[str, Any]) -> Assessment:
    """The kart's assessment with other choices."""
    chosen = tuple(CustomerChoice.model_validate(c) for c in made)
    head = kart.inspection.head.model_copy(update={"choices": chosen})
    return assess(replace(kart, inspection=replace(kart.inspection, head=head)))


def test_no_choice_hides_do_not_run(kart: Case) -> None:
    """Whatever is declined: verdicts, grades, work, the three sums and options stay as they are."""
    plain = deciding(kart)
    jobs = [w.job for w in plain.advice.work]
    for decision in ("declined", "later", "ordered"):
        made = deciding(kart, *(choice(j, decision, "2026-06-11") for j in jobs))
        assert made.judged == plain.judged
        assert made.judged.engine.do_not_run
        assert made.advice.work == plain.advice.work
        assert made.advice.estimate == plain.advice.estimate
        assert made.advice.options == plain.advice.options


def test_what_a_declined_job_would_have_done_is_done_and_paid(kart: Case) -> None:
    """Truing comes with the rebuild; ordered without it, it is a job of its own: 0.3 h and 40.00."""
    both = deciding(kart, choice("rebuild-crankshaft", "ordered"), choice("true-crankshaft", "ordered"))
    alone = deciding(kart, choice("rebuild-crankshaft", "declined"), choice("true-crankshaft", "ordered"))
    assert both.advice.ordered is not None
    assert both.advice.ordered.jobs == ("rebuild-crankshaft",)
    assert alone.advice.ordered is not None
    assert alone.advice.ordered.jobs == ("true-crankshaft",)
    assert alone.advice.ordered.machine_shop.low == Decimal("40.00")


def test_all_ordered_costs_what_the_largest_option_costs(kart: Case) -> None:
    """To the coin, since both are put together in the same way."""
    asked = deciding(kart).advice.work
    made = deciding(kart, *(choice(w.job, "ordered") for w in asked)).advice
    assert made.ordered is not None
    assert replace(made.ordered, id="complete", title="With what can wait") == made.options[-1]


def test_the_issue_before_is_its_report_or_its_inspection(kart: Case) -> None:
    """Both name the reeds; only the report can tell a price that stood in it."""
    first = assess(load(SAMPLES / "kart-two-stroke-issue-1.yaml"))
    by_inspection = assess(kart).advice.changes
    report = IssuedReport("issue-1.json", to_json(first).replace('"price": "34.00"', '"price": "30.00"'))
    by_report = assess(replace(kart, replaced=None, issued=report)).advice.changes
    assert by_inspection is not None
    assert by_report is not None
    assert [j.job for j in by_inspection.jobs] == [j.job for j in by_report.jobs] == ["replace-reeds"]
    assert (by_inspection.as_issued, by_report.as_issued) == (False, True)
    made = assess(kart)
    assert from_json(to_json(made)) == made


def test_a_report_of_another_form_is_told(kart: Case) -> None:
    """JSON that is no assessment is refused by name instead of being passed over."""
    with pytest.raises(InvalidInspection, match=r"issue-1\.json:1:1: error V385"):
        assess(replace(kart, replaced=None, issued=IssuedReport("issue-1.json", '{"inspection": {}}')))
