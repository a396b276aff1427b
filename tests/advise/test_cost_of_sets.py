"""
Holds what any set of jobs costs against a second reckoning, written without the program's own way.

The reckoning here knows nothing of classes, lines or desks. It opens the union of what the jobs of a set need
by going over the tree until nothing is added, takes out what others of the set make needless by going over
them until nothing changes, and sums hours and parts in exact decimals. All subsets of the jobs are tried.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from itertools import chain, combinations, pairwise
from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_report.advise.advice import WorkItem
from inspect_report.advise.covering import without_needless
from inspect_report.advise.estimate import estimate
from inspect_report.advise.options import Till, options
from inspect_report.advise.priced import Span
from inspect_report.knowledge.case import Case
from inspect_report.knowledge.catalogue import URGENCIES, Urgency
from inspect_report.knowledge.workbook import AccessStep, Job, PartUse, Workbook
from inspect_report.records.position import Position
from tests.advise.builders import at, case, item, workbook

D = Decimal
STEPS: Final = ("s1", "s2", "s3", "s4", "s5")
JOBS: Final = ("j1", "j2", "j3", "j4", "j5", "j6")
CYLINDERS: Final = 4
COIN: Final = D("0.01")
CENTS = st.decimals(0, 300, places=2)
HOURS = st.decimals(0, 8, places=2)
Prices = Mapping[str, Span]


def subsets(jobs: Iterable[WorkItem]) -> Iterable[tuple[WorkItem, ...]]:
    """Every set of some jobs, the empty one too."""
    known = tuple(jobs)
    return chain.from_iterable(combinations(known, n) for n in range(len(known) + 1))


def coins(amount: D) -> D:
    """An amount in whole cents, halves away from zero."""
    return amount.quantize(COIN, rounding=ROUND_HALF_UP)


def opened(wanted: Iterable[str], book: Workbook) -> set[str]:
    """Steps that some steps need: each lies behind others, until nothing is added."""
    found, before = set(wanted), set[str]()
    while found != before:
        before, found = found, found | {b for s in book.access if s.id in found for b in s.behind}
    return found


def done(jobs: Iterable[WorkItem], book: Workbook) -> list[WorkItem]:
    """Jobs of one class that no other of them does as well, be it by way of a third; all are throughout."""
    known = tuple(jobs)
    return [one for one in known if not any(one.job in _does(other.job, book) for other in known)]


def _does(job: str, book: Workbook) -> set[str]:
    """What a job does as well: what it covers, and what that covers."""
    covered = {j.id: set(j.covers) for j in book.jobs}
    return covered[job].union(*(_does(other, book) for other in covered[job]))


def pieces(uses: Iterable[tuple[PartUse, tuple[Position, ...]]]) -> dict[str, D]:
    """
    How many of each part: one set for each place, whoever asks; along an axis what is not there by then.

    What is used once for a job, and what is done to the engine as a whole, adds up.
    """
    count: dict[str, D] = {}
    places: dict[tuple[str, Position], D] = {}
    along: dict[str, D] = {}
    for use, where in uses:
        if use.per == "job":
            count[use.part] = count.get(use.part, D(0)) + use.quantity
        elif use.per == "cylinder":
            along[use.part] = max(along.get(use.part, D(0)), CYLINDERS * use.quantity)
        else:
            for place in where:
                if place.axes:
                    key = use.part, place
                    places[key] = max(places.get(key, D(0)), use.quantity)
                else:
                    key = use.part, Position((), (str(len(places)),))
                    places[key] = use.quantity
    for part in {p for p, _ in places} | set(along):
        by_place = sum((n for (p, _), n in places.items() if p == part), D(0))
        count[part] = count.get(part, D(0)) + max(by_place, along.get(part, D(0)))
    return count


def reckoned(jobs: Iterable[WorkItem], made: Case, prices: Prices, high: bool = False) -> tuple[D, int]:
    """Net cost of some jobs of one class as one order, and how many kinds of parts have no price."""
    book, rate = made.books.workbook, made.books.workshop.labour_rate
    known = {j.id: j for j in book.jobs}
    kept = done(jobs, book)
    steps: list[AccessStep] = [
        s for s in book.access if s.id in opened((a for j in kept for a in known[j.job].access), book)
    ]
    extra = {j.job: _extra(known[j.job], j) if high else D(0) for j in kept}
    net = sum((coins(rate * (j.hours + extra[j.job])) for j in kept), D(0))
    net += sum((coins(rate * (s.opening + s.closing)) for s in steps), D(0))
    uses: list[tuple[PartUse, tuple[Position, ...]]] = [(u, (Position(),)) for s in steps for u in s.parts]
    uses += [(u, j.positions) for j in kept for u in known[j.job].parts]
    further = [(u, j.positions) for j in kept for n in known[j.job].may_need for u in n.parts]
    needed = pieces([*uses, *(further if high else ())])
    on_request = sum(part not in prices for part in pieces([*uses, *further]))
    for part, count in needed.items():
        if part in prices:
            net += coins(count * (prices[part].high if high else prices[part].low))
    return net, on_request


def _extra(job: Job, planned: WorkItem) -> D:
    times = len(planned.positions) if job.per == "place" else 1
    return sum((n.hours for n in job.may_need), D(0)) * times


@st.composite
def parts(draw: st.DrawFn) -> list[dict[str, Any]]:
    """One or two uses of three kinds of parts; each kind is always used in one quantity."""
    kinds = draw(st.lists(st.sampled_from(["p1", "p2", "p3"]), max_size=2, unique=True))
    quantity = {"p1": "1", "p2": "2", "p3": "0.5"}
    per = st.sampled_from(["job", "place", "cylinder"])
    return [{"part": k, "name": k, "quantity": quantity[k], "per": draw(per)} for k in kinds]


@st.composite
def benches(draw: st.DrawFn, *, covers: bool, open_ends: bool) -> tuple[Case, Prices, list[WorkItem]]:
    """A tree of steps, five jobs, prices as they may stand in a workshop file, and the jobs as planned."""
    access = [
        {
            "id": s,
            "name": s,
            "opening": draw(HOURS),
            "closing": draw(HOURS),
            "parts": draw(parts()),
            "behind": draw(st.sets(st.sampled_from(STEPS[:n]), max_size=2)) if n else (),
        }
        for n, s in enumerate(STEPS)
    ]
    jobs = [_job(draw, j, n, covers, open_ends) for n, j in enumerate(JOBS[:5])]
    ends = {p: sorted(draw(st.tuples(CENTS, CENTS))) for p in ("p1", "p2")}
    prices = {p: Span(low, high if open_ends else low) for p, (low, high) in ends.items()}
    shop = {
        "labour-rate": draw(CENTS),
        "tax": {"name": "VAT", "rate": draw(st.integers(0, 25))},
        "prices": {p: {"low": s.low, "high": s.high} if open_ends else s.low for p, s in prices.items()},
    }
    book = workbook(access, jobs)
    places = st.lists(st.sampled_from([at(1), at(2), at(3)]), unique=True, min_size=1)
    planned = [item(j, "at this opening", *draw(places), of=book) for j in JOBS[:5]]
    awaited = ("bore-wear",) if open_ends else ()
    return case(work=book, shop=shop), prices, [_awaiting(w, awaited) for w in planned]


def _job(draw: st.DrawFn, name: str, n: int, covers: bool, open_ends: bool) -> dict[str, Any]:
    """A job; it covers some of those before it, so that no two cover each other."""
    need = {"depends-on": ["bore-wear"], "hours": draw(HOURS), "parts": draw(parts())}
    return {
        "id": name,
        "name": name,
        "hours": draw(HOURS),
        # What covers is done throughout, so that no half of a job is left over.
        "per": "job" if covers else draw(st.sampled_from(["job", "place"])),
        "parts": draw(parts()),
        "access": draw(st.sets(st.sampled_from(STEPS), max_size=2)),
        "covers": draw(st.sets(st.sampled_from(JOBS[:n]), max_size=1)) if covers and n else (),
        "may-need": [need] if open_ends and draw(st.booleans()) else [],
    }


def _awaiting(planned: WorkItem, characteristics: tuple[str, ...]) -> WorkItem:
    return replace(planned, awaits=characteristics)


@settings(max_examples=20)
@given(benches(covers=False, open_ends=False))
def test_every_set_costs_its_jobs_and_the_union_of_their_access(
    drawn: tuple[Case, Prices, list[WorkItem]],
) -> None:
    """All 32 subsets of five jobs in one class: net, and what has no price, as reckoned apart."""
    made, prices, planned = drawn
    for jobs in subsets(planned):
        total = estimate(made, jobs).totals[1]
        assert reckoned(jobs, made, prices) == (total.net, total.on_request)
        assert total.gross == total.net + coins(total.net * estimate(made, jobs).tax_rate)


@settings(max_examples=20)
@given(benches(covers=False, open_ends=True))
def test_every_set_costs_from_its_low_to_its_high_end(drawn: tuple[Case, Prices, list[WorkItem]]) -> None:
    """The same with prices that are ranges and with findings still to be made, both ends exact."""
    made, prices, planned = drawn
    for jobs in subsets(planned):
        total = estimate(made, jobs).totals[1]
        net = total.sums[0]
        assert (net.low, net.high) == tuple(reckoned(jobs, made, prices, high=h)[0] for h in (False, True))
        assert all(s.low <= s.high for s in total.sums)
        assert (total.high is None) == (net.low == net.high)
        assert total.on_request == reckoned(jobs, made, prices)[1]


@settings(max_examples=20)
@given(benches(covers=True, open_ends=False))
def test_what_a_set_makes_needless_is_not_paid(drawn: tuple[Case, Prices, list[WorkItem]]) -> None:
    """All subsets again, where jobs cover others: needless ones take no hours, parts or access."""
    made, prices, planned = drawn
    for jobs in subsets(planned):
        settled = without_needless(jobs, made.books, ())
        assert reckoned(jobs, made, prices)[0] == estimate(made, settled).totals[1].net
        assert {w.job for w in settled if not w.covered_by} == {
            w.job for w in done(jobs, made.books.workbook)
        }


@settings(max_examples=20)
@given(benches(covers=False, open_ends=True))
def test_more_jobs_are_never_cheaper(drawn: tuple[Case, Prices, list[WorkItem]]) -> None:
    """Each job added to each set of the others, in one class: no sum falls, at either end, by any coin."""
    made, _, planned = drawn
    till = Till(made)
    for jobs in subsets(planned[1:]):
        fewer, more = till.cost(jobs), till.cost([*jobs, planned[0]])
        for a, b in ((fewer.net, more.net), (fewer.tax, more.tax), (fewer.gross, more.gross)):
            assert a.low <= b.low
            assert a.high <= b.high


URGENT = st.lists(st.sampled_from(URGENCIES), min_size=5, max_size=5)


@settings(max_examples=60)
@given(benches(covers=True, open_ends=True), URGENT)
def test_options_are_nested_and_cost_what_the_classes_cost(
    drawn: tuple[Case, Prices, list[WorkItem]], urgencies: list[Urgency]
) -> None:
    """
    Least is part of advised, that of complete, and no sum falls from one to the next.

    Each costs what the classes of the whole estimate up to it cost, to the coin; hours and kinds add up.
    """
    made, _, planned = drawn
    spread = [replace(w, urgency=u) for w, u in zip(planned, urgencies, strict=True)]
    settled = without_needless(spread, made.books, ())
    whole, found = estimate(made, settled), options(Till(made), settled)
    for n, one in enumerate(found):
        totals = whole.totals[: n + 1]
        assert one.gross.low == sum((t.sums[2].low for t in totals), D(0))
        assert one.gross.high == sum((t.sums[2].high for t in totals), D(0))
        assert one.on_request == sum(t.on_request for t in totals)
        assert one.net == one.labour + one.parts + one.machine_shop
        assert one.gross == one.net + one.tax
        left = {x.job for x in one.leaves}
        assert left | set(one.jobs) == {w.job for w in settled if not w.covered_by}
        assert not left & set(one.jobs)
    for smaller, larger in pairwise(found):
        assert set(smaller.jobs) <= set(larger.jobs)
        assert smaller.gross.low <= larger.gross.low
        assert smaller.gross.high <= larger.gross.high
        assert smaller.hours.high <= larger.hours.high


@pytest.mark.parametrize(("currency", "net"), [("EUR", "0.34"), ("JPY", "0"), ("KWD", "0.335")])
def test_a_coin_is_the_currencys_own(currency: str, net: str) -> None:
    """0.335 of a euro is 34 cents, of a yen none, of a dinar 335 fils (ISO 4217 minor units, from memory)."""
    book = workbook((), [{"id": "j", "name": "J", "hours": "0.1"}])
    made = case(work=book, shop={"labour-rate": "3.35", "currency": currency})
    assert D(net) == estimate(made, [item("j", "before running", of=book)]).totals[0].net
