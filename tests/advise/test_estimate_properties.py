"""Turns what must hold of every estimate into trials of random work."""

from decimal import Decimal
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from inspect_report.advise.advice import Estimate, WorkItem
from inspect_report.advise.estimate import estimate
from inspect_report.knowledge.catalogue import URGENCIES
from inspect_report.knowledge.workbook import Workbook
from tests.advise.builders import at, case, item, workbook

STEPS = ("s1", "s2", "s3", "s4", "s5")
JOBS = ("j1", "j2", "j3", "j4", "j5", "j6")
Bench = tuple[Workbook, dict[str, Any], str, list[WorkItem]]
"""Workbook, workshop, depth and work."""
CENTS = st.decimals(0, 300, places=2)
HOURS = st.decimals(0, 8, places=2)
COIN = Decimal("0.01")
OF_HOURS = ("work", "strip-down", "access")


@st.composite
def workbooks(draw: st.DrawFn) -> Workbook:
    """A random tree of steps, each behind some of those before it, and random jobs."""
    parts = st.lists(
        st.fixed_dictionaries(
            {
                "part": st.sampled_from(["p1", "p2", "p3"]),
                "name": st.just("Part"),
                "quantity": st.sampled_from(["1", "2", "0.5"]),
                "per": st.sampled_from(["job", "place", "cylinder"]),
            }
        ),
        max_size=2,
    )
    access: list[dict[str, Any]] = [
        {
            "id": s,
            "name": s,
            "opening": draw(HOURS),
            "closing": draw(HOURS),
            "parts": draw(parts),
            "behind": draw(st.sets(st.sampled_from(STEPS[:n]))) if n else (),
        }
        for n, s in enumerate(STEPS)
    ]
    jobs: list[dict[str, Any]] = [
        {
            "id": j,
            "name": j,
            "hours": draw(HOURS),
            "per": draw(st.sampled_from(["job", "place"])),
            "parts": draw(parts),
            "access": draw(st.sets(st.sampled_from(STEPS), max_size=2)),
            "priced": draw(st.booleans()),
        }
        for j in JOBS
    ]
    return workbook(access, jobs)


@st.composite
def bench(draw: st.DrawFn) -> Bench:
    """A workbook, a workshop, a depth and work."""
    book = draw(workbooks())
    shop = {
        "labour-rate": draw(CENTS),
        "prices": {p: draw(CENTS) for p in ("p1", "p2")},
        "tax": {"name": "VAT", "rate": draw(st.integers(0, 25))},
    }
    jobs = draw(st.lists(st.sampled_from(JOBS), unique=True))
    places = st.lists(st.sampled_from([at(1), at(2), at(3)]), unique=True, min_size=1)
    work = [item(j, draw(st.sampled_from(URGENCIES)), *draw(places), of=book) for j in jobs]
    return book, shop, draw(st.sampled_from(["in the frame", "top end off"])), work


def priced(book: Workbook, shop: dict[str, Any], depth: str, work: list[WorkItem]) -> Estimate:
    """The estimate; at "top end off" two steps were opened."""
    opened = ["s2", "s4"] if depth == "top end off" else []
    return estimate(case(depth=depth, head={"opened": opened}, work=book, shop=shop), work)


@given(bench())
def test_sums_are_those_of_the_lines(drawn: Bench) -> None:
    """Net is the sum of the priced lines, gross is net and tax, a line is its quantity times its price."""
    made = priced(*drawn)
    for total in made.totals:
        prices = [line.price for line in total.lines if line.price is not None]
        assert total.net == sum(prices, Decimal(0))
        assert total.gross == total.net + total.tax
        assert abs(total.tax - total.net * made.tax_rate) <= COIN / 2
        assert total.on_request == len(total.lines) - len(prices)
        for line in total.lines:
            assert (line.price is None) == (line.unit_price is None)
            if line.price is not None and line.unit_price is not None:
                assert abs(line.price - line.quantity * line.unit_price) <= COIN / 2
    assert made.gross == sum((t.gross for t in made.totals), Decimal(0))


@given(bench())
def test_access_is_never_paid_twice(drawn: Bench) -> None:
    """Each step stands in one class only, and no job or part line is doubled within a class."""
    made = priced(*drawn)
    steps = [line.id for t in made.totals for line in t.lines if line.kind == "access"]
    assert len(steps) == len(set(steps))
    for total in made.totals:
        keys = [(line.kind, line.id) for line in total.lines]
        assert len(keys) == len(set(keys))


@given(bench(), st.randoms(use_true_random=False))
def test_the_order_of_work_changes_no_sum(drawn: Bench, shuffler: Any) -> None:
    """Shuffled work gives the same sums and the same lines."""
    book, shop, depth, work = drawn
    shuffled = list(work)
    shuffler.shuffle(shuffled)
    one, other = priced(book, shop, depth, work), priced(book, shop, depth, shuffled)
    for a, b in zip(one.totals, other.totals, strict=True):
        assert (a.net, a.tax, a.on_request) == (b.net, b.tax, b.on_request)
        assert {(x.kind, x.id, x.price) for x in a.lines} == {(x.kind, x.id, x.price) for x in b.lines}


@given(bench())
def test_one_more_job_never_lowers_what_is_to_pay(
    drawn: Bench,
) -> None:
    """
    Summed up from the most urgent class on, no sum falls when a job is added.

    A coin per line is allowed: parts that share a line in one class and not in another round apart.
    """
    book, shop, depth, work = drawn
    if not work:
        return
    fewer, more = priced(book, shop, depth, work[:-1]), priced(book, shop, depth, work)
    before = after = Decimal(0)
    for a, b in zip(fewer.totals, more.totals, strict=True):
        before, after = before + a.net, after + b.net
        allowed = COIN * sum(len(t.lines) for t in (*fewer.totals, *more.totals))
        assert after >= before - allowed


@given(bench())
def test_what_is_paid_is_what_is_needed(drawn: Bench) -> None:
    """The hours charged are those of the jobs and of the union of the steps, whatever the classes."""
    book, shop, depth, work = drawn
    made = priced(book, shop, depth, work)
    done = [w for w in work if w.urgency != "watch"]
    needed = {s for w in done for s in w.access}
    if depth == "top end off":
        needed |= {s.id for s in book.access if s.id in _behind(book, {"s2", "s4"})}
    expected = sum((w.hours for w in done), Decimal(0))
    expected += sum((s.opening + s.closing for s in book.access if s.id in needed), Decimal(0))
    charged = sum((x.quantity for t in made.totals for x in t.lines if x.kind in OF_HOURS), Decimal(0))
    assert expected == charged


def _behind(book: Workbook, wanted: set[str]) -> set[str]:
    """The steps some steps need, by going over the tree until nothing is added: not the program's way."""
    while True:
        more = wanted | {b for s in book.access if s.id in wanted for b in s.behind}
        if more == wanted:
            return wanted
        wanted = more
