"""Turns the planning of work into checks."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.advise.advice import Diagnosis, Evidence, WorkItem
from inspect_report.advise.counting import count_of, finest, holds
from inspect_report.advise.work import plan_work
from inspect_report.judge.finding import Finding
from inspect_report.knowledge.catalogue import DefaultWork, Scoring, Urgency
from inspect_report.knowledge.workbook import Workbook
from inspect_report.records.position import ENGINE, Position
from tests.advise.builders import FOUR, JOBS, at, books, finding, workbook


def diagnosis(
    *work: str,
    place: Position = ENGINE,
    on: tuple[str, ...] = (),
    urgency: Urgency = "before running",
    rule: str = "r",
) -> Diagnosis:
    """A diagnosis that asks for work and rests on some findings."""
    evidence = (Evidence("it is so", on),)
    return Diagnosis(
        f"{rule}.{place.id}", rule, place, "", "", evidence, (), "", work, urgency, f"left by {rule}", ""
    )


def planned(
    *diagnoses: Diagnosis, findings: tuple[Finding, ...] = (), **of_books: Any
) -> dict[str, WorkItem]:
    """The work planned, by job."""
    return {w.job: w for w in plan_work(books(**of_books), findings, diagnoses)}


def gap(cylinder: int, valve: str = "exhaust-1", verdict: str = "beyond limit") -> Finding:
    """A valve gap with its verdict."""
    return finding("valve-clearance", at(cylinder, valve), verdict)


def test_a_finding_asks_for_the_work_of_its_characteristic() -> None:
    """Beyond its limit, and marginal as the catalogue says, but not as new."""
    work = planned(findings=(gap(1), gap(2, verdict="marginal"), gap(3, verdict="as new")))
    assert list(work) == ["set-gaps"]
    item = work["set-gaps"]
    assert [p.id for p in item.positions] == ["1.exhaust-1", "2.exhaust-1"]
    assert item.why == ("valve-clearance.1.exhaust-1", "valve-clearance.2.exhaust-1")
    assert (item.hours, item.if_left) == (Decimal("0.50"), "It gets worse.")


def test_the_same_job_is_planned_once_with_its_most_urgent_reason() -> None:
    """Places and reasons are united; the most urgent wins, with what happens if it is left."""
    rules = (
        diagnosis("set-gaps", place=at(3)),
        diagnosis("set-gaps", place=at(2), urgency="watch", rule="s"),
    )
    (item,) = planned(*rules, findings=(gap(1),)).values()
    assert [p.id for p in item.positions] == ["2", "3", "1.exhaust-1"]
    assert item.why == ("r.3", "s.2", "valve-clearance.1.exhaust-1")
    assert (item.urgency, item.if_left) == ("before running", "left by r")


def test_a_job_done_once_is_told_at_its_widest_places() -> None:
    """The chain is the engine's, though a camshaft asked for it too; its chain is a part per job."""
    jobs = [
        {"id": "chain", "name": "Chain", "hours": 1, "parts": [{"part": "c", "name": "Chain", "per": "job"}]}
    ]
    cam = Position(("cam",), ("inlet",))
    asked = (diagnosis("chain", place=cam), diagnosis("chain"))
    assert planned(*asked, work=workbook(jobs=jobs))["chain"].positions == (ENGINE,)


def test_a_finding_that_a_rule_explains_asks_for_no_other_work() -> None:
    """The rule's own work replaces the default; a rule without work does not."""
    tight = gap(3)
    assert list(planned(diagnosis("chain", on=(tight.id,)), findings=(tight,))) == ["chain"]
    assert list(planned(diagnosis(on=(tight.id,)), findings=(tight,))) == ["set-gaps"]


def test_what_is_always_asked_for_is_asked_for_beside_a_rules_work() -> None:
    """A gap below its range is set whatever a rule asks for; one above leaves it to the rule."""
    small = books()
    always = DefaultWork(job="set-gaps", urgency="before running", side="below", always=True)
    known = tuple(
        k.model_copy(update={"work": (always,)}) if k.id == "valve-clearance" else k
        for k in small.catalogue.characteristics
    )
    strict = replace(small, catalogue=small.catalogue.model_copy(update={"characteristics": known}))
    for side, jobs in (("below", ["chain", "set-gaps"]), ("above", ["chain"])):
        off = replace(gap(3), side=side)
        work = plan_work(strict, (off,), (diagnosis("chain", on=(off.id,), urgency="watch"),))
        assert sorted(w.job for w in work) == jobs


