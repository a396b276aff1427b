from inspect_report.judge.absent import absent_findings
from inspect_report.judge.finding import Finding, Verdict
from inspect_report.knowledge.case import Case
from inspect_report.measure.derived import Measured, Unmeasured
from inspect_report.records.position import ENGINE
from tests.judge.made import a_case, a_rating, an_answer, at, derived, mm, some_books

NOTHING = Measured(())


def absent(case: Case, measured: Measured = NOTHING) -> dict[str, Finding]:
    """What is absent, by id."""
    return {f.id: f for f in absent_findings(case, measured)}


def test_an_item_nobody_looked_at_gives_one_finding() -> None:
    """Four cylinders not looked at are one finding at the engine, not four."""
    found = absent(a_case())
    assert [i for i in found if i.startswith("crown-state")] == ["crown-state"]
    finding = found["crown-state"]
    assert (finding.verdict, finding.reason, finding.position) == (
        Verdict.NOT_INSPECTED,
        "not looked at",
        ENGINE,
    )
    assert not finding.outside_depth


def test_a_place_left_empty_gives_a_finding_of_its_own() -> None:
    """Where some cylinders were looked at, the others are named one by one."""
    found = absent(a_case(ratings=[a_rating("crown-state", at(cylinder=n)) for n in (1, 3)]))
    assert [i for i in found if i.startswith("crown-state")] == ["crown-state.2", "crown-state.4"]


def test_an_unanswered_question() -> None:
    """A question without an answer is not inspected, an answered one is not told."""
    assert absent(a_case())["turns-by-hand"].reason == "not answered"
    assert "turns-by-hand" not in absent(a_case(answers=[an_answer("turns-by-hand", "free")]))


def test_evidence_is_an_answer() -> None:
    """An answer that carries no verdict is not a missing answer."""
    assert "gudgeon-look" not in absent(a_case(answers=[an_answer("gudgeon-look", "oily")]))


def test_left_out_with_its_reason() -> None:
    """The inspector's reason is the reason."""
    found = absent(a_case(left_out=[{"item": "crown-state", "reason": "head stays on"}]))
    assert (found["crown-state"].verdict, found["crown-state"].reason) == (
        Verdict.NOT_INSPECTED,
        "left out: head stays on",
    )


def test_left_out_at_one_place_and_forgotten_at_the_others() -> None:
    """Nothing was looked at, so there is one finding, with both reasons."""
    left_out = [{"item": "crown-state", "at": {"cylinder": 2}, "reason": "stud broken"}]
    assert absent(a_case(left_out=left_out))["crown-state"].reason == "not looked at; left out: stud broken"


def test_what_the_engine_does_not_have_is_not_applicable() -> None:
    """``applies: false`` is no gap."""
    left_out = [{"item": "turns-by-hand", "reason": "no crank end to reach", "applies": False}]
    finding = absent(a_case(left_out=left_out))["turns-by-hand"]
    assert (finding.verdict, finding.reason) == (Verdict.NOT_APPLICABLE, "no crank end to reach")


def test_not_applicable_at_one_place_stays_at_its_place() -> None:
    """One cylinder that has none does not hide that the others were not looked at."""
    left_out = [{"item": "crown-state", "at": {"cylinder": 2}, "reason": "blanked off", "applies": False}]
    found = absent(a_case(left_out=left_out))
    assert found["crown-state.2"].verdict is Verdict.NOT_APPLICABLE
    assert [found[f"crown-state.{n}"].verdict for n in (1, 3, 4)] == [Verdict.NOT_INSPECTED] * 3


def test_beyond_the_depth() -> None:
    """What needs the cases split says so on an engine in the frame, and counts as beyond the depth."""
    finding = absent(a_case(depth="in the frame"))["shell-state"]
    assert (finding.reason, finding.outside_depth) == ("needs a deeper strip-down: fully stripped", True)


def test_the_check_after_assembly_is_no_gap_of_a_strip_down() -> None:
    """It belongs to another day; at its own depth it counts."""
    assert "build-check" not in absent(a_case())
    assert absent(a_case(depth="after assembly"))["build-check"].reason == "not answered"


def test_an_optional_item_is_not_missed() -> None:
    """Leaving it empty costs nothing; leaving it out with a reason is told."""
    assert "smell" not in absent(a_case())
    assert "smell" in absent(a_case(left_out=[{"item": "smell", "reason": "cold in the nose"}]))


def test_what_could_not_be_measured() -> None:
    """Measuring says where and why; depth and application are kept."""
    measured = Measured(
        (derived("bore-wear", at(cylinder=1), mm(0.02)),),
        (
            Unmeasured("bore-wear", at(cylinder=2), "bore diameter not read on cylinder 2"),
            Unmeasured(
                "main-clearance", ENGINE, "needs a deeper strip-down: fully stripped", outside_depth=True
            ),
            Unmeasured("ring-end-gap", ENGINE, "no rings", applies=False),
        ),
    )
    found = absent(a_case(), measured)
    assert found["bore-wear.2"].reason == "bore diameter not read on cylinder 2"
    assert found["main-clearance"].outside_depth
    assert found["ring-end-gap"].verdict is Verdict.NOT_APPLICABLE


def test_every_place_unmeasured_is_one_finding() -> None:
    """A characteristic without a single value is told once, each reason once."""
    gaps = tuple(Unmeasured("bore-wear", at(cylinder=n), "gauge not calibrated") for n in (1, 2, 3, 4))
    found = absent(a_case(), Measured((), gaps))
    assert [i for i in found if i.startswith("bore-wear")] == ["bore-wear"]
    assert found["bore-wear"].reason == "gauge not calibrated"


def test_what_no_book_knows_is_not_missed() -> None:
    """A gap of something that is not judged is no finding."""
    assert "odd-thing" not in absent(a_case(), Measured((), (Unmeasured("odd-thing", ENGINE, "not read"),)))


def test_an_engine_without_such_parts_misses_none() -> None:
    """No main journals counted in the spec sheet: none not looked at."""
    assert "shell-state" not in absent(a_case(some_books(counts={})))
