"""
Holds the ends of every estimate against all outcomes of the findings that are still to be made.

An outcome says of each characteristic nobody has looked at whether it is beyond its limit. The books are then
written as that engine would have it, without anything that may be needed: what is needed is part of the job,
the rest is not there. Each such estimate has one price; the cheapest and the dearest of them are the ends.
"""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from itertools import accumulate, combinations, product
from typing import Any, Final

from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_report.advise.advice import Estimate, WorkItem
from inspect_report.advise.estimate import estimate
from inspect_report.advise.options import Till
from inspect_report.advise.priced import NOTHING, Span
from inspect_report.knowledge.catalogue import URGENCIES, Urgency
from inspect_report.knowledge.workbook import Workbook
from tests.advise.builders import at, case, item, workbook

OPEN: Final = ("bore-wear", "crank-runout", "gasket-state")
JOBS: Final = ("j1", "j2", "j3", "j4")
KINDS: Final = ("p1", "p2")
PRICES: Final = {"p1": Decimal(10), "p2": Decimal(7), "labour-rate": Decimal(40)}
Jobs = list[dict[str, Any]]
Plan = list[tuple[str, Urgency, tuple[int, ...]]]
"""Jobs with their urgency and cylinders."""


@st.composite
def parts(draw: st.DrawFn, most: int) -> list[dict[str, Any]]:
    """Uses of two kinds of parts in whole pieces, so that no coin is rounded."""
    use = st.fixed_dictionaries(
        {
            "part": st.sampled_from(KINDS),
            "name": st.just("Part"),
            "quantity": st.sampled_from([1, 2, 3]),
            "per": st.sampled_from(["job", "place", "cylinder"]),
        }
    )
    return draw(st.lists(use, max_size=most, unique_by=lambda u: u["part"]))


@st.composite
def benches(draw: st.DrawFn) -> tuple[Jobs, Plan]:
    """Four jobs that may need more by what is found, in any classes and at any cylinders."""
    jobs: Jobs = [
        {
            "id": j,
            "name": j,
            "hours": draw(st.integers(0, 4)),
            "parts": draw(parts(2)),
            "may-need": draw(
                st.lists(
                    st.fixed_dictionaries(
                        {
                            "depends-on": st.lists(
                                st.sampled_from(OPEN), min_size=1, max_size=2, unique=True
                            ),
                            "hours": st.integers(0, 3),
                            "parts": parts(2),
                        }
                    ),
                    max_size=2,
                )
            ),
        }
        for j in JOBS
    ]
    where = st.lists(st.sampled_from([1, 2, 3]), min_size=1, unique=True)
    plan = [(j, draw(st.sampled_from(URGENCIES[:3])), tuple(draw(where))) for j in JOBS]
    return jobs, plan


def books_of(jobs: Jobs) -> Workbook:
    """A workbook without access."""
    return workbook((), jobs)


def priced(jobs: Jobs, plan: Plan) -> Estimate:
    """The estimate of a plan by some books, every characteristic still open."""
    book = books_of(jobs)
    shop = {
        "labour-rate": PRICES["labour-rate"],
        "prices": {k: PRICES[k] for k in KINDS},
        "tax": {"name": "VAT", "rate": 20},
    }
    return estimate(case(work=book, shop=shop), planned(book, plan))


def planned(book: Workbook, plan: Plan) -> list[WorkItem]:
    """The jobs of a plan."""
    made = (item(job, urgency, *(at(n) for n in where), of=book) for job, urgency, where in plan)
    return [replace(one, awaits=OPEN) for one in made]


def found_so(jobs: Jobs, beyond: Iterable[str]) -> Jobs:
    """The same books for an engine of which everything is known: what it needs is part of each job."""
    known = set(beyond)
    made = []
    for job in jobs:
        needs = [n for n in job["may-need"] if known & set(n["depends-on"])]
        made.append(
            job
            | {
                "hours": job["hours"] + sum(n["hours"] for n in needs),
                "parts": [*job["parts"], *(p for n in needs for p in n["parts"])],
                "may-need": [],
            }
        )
    return made


def outcomes() -> list[tuple[str, ...]]:
    """Every set of characteristics that may turn out beyond their limits, the empty one first."""
    return [known for n in range(len(OPEN) + 1) for known in combinations(OPEN, n)]


def up_to(made: Estimate) -> list[tuple[Span, ...]]:
    """Net, tax and gross of the most urgent class, of it with the next, and of all."""
    sums = [t.sums for t in made.totals]
    return list(zip(*(accumulate((s[n] for s in sums), initial=NOTHING) for n in range(3)), strict=True))[1:]


@settings(max_examples=30, deadline=None)
@given(benches())
def test_sums_run_from_the_cheapest_outcome_to_the_dearest(drawn: tuple[Jobs, Plan]) -> None:
    """Net, tax and total up to each class, against the least and the most of all eight outcomes."""
    jobs, plan = drawn
    told = up_to(priced(jobs, plan))
    true = [up_to(priced(found_so(jobs, known), plan)) for known in outcomes()]
    for n, m in product(range(3), range(3)):
        costs = [one[n][m] for one in true]
        assert all(cost.low == cost.high for cost in costs)
        assert told[n][m] == Span(min(c.low for c in costs), max(c.high for c in costs))


@settings(max_examples=20, deadline=None)
@given(benches())
def test_each_class_tells_the_two_outcomes(drawn: tuple[Jobs, Plan]) -> None:
    """Of one class the first figure is the cost if nothing more is needed, the second if everything is."""
    jobs, plan = drawn
    made, none, every = (priced(j, plan) for j in (jobs, found_so(jobs, ()), found_so(jobs, OPEN)))
    for told, least, most in zip(made.totals, none.totals, every.totals, strict=True):
        assert told.sums == tuple(Span(a.low, b.high) for a, b in zip(least.sums, most.sums, strict=True))
        for line in told.lines:
            assert (line.quantities.low != line.quantities.high) == bool(line.depends_on), line


def test_a_part_that_may_go_in_earlier_is_still_paid_once() -> None:
    """The case by which the range once began too low: a seal that is certain later, and possible before."""
    seal = {"part": "p1", "name": "Seal", "per": "place"}
    need = {"depends-on": ["bore-wear"], "hours": 0, "parts": [seal]}
    jobs = [
        {"id": "j1", "name": "j1", "hours": 0, "parts": [], "may-need": [need]},
        {"id": "j2", "name": "j2", "hours": 0, "parts": [seal], "may-need": []},
    ]
    made = priced(jobs, [("j1", "before running", (1,)), ("j2", "at this opening", (1,))])
    must, advised, _ = (t.sums[0] for t in made.totals)
    assert must == Span(Decimal(0), Decimal(10))
    assert advised == Span(Decimal(10), Decimal(0))
    assert made.span == Span(Decimal(12), Decimal(12))
    (line,) = (one for one in made.totals[1].lines if one.kind == "part")
    assert line.depends_on == ("bore-wear",)
    assert Till(case(work=books_of(jobs))).cost([]).net == NOTHING
