import random

import pytest

from inspect_report.judge.finding import Verdict
from inspect_report.judge.judging import findings_of, judge
from inspect_report.judge.past import past_readings
from inspect_report.measure.derived import Failed, Measured, Unmeasured
from inspect_report.records.position import ENGINE
from tests.judge.made import a_case, a_rating, an_answer, at, derived, mm, some_books

BOOKS = some_books([{"id": "bore-wear", "standard": {"high": 0.015}, "limit": {"high": 0.1}, "wears": "up"}])
CASE = a_case(
    BOOKS,
    ratings=[a_rating("crown-state", at(cylinder=n), "carbon", 2, strength=2) for n in (1, 2, 3, 4)],
    answers=[an_answer("turns-by-hand", "free")],
    engine={"running-time": 300},
)
MEASURED = Measured(
    tuple(
        derived("bore-wear", at(cylinder=n), mm(v, 0.002))
        for n, v in ((1, 0.02), (2, 0.02), (3, 0.14), (4, 0.02))
    ),
    (Unmeasured("main-clearance", ENGINE, "cases not split on request"),),
    (Failed("ring-end-gap", ENGINE, "KeyError: 'ring'"),),
)


def test_the_whole_judgement() -> None:
    """Findings of every kind in catalogue order, both grades, the outlier and the engine's word."""
    judged = judge(CASE, MEASURED, ())
    assert [(f.id, str(f.verdict)) for f in judged.findings] == [
        ("bore-wear.1", "serviceable"),
        ("bore-wear.2", "serviceable"),
        ("bore-wear.3", "beyond limit"),
        ("bore-wear.4", "serviceable"),
        ("ring-end-gap", "check failed"),
        ("crown-state.1", "serviceable"),
        ("crown-state.2", "serviceable"),
        ("crown-state.3", "serviceable"),
        ("crown-state.4", "serviceable"),
        ("gudgeon-look", "not inspected"),
        ("main-clearance", "not inspected"),
        ("turns-by-hand", "as new"),
        ("shell-state", "not inspected"),
    ]
    assert [(g.assembly, g.word) for g in judged.grades] == [
        ("cylinders", "unserviceable"),
        ("crankshaft", "as new"),
    ]
    assert (judged.engine.word, judged.engine.used, judged.engine.planned) == (
        "unserviceable",
        9,
        9 + 1 + 1 + 20,
    )
    assert [o.position for o in judged.outliers] == [at(cylinder=3)]


def test_trends_come_with_the_judgement() -> None:
    """Past readings given to judging become trends."""
    earlier = a_case(BOOKS, inspection="HW-0", engine={"running-time": 100})
    past = past_readings(earlier, (derived("bore-wear", at(cylinder=3), mm(0.05, 0.002)),))
    assert [t.position for t in judge(CASE, MEASURED, past).trends] == [at(cylinder=3)]


def test_order_of_what_was_measured_does_not_matter() -> None:
    """Shuffled quantities, ratings and answers give the same judgement."""
    mixed = list(MEASURED.quantities)
    random.Random(3).shuffle(mixed)
    assert judge(CASE, Measured(tuple(mixed), MEASURED.unmeasured, MEASURED.failed), ()) == judge(
        CASE, MEASURED, ()
    )


def test_a_place_has_one_finding() -> None:
    """A failure outweighs what came before it; no id stands twice."""
    failed = Measured(MEASURED.quantities, (), (Failed("bore-wear", at(cylinder=1), "ValueError: x"),))
    findings = findings_of(CASE, failed, [])
    assert len({f.id for f in findings}) == len(findings)
    assert next(f for f in findings if f.id == "bore-wear.1").verdict is Verdict.CHECK_FAILED


@pytest.mark.parametrize("depth", ["in the frame", "top end off", "fully stripped", "after assembly"])
def test_an_empty_inspection_is_never_good(depth: str) -> None:
    """Nothing read, looked at or answered: everything not inspected, nothing graded, no score."""
    judged = judge(a_case(BOOKS, depth=depth), Measured(()), ())
    assert {f.verdict for f in judged.findings} == {Verdict.NOT_INSPECTED}
    assert {g.word for g in (*judged.grades, judged.engine)} == {"not graded"}
    assert {g.score for g in (*judged.grades, judged.engine)} == {None}
