"""Turns what README.md shows of the commands into a promise: it is what they print."""

import shutil
from pathlib import Path

import pytest

from inspect_report.cli import main
from tests.samples import ROOT

SLIPS = (("report: rebuild quote", "report: rebuild qoute"), ("4: 5.62}", "4: 56.2}"))


def shown(command: str) -> str:
    """What README.md shows below a command, up to the end of its block."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    _, found, rest = text.partition(f"$ {command}")
    assert found, command
    return rest.partition("\n")[2].partition("\n```")[0]


@pytest.fixture
def samples(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the samples, as the current folder."""
    home = Path(shutil.copytree(ROOT / "sample_inspections", tmp_path / "samples"))
    monkeypatch.chdir(home)
    return home


def test_check_says_what_the_readme_shows(samples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The four-cylinder sample with the two slips gives the two problems of the README."""
    text = (samples / "inline-four-strip.yaml").read_text(encoding="utf-8")
    for right, wrong in SLIPS:
        text = text.replace(right, wrong, 1)
    (samples / "engine-17.yaml").write_text(text, encoding="utf-8")
    assert main(["check", "engine-17.yaml"]) == 2
    assert capsys.readouterr().err.rstrip("\n") == shown("inspect-report check engine-17.yaml")


def test_why_says_what_the_readme_shows(samples: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The chain behind the leak-down of cylinder 3 is the README's."""
    assert main(["why", "inline-four-strip.yaml", "leak-down.3"]) == 0
    assert capsys.readouterr().out.rstrip("\n") == shown("inspect-report why inline-four-strip.yaml")
