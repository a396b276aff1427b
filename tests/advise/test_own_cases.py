"""Turns rulebooks of a workshop's own into checks that their cases are run."""

from pathlib import Path

from inspect_report.advise.own_cases import case_problems
from inspect_report.places import knowledge_dir

BOOK = """
rulebook: own
version: 1
rules:
  - id: tight-gap
    finding: Cylinder {cylinder} has a tight valve.
    why: Seats sink.
    for: cylinder
    when: {quantity: valve-clearance, verdict: [beyond limit]}
    work: [set-valve-clearances]
    urgency: before running
    if-left: It burns.
    cases:
      - {given: {valve-clearance: {2.inlet-1: beyond limit}}, fires: [2]}
      - {given: {valve-clearance: {2.inlet-1: as new}}, fires: []}
"""


def written(folder: Path, text: str) -> Path:
    """A rulebook in a file."""
    path = folder / "own.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_the_shipped_rulebook_keeps_its_cases() -> None:
    """Every shipped rulebook comes out as written."""
    for path in (knowledge_dir() / "rulebooks").glob("*.yaml"):
        assert case_problems(path) == ()


def test_a_right_rulebook_has_no_problem(tmp_path: Path) -> None:
    """Cases that come out as written are not told."""
    assert case_problems(written(tmp_path, BOOK)) == ()


def test_a_case_that_fires_elsewhere_is_told_at_its_line(tmp_path: Path) -> None:
    """The problem stands at the case's `fires`, and says what the rule does."""
    (problem,) = case_problems(written(tmp_path, BOOK.replace("fires: [2]", "fires: [3]")))
    assert (problem.code, problem.place.line) == ("K371", 14)
    assert problem.allowed.endswith("it fires for 2")


def test_a_case_of_unknown_things_is_told(tmp_path: Path) -> None:
    """A misspelt characteristic in a case is no traceback and no pass."""
    wrong = BOOK.replace("valve-clearance: {2.inlet-1: as new}", "valve-clearence: {2.inlet-1: as new}")
    assert [p.code for p in case_problems(written(tmp_path, wrong))] == ["K370"]


def test_another_kind_of_file_has_no_cases(tmp_path: Path) -> None:
    """A workbook is not read as a rulebook."""
    assert case_problems(knowledge_dir() / "workbooks" / "four-stroke.yaml") == ()
