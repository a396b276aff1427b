"""A report is made anew when anything it rests on has changed, and only then."""

import os
import shutil
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from inspect_report import unchanged
from inspect_report.cli import main
from tests.samples import SAMPLES

Change = Callable[[Path], object]


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the sample with the photos, some days old, and notes of its own."""
    shutil.copytree(SAMPLES, tmp_path / "home")
    (tmp_path / "pages").mkdir()
    old = time.time() - 86_400
    for path in (tmp_path / "home").rglob("*"):
        os.utime(path, (old, old))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "notes"))
    return tmp_path / "home"


def report(home: Path, *more: str) -> int:
    """Make the data of the report, which goes without printing."""
    out, own = str(home.parent / "out"), str(home.parent / "pages")
    words = ["report", str(home / "used-machine-in-frame.yaml"), "--only", "json", "--out", out]
    return main([*words, "--templates", own, *more])


def made(home: Path) -> float:
    """When the report was written."""
    return (home.parent / "out" / "HB-2026-058-issue-1.json").stat().st_mtime_ns


def edited(path: Path, old: str, new: str) -> None:
    """A file in which a word was changed."""
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))


def test_a_report_whose_files_are_as_they_were_is_left_as_it_is(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Said in a line, with the code of the first time; `--anew` makes it in any case."""
    assert report(home) == 0
    first = made(home)
    capsys.readouterr()
    assert report(home) == 0
    assert made(home) == first
    assert "nothing has changed since these were made: HB-2026-058-issue-1.json" in capsys.readouterr().out
    assert report(home, "--anew") == 0
    assert made(home) > first


@pytest.mark.parametrize(
    "change",
    [
        lambda home: edited(home / "used-machine-in-frame.yaml", "J. Okafor", "A. Okafor"),
        lambda home: (
            edited(home / "books" / "workshop.yaml", "mill", "Mill")
            if "mill" in (home / "books" / "workshop.yaml").read_text()
            else edited(home / "books" / "workshop.yaml", "Mill", "Mull")
        ),
        lambda home: edited(home / "books" / "corvane-600.yaml", "# ", "#  "),
        lambda home: (home / "photos" / "crown-borescope.png").write_bytes(
            (home / "photos" / "crown-3.png").read_bytes()
        ),
        lambda home: (home.parent / "pages" / "look.css").write_text("body { color: black; }"),
        lambda home: edited(home.parent / "out" / "HB-2026-058-issue-1.json", "J. Okafor", "N. Obody"),
        lambda home: (home.parent / "out" / "HB-2026-058-issue-1.json").unlink(),
    ],
    ids=["inspection", "workshop", "spec sheet", "photo", "own templates", "report changed", "report gone"],
)
def test_it_is_made_anew_where_anything_has_changed(
    home: Path, change: Change, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whatever it rests on, and the report itself."""
    assert report(home) == 0
    change(home)
    capsys.readouterr()
    assert report(home) == 0
    assert "nothing has changed" not in capsys.readouterr().out
    text = (home.parent / "out" / "HB-2026-058-issue-1.json").read_text()
    assert "N. Obody" not in text


def test_it_is_made_anew_in_other_units(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What was made metric does not stand in for what is asked in thou."""
    assert report(home) == 0
    capsys.readouterr()
    assert report(home, "--units", "imperial") == 0
    assert "nothing has changed" not in capsys.readouterr().out
    assert "thou" in (home.parent / "out" / "HB-2026-058-issue-1.json").read_text()


def test_another_program_makes_it_anew(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A release, a library or a template of the program that is another one."""
    assert report(home) == 0
    first = made(home)
    monkeypatch.setattr(unchanged, "_program", lambda: "another")
    assert report(home) == 0
    assert made(home) > first


def test_the_program_is_known_by_its_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One changed file of the package is another program; what Python keeps beside it is not looked at."""
    (tmp_path / "__pycache__").mkdir()
    (tmp_path / "one.py").write_text("1")
    monkeypatch.setattr(unchanged, "_PACKAGE", tmp_path)
    program = unchanged._program.__wrapped__
    before = program()
    (tmp_path / "__pycache__" / "one.pyc").write_text("kept")
    assert program() == before
    (tmp_path / "one.py").write_text("12")
    assert program() != before


@pytest.mark.parametrize("day", [3600.0, -86_400.0], ids=["written since", "an older copy put there since"])
def test_a_file_changed_while_it_was_read_is_not_vouched_for(home: Path, day: float, tmp_path: Path) -> None:
    """What came there after reading began may not be what was read, whatever day it bears."""
    from inspect_report import batch

    path = home / "used-machine-in-frame.yaml"
    job = unchanged.Job((path,), tmp_path / "other", ("json",))
    begun = time.time_ns()
    shutil.copy(path, tmp_path / "copy.yaml")
    os.utime(tmp_path / "copy.yaml", (time.time() + day, time.time() + day))
    os.replace(tmp_path / "copy.yaml", path)
    written = batch.report_one(job).files
    unchanged._place(job).unlink(missing_ok=True)
    unchanged.remember(job, (path,), unchanged.Came(0, "", tuple(map(str, written))), begun)
    assert unchanged.came_of(job) is None
    time.sleep(0.02)
    unchanged.remember(job, (path,), unchanged.Came(0, "", tuple(map(str, written))), time.time_ns() + 10**13)
    assert unchanged.came_of(job) is not None


def test_without_a_home_reports_are_made_all_the_same(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A user whom the machine does not know has no folder for notes."""

    def homeless() -> Path:
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.setattr(Path, "home", homeless)
    assert report(home) == 0
    first = made(home)
    assert report(home) == 0
    assert made(home) > first


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        '{"came": {}}',
        '{"came": 3}',
        "\x00",
        '{"came": {"code": 0, "complaint": "", "written": ["x"]}, "program": "PROGRAM", "states": []}',
    ],
)
def test_a_spoilt_note_is_passed_over(home: Path, text: str) -> None:
    """It is made anew, and noted again."""
    assert report(home) == 0
    first = made(home)
    (note,) = (home.parent / "notes" / "inspect-report").iterdir()
    note.write_text(text.replace("PROGRAM", unchanged._program()))
    assert report(home) == 0
    assert made(home) > first


def test_without_a_folder_for_notes_reports_are_made_all_the_same(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file stands where the folder should be."""
    (home.parent / "blocked").write_text("")
    monkeypatch.setenv("XDG_CACHE_HOME", str(home.parent / "blocked"))
    assert report(home) == 0
    first = made(home)
    assert report(home) == 0
    assert made(home) > first


def test_of_several_only_the_changed_one_is_made(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each with its own line, in the order of the files."""
    names = ("kart-two-stroke-issue-1.yaml", "used-machine-in-frame.yaml")
    words = ["report", *(str(home / n) for n in names), "--only", "json", "--out", str(home.parent / "out")]
    assert main(words) == 0
    edited(home / names[1], "J. Okafor", "A. Okafor")
    capsys.readouterr()
    assert main(words) == 0
    first, second = capsys.readouterr().out.splitlines()
    assert names[0] in first
    assert "nothing has changed" in first
    assert "nothing has changed" not in second


def test_a_history_is_recognised_too(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Of all its inspections together."""
    files = [str(home / "race-team" / f"a-{n}.yaml") for n in (1, 2)]
    words = ["history", *files, "--only", "json", "--out", str(home.parent / "out")]
    assert main(words) == 0
    capsys.readouterr()
    assert main(words) == 0
    assert "nothing has changed" in capsys.readouterr().out
    assert main([*words, "--title", "Another"]) == 0
    assert "nothing has changed" not in capsys.readouterr().out