def test_work_that_this_engine_cannot_have_leaves_the_default() -> None:
    """A rule whose only job is for liquid cooling, or of another workbook, asks for nothing here."""
    tight = gap(3)
    for job in ("pump", "reeds"):
        assert list(planned(diagnosis(job, on=(tight.id,)), findings=(tight,))) == ["set-gaps"]
    assert "pump" in planned(diagnosis("pump"), layout=FOUR | {"cooling": "liquid"})


def test_the_exact_places_of_a_rules_own_job_are_kept() -> None:
    """Both exhaust valves of cylinder 3 are set, though the rule speaks of the cylinder."""
    both = (gap(3, "exhaust-1"), gap(3, "exhaust-2"))
    item = planned(diagnosis("set-gaps", place=at(3), on=tuple(f.id for f in both)), findings=both)[
        "set-gaps"
    ]
    assert [p.id for p in item.positions] == ["3.exhaust-1", "3.exhaust-2"]
    assert (item.hours, item.urgency) == (Decimal("0.50"), "before running")


def test_a_rules_job_is_done_where_its_evidence_lies() -> None:
    """A leak at the exhaust of cylinder 3: both its exhaust valves, by the gaps the rule looked at."""
    jobs = [{"id": "seat", "name": "Seat", "hours": 1, "per": "place", "places": ("cylinder", "valve")}]
    looked_at = (
        gap(3, "exhaust-1", "as new"),
        gap(3, "exhaust-2", "as new"),
        finding("leak-down", at(3), "beyond limit"),
    )
    told = diagnosis("seat", place=at(3), on=tuple(f.id for f in looked_at))
    seat = planned(told, findings=looked_at, work=workbook(jobs=jobs))["seat"]
    assert [p.id for p in seat.positions] == ["3.exhaust-1", "3.exhaust-2"]
    alone = planned(diagnosis("seat", place=at(3)), work=workbook(jobs=jobs))["seat"]
    assert alone.positions == (at(3),)


def test_a_job_that_covers_another_makes_it_needless_at_its_places() -> None:
    """Reseating cylinder 3 sets its gaps too; those of cylinder 1 remain."""
    work = planned(diagnosis("reseat", place=at(3)), findings=(gap(3), gap(1)))
    assert [p.id for p in work["set-gaps"].positions] == ["1.exhaust-1"]
    assert (work["set-gaps"].hours, work["set-gaps"].covered_by) == (Decimal("0.25"), "")
    alone = planned(diagnosis("reseat", place=at(3)), findings=(gap(3),))
    assert alone["set-gaps"].covered_by == "reseat"
    assert [p.id for p in alone["set-gaps"].positions] == ["3.exhaust-1"]


def test_a_job_done_once_for_the_engine_covers_every_place() -> None:
    """New pistons make cleaning any crown needless."""
    work = planned(diagnosis("pistons", place=at(2)), diagnosis("clean-crowns", place=at(1), urgency="watch"))
    assert work["clean-crowns"].covered_by == "pistons"


def test_a_job_done_along_an_axis_is_done_throughout() -> None:
    """Reboring all cylinders makes a new piston needless in each of them, whichever asked for it."""
    jobs: list[dict[str, Any]] = [
        {"id": "rebore", "name": "Rebore", "hours": "0.25", "per": "cylinder", "covers": ("piston",)},
        {"id": "piston", "name": "Piston", "hours": "1", "per": "place"},
    ]
    asked = (diagnosis("rebore", place=at(1)), diagnosis("piston", place=at(3)))
    work = planned(*asked, work=workbook(jobs=jobs))
    assert (work["rebore"].hours, work["piston"].covered_by) == (Decimal("1.00"), "rebore")


SEALED: list[dict[str, Any]] = [
    {"id": "split", "name": "Split", "opening": "1", "closing": "1", "covers": ("seals", "shells")},
    {"id": "side", "name": "Side", "opening": "1", "closing": "1", "covers": ("crank",)},
]
SEALS: list[dict[str, Any]] = [
    {"id": "crank", "name": "Crank", "hours": "1", "access": ("split",)},
    {"id": "seals", "name": "Seals", "hours": "1", "covers": ("lips",)},
    {"id": "shells", "name": "Shells", "hours": "1", "access": ("side",)},
    {"id": "lips", "name": "Lips", "hours": "1"},
]


