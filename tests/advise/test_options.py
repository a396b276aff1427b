"""Turns the orders a customer can give, and jobs that are cheap while the engine is open, into checks."""

from decimal import Decimal
from typing import Any

import pytest

from inspect_report.advise.advice import Option, WhileOpen, WorkItem
from inspect_report.advise.awaiting import with_awaited
from inspect_report.advise.options import Till, options, while_open
from inspect_report.advise.priced import Span
from inspect_report.judge.finding import Finding
from inspect_report.knowledge.workbook import Workbook
from tests.advise.builders import JOBS, at, case, finding, item, workbook

D = Decimal


def orders(*work: WorkItem, depth: str = "in the frame", **changes: Any) -> dict[str, Option]:
    """The three options by id."""
    return {o.id: o for o in options(Till(case(depth=depth, **changes)), work)}


def fixed(amount: str) -> Span:
    """An amount that is known."""
    return Span(D(amount), D(amount))


WORK = (
    item("chain", "before running"),
    item("reseat", "at this opening", at(1)),
    item("strainer", "next opening"),
    item("clean-crowns", "watch", at(1)),
)


def test_each_option_by_hand() -> None:
    """
    At 72.50 an hour and 19 % VAT, on an engine that is closed.

    Least: chain 1.5 h, cover 1.0 h, camshafts 1.2 h: 108.75 + 72.50 + 87.00; gasket 18.40, chain 88.00.
    Advised adds: reseat 1.2 h, plugs 0.5 h, head 3.5 h: 87.00 + 36.25 + 253.75; head gasket 64.95, a seal for
    each of 16 valves 50.40; seats 27.50. Complete adds: strainer 0.4 h, sump 1.3 h: 29.00 + 94.25; two sump
    gaskets 24.10, 3.6 litres 40.93. Tax by class: 71.18, 98.77 and 35.77.
    """
    found = orders(*WORK)
    least, advised, complete = found["least"], found["advised"], found["complete"]
    assert (least.hours, least.labour, least.parts) == (fixed("3.7"), fixed("268.25"), fixed("106.40"))
    assert (least.machine_shop, least.net, least.tax) == (fixed("0"), fixed("374.65"), fixed("71.18"))
    assert (advised.hours, advised.labour) == (fixed("8.9"), fixed("645.25"))
    assert (advised.parts, advised.machine_shop) == (fixed("221.75"), fixed("27.50"))
    assert (advised.net, advised.tax, advised.gross) == (fixed("894.50"), fixed("169.95"), fixed("1064.45"))
    assert (complete.hours, complete.net) == (fixed("10.6"), fixed("1082.78"))
    assert (complete.tax, complete.gross) == (fixed("205.72"), fixed("1288.50"))


def test_an_option_says_what_it_leaves_undone() -> None:
    """By job, with how urgent and what follows; a job to watch is left by all of them."""
    found = orders(*WORK)
    assert [x.job for x in found["least"].leaves] == ["reseat", "strainer", "clean-crowns"]
    assert [x.job for x in found["advised"].leaves] == ["strainer", "clean-crowns"]
    assert [x.job for x in found["complete"].leaves] == ["clean-crowns"]
    assert found["complete"].leaves[0].urgency == "watch"


def test_closing_what_was_opened_is_part_of_every_option() -> None:
    """The strip-down of 5.2 h has to be closed whatever is ordered, even if no job is."""
    found = orders(depth="top end off")
    assert found["least"].jobs == ()
    assert {o.hours for o in found.values()} == {fixed("6.2")}


def test_an_option_with_nothing_priced_says_so() -> None:
    """A job that is on request alone: no price is not a price of nothing."""
    bare = workbook((), [j | {"access": ()} for j in JOBS if j["id"] == "find-source"])
    found = orders(item("find-source", "before running", of=bare), work=bare)["least"]
    assert (found.on_request, found.priced, found.gross) == (1, False, fixed("0"))
    assert orders()["least"].priced


def cheap(*work: WorkItem, depth: str = "in the frame", **changes: Any) -> dict[str, WhileOpen]:
    """Jobs that are cheap while the engine is open."""
    return {w.job: w for w in while_open(Till(case(depth=depth, **changes)), work)}


