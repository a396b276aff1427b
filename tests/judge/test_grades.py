"""Grades by the scoring book, and what must hold of them whatever the findings are."""

import random
from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.judge.finding import Finding, Grade, Seen, Verdict
from inspect_report.judge.grades import WORDS, assembly_grades, engine_grade
from inspect_report.records.position import ENGINE
from tests.judge.made import a_finding, at, some_books

BOOKS = some_books()
NEW, OK, WATCH, OPEN, BEYOND = (
    Verdict.AS_NEW,
    Verdict.SERVICEABLE,
    Verdict.MARGINAL,
    Verdict.UNDECIDED,
    Verdict.BEYOND_LIMIT,
)


def wear(cylinder: int, verdict: Verdict, used: float | None = None) -> Finding:
    """Bore wear (weight 3) at a cylinder."""
    return a_finding("bore-wear", verdict, at(cylinder=cylinder), used=used)


def gap(cylinder: int, verdict: Verdict, used: float | None = None) -> Finding:
    """Ring end gap (weight 1) at a cylinder."""
    return a_finding("ring-end-gap", verdict, at(cylinder=cylinder, ring="top"), used=used)


def cylinders(*findings: Finding) -> Grade:
    """The grade of the cylinders."""
    return next(g for g in assembly_grades(findings, BOOKS) if g.assembly == "cylinders")


def engine(findings: Sequence[Finding]) -> Grade:
    """The grade of the engine."""
    return engine_grade(assembly_grades(findings, BOOKS), BOOKS)


def test_the_worst_finding_sets_the_word() -> None:
    """One marginal cylinder makes the assembly marginal, and is named."""
    grade = cylinders(wear(1, NEW, 0.0), wear(2, WATCH, 0.8), wear(3, OK, 0.3))
    assert (grade.word, grade.worst) == ("marginal", ("bore-wear.2",))


def test_undecided_counts_as_marginal() -> None:
    """The scoring book says what undecided counts as; it never reads as good."""
    assert cylinders(wear(1, OPEN, 0.0)).word == "marginal"
    assert cylinders(wear(1, OPEN, 0.0)).score == pytest.approx(5.0)


def test_undecided_is_worth_no_more_than_its_share() -> None:
    """Near the limit the share left counts, inside the new range the scoring book's 0.05."""
    assert cylinders(wear(1, OPEN, 0.99)).score == pytest.approx(1.0)
    assert cylinders(wear(1, OPEN, 0.5)).score == pytest.approx(5.0)


def test_the_worst_are_named_worst_first() -> None:
    """Of two findings that set the word, the one further gone comes first."""
    grade = cylinders(wear(1, BEYOND, 1.1), wear(2, BEYOND, 1.6), wear(3, OK, 0.2))
    assert grade.worst == ("bore-wear.2", "bore-wear.1")


def test_score_by_hand() -> None:
    """Wear 3 × mean(1.0, 0.5), gap 1 × 0.2, by 4: 42.5 of 100."""
    grade = cylinders(wear(1, NEW, 0.0), wear(2, OK, 0.5), gap(1, WATCH, 0.8))
    assert grade.score == pytest.approx((3 * 0.75 + 1 * 0.2) / 4 * 100)


def test_score_where_no_share_can_be_computed() -> None:
    """A rating counts for what the scoring book says: serviceable leaves 0.6."""
    assert cylinders(wear(1, OK)).score == pytest.approx(60.0)


@pytest.mark.parametrize(("used", "score"), [(-0.2, 100.0), (1.0, 0.0), (2.5, 0.0)])
def test_shares_are_clipped(used: float, score: float) -> None:
    """Neither better than new nor worse than used up."""
    assert cylinders(wear(1, OK, used)).score == pytest.approx(score)


