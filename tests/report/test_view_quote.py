"""Turns what a customer reads of orders, choices and changes into checks."""

from dataclasses import replace
from decimal import Decimal

import pytest

from inspect_report.advise.priced import Span
from inspect_report.assessment import Assessment
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from inspect_report.report.explain import why
from inspect_report.report.quoteparts import OrdersView
from inspect_report.report.source import Source
from inspect_report.report.view import view
from inspect_report.report.view_quote import orders
from tests.samples import SAMPLES

NBSP = "\u00a0"


@pytest.fixture(scope="module")
def kart() -> Assessment:
    """A quote in its second issue, with choices and a price that is a range."""
    return assess(load(SAMPLES / "kart-two-stroke.yaml"))


@pytest.fixture(scope="module")
def machine() -> Assessment:
    """A machine before a purchase: part of the price depends on what nobody has looked at."""
    return assess(load(SAMPLES / "used-machine-in-frame.yaml"))


def shown(a: Assessment) -> OrdersView:
    """The table of orders."""
    made = orders(Source(a))
    assert made is not None
    return made


def test_orders_stand_side_by_side(kart: Assessment) -> None:
    """Those that differ and the one given so far; each row has a cell for each; a range runs from … to …."""
    made = shown(kart)
    assert made.titles == ("Must be done", "With what is advised", "As ordered")  # nothing can wait
    rows = {row.name: row.cells for row in made.rows}
    assert {len(cells) for cells in rows.values()} == {3}
    assert rows["Machine shop"][0] == "£139.00 to £311.00"
    assert rows["Total"][0] == view(kart).classes[0].gross
    assert rows["Total"][1] == view(kart).front.cost_total
    assert [row.name for row in made.rows if row.total] == ["Total"]


def test_what_is_left_undone_is_told_once_with_its_risk(kart: Assessment) -> None:
    """By job: what follows, and which orders leave it."""
    left = {x.job: x for x in shown(kart).left}
    assert left["Spark plug"].left_by == "Must be done; as ordered"
    assert left["Check carburettor, fuel and mixture"].left_by == "As ordered"
    assert left["Replace reeds"].risk == "A chipped leaf breaks off and goes through the engine."


def test_an_order_without_any_price_is_on_request(kart: Assessment) -> None:
    """Never a sum of nothing."""
    (least, *_) = kart.advice.options
    bare = replace(least, gross=Span(Decimal(0), Decimal(0)), priced=False, on_request=2)
    made = shown(replace(kart, advice=replace(kart.advice, options=(bare,), ordered=None)))
    rows = {row.name: row.cells for row in made.rows}
    assert rows["Total"] == ("on request",)
    assert rows["Besides"] == ("plus 2 items priced on request",)


def test_a_class_without_any_price_is_on_request(kart: Assessment) -> None:
    """On the first page, too."""
    estimate = kart.advice.estimate
    must = estimate.totals[0]
    lines = tuple(replace(x, unit_price=None, price=None, price_high=None) for x in must.lines)
    zero = Decimal(0)
    bare = replace(must, lines=lines, net=zero, tax=zero, gross=zero, high=None, on_request=len(lines))
    advice = replace(kart.advice, estimate=replace(estimate, totals=(bare,)))
    made = view(replace(kart, advice=advice))
    assert made.front.costs[0].gross == made.classes[0].gross == made.front.cost_total == "on request"


def test_a_line_says_what_its_price_depends_on(machine: Assessment) -> None:
    """Guides are needed only if stem clearance is beyond its limit; hours and sums run from … to …."""
    advised = view(machine).classes[1]
    lines = {line.name: line for line in advised.lines}
    guide = lines["Valve guide (only if stem clearance, not inspected, is beyond its limit)"]
    assert (guide.quantity, guide.price) == ("0 to 2", "£0.00 to £28.40")
    seats = lines[
        "Cut valve seats (the higher figure only if stem clearance, not inspected, is beyond its limit)"
    ]
    assert seats.quantity == f"0.6 to 1.2{NBSP}h"
    assert advised.gross == "£540.96 to £682.08"
    assert "Where a sum runs from one amount to another" in view(machine).front.cost_note


def test_a_job_not_wanted_stands_on_the_first_page(kart: Assessment) -> None:
    """Beside "do not run", which stays; what was ordered needs no word there."""
    front = view(kart).front
    assert front.verdict.headline == "Do not run this engine"
    assert front.declined == (
        "Replace reeds: not decided yet. A chipped leaf breaks off and goes through the engine.",
        "Check carburettor, fuel and mixture: declined on 11 June 2026 by P. Aldane. "
        "A new piston seizes the same way.",
    )
    assert [job.choice for job in front.todo] == [""] * 4
    assert front.todo_more == "and 5 further jobs"
    jobs = {job.name: job.choice for c in view(kart).classes for job in c.jobs}
    assert jobs["Rebuild the crankshaft"] == "Ordered on 11 June 2026 by P. Aldane"


