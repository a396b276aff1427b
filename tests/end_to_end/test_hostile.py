"""Turns what goes wrong around the program into checks: stopped, nobody listening, no room, no permission."""

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = ROOT / "sample_inspections"
COMMAND = (sys.executable, "-m", "inspect_report")
KART = SAMPLES / "kart-two-stroke.yaml"
NEW = ("new", "--spec-sheet", str(SAMPLES / "books" / "ormvik-k125.yaml"), "--depth", "in the frame")
FULL = Path("/dev/full")


def run(*words: str | Path, **how: object) -> subprocess.CompletedProcess[str]:
    """The command as a person starts it."""
    settings = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "text": True, "timeout": 300, **how}
    return subprocess.run([*COMMAND, *map(str, words)], check=False, **settings)  # type: ignore[call-overload, no-any-return]


@pytest.fixture
def samples(tmp_path: Path) -> Path:
    """A copy of the samples that a test may spoil."""
    return Path(shutil.copytree(SAMPLES, tmp_path / "samples"))


def _interruptible() -> None:
    """A test run in the background inherits that interrupts are ignored; the command must not."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def started(words: list[str]) -> subprocess.Popen[str]:
    """The command in a group of processes of its own, which a terminal would interrupt as a whole."""
    return subprocess.Popen(
        [*COMMAND, *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        preexec_fn=_interruptible,
    )


def test_a_batch_that_is_stopped_leaves_whole_files_only(tmp_path: Path) -> None:
    """Interrupted in the middle, a batch ends what it writes, begins nothing more, and says so in a line."""
    out = tmp_path / "out"
    files = sorted(str(p) for p in (SAMPLES / "race-team").glob("[abc]-?.yaml"))
    process = started(["report", *files, "--out", str(out), "--only", "pdf"])
    deadline = time.monotonic() + 60
    while time.monotonic() < deadline and not (out.is_dir() and any(out.glob("*.pdf"))):
        time.sleep(0.02)
    os.killpg(process.pid, signal.SIGINT)
    said, complaint = process.communicate(timeout=60)
    assert process.returncode == 130
    assert "Traceback" not in said + complaint
    assert complaint.strip().splitlines() == [
        "stopped; files written before are whole, the others are not begun"
    ]
    names = [p.name for p in out.iterdir()]
    assert 0 < len(names) <= len(files)
    assert all(name.endswith(".pdf") for name in names)
    assert all(p.read_bytes().rstrip().endswith(b"%%EOF") for p in out.iterdir())


def test_nobody_reading_the_output_is_no_fault() -> None:
    """A pipe that is closed early, as by ``| head -1``, ends the program without a word."""
    reading, writing = os.pipe()
    os.close(reading)
    done = run("check", KART, stdout=writing)
    os.close(writing)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.skipif(not FULL.exists(), reason="needs a device that is always full")
def test_no_room_for_the_output_is_told() -> None:
    """Where the terminal's file is full, the fault is told in one line."""
    with FULL.open("w") as full:
        done = run("check", KART, stdout=full)
    assert done.returncode == 3
    assert done.stderr == "the output cannot be written: No space left on device\n"


def test_a_terminal_of_few_letters_gets_stand_ins() -> None:
    """A terminal that knows ASCII alone still gets every line."""
    plain = {**os.environ, "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    done = run("why", SAMPLES / "inline-four-strip.yaml", "leak-down.3", env=plain)
    assert (done.returncode, done.stderr) == (0, "")
    assert "?" in done.stdout


def test_a_blank_file_without_room_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A blank inspection that does not fit on the disk is not left half written, nor empty."""
    from inspect_report import cli
    from inspect_report.report import writing

    def no_room(folder: Path, data: bytes) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(writing, "_beside", no_room)
    assert cli.main([*NEW, "--out", str(tmp_path / "new.yaml")]) == 3
    assert list(tmp_path.iterdir()) == []


AS_SOMEBODY_ELSE = """
import os, sys
from inspect_report.cli import main
main(["check", sys.argv[1]])  # loads whatever is needed, as long as it may be read
if os.geteuid() == 0:
    os.setegid(65534)
    os.seteuid(65534)
sys.exit(main(["check", sys.argv[2]]))
"""


@pytest.mark.parametrize(
    "closed", ["kart-two-stroke.yaml", "books/workshop.yaml", "books", "photos/kart-piston.png", "photos"]
)
def test_what_may_not_be_read_is_told(samples: Path, closed: str) -> None:
    """A file or folder without permission is a fault of the input, told with what to do."""
    for parent in list(samples.parents)[:3]:
        parent.chmod(0o755)
    before = (samples / closed).stat().st_mode
    (samples / closed).chmod(0)
    words = [sys.executable, "-c", AS_SOMEBODY_ELSE, str(KART), str(samples / "kart-two-stroke.yaml")]
    done = subprocess.run(words, capture_output=True, text=True, timeout=60, check=False)
    (samples / closed).chmod(before)
    assert done.returncode == 2
    assert "let yourself read the file" in done.stderr
    assert "Traceback" not in done.stderr