def sealed(*asked: Diagnosis, open_: bool = False) -> dict[str, str]:
    """What makes each job needless, in a workbook whose split fits new seals."""
    book = workbook(SEALED, SEALS)
    steps = book.access[:1] if open_ else ()
    return {w.job: w.covered_by for w in plan_work(books(work=book), (), asked, steps)}


def test_closing_a_step_makes_needless_what_it_does_anyway() -> None:
    """Seals are fitted new as the cases close, whether the inspection or a job had them open."""
    assert sealed(diagnosis("seals")) == {"seals": ""}
    assert sealed(diagnosis("seals"), open_=True) == {"seals": "split"}
    assert sealed(diagnosis("crank", "seals")) == {"crank": "", "seals": "split"}


def test_a_step_opened_later_makes_nothing_needless_that_is_needed_sooner() -> None:
    """The crank can wait; the seals cannot."""
    assert sealed(diagnosis("crank", urgency="next opening"), diagnosis("seals"))["seals"] == ""


def test_two_jobs_never_make_each_other_needless_by_their_access() -> None:
    """The crank's access does the shells, the shells' access does the crank: one of them is done."""
    assert sorted(sealed(diagnosis("crank", "shells")).values()) == ["", "side"]


def test_what_a_needless_job_would_have_done_is_done_by_its_step() -> None:
    """The lips come with the seals, and those with the split."""
    assert sealed(diagnosis("seals", "lips"), open_=True) == {"seals": "split", "lips": "split"}


def test_a_later_job_covers_nothing_that_is_needed_sooner() -> None:
    """What must be done before running is not put off because a later job would do it too."""
    late = diagnosis("pistons", urgency="next opening")
    assert planned(late, diagnosis("clean-crowns", rule="s"))["clean-crowns"].covered_by == ""
    watched = diagnosis("pistons", urgency="watch")
    assert (
        planned(watched, diagnosis("clean-crowns", rule="s", urgency="watch"))["clean-crowns"].covered_by
        == ""
    )


def chained(*covers: tuple[str, tuple[str, ...]], per: str = "job") -> Workbook:
    """A workbook of jobs that cover others."""
    return workbook(jobs=[{"id": j, "name": j, "hours": "1", "per": per, "covers": c} for j, c in covers])


def test_covering_goes_on_by_way_of_others() -> None:
    """``a`` covers ``b``, ``b`` covers ``c``: ``c`` is told to be needless by what is really done."""
    book = chained(("c", ()), ("b", ("c",)), ("a", ("b",)))
    work = planned(diagnosis("a"), diagnosis("b"), diagnosis("c"), work=book)
    assert {j: w.covered_by for j, w in work.items()} == {"a": "", "b": "a", "c": "a"}


def test_a_needless_job_covers_nothing_itself() -> None:
    """``b`` at cylinder 3 falls to ``a``; ``c`` at cylinder 1 is then covered by nobody."""
    jobs: list[dict[str, Any]] = [
        {"id": "a", "name": "a", "hours": "1", "per": "place", "covers": ("b",)},
        {"id": "b", "name": "b", "hours": "1", "per": "job", "covers": ("c",)},
        {"id": "c", "name": "c", "hours": "1", "per": "place"},
    ]
    asked = (diagnosis("a", "b", place=at(3)), diagnosis("c", place=at(1)))
    work = planned(*asked, work=workbook(jobs=jobs))
    assert {j: w.covered_by for j, w in work.items()} == {"a": "", "b": "a", "c": ""}


def test_of_two_jobs_that_cover_each_other_one_is_done() -> None:
    """The first of the workbook."""
    book = chained(("a", ("b",)), ("b", ("c",)), ("c", ("a",)))
    work = planned(diagnosis("a"), diagnosis("b"), diagnosis("c"), work=book)
    assert {j: w.covered_by for j, w in work.items()} == {"a": "", "b": "a", "c": "a"}