def test_coverage_counts_places() -> None:
    """Used, planned and beyond the depth: a whole item of four cylinders stands for four checks."""
    grade = cylinders(
        wear(1, OK, 0.1),
        wear(2, Verdict.NO_LIMIT),
        wear(3, Verdict.NOT_INSPECTED),
        wear(4, Verdict.NOT_APPLICABLE),
        a_finding("crown-state", Verdict.NOT_INSPECTED, ENGINE),
        a_finding("ring-end-gap", Verdict.NOT_INSPECTED, ENGINE, outside_depth=True),
    )
    assert (grade.used, grade.planned, grade.beyond_depth) == (1, 1 + 1 + 1 + 4, 12)


def test_evidence_is_no_check_that_lacks_a_grade() -> None:
    """An answer kept as evidence was given; nothing is missing of it."""
    answer = a_finding("turns-by-hand", Verdict.NO_LIMIT, chosen=("not tried",))
    (grade,) = assembly_grades([answer], BOOKS)
    assert (grade.used, grade.planned, grade.word) == (0, 0, "not graded")


def test_what_weighs_nothing_is_no_check_of_its_own() -> None:
    """Another way to tell a reading neither adds to the coverage nor to the score."""
    flow = a_finding("leak-flow", Verdict.NO_LIMIT, at(cylinder=1))
    judged = a_finding("leak-flow", BEYOND, at(cylinder=2), used=1.5)
    missed = a_finding("leak-flow", Verdict.NOT_INSPECTED, ENGINE)
    grade = cylinders(wear(1, OK, 0.5), flow, judged, missed)
    assert (grade.used, grade.planned, grade.word) == (1, 1, "serviceable")
    assert grade.score == pytest.approx(50.0)


@pytest.mark.parametrize(
    "verdict",
    [Verdict.NOT_INSPECTED, Verdict.NOT_APPLICABLE, Verdict.NO_LIMIT, Verdict.CHECK_FAILED],
)
def test_nothing_left_is_not_graded(verdict: Verdict) -> None:
    """Never 0 and never good."""
    grade = cylinders(wear(1, verdict))
    assert (grade.word, grade.score, grade.worst) == ("not graded", None, ())
    assert (engine([wear(1, verdict)]).word, engine([wear(1, verdict)]).score) == ("not graded", None)


def test_what_does_not_matter_for_function_leaves_the_word_alone() -> None:
    """It still weighs in the score; alone it speaks, but makes nothing unserviceable."""
    crown = a_finding("crown-state", BEYOND, at(cylinder=1))
    grade = cylinders(wear(1, NEW, 0.0), crown)
    assert grade.word == "as new"
    assert grade.score == pytest.approx(60.0)
    assert (cylinders(crown).word, cylinders(crown).worst) == ("marginal", ("crown-state.1",))
    assert cylinders(a_finding("leak-flow", BEYOND, at(cylinder=1))).word == "not graded"


def test_an_assembly_the_engine_does_not_have_has_no_grade() -> None:
    """Without a finding there is no line for it."""
    assert [g.assembly for g in assembly_grades([wear(1, NEW)], BOOKS)] == ["cylinders"]


def test_a_cap_by_verdict() -> None:
    """A crank that binds caps its assembly and the engine by name."""
    findings = [wear(1, NEW, 0.0), a_finding("turns-by-hand", WATCH)]
    crankshaft = assembly_grades(findings, BOOKS)[1]
    assert (crankshaft.word, crankshaft.caps) == ("marginal", ("Tight crank: it binds somewhere.",))
    whole = engine(findings)
    assert (whole.word, whole.score, whole.do_not_run) == ("marginal", 50.0, False)
    assert whole.caps == crankshaft.caps


def test_a_cap_by_damage_found_anywhere() -> None:
    """A crack at a place that does not matter for function still grounds the engine."""
    crack = replace(a_finding("crown-state", WATCH, at(cylinder=1)), seen=(Seen("crack", 1, 1, None, ""),))
    grade = cylinders(wear(1, NEW, 0.0), crack)
    assert (grade.word, grade.score, grade.do_not_run) == ("unserviceable", 20.0, True)
    assert grade.worst == ("crown-state.1",)
    assert engine([crack]).word == "unserviceable"


