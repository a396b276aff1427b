"""Turns ``inspect-report keep`` and a later release with other books into checks of bytes and words."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from inspect_report.cli import main
from tests.samples import ROOT, SAMPLES

MAIN = "inline-four-strip.yaml"
CHANGES = {
    "characteristics.yaml": ("weight: 2", "weight: 7"),
    "scales.yaml": ("serviceable, serviceable, marginal", "serviceable, marginal, beyond limit"),
    "scoring.yaml": ("serviceable: 0.6", "serviceable: 0.3"),
    "practice.yaml": ("limit: {high: 20}", "limit: {high: 90}"),
    "cautions.yaml": ("Old gaskets", "Gaskets of old"),
    "rulebooks/engine-builder.yaml": ("rings or bore leak", "bore or rings leak"),
    "workbooks/four-stroke.yaml": ("opening: 0.5", "opening: 7.5"),
    "workbooks/two-stroke.yaml": ("name: Exhaust off", "name: Exhaust taken off"),
    "checklists/four-stroke.yaml": ("asks: ", "asks: Anew "),
    "checklists/two-stroke.yaml": ("asks: ", "asks: Anew "),
}
"""What a later release says otherwise in each book: limits, verdicts, scores, hours and words."""


@pytest.fixture(scope="module")
def release(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the program whose books are all of a later version and say something else."""
    home = tmp_path_factory.mktemp("release")
    for folder in ("inspect_report", "templates"):
        shutil.copytree(ROOT / folder, home / folder, ignore=shutil.ignore_patterns("__pycache__"))
    library = home / "inspect_report" / "knowledge"
    assert {p.relative_to(library).as_posix() for p in library.rglob("*.yaml")} == set(CHANGES)
    for name, (old, new) in CHANGES.items():
        text = (library / name).read_text(encoding="utf-8")
        anew = re.sub(r"(?m)^version: \d+", "version: 77", text.replace(old, new), count=1)
        assert old in text, name
        assert "version: 77" in anew, name
        (library / name).write_text(anew, encoding="utf-8")
    return home


def run(home: Path, *arguments: object) -> subprocess.CompletedProcess[str]:
    """A command of the program in a folder."""
    command = [sys.executable, "-m", "inspect_report", *map(str, arguments)]
    return subprocess.run(
        command, capture_output=True, text=True, cwd=home, env={**os.environ, "PYTHONPATH": str(home)}
    )


def test_a_later_release_gives_the_same_bytes_from_what_was_kept(release: Path, tmp_path: Path) -> None:
    """JSON, HTML and PDF are byte for byte those sent out, also from the PDF alone; by its books others."""
    sent, kept = tmp_path / "sent", tmp_path / "kept"
    assert run(ROOT, "report", SAMPLES / MAIN, "--out", sent).returncode == 0
    (json,) = sent.glob("*.json")
    done = run(ROOT, "keep", SAMPLES / MAIN, "--out", kept, "--sent", json)
    assert (done.returncode, done.stderr) == (0, "")

    again = run(release, "report", kept / MAIN, "--out", tmp_path / "again")
    assert (again.returncode, again.stderr) == (0, "")
    files = {p.name: p.read_bytes() for p in sent.iterdir()}
    assert {Path(name).suffix for name in files} == {".html", ".pdf", ".json"}
    assert {p.name: p.read_bytes() for p in (tmp_path / "again").iterdir()} == files

    other = run(release, "report", SAMPLES / MAIN, "--out", tmp_path / "other")
    assert other.returncode == 0, other.stderr
    assert [n for n, data in files.items() if (tmp_path / "other" / n).read_bytes() == data] == []
    told = run(release, "changes", json, SAMPLES / MAIN)
    books = ("characteristics book", "scales", "scoring", "practice", "rulebook", "workbook", "cautions")
    assert [b for b in (*books, "checklist") if not re.search(rf"\b{b}: \S+ 77, before", told.stdout)] == []
    unpacked = run(release, "unpack", next(sent.glob("*.pdf")), "--out", tmp_path / "unpacked", "--again")
    assert (unpacked.returncode, unpacked.stderr) == (0, "")
    assert unpacked.stdout.count("the same, byte for byte\n") == 3
    refused = run(release, "keep", SAMPLES / MAIN, "--out", tmp_path / "no", "--sent", json)
    assert refused.returncode == 2
    assert "practice starting-limits 1" in refused.stderr
    assert not (tmp_path / "no").exists()


def test_keep_says_where_the_inspection_now_lies(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The path to report from is printed; a second time the folder is taken."""
    kept = tmp_path / "kept"
    order = ["keep", str(SAMPLES / "race-team" / "b-4.yaml"), "--out", str(kept)]
    assert main(order) == 0
    assert capsys.readouterr().out.startswith(f"{kept / 'b-4.yaml'}: kept")
    assert main(order) == 2
    assert "not empty" in capsys.readouterr().err


def test_what_cannot_be_written_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder below a file ends with 3 and one line."""
    (tmp_path / "file").write_text("")
    order = ["keep", str(SAMPLES / "race-team" / "a-1.yaml"), "--out", str(tmp_path / "file" / "kept")]
    assert main(order) == 3
    assert "cannot be written to" in capsys.readouterr().err