def test_a_job_costs_little_while_the_engine_is_open_for_another() -> None:
    """
    Crowns cleaned with the head off for reseating: 0.3 h, 21.75 and 4.13 of tax.

    Alone: plugs, cover, camshafts and head as well, 6.2 h in all with the job's own 0.3: 449.50 + 21.75;
    gaskets 18.40 and 64.95, seals 50.40; 605.00 and 114.95 of tax.
    """
    found = cheap(item("reseat", "before running", at(1)), item("clean-crowns", "next opening", at(1)))
    assert (found["clean-crowns"].added, found["clean-crowns"].alone) == (fixed("25.88"), fixed("719.95"))


def test_a_job_to_watch_is_offered_while_the_engine_is_open() -> None:
    """It is in no sum, and still has a price for whoever wants it now."""
    found = cheap(item("reseat", "before running", at(1)), item("clean-crowns", "watch", at(1)))
    assert found["clean-crowns"].added == fixed("25.88")


def test_a_job_that_shares_no_access_is_not_called_cheap() -> None:
    """The sump is opened for the strainer alone, now or later."""
    assert "strainer" not in cheap(item("chain", "before running"), item("strainer", "at this opening"))


def test_what_the_inspection_left_open_is_open() -> None:
    """With the top end off the crowns need no opening: 0.3 h against 719.95 later."""
    found = cheap(item("clean-crowns", "at this opening", at(1)), depth="top end off")
    assert found["clean-crowns"].added == fixed("25.88")


NEEDS: list[dict[str, Any]] = [
    {
        "id": "reseat",
        "name": "Reseat",
        "hours": "1",
        "per": "place",
        "may-need": [
            {"depends-on": ["guide"], "hours": "0.5", "parts": [{"part": "guide", "name": "Guide"}]},
            {"depends-on": ["seat"], "parts": [{"part": "seat", "name": "Seat", "per": "job"}]},
        ],
    }
]
SHOP = {"prices": {"guide": {"low": "10", "high": "12.5"}, "seat": "30"}}


def needing() -> Workbook:
    """A workbook of one job that may need guides and seats."""
    return workbook((), NEEDS)


@pytest.mark.parametrize(
    ("verdicts", "awaits"),
    [
        ({}, ["guide", "seat"]),
        ({"guide": "not inspected"}, ["guide", "seat"]),
        ({"guide": "as new", "seat": "not inspected"}, ["seat"]),
        ({"guide": "beyond limit", "seat": "serviceable"}, []),
        ({"guide": "undecided", "seat": "not applicable"}, []),
        ({"guide": "check failed", "seat": "no limit known"}, ["guide"]),
    ],
)
def test_a_price_stays_open_as_long_as_a_finding_does(verdicts: dict[str, str], awaits: list[str]) -> None:
    """Made, whatever it says, it decides; not inspected, failed or never heard of it does not."""
    found = tuple(finding(c, at(1), v) for c, v in verdicts.items())
    (one,) = with_awaited([item("reseat", "before running", at(1), of=needing())], needing(), found)
    assert list(one.awaits) == awaits


def test_only_findings_at_the_places_of_the_job_keep_it_open() -> None:
    """Guides of cylinder 2 are of no matter for a seat of cylinder 1; one of the whole engine's is."""
    planned = [item("reseat", "before running", at(1), of=needing())]

    def awaited(*found: Finding) -> tuple[str, ...]:
        return with_awaited(planned, needing(), (*found, finding("seat", at(1), "as new")))[0].awaits

    here = finding("guide", at(1), "as new")
    assert awaited(here, finding("guide", at(2), "not inspected")) == ()
    assert awaited(here, finding("guide", at(), "not inspected")) == ("guide",)
    assert awaited(finding("guide", at(1, "inlet-1"), "not inspected")) == ("guide",)


def test_a_range_by_hand() -> None:
    """
    Two seats at 72.50 an hour: 145.00 at least.

    At most half an hour more for each, 72.50, two guides at 12.50 and a seat ring: 272.50, with tax 324.28.
    """
    made = case(work=needing(), shop=SHOP)
    planned = with_awaited([item("reseat", "before running", at(1), at(2), of=needing())], needing(), ())
    (least, *_) = options(Till(made), planned)
    assert (least.net, least.hours) == (Span(D("145.00"), D("272.50")), Span(D("2"), D("3.0")))
    assert least.gross == Span(D("172.55"), D("324.28"))
    assert (least.parts, least.on_request) == (Span(D(0), D("55.00")), 0)
