"""Turns what the shipped workbooks promise the rest of the books into checks."""

import re
from collections.abc import Iterator

import pytest

from inspect_report import assess, load
from inspect_report.knowledge.bookread import shipped_ids
from inspect_report.knowledge.catalogue import Catalogue, judged_along
from inspect_report.knowledge.workbook import Job, Workbook
from inspect_report.records.checklist import Checklist
from tests.rules.coverage import shipped
from tests.samples import ROOT

BOOKS = [shipped(Workbook, f"workbooks/{name}") for name in shipped_ids("workbooks")]
each_book = pytest.mark.parametrize("book", BOOKS, ids=[b.workbook for b in BOOKS])


LISTS = [shipped(Checklist, f"checklists/{name}") for name in shipped_ids("checklists")]


def asked(book: Workbook) -> Iterator[tuple[Job, tuple[str, ...]]]:
    """Each job with the axes of every characteristic whose verdict asks for it."""
    (checklist,) = [c for c in LISTS if c.workbook == book.workbook]
    for known in shipped(Catalogue, "characteristics").characteristics:
        for default in known.work:
            job = book.job(default.job)
            if job is not None:
                yield job, judged_along(known, checklist.item(known.id))


@each_book
def test_places_of_a_job_are_those_its_findings_have(book: Workbook) -> None:
    """A job done along some axes is asked for along the same, or finer; else one place would count twice."""
    along = [(job.id, set(axes), set(job.places)) for job, axes in asked(book) if job.places]
    assert not [job for job, axes, places in along if not (axes <= places or places <= axes)]


@each_book
def test_only_jobs_counted_by_place_name_their_places(book: Workbook) -> None:
    """Elsewhere ``places`` would have no effect."""
    named = [job for job in book.jobs if job.places]
    assert all("place" in (job.per, *(use.per for use in job.parts)) for job in named)


@each_book
def test_nothing_is_fitted_both_by_closing_a_step_and_by_a_job(book: Workbook) -> None:
    """
    A job that fits what a step fits anyway is covered by that step, so that nobody pays twice.

    What a step takes at every place, and a job at places of its own, is counted once for each place.
    """
    doubled = [
        (step.id, job.id)
        for step in book.access
        for job in book.jobs
        if {u.part for u in step.parts if u.per not in ("valve", "cylinder")} & {u.part for u in job.parts}
        and job.id not in step.covers
    ]
    assert not doubled


def test_what_closing_takes_at_every_place_is_not_charged_again_by_a_job() -> None:
    """Sixteen valves are out and one seat is cut: sixteen stem seals in all; eight bolts for four rods."""
    sample = ROOT / "sample_inspections" / "inline-four-strip.yaml"
    lines = [n for total in assess(load(sample)).advice.estimate.totals for n in total.lines]
    counted = {part: sum(n.quantity for n in lines if n.id == part) for part in ("stem-seal", "rod-bolt")}
    assert counted == {"stem-seal": 16, "rod-bolt": 8}


def test_one_part_id_stands_for_one_part() -> None:
    """A workshop file prices a part once for all workbooks, so that one id has one name in all of them."""
    names: dict[str, set[str]] = {}
    steps = (use for book in BOOKS for step in book.access for use in step.parts)
    jobs = (use for book in BOOKS for job in book.jobs for use in job.parts)
    for use in (*steps, *jobs):
        names.setdefault(use.part, set()).add(use.name)
    assert not {part: said for part, said in names.items() if len(said) > 1}


@each_book
def test_a_job_that_renews_a_set_says_so_in_its_name(book: Workbook) -> None:
    """Text that speaks of all or both, beside the one place that asked for it, would contradict itself."""
    speaks = re.compile(r"\b(all|both seals|both main|both ends|as a set)\b", re.IGNORECASE)
    silent = [j.id for j in book.jobs if speaks.search(j.plain) and j.per != "place" and not j.throughout]
    assert not silent


def test_a_gap_below_its_range_is_set_before_running_and_one_above_at_this_opening() -> None:
    """Common practice: a valve without gap burns within hours, one with too much hammers."""
    known = shipped(Catalogue, "characteristics").known("valve-clearance")
    assert known is not None
    beyond = [w for w in known.work if "beyond limit" in w.verdicts]
    assert {(w.side, w.urgency, w.always) for w in beyond} == {
        ("below", "before running", True),
        ("", "at this opening", False),
    }