def test_work_is_told_most_urgent_first() -> None:
    """Gaps cost 0.25 h and a shim, 25.03; the chain 1.5 h and its price, 196.75, and comes before them."""
    asked = (diagnosis("set-gaps", "chain", urgency="next opening", place=at(1)), diagnosis("strainer"))
    assert list(planned(*asked)) == ["strainer", "chain", "set-gaps"]


def test_the_most_serious_job_is_told_first_and_tests_last() -> None:
    """Stop, then beyond limit by cost, then the rest by cost, then what only tests, however dear."""
    jobs: list[dict[str, Any]] = [
        {"id": "test", "name": "Test", "hours": "9", "check": True},
        {"id": "rest", "name": "Rest", "hours": "5"},
        {"id": "cheap", "name": "Cheap", "hours": "1"},
        {"id": "dear", "name": "Dear", "hours": "1", "parts": ({"part": "shim", "name": "S", "per": "job"},)},
        {"id": "stop", "name": "Stop", "hours": "0.1"},
    ]
    stop = {"id": "s", "name": "S", "characteristics": ["chain-length"], "at-most": "unserviceable"}
    cap = {**stop, "score-at-most": 1, "do-not-run": True, "why": "x"}
    made = books(work=workbook(jobs=jobs))
    scoring = Scoring.model_validate(
        {"scoring": "s", "version": 1, "grade-of": {}, "left-of": {}, "caps": [cap]}
    )
    found = (finding("chain-length", ENGINE, "beyond limit"), finding("leak-down", at(1), "beyond limit"))
    asked = (
        diagnosis("test"),
        diagnosis("rest"),
        diagnosis("cheap", "dear", on=("leak-down.1",), rule="limit"),
        diagnosis("stop", on=("leak-down.1", "chain-length"), rule="cap"),
    )
    work = plan_work(replace(made, scoring=scoring), found, asked)
    assert [w.job for w in work] == ["stop", "dear", "cheap", "rest", "test"]


def test_access_of_a_job_names_everything_it_lies_behind() -> None:
    """Head off takes plugs, cover and camshafts with it, in the order of the workbook."""
    assert planned(diagnosis("reseat"))["reseat"].access == ("plugs-out", "cover-off", "cams-out", "head-off")


def test_the_workshops_own_hours_replace_those_of_the_book() -> None:
    """Per place where the book counts places."""
    work = planned(
        diagnosis("chain"), findings=(gap(1), gap(2)), shop={"hours": {"chain": "2.25", "set-gaps": "0.4"}}
    )
    assert (work["chain"].hours, work["set-gaps"].hours) == (Decimal("2.25"), Decimal("0.8"))


def test_counting_by_job_place_and_axis() -> None:
    """Valves are counted through all cylinders; an axis the spec sheet does not count is not known."""
    places = (at(1), at(2))
    counts = {
        per: count_of(per, places, books())
        for per in ("job", "place", "cylinder", "valve", "ring", "cam", "fork")
    }
    assert counts == {"job": 1, "place": 2, "cylinder": 4, "valve": 16, "ring": 12, "cam": 2, "fork": 3}
    assert count_of("crankpin", places, books()) is None


@pytest.mark.parametrize(("crankpins", "rods"), [(4, ["2", "3"]), (2, ["3", "2", "3"])])
def test_a_rod_told_by_crankpin_and_by_cylinder_is_one(crankpins: int, rods: list[str]) -> None:
    """Where every crankpin carries one rod; where it carries two nobody knows which of them is meant."""
    job = {
        "id": "rods",
        "name": "Rods",
        "hours": "1",
        "per": "place",
        "parts": ({"part": "rod", "name": "Rod"},),
    }
    pin = [Position(("crankpin",), (n,)) for n in ("2", "3")]
    asked = (diagnosis("rods", place=pin[0]), diagnosis("rods", place=pin[1]), diagnosis("rods", place=at(3)))
    work = planned(*asked, work=workbook(jobs=[job]), layout=FOUR | {"counts": {"crankpin": crankpins}})
    assert sorted(p.id for p in work["rods"].positions) == sorted(rods)


PLACES = st.sampled_from([ENGINE, at(1), at(2), at(1, "inlet-1"), at(1, "inlet-2"), at(2, "inlet-1"), at(3)])


