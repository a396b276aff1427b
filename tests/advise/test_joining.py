"""Turns rules of one cause into checks that they are one diagnosis, with what speaks against it."""

from dataclasses import replace
from typing import Any

import pytest

from inspect_report.advise.advice import Diagnosis
from inspect_report.advise.rules import diagnose
from inspect_report.knowledge.case import Case
from inspect_report.knowledge.rulebook import Rule, Rulebook
from inspect_report.measure.derived import Failed
from tests.advise.builders import answer, at, case, finding, judged, rule
from tests.advise.test_weighing import book

HIGH = {"quantity": "leak-down", "verdict": ["beyond limit"]}


def ruled(*rules: Rule, **changes: Any) -> Case:
    """A case whose rulebook knows a cause; air is heard at the exhaust of cylinder 3."""
    made = case(*rules, answers=[answer("leak-heard", at(3), changes.pop("heard", "exhaust"))], **changes)
    whole = book().model_copy(update={"rules": rules})
    return with_book(made, whole)


def with_book(made: Case, whole: Rulebook) -> Case:
    """The case judged by another rulebook."""
    return replace(made, books=replace(made.books, rulebook=whole))


def told(made: Case, failed: list[Failed] | None = None) -> tuple[Diagnosis, ...]:
    """Diagnoses of a case in which cylinder 3 leaks."""
    leak = finding("leak-down", at(3), "beyond limit", "35 %")
    return diagnose(made, judged(leak), (), failed if failed is not None else [])[0]


FIRST = rule(cause="valve", urgency="at this opening")
SECOND = rule(
    id="leak",
    cause="valve",
    urgency="before running",
    why="It leaks",
    when=HIGH,
    work=["chain"],
    finding="Leak",
)


def test_rules_of_one_cause_are_one_diagnosis() -> None:
    """The most urgent leads; reasons, evidence, work and rules are those of both, each once."""
    (one,) = told(ruled(FIRST, SECOND))
    assert (one.id, one.urgency, one.finding) == ("leak.3", "before running", "Leak")
    assert one.rules == ("leak", "exhaust-leak")
    assert one.why == "It leaks. Heard there."
    assert one.work == ("chain", "reseat")
    assert [e.findings for e in one.evidence] == [("leak-down.3",), ("leak-heard.3",)]


def test_order_of_the_rulebook_plays_no_part_in_what_is_joined() -> None:
    """Turned round, the same rule leads and the same work is asked for."""
    (one,), (other,) = told(ruled(FIRST, SECOND)), told(ruled(SECOND, FIRST))
    assert (one.id, set(one.work), one.explanations) == (other.id, set(other.work), other.explanations)


def test_other_causes_and_other_places_stay_apart() -> None:
    """A rule without a cause, and one of the whole engine, are told for themselves."""
    whole = rule(**{"for": "engine", "id": "whole", "finding": "It leaks", "cause": "valve", "when": HIGH})
    bare = rule(id="bare")
    assert [d.id for d in told(ruled(FIRST, whole, bare))] == ["exhaust-leak.3", "whole", "bare.3"]


def test_what_speaks_against_it_is_shown() -> None:
    """Air at the inlet is no sign of the cause; the rule on leak-down alone still fires, and shows both."""
    (one,) = told(ruled(SECOND, heard="inlet"))
    assert [e.findings for e in one.evidence] == [("leak-down.3",)]
    assert [e.findings for e in one.against] == [("leak-heard.3",)]
    (explanation,) = one.explanations
    assert explanation.evidence == pytest.approx(9.0309 - 2.5527, abs=1e-3)


def test_a_rule_without_a_cause_is_not_weighed() -> None:
    """It stands as it did, with no explanations."""
    (one,) = told(ruled(rule()))
    assert (one.explanations, one.against, one.next_checks) == ((), (), ())


def test_a_fault_of_ours_in_weighing_leaves_the_diagnosis(monkeypatch: pytest.MonkeyPatch) -> None:
    """The fault is noted; the diagnosis is told unweighed."""
    monkeypatch.delenv("INSPECT_REPORT_RAISE", raising=False)
    broken = book().model_copy(update={"rules": (FIRST,), "shares": {}})
    failed: list[Failed] = []
    (one,) = told(with_book(ruled(FIRST), broken), failed)
    assert (one.id, one.explanations) == ("exhaust-leak.3", ())
    assert [f.characteristic for f in failed] == ["exhaust-leak"]
