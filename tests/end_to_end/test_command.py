"""Turns whole commands, as people type them, into checks of their files, words and exit codes."""

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = ROOT / "sample_inspections"
MAIN = "inline-four-strip.yaml"


def run(*words: str | Path, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """The command as a person starts it; never with a traceback."""
    command = [sys.executable, "-m", "inspect_report", *map(str, words)]
    done = subprocess.run(command, capture_output=True, text=True, cwd=cwd, timeout=300, check=False)
    assert "Traceback" not in done.stderr + done.stdout
    return done


@pytest.fixture
def samples(tmp_path: Path) -> Path:
    """A copy of the samples that a test may spoil."""
    return Path(shutil.copytree(SAMPLES, tmp_path / "samples"))


def test_report_writes_three_files_named_after_the_inspection(tmp_path: Path) -> None:
    """`report` writes HTML, PDF and JSON named after number and issue, and ends with 0."""
    done = run("report", SAMPLES / MAIN, "--out", tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    kinds = {path.suffix for path in tmp_path.iterdir()}
    assert kinds == {".html", ".pdf", ".json"}
    stems = {path.stem for path in tmp_path.iterdir()}
    assert len(stems) == 1


def test_report_twice_gives_the_same_bytes(tmp_path: Path) -> None:
    """The same input gives the same bytes in every file, in two processes."""
    for name in ("a", "b"):
        run("report", SAMPLES / MAIN, "--out", tmp_path / name)
    for path in (tmp_path / "a").iterdir():
        assert path.read_bytes() == (tmp_path / "b" / path.name).read_bytes(), path.name


def test_report_of_several_files_keeps_going_past_a_faulty_one(samples: Path, tmp_path: Path) -> None:
    """One faulty file gives exit code 2 and its problem; the other report still comes out."""
    bad = samples / "bad.yaml"
    bad.write_text((samples / MAIN).read_text().replace("depth: fully stripped", "depth: fully striped"))
    text = bad.read_text()
    number = text.split("inspection:", 1)[1].splitlines()[0].strip()
    bad.write_text(text.replace(number, "OTHER-1", 1))
    done = run("report", samples / MAIN, bad, "--out", tmp_path / "out", "--only", "json")
    assert done.returncode == 2
    assert "fully stripped" in done.stderr
    assert [p.suffix for p in (tmp_path / "out").iterdir()] == [".json"]


def test_twins_are_refused_before_anything_is_written(samples: Path, tmp_path: Path) -> None:
    """Two files with one number and issue end with 2 and leave no file."""
    twin = samples / "twin.yaml"
    shutil.copy(samples / MAIN, twin)
    done = run("report", samples / MAIN, twin, "--out", tmp_path / "out")
    assert done.returncode == 2
    assert "V360" in done.stderr
    assert not (tmp_path / "out").exists()


def test_check_names_every_mistake_at_once(samples: Path) -> None:
    """`check` tells several mistakes of one file in one go, each with its line, and ends with 2."""
    path = samples / MAIN
    spoilt = path.read_text().replace("report: rebuild quote", "report: rebuild qoute")
    path.write_text(spoilt.replace("depth: fully stripped", "depth: fully striped"))
    done = run("check", path)
    assert done.returncode == 2
    assert done.stderr.count(" error ") >= 2
    assert f"{MAIN}:" in done.stderr


def test_check_takes_every_file_people_write() -> None:
    """`check` finds inspection, spec sheet and workshop file of the samples in order."""
    files = sorted(SAMPLES.glob("**/*.yaml"))
    done = run("check", *files)
    assert done.returncode == 0, done.stderr
    assert done.stdout.count("in order") == len(files)


def test_missing_file_is_told_without_a_traceback(tmp_path: Path) -> None:
    """A file that is not there is named, with exit code 2."""
    done = run("check", tmp_path / "nothing.yaml")
    assert done.returncode == 2
    assert "nothing.yaml" in done.stderr


def test_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    """An output folder whose name is taken by a file is named, with exit code 3 and nothing written."""
    taken = tmp_path / "taken"
    taken.write_text("a file")
    done = run("report", SAMPLES / MAIN, "--out", taken)
    assert done.returncode == 3
    assert str(taken) in done.stderr
    assert taken.read_text() == "a file"


def test_units_of_the_command_go_before_those_of_the_file() -> None:
    """`why --units` tells one chain in thou, its reading as typed; a word that names no units is refused."""
    done = run("why", SAMPLES / MAIN, "valve-clearance.2.exhaust-1", "--units", "imperial")
    assert done.returncode == 0
    assert "1.2 thou, limit 7.9 to 11.4 thou" in done.stdout
    assert "= 0.03\u00a0mm by feelers" in done.stdout
    wrong = run("why", SAMPLES / MAIN, "valve-clearance.2.exhaust-1", "--units", "furlongs")
    assert wrong.returncode == 2
    assert "metric" in wrong.stderr


def test_why_tells_the_chain_and_offers_the_nearest_finding() -> None:
    """`why` tells reading, limit and verdict; an unknown finding is answered with the nearest ones."""
    done = run("why", SAMPLES / MAIN, "leak-down.3")
    assert done.returncode == 0, done.stderr
    for word in ("beyond limit", "bar", MAIN):
        assert word in done.stdout
    wrong = run("why", SAMPLES / MAIN, "leakdown.3")
    assert wrong.returncode == 2
    assert "leak-down.3" in wrong.stderr


def test_new_writes_a_file_that_check_guides_to_the_end(samples: Path) -> None:
    """`new` writes a file once, never over another; `check` names what is still to fill in."""
    sheet = next((samples / "books").glob("*600*.yaml"))
    words: tuple[str | Path, ...] = (
        "new",
        "--spec-sheet",
        sheet,
        "--workshop",
        samples / "books" / "workshop.yaml",
    )
    words += ("--depth", "top end off", "--out", samples / "engine.yaml")
    assert run(*words).returncode == 0
    assert run(*words).returncode == 2
    done = run("check", samples / "engine.yaml")
    assert done.returncode == 2
    assert "inspection" in done.stderr


def test_sheet_prints_a_pdf(tmp_path: Path) -> None:
    """`sheet` writes a PDF of the blank checklist."""
    sheet = next((SAMPLES / "books").glob("*600*.yaml"))
    done = run("sheet", "--spec-sheet", sheet, "--depth", "fully stripped", "--out", tmp_path / "bench.pdf")
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "bench.pdf").read_bytes().startswith(b"%PDF-")


def test_sheet_prints_what_was_read_so_far(tmp_path: Path) -> None:
    """`sheet FILE` fills the boxes; without a file or an engine, or with both, it says what to write."""
    done = run("sheet", SAMPLES / "kart-two-stroke.yaml", "--out", tmp_path / "so-far.pdf")
    assert done.returncode == 0, done.stderr
    told = ["pdftotext", "-layout", str(tmp_path / "so-far.pdf"), "-"]
    assert "HB-2026-063" in subprocess.run(told, capture_output=True, text=True, check=True).stdout
    neither = run("sheet", "--out", tmp_path / "none.pdf")
    both = run(
        "sheet", SAMPLES / "kart-two-stroke.yaml", "--depth", "in the frame", "--out", tmp_path / "none.pdf"
    )
    assert (neither.returncode, both.returncode) == (2, 2)
    assert "--spec-sheet and --depth" in neither.stderr
    assert "leave out the other options" in both.stderr
    assert not (tmp_path / "none.pdf").exists()


def test_history_of_a_team_is_one_document(tmp_path: Path) -> None:
    """`history` makes one HTML and one PDF of many inspections of several engines."""
    files = sorted((SAMPLES / "race-team").glob("**/*.yaml"))
    inspections = [f for f in files if "\ninspection:" in f"\n{f.read_text()}"]
    done = run("history", *inspections, "--title", "The season", "--out", tmp_path)
    assert done.returncode == 0, done.stderr
    assert {p.suffix for p in tmp_path.iterdir()} >= {".html", ".pdf"}
    assert "The season" in next(tmp_path.glob("*.html")).read_text()


def test_a_letter_no_font_prints_is_told_before_a_page_is_made(tmp_path: Path) -> None:
    """In a file it is told with its line, in a title with its option; nothing is written."""
    home = tmp_path / "samples"
    shutil.copytree(SAMPLES, home)
    kart = home / "kart-two-stroke.yaml"
    kart.write_text(re.sub(r"^place: .*$", "place: Halle 🛠", kart.read_text(), flags=re.MULTILINE))
    line = kart.read_text().splitlines().index("place: Halle 🛠") + 1
    done = run("report", kart, "--out", tmp_path / "out")
    assert done.returncode == 2
    assert f"{kart}:{line}" in done.stderr
    assert "letter that cannot be printed" in done.stderr
    kart = SAMPLES / "kart-two-stroke.yaml"
    titled = run("history", kart, "--title", "Saison 🏁", "--out", tmp_path / "out")
    assert titled.returncode == 2
    assert titled.stderr.startswith("--title: letter that cannot be printed: 🏁 (U+1F3C1 as character 8")
    assert not (tmp_path / "out").exists()


def test_json_of_a_report_can_be_drawn_again(tmp_path: Path) -> None:
    """The JSON is read back into an equal assessment and gives the same JSON."""
    from inspect_report import from_json, to_json

    run("report", SAMPLES / MAIN, "--out", tmp_path, "--only", "json")
    text = next(tmp_path.glob("*.json")).read_text()
    assert json.loads(text)["format"] == 1
    assert to_json(from_json(text)) == text


def test_three_lines_of_python(tmp_path: Path) -> None:
    """`load`, `assess` and `render` do the same as the command, and give pandas tables."""
    from inspect_report import assess, findings, load, readings, render

    assessment = assess(load(SAMPLES / MAIN))
    files = render(assessment, tmp_path, formats=("json", "html"))
    assert {f.suffix for f in files} == {".json", ".html"}
    assert (findings(assessment)["verdict"] == "beyond limit").any()
    assert len(readings(assessment)) > 100


def test_help_starts_fast_and_imports_nothing_heavy() -> None:
    """`--help` loads none of the heavy libraries."""
    code = "import sys\nfrom inspect_report.cli import main\ntry: main(['--help'])\nexcept SystemExit: pass\n"
    code += "heavy = {'weasyprint', 'matplotlib', 'pandas', 'pydantic', 'numpy'} & set(sys.modules)\n"
    code += "assert not heavy, heavy"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
