"""Plants faults in single pieces of work: the rest of the report comes out, and the exit code says so."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from inspect_report.advise import rules
from inspect_report.batch import report_one
from inspect_report.judge import judging, trends, visual
from inspect_report.measure.guard import RAISE
from inspect_report.unchanged import Job
from tests.samples import SAMPLES

FOUR = SAMPLES / "inline-four-strip.yaml"
RACER = SAMPLES / "race-team/c-5.yaml"


def broken_for(work: Callable[..., Any], is_it: Callable[[Any], bool]) -> Callable[..., Any]:
    """Some work that goes wrong for one first argument and is as before for all others."""

    def planted(first: Any, *rest: Any) -> Any:
        if is_it(first):
            raise ZeroDivisionError("planted")
        return work(first, *rest)

    return planted


def reported(path: Path, out: Path) -> tuple[int, str, Any]:
    """Exit code, complaint and JSON of a report."""
    end = report_one(Job((path,), out, ("json",)))
    return end.code, end.complaint, json.loads(end.files[0].read_text(encoding="utf-8"))


def verdicts(report: Any) -> dict[str, str]:
    """Verdicts by id of the finding."""
    return {f["id"]: f["verdict"] for f in report["judged"]["findings"]}


@pytest.fixture(autouse=True)
def not_raised(monkeypatch: pytest.MonkeyPatch) -> None:
    """Faults of ours are noted, as they are for users."""
    monkeypatch.delenv(RAISE, raising=False)


@pytest.mark.parametrize(
    ("module", "name", "is_it", "found"),
    [
        (judging, "finding_of_quantity", lambda q: q.id == "bore-wear.3", "bore-wear.3"),
        (visual, "_rated", lambda asked: asked.item.id == "skirt-state", "skirt-state"),
    ],
)
def test_one_judgement_goes_wrong(
    module: Any, name: str, is_it: Any, found: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One finding is ``check failed``; every other characteristic keeps its verdict."""
    _, _, whole = reported(FOUR, tmp_path / "whole")
    monkeypatch.setattr(module, name, broken_for(getattr(module, name), is_it))
    code, complaint, rest = reported(FOUR, tmp_path / "rest")
    before, after = verdicts(whole), verdicts(rest)
    assert (code, after[found]) == (1, "check failed")
    assert f"{found.split('.')[0]} (ZeroDivisionError: planted)" in complaint
    kept = {i: v for i, v in after.items() if i.partition(".")[0] != found.partition(".")[0]}
    assert kept == {i: before[i] for i in kept}
    assert len(kept) > 100


def test_one_rule_goes_wrong(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The rule becomes an open question; the other rules fire as before."""
    _, _, whole = reported(FOUR, tmp_path / "whole")
    fired = [d["id"] for d in whole["advice"]["diagnoses"]]
    monkeypatch.setattr(rules, "try_rule", broken_for(rules.try_rule, lambda r: r.id == "bore-worn-out"))
    code, complaint, rest = reported(FOUR, tmp_path / "rest")
    assert code == 1
    assert "bore-worn-out (ZeroDivisionError: planted)" in complaint
    assert [d["id"] for d in rest["advice"]["diagnoses"]] == [i for i in fired if i != "bore-worn-out.3"]
    assert any("Rule bore worn out: not tried" in q for q in rest["advice"]["open_questions"])
    assert verdicts(rest) == verdicts(whole)


def test_one_trend_goes_wrong(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The other trends are drawn, and no verdict changes."""
    _, _, whole = reported(RACER, tmp_path / "whole")
    worn = "bore-wear"
    monkeypatch.setattr(trends, "_trend", broken_for(trends._trend, lambda place: place.known.id == worn))
    code, complaint, rest = reported(RACER, tmp_path / "rest")
    assert code == 1
    assert "bore-wear (ZeroDivisionError: planted)" in complaint
    names = [t["characteristic"] for t in whole["judged"]["trends"]]
    assert [t["characteristic"] for t in rest["judged"]["trends"]] == [n for n in names if n != "bore-wear"]
    assert verdicts(rest) == verdicts(whole)


def test_under_test_a_fault_is_raised(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the environment variable set the fault is not hidden."""
    monkeypatch.setenv(RAISE, "1")
    monkeypatch.setattr(rules, "try_rule", broken_for(rules.try_rule, lambda r: r.id == "bore-worn-out"))
    with pytest.raises(ZeroDivisionError, match="planted"):
        report_one(Job((FOUR,), tmp_path, ("json",)))
