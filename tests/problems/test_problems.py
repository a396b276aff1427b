"""Faulty files: each names, as a comment on its line, the problems that must be told there, and no others."""

import re
from datetime import date
from pathlib import Path

import pytest

from inspect_report.knowledge.shelf import check
from inspect_report.records.problem import InvalidInput, Problem

HERE = Path(__file__).parent
FILES = sorted(p for p in HERE.rglob("*.yaml") if p.parent.name != "books")
EXPECTED = re.compile(r"# problem: ([A-Z0-9, ]+)$")
TODAY = date(2026, 6, 1)


def expected(path: Path) -> list[tuple[int, str]]:
    """Line and code of every problem a file names."""
    lines = path.read_text(encoding="utf-8").splitlines()
    named = ((n, EXPECTED.search(line)) for n, line in enumerate(lines, 1))
    return sorted((n, code) for n, match in named if match for code in match[1].split(", "))


def told(path: Path) -> tuple[Problem, ...]:
    """What is told of a file, warnings included."""
    try:
        return check(path, today=TODAY)
    except InvalidInput as fault:
        return fault.problems


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_a_faulty_file_is_told_what_it_names(path: Path) -> None:
    """Every fault is told once, at its line, with its code; nothing else is told."""
    problems = told(path)
    assert {p.place.file for p in problems} == {str(path)}
    assert sorted((p.place.line, p.code) for p in problems) == expected(path)


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_every_problem_says_what_to_do(path: Path) -> None:
    """What stands there, what is allowed and how to mend it are never empty, and the line is shown."""
    for problem in told(path):
        assert all((problem.title, problem.found, problem.allowed, problem.mend, problem.excerpt)), problem