@given(st.lists(PLACES, min_size=1), PLACES)
def test_one_more_place_never_lowers_the_count(places: list[Position], more: Position) -> None:
    """The finest places lose none to a wider one, and no place holds another."""
    kept = finest(places)
    assert not any(a != b and holds(a, b) for a in kept for b in kept)
    assert all(any(holds(p, k) for k in kept) for p in places)
    assert len(finest([*places, more])) >= len(kept)


FINDINGS = st.permutations(
    [
        gap(1),
        gap(2, "inlet-2"),
        gap(3),
        finding("chain-length", ENGINE, "beyond limit"),
        finding("leak-down", at(4), "beyond limit"),
        finding("leak-down", at(2), "beyond limit"),
    ]
)


@given(FINDINGS)
def test_the_order_of_findings_plays_no_part(findings: list[Finding]) -> None:
    """The same findings in another order give the same work."""
    expected = plan_work(books(), sorted(findings, key=lambda f: f.id), ())
    assert expected == plan_work(books(), findings, ())


def test_a_job_says_its_own_consequence_where_it_has_one() -> None:
    """Of a job without one the rule's is told."""
    jobs = [{"id": "hone", "name": "Hone", "hours": 1, "if-left": "Rings do not bed in."}]
    assert planned(diagnosis("hone"), work=workbook(jobs=jobs))["hone"].if_left == "Rings do not bed in."
    jobs = [{"id": "hone", "name": "Hone", "hours": 1}]
    assert planned(diagnosis("hone"), work=workbook(jobs=jobs))["hone"].if_left == "left by r"


def test_a_job_on_an_engine_left_open_is_told_as_it_is_then() -> None:
    """Open no further than the job needs anyway, its usual words stand."""
    steps = [{"id": n, "name": n, "opening": 0, "closing": 0} for n in ("plugs", "head")]
    test = {"id": "test", "name": "Test", "hours": 1, "access": ["plugs"]}
    book = workbook(access=steps, jobs=[test | {"plain": "Now.", "plain-open": "After assembly."}])
    plugs, head = book.access
    for left_open, told in (((), "Now."), ((plugs,), "Now."), ((plugs, head), "After assembly.")):
        (work,) = plan_work(books(work=book), (), (diagnosis("test"),), left_open)
        assert work.plain == told


@pytest.mark.parametrize(
    ("places", "name"),
    [
        ([at(3)], "Hone (all cylinders, because of cylinder 3)"),
        ([at(3), at(4)], "Hone (all cylinders, because of cylinders 3 and 4)"),
        ([at(3, "exhaust-1")], "Hone (all cylinders, because of cylinder 3, exhaust valve 1)"),
        ([Position(("side",), ("left",))], "Hone (all cylinders, because of the left side)"),
        ([at(n) for n in (1, 2, 3, 4)], "Hone"),
        ([ENGINE], "Hone"),
    ],
)
def test_a_job_done_throughout_names_what_asked_for_it(places: list[Position], name: str) -> None:
    """Its text says all cylinders, its place one: the name tells why."""
    jobs = [{"id": "hone", "name": "Hone", "hours": 1, "throughout": "all cylinders"}]
    asked = (diagnosis("hone", place=p) for p in places)
    item = planned(*asked, work=workbook(jobs=jobs))["hone"]
    assert item.name == name
    assert item.name_says_where == ("because" in name)


def test_a_valve_that_lends_its_shim_is_work_too() -> None:
    """Its gap is well, and still its shim comes out: hours for two places, reasons of the one only."""
    use = {"part": "shim", "name": "Shim", "per": "shim-to-buy"}
    jobs = [{**job, "parts": (use,)} if job["id"] == "set-gaps" else job for job in JOBS]
    some = books(work=workbook(jobs=jobs))
    (item,) = plan_work(some, (gap(1),), (), shims_to_change=[at(1, "exhaust-1"), at(2, "inlet-1")])
    assert [p.id for p in item.positions] == ["1.exhaust-1", "2.inlet-1"]
    assert (item.why, item.hours) == (("valve-clearance.1.exhaust-1",), Decimal("0.50"))
    (alone,) = plan_work(some, (gap(1),), ())
    assert item.urgency == alone.urgency


def test_no_shim_is_changed_for_the_plan_alone() -> None:
    """Where nothing asks for new shims, a plan makes no work."""
    assert plan_work(books(), (gap(1, verdict="as new"),), (), shims_to_change=[at(1, "exhaust-1")]) == ()