def test_the_page_to_order_by_knows_what_was_decided(kart: Assessment) -> None:
    """What was found since stands first and unmarked; what was decided is marked so; both sums are told."""
    form = view(kart).order_form
    assert form is not None
    first, *others = form.jobs
    assert (first.job, first.decision, first.yes, first.no) == (
        "Replace reeds",
        "Not decided yet",
        False,
        False,
    )
    decided = {job.job: (job.yes, job.no) for job in others}
    assert decided["Rebuild the crankshaft"] == (True, False)
    assert decided["Check carburettor, fuel and mixture"] == (False, True)
    ordered, both = kart.advice.ordered, kart.advice.ordered_and_open
    assert ordered is not None
    assert both is not None
    assert set(both.jobs) - set(ordered.jobs) == {"replace-reeds"}
    reeds = (Decimal("18.60") + Decimal("34.00")) * Decimal("1.2")
    assert both.gross.low - ordered.gross.low == reeds
    assert [c.chain for c in form.choices] == ["ordered", "ordered-and-open"]
    assert form.unsafe.endswith(
        "before the engine runs: replace reeds and check carburettor, fuel and mixture."
    )


def test_the_page_to_order_by_offers_one_of_all_sums(kart: Assessment) -> None:
    """Nothing decided yet: the orders that differ, then no work at all, closed again or left in parts."""
    bare = replace(kart.advice, choices=(), ordered=None, ordered_and_open=None)
    form = view(replace(kart, advice=bare)).order_form
    assert form is not None
    assert [c.chain for c in form.choices] == ["least", "advised", "closing", "strip-down"]
    assert {(job.decision, job.yes, job.no) for job in form.jobs} == {("", False, False)}
    assert {job.urgency for job in form.jobs} == {"Must be done", "Advised now"}
    assert not form.unsafe
    assert view(replace(kart, advice=bare), "condition history").order_form is None


def test_changes_say_what_and_why(kart: Assessment) -> None:
    """The reeds were looked at since: a job, two lines, sums, each with its reason."""
    changes = view(kart).changes
    assert changes is not None
    assert changes.title == "What changed since issue 1"
    assert "judged and priced by the books it names as they stand today" in changes.basis
    (job,) = changes.jobs
    assert (job.what, job.before) == ("Replace reeds", "not asked for")
    assert job.why == "Reeds, cylinder 1, reed 2: beyond limit, before not inspected"
    lines = [(x.what, x.before, x.now) for x in changes.lines]
    assert lines == [
        ("Replace reeds (work; must be done)", "–", "£18.60"),
        ("Reed set (part; must be done)", "–", "£34.00"),
    ]
    assert [x.what for x in changes.sums] == ["Must be done", "All together", "As ordered"]


def test_why_tells_of_order_choice_and_change(kart: Assessment) -> None:
    """A finding's chain goes on to what was decided and changed; an order can be asked for by its id."""
    assert "since issue 1, before: not asked for" in why(kart, "reed-state.1.2")
    told = why(kart, "ordered")
    assert "machining   £139.00 to £311.00" in told
    assert "Check carburettor, fuel and mixture, must be done. A new piston seizes" in told
    assert max(len(line) for line in told.splitlines()) <= 100
    fuel = next(w for w in kart.advice.work if w.job == "check-fuel-system").why[0]
    finding = next(
        (f for d in kart.advice.diagnoses if d.id == fuel for e in d.evidence for f in e.findings), fuel
    )
    assert "it must still be done before the engine runs" in why(kart, finding).replace(
        "\n              ", " "
    )


def test_an_assessment_without_orders_can_be_drawn(kart: Assessment) -> None:
    """One made before orders were known has none to show."""
    old = replace(kart, advice=replace(kart.advice, options=(), while_open=(), choices=(), ordered=None))
    assert view(old).orders is None


def test_a_job_done_alone_counts_what_it_has_on_request_by_itself() -> None:
    """Done later, the crankshaft needs the top end open as well, with two parts more that have no price."""
    racer = assess(load(SAMPLES / "race-team" / "c-5.yaml"))
    crank = next(one for one in view(racer).while_open if one.id == "rebuild-crankshaft")
    assert crank.added.endswith(", plus 8 items priced on request")
    assert crank.alone.endswith(", plus 10 items priced on request")
