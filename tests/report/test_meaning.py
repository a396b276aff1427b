"""Turns samples into checks that what a report says of a thing is not contradicted elsewhere in it."""

from dataclasses import replace
from pathlib import Path

import pytest

from inspect_report import assess, load
from inspect_report.assessment import Assessment
from inspect_report.judge.finding import Verdict
from inspect_report.opening import open_assessment
from inspect_report.report.reportparts import AssemblyView, ResultView
from inspect_report.report.view import view
from tests.made import Reported
from tests.samples import SAMPLES

STRIPPED, IN_FRAME = SAMPLES / "inline-four-strip.yaml", SAMPLES / "used-machine-in-frame.yaml"


def assembly(assessment: Assessment, name: str) -> AssemblyView:
    """What a report says of an assembly."""
    return next(a for a in view(assessment).assemblies if a.name == name)


def rows(assessment: Assessment, name: str) -> list[ResultView]:
    """The rows of one characteristic."""
    return [r for a in view(assessment).assemblies for r in a.results if r.name == name]


@pytest.fixture(scope="module")
def stripped(reported: Reported) -> Assessment:
    """The four-stroke taken apart, as its report says."""
    return open_assessment(reported(STRIPPED, "json"))


@pytest.fixture(scope="module")
def in_frame(reported: Reported) -> Assessment:
    """The four-stroke in its frame, as its report says."""
    return open_assessment(reported(IN_FRAME, "json"))


def test_two_ways_that_disagree_are_told_wherever_the_value_stands(stripped: Assessment) -> None:
    """At a row of its own, in the table of shells, among what is open, and by the difference itself."""
    whole = view(stripped)
    told = [r.means for r in rows(stripped, "Main bearing clearance")]
    assert [("by plastic strip: the two differ" in t) for t in told] == [False, True]
    notes = [s.note for a in whole.assemblies for s in a.shells if "disagree" in s.note]
    assert len(notes) == 1
    assert any("Main bearing clearance, main journal 5" in q for q in whole.open_questions)
    apart = next(f for f in stripped.judged.findings if f.id == "main-two-ways.5")
    assert apart.quantity is not None
    assert apart.quantity.value == pytest.approx(-0.010e-3)


def test_an_assembly_whose_faults_come_from_elsewhere_says_so(stripped: Assessment) -> None:
    """The camshafts run late by the chain and are sound themselves."""
    late = "y one cause: The timing chain has grown long"
    assert late in assembly(stripped, "Camshafts").coverage
    assert any(late in why for g in view(stripped).grades for why in g.why if g.name == "Camshafts")
    assert "one cause" not in assembly(stripped, "Cylinder sealing").coverage


def test_debris_that_asks_for_work_is_not_serviceable(stripped: Assessment) -> None:
    """Plastic in the strainer makes the oil's grade marginal."""
    assert [g.word for g in stripped.judged.grades if g.assembly == "lubrication"] == ["marginal"]


def test_smoke_noise_and_an_empty_filter_are_told_where_they_belong(in_frame: Assessment) -> None:
    """Smoke and rattle in rows of their own, each with an opinion; an empty filter among what is in order."""
    said = {r.name: r for a in view(in_frame).assemblies for r in a.results}
    assert {said[n].chip.word for n in ("Smoke at the exhaust", "Running noise")} == {"marginal"}
    assert {"smoke-on-closing", "chain-rattles-unmeasured"} <= {d.id for d in in_frame.advice.diagnoses}
    assert "Found in the filter" not in said
    assert "found in the filter: nothing" in assembly(in_frame, "Oil and oil pump").clean


def test_a_fault_nobody_looked_for_is_priced_though_an_opinion_rests_on_its_not_being_known(
    in_frame: Assessment,
) -> None:
    """The chain rattles and was not measured: what a long chain would cost is told all the same."""
    assert in_frame.advice.buyer is not None
    assert [h.jobs for h in in_frame.advice.buyer.hidden if h.characteristic == "chain-elongation"] == [
        ("replace-cam-chain",)
    ]


@pytest.mark.parametrize("sample", [STRIPPED, IN_FRAME], ids=["stripped", "in-frame"])
def test_what_an_opinion_rests_on_is_not_told_against_it(sample: Path, reported: Reported) -> None:
    """The tensioner that is not far out makes the rattle a riddle and is no second point against it."""
    for one in open_assessment(reported(sample, "json")).advice.diagnoses:
        behind = {f for e in one.evidence for f in e.findings}
        assert not [e for e in one.against if set(e.findings) <= behind]


@pytest.mark.parametrize("sample", [STRIPPED, IN_FRAME], ids=["stripped", "in-frame"])
def test_what_is_marginal_is_read_or_asks_for_work_or_says_that_none_follows(
    sample: Path, reported: Reported
) -> None:
    """No marginal row leaves its reader alone."""
    of = open_assessment(reported(sample, "json"))
    asking = {i for w in of.advice.work for i in w.why}
    asking |= {i for d in of.advice.diagnoses for e in d.evidence for i in e.findings}
    marginal = [f for f in of.judged.findings if f.verdict is Verdict.MARGINAL]
    alone = {f.name for f in marginal} - {f.name for f in marginal if f.id in asking}
    told = [
        r.means
        for a in view(of).assemblies
        for r in a.results
        if r.chip.word == "marginal" and r.name in alone
    ]
    assert [t for t in told if "No work follows from it yet" not in t] == []


def test_answers_that_contradict_each_other_are_told() -> None:
    """Metal was rated, and the source of the metal is said to be none."""
    case = load(IN_FRAME)
    denied = (
        replace(a, chosen=("no metal",)) if a.item == "debris-source" else a for a in case.inspection.answers
    )
    told = assess(replace(case, inspection=replace(case.inspection, answers=tuple(denied))))
    (row,) = rows(told, "Source of the metal")
    assert row.means == "Metal was found, at step 1 of 5, so that the two disagree: ask again."
    assert any(q.startswith("Source of the metal: metal was found") for q in told.advice.open_questions)
