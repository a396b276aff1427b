"""Turns what a new issue says otherwise than the one before into checks."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_report.advise.advice import Advice, Changes, WorkItem
from inspect_report.advise.changes import Issue, changes
from inspect_report.advise.chosen import choices, order_so_far
from inspect_report.advise.estimate import estimate
from inspect_report.advise.options import Till, options
from inspect_report.advise.priced import NOTHING, Span
from inspect_report.judge.finding import Finding
from inspect_report.knowledge.catalogue import URGENCIES
from tests.advise.builders import JOBS, PRICES, at, case, finding, item, judged

D = Decimal
CHOICE = {"date": "2026-03-06", "name": "A. Customer"}


def issue(*work: WorkItem, number: int = 1, findings: tuple[Finding, ...] = (), **of_case: Any) -> Issue:
    """An issue with some work."""
    made = case(**of_case)
    till, chosen = Till(made), choices(made, work)
    wanted = {c.job for c in chosen if c.decision == "ordered"}
    advice = Advice(
        (),
        (),
        work,
        estimate(made, work),
        options=options(till, work),
        choices=chosen,
        ordered=order_so_far(till, chosen, [w for w in work if w.job in wanted], work),
    )
    return Issue(number, advice, judged(*findings))


def told(before: Issue, now: Issue) -> Changes:
    """What changed."""
    return changes(before, replace(now, number=before.number + 1))


GAP = "valve-clearance.1.exhaust-1"
GAPS = item("set-gaps", "at this opening", at(1, "exhaust-1"))


def asking(why: str) -> WorkItem:
    """Gaps to set because of a finding."""
    return replace(GAPS, why=(why,))


def test_nothing_changed() -> None:
    """Two equal issues differ in nothing."""
    found = told(issue(GAPS), issue(GAPS))
    assert (found.since, found.jobs, found.lines, found.sums, found.choices) == (1, (), (), (), ())


def test_a_job_is_added_because_a_finding_changed() -> None:
    """The gap was not read before; now it is beyond its limit. The lines say what that costs."""
    before = issue(findings=(finding("valve-clearance", at(1, "exhaust-1"), "not inspected"),))
    now = issue(asking(GAP), findings=(finding("valve-clearance", at(1, "exhaust-1"), "beyond limit"),))
    found = told(before, now)
    (job,) = found.jobs
    assert (job.job, job.was) == ("set-gaps", "")
    assert job.now == "advised now; cylinder 1, exhaust valve 1; 0.25 h"
    assert job.because == ("Valve gap, cylinder 1, exhaust valve 1: beyond limit, before not inspected",)
    assert {(x.kind, x.id): x.now for x in found.lines} == {
        ("work", "set-gaps"): Span(D("18.13"), D("18.13")),
        ("access", "cover-off"): Span(D("72.50"), D("72.50")),
        ("access", "cams-out"): Span(D("87.00"), D("87.00")),
        ("part", "cover-gasket"): Span(D("18.40"), D("18.40")),
        ("part", "shim"): Span(D("6.90"), D("6.90")),
    }
    assert all(x.before is None for x in found.lines)
    assert [(s.id, s.gross[1]) for s in found.sums] == [
        ("advised", Span(D("241.49"), D("241.49"))),
        ("all", Span(D("241.49"), D("241.49"))),
    ]


def test_a_whole_item_not_inspected_stands_for_its_places() -> None:
    """Before, nobody had read any gap; the reason names the place that is known now."""
    before = issue(findings=(finding("valve-clearance", at(), "not inspected"),))
    now = issue(asking(GAP), findings=(finding("valve-clearance", at(1, "exhaust-1"), "beyond limit"),))
    (job,) = told(before, now).jobs
    assert job.because == ("Valve gap, cylinder 1, exhaust valve 1: beyond limit, before not inspected",)


def test_a_job_is_dropped() -> None:
    """The gap was read wrongly; the job goes with its lines."""
    before = issue(asking(GAP), findings=(finding("valve-clearance", at(1, "exhaust-1"), "beyond limit"),))
    now = issue(findings=(finding("valve-clearance", at(1, "exhaust-1"), "as new"),))
    found = told(before, now)
    assert [(j.job, j.now, j.because) for j in found.jobs] == [
        ("set-gaps", "", ("Valve gap, cylinder 1, exhaust valve 1: as new, before beyond limit",))
    ]
    assert all(x.now is None and x.before for x in found.lines)


def test_a_price_changed() -> None:
    """The job is the same; one line costs more, and the reason is its price."""
    dearer = {"prices": PRICES | {"shim": "8.10"}}
    found = told(issue(GAPS), issue(GAPS, shop=dearer))
    (line,) = found.lines
    assert found.jobs == ()
    assert (line.before, line.now) == (Span(D("6.90"), D("6.90")), Span(D("8.10"), D("8.10")))
    assert line.unit == (Span(D("6.90"), D("6.90")), Span(D("8.10"), D("8.10")))
    assert (line.quantity[0], line.jobs) == (line.quantity[1], ())


def test_a_price_that_was_on_request_is_known_now() -> None:
    """It was in no sum before; that is no price of nothing."""
    without = {"prices": {k: v for k, v in PRICES.items() if k != "shim"}}
    (line,) = told(issue(GAPS, shop=without), issue(GAPS)).lines
    assert (line.on_request, line.before, line.now) == ((True, False), NOTHING, Span(D("6.90"), D("6.90")))


def test_a_choice_is_told_and_changes_the_order_alone() -> None:
    """Ordered since: no job, line or class changes; the order is there now."""
    chosen = {"choices": [{"job": "set-gaps", "decision": "ordered", **CHOICE}]}
    found = told(issue(GAPS), issue(GAPS, head=chosen))
    assert (found.jobs, found.lines, [s.id for s in found.sums]) == ((), (), ["ordered"])
    assert [(c.job, c.decision) for c in found.choices] == [("set-gaps", "ordered")]
    assert found.sums[0].gross == (None, Span(D("241.49"), D("241.49")))


def test_prices_in_two_currencies_are_not_compared() -> None:
    """Work is; amounts of money are not."""
    found = told(issue(GAPS), issue(shop={"currency": "GBP"}))
    assert ([j.job for j in found.jobs], found.lines, found.sums) == (["set-gaps"], (), ())
    assert found.currencies == ("EUR", "GBP")


KNOWN = st.lists(
    st.tuples(st.sampled_from([str(j["id"]) for j in JOBS]), st.sampled_from(URGENCIES)),
    unique_by=lambda pair: pair[0],
)
SHOPS = st.fixed_dictionaries(
    {
        "labour-rate": st.sampled_from(["72.50", "80"]),
        "prices": st.sampled_from([PRICES, {}, PRICES | {"shim": {"low": "5", "high": "9"}}]),
    }
)


@settings(max_examples=60)
@given(KNOWN, KNOWN, SHOPS, SHOPS)
def test_the_lines_account_for_every_coin(
    old: list[tuple[str, Any]], new: list[tuple[str, Any]], first: dict[str, Any], then: dict[str, Any]
) -> None:
    """The differences of the lines of a class add up to that of its net sum, at both ends."""
    before, now = (
        issue(*(item(j, u, at(1)) for j, u in jobs), shop=shop) for jobs, shop in ((old, first), (new, then))
    )
    found = told(before, now)
    for was, is_ in zip(before.advice.estimate.totals, now.advice.estimate.totals, strict=True):
        lines = [x for x in found.lines if x.total == was.id]
        difference = sum(((x.now or NOTHING) - (x.before or NOTHING) for x in lines), NOTHING)
        assert difference == is_.sums[0] - was.sums[0]
        assert all(x.before != x.now or x.on_request[0] != x.on_request[1] for x in lines if not _more(x))


def _more(line: Any) -> bool:
    return bool(line.quantity[0] != line.quantity[1])
