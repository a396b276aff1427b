"""
Holds the prices of sets of causes against the estimate, set by set.

The arrays settle and price thousands of sets at once by a way of their own; the estimate settles and prices
one plan. For random trees, jobs, places and urgencies every set of some causes must cost the same by both.
"""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from itertools import product
from typing import Any, Final

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_report.advise.access import left_open, steps_for
from inspect_report.advise.advice import WorkItem
from inspect_report.advise.bundle_prices import MILLIONTHS, BundlePrices
from inspect_report.advise.bundles import Ask, Bundles
from inspect_report.advise.counting import hours_of, places_of
from inspect_report.advise.covering import without_needless
from inspect_report.advise.desk import Desk
from inspect_report.advise.options import Till
from inspect_report.knowledge.case import Case
from inspect_report.knowledge.catalogue import URGENCIES
from inspect_report.records.position import ENGINE
from tests.advise.builders import at, case, workbook

STEPS: Final = ("s1", "s2", "s3", "s4")
JOBS: Final = ("j1", "j2", "j3", "j4", "j5")
CAUSES: Final = 5
PLACES: Final = (ENGINE, at(1), at(2), at(3, "inlet-1"), at(3))
MONEY = st.decimals(0, 300, places=2)
HOURS = st.decimals(0, 8, places=2)
AWAITED: Final = "bore-wear"


WAYS: Final = {"p1": ("job", "place"), "p2": ("job", "cylinder"), "free": ("job", "place", "cylinder")}
"""How kinds of parts may be counted; ``free`` has no price."""
AT_PLACES: Final = {"part": "p3", "name": "p3", "per": "place"}
ALONG: Final = {"part": "p3", "name": "p3", "per": "cylinder"}


@st.composite
def parts(draw: st.DrawFn, *further: dict[str, Any]) -> list[dict[str, Any]]:
    """Up to two uses of three kinds of parts, and perhaps one of some further ones."""
    kinds = draw(st.lists(st.sampled_from(sorted(WAYS)), max_size=2, unique=True))
    quantity = {"p1": "1", "p2": "2", "free": "0.5"}
    used = [
        {"part": k, "name": k, "quantity": quantity[k], "per": draw(st.sampled_from(WAYS[k]))} for k in kinds
    ]
    return [*used, *(f for f in further if draw(st.booleans()))]


@st.composite
def benches(draw: st.DrawFn) -> Case:
    """A tree of steps and jobs that cover each other, closed or open when the inspection ends."""
    access = [
        {
            "id": s,
            "name": s,
            "opening": draw(HOURS),
            "closing": draw(HOURS),
            "parts": draw(parts(*[ALONG][:n])),
            "behind": draw(st.sets(st.sampled_from(STEPS[:n]), max_size=2)) if n else (),
            "covers": draw(st.sets(st.sampled_from(JOBS), max_size=1)),
        }
        for n, s in enumerate(STEPS)
    ]
    jobs = [_job(draw, j, n) for n, j in enumerate(JOBS)]
    low, high = sorted(draw(st.tuples(MONEY, MONEY)))
    prices = {"p1": draw(MONEY), "p2": {"low": low, "high": high}, "p3": draw(MONEY), "p4": draw(MONEY)}
    shop = {"labour-rate": draw(MONEY), "prices": prices}
    opened = draw(st.sets(st.sampled_from(STEPS), max_size=2))
    depth = draw(st.sampled_from(["in the frame", "fully stripped"]))
    return case(work=workbook(access, jobs), shop=shop, depth=depth, head={"opened": sorted(opened)})


def _job(draw: st.DrawFn, name: str, n: int) -> dict[str, Any]:
    kind = draw(st.sampled_from(["p1", "p3", "p4"]))
    further = [{"part": kind, "name": kind, "per": draw(st.sampled_from(["job", "place"]))}]
    need = {"depends-on": [AWAITED], "hours": draw(HOURS), "parts": further}
    return {
        "id": name,
        "name": name,
        "hours": draw(HOURS),
        "per": draw(st.sampled_from(["job", "place"])),
        # One job fits at single places what steps fit along the axis.
        "parts": draw(parts(*([] if n else [AT_PLACES]))),
        "access": draw(st.sets(st.sampled_from(STEPS), max_size=2)),
        "covers": draw(st.sets(st.sampled_from(JOBS[:n]), max_size=2)) if n else (),
        "priced": draw(st.booleans()),
        "may-need": [need] if draw(st.booleans()) else [],
    }


asks = st.lists(
    st.builds(
        Ask,
        st.integers(0, CAUSES - 1),
        st.sampled_from(JOBS),
        st.sampled_from(PLACES),
        st.sampled_from(URGENCIES),
    ),
    min_size=1,
    max_size=10,
)


def planned(made: Case, asked: Sequence[Ask]) -> tuple[WorkItem, ...]:
    """Jobs that some asks come to, settled by the planning that the estimate prices."""
    book, layout = made.books.workbook, made.books.sheet.layout
    items = []
    for job in book.jobs:
        mine = [a for a in asked if a.job == job.id]
        if not mine:
            continue
        places = places_of(job, (a.position for a in mine), layout)
        urgency = min((a.urgency for a in mine), key=URGENCIES.index)
        access = tuple(s.id for s in steps_for(job.access, book, layout))
        hours = hours_of(job, places, made.books)
        item = WorkItem(job.id, job.name, job.plain, places, (), urgency, access, hours, awaits=(AWAITED,))
        items.append(item)
    return without_needless(items, made.books, left_open(made))


def priced(made: Case, asked: Sequence[Ask]) -> BundlePrices:
    """The arrays over the same asks."""
    items = {w.job: w for a in asked for w in planned(made, [a])}
    bundles = Bundles(made.books, items, tuple(asked), CAUSES, left_open(made))
    return BundlePrices(bundles, Desk(made.books, frozenset(s.id for s in left_open(made)), ()))


def every_set() -> Iterable[tuple[int, ...]]:
    """Which causes are true, in every way."""
    return product((0, 1), repeat=CAUSES)


@settings(max_examples=80, deadline=None)
@given(benches(), asks)
def test_every_set_costs_what_the_estimate_bills(made: Case, asked: list[Ask]) -> None:
    """All 32 sets of five causes: both ends of the net sum, but for coins of rounding on each line."""
    prices = priced(made, asked)
    sets = np.array([*every_set()], np.bool_).T
    done = prices.bundles.done(sets)
    low, high, on_request = prices.cost(done, "low"), prices.cost(done, "high"), prices.on_request(done)
    for n, true in enumerate(every_set()):
        bill = Till(made).cost(planned(made, [a for a in asked if true[a.cause]]))
        slack = Decimal("0.005") * len(bill.lines)
        assert abs(Decimal(int(low[n])) / MILLIONTHS - bill.net.low) <= slack
        assert abs(Decimal(int(high[n])) / MILLIONTHS - bill.net.high) <= slack
        told = {(line.kind, line.id) for line in bill.lines if line.price is None}
        assert on_request[n] == len(told)