def test_a_cap_by_damage_needs_its_grade() -> None:
    """A place looked at for cracks without one caps nothing."""
    clean = replace(a_finding("crown-state", NEW, at(cylinder=1)), seen=(Seen("scuffing", 5, 5, None, ""),))
    assert cylinders(wear(1, NEW, 0.0), clean).caps == ()


def test_the_engine_by_its_assemblies() -> None:
    """Worst word; score by weight of assembly: (2 × 50 + 1 × 100) / 3; sums of coverage."""
    findings = [wear(1, OK, 0.5), a_finding("main-clearance", NEW, at(main_journal=1), used=0.0)]
    grade = engine(findings)
    assert grade.word == "serviceable"
    assert grade.score == pytest.approx(200 / 3)
    assert (grade.used, grade.planned, grade.worst) == (2, 2, ("bore-wear.1",))


BETTER_TO_WORSE = (NEW, OK, WATCH, OPEN, BEYOND)
USED = {NEW: (0.0, 0.0), OK: (0.01, 0.74), WATCH: (0.75, 1.0), OPEN: (0.9, 1.2), BEYOND: (1.0, 3.0)}
ROWS = (("bore-wear", "cylinder"), ("crown-state", "cylinder"), ("main-clearance", "main-journal"))


@st.composite
def some_findings(draw: st.DrawFn) -> list[Finding]:
    """Findings of three characteristics at up to four places each, with or without a share."""
    listed = []
    for characteristic, axis in ROWS:
        shares = draw(st.booleans())
        for n in range(1, draw(st.integers(0, 4)) + 1):
            verdict = draw(st.sampled_from(BETTER_TO_WORSE))
            used = draw(st.floats(*USED[verdict])) if shares else None
            listed.append(a_finding(characteristic, verdict, at(**{axis: n}), used=used))
    return listed


def rank(grade: Grade) -> tuple[int, float]:
    """Greater is better."""
    return -WORDS.index(grade.word), grade.score if grade.score is not None else -1.0


@given(findings=some_findings(), data=st.data())
def test_a_worse_verdict_never_gives_a_better_grade(findings: list[Finding], data: st.DataObject) -> None:
    """Neither word nor score of any assembly or the engine rises when one finding worsens."""
    candidates = [n for n, f in enumerate(findings) if f.verdict is not BEYOND]
    if not candidates:
        return
    n = data.draw(st.sampled_from(candidates))
    here = findings[n]
    worse = data.draw(st.sampled_from(BETTER_TO_WORSE[BETTER_TO_WORSE.index(here.verdict) + 1 :]))
    used = None if here.used is None else max(here.used, data.draw(st.floats(*USED[worse])))
    changed = [*findings[:n], replace(here, verdict=worse, used=used), *findings[n + 1 :]]
    pairs = zip(assembly_grades(findings, BOOKS), assembly_grades(changed, BOOKS), strict=True)
    for before, after in [*pairs, (engine(findings), engine(changed))]:
        if before.word != "not graded":
            assert rank(after)[0] <= rank(before)[0]
            assert rank(after)[1] <= rank(before)[1] + 1e-9


@given(findings=some_findings(), seed=st.integers(0, 99))
def test_order_of_findings_does_not_matter(findings: list[Finding], seed: int) -> None:
    """Shuffled findings give the same grades; of equals only the order among the worst may differ."""
    shuffled = list(findings)
    random.Random(seed).shuffle(shuffled)
    for one, other in zip(assembly_grades(findings, BOOKS), assembly_grades(shuffled, BOOKS), strict=True):
        assert (one.word, set(one.worst), one.used) == (other.word, set(other.worst), other.used)
        assert one.score == pytest.approx(other.score)


@given(findings=some_findings(), places=st.integers(1, 5))
def test_not_applicable_changes_nothing(findings: list[Finding], places: int) -> None:
    """What the engine does not have weighs nothing and is not counted."""
    extra = [a_finding("bore-wear", Verdict.NOT_APPLICABLE, at(cylinder=90 + n)) for n in range(places)]
    graded = {g.assembly: g for g in assembly_grades([*findings, *extra], BOOKS)}
    for grade in assembly_grades(findings, BOOKS):
        assert graded[grade.assembly] == grade
