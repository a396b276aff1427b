"""Turns the two commands of README.md into a promise: they are what `.ci/run` runs, on files that exist."""

import re
from pathlib import Path

from tests.samples import ROOT, sample_inspections

TEST_COMMAND = ".ci/setup test && .venv/bin/python -m tests"
RUN_COMMAND = re.compile(
    r"^\.ci/setup run && \.venv/bin/inspect-report report (?P<sample>\S+\.yaml) --out reports$", re.MULTILINE
)


def lines(path: Path) -> list[str]:
    """The file's lines."""
    return path.read_text(encoding="utf-8").splitlines()


def test_the_readme_gives_the_test_command_that_ci_runs() -> None:
    """One line in README.md, the same line in .ci/run, and nothing after it that could hide its failure."""
    assert TEST_COMMAND in lines(ROOT / "README.md")
    assert lines(ROOT / ".ci/run")[-1] == TEST_COMMAND


def test_the_readme_reports_a_sample_that_exists() -> None:
    """The run command of README.md names one of the sample inspections."""
    command = RUN_COMMAND.search((ROOT / "README.md").read_text(encoding="utf-8"))

    assert command is not None
    assert ROOT / command["sample"] in sample_inspections()


def test_the_lock_names_public_registries_only() -> None:
    """A fresh machine installs from PyPI; no other host may slip into the lock files."""
    hosts = set(re.findall(r"https?://([^/\"]+)", (ROOT / "uv.lock").read_text(encoding="utf-8")))

    assert hosts == {"pypi.org", "files.pythonhosted.org"}
    assert "://" not in (ROOT / "tests/validity/tools/package-lock.json").read_text(encoding="utf-8")
