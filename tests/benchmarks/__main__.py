"""
Turns the samples into timings, told as ratios against other work: ``python -m tests.benchmarks``.

Nothing here is a test and nothing is run in CI: machines vary, ratios vary less.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from tests.benchmarks.draws import whole_engine
from tests.benchmarks.formulas import leak_bores
from tests.benchmarks.timing import ratio, seconds

ROOT = Path(__file__).resolve().parents[2]
SAMPLE = ROOT / "sample_inspections" / "inline-four-strip.yaml"
COMMAND = (sys.executable, "-m", "inspect_report")
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
BATCH = 100
AS_INSTALLED = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
"""What the command runs in for a user: Python keeps what it read, and so do we."""


def run(*words: str | Path) -> None:
    """Run a command that must succeed."""
    nowhere = subprocess.DEVNULL
    subprocess.run([str(w) for w in words], check=True, stdout=nowhere, stderr=nowhere, env=AS_INSTALLED)


def whole_report(folder: Path) -> None:
    """The whole job, cold, against Chromium printing the HTML it made."""
    ours = seconds(lambda: run(*COMMAND, "report", SAMPLE, "--anew", "--out", folder))
    page = next(folder.glob("*.html"))
    if CHROMIUM is None:
        print("chromium is not installed: no ratio for the whole job")
        return
    theirs = seconds(lambda: chromium_prints(page, folder))
    ratio("report of the largest sample, cold", ours, theirs, "Chromium printing that HTML, cold")


def chromium_prints(page: Path, folder: Path) -> None:
    """Headless Chromium printing a page to PDF, from a cold start."""
    assert CHROMIUM is not None
    profile = folder / "profile"
    run(
        CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-sync",
        "--disable-background-networking", "--disable-component-update", f"--user-data-dir={profile}",
        f"--print-to-pdf={folder / 'chromium.pdf'}", page.as_uri(),
    )  # fmt: skip


def check_of_a_file() -> None:
    """``check`` of the largest sample, against starting Python and importing the model library."""
    ours = seconds(lambda: run(*COMMAND, "check", SAMPLE), 5)
    theirs = seconds(lambda: run(sys.executable, "-c", "import pydantic, yaml"), 5)
    ratio(f"check of a file of {SAMPLE.name}", ours, theirs, "starting Python with its two libraries")


def unchanged_report(folder: Path) -> None:
    """A report asked for again with nothing changed, against starting Python."""
    words = (*COMMAND, "report", SAMPLE, "--out", folder)
    run(*words)
    ours = seconds(lambda: run(*words), 5)
    theirs = seconds(lambda: run(sys.executable, "-c", "import pydantic, yaml"), 5)
    ratio("report with nothing changed", ours, theirs, "starting Python with its two libraries")


def many_files(folder: Path) -> None:
    """A hundred inspections in one call, against one after the other in one process."""
    files = copies(folder)
    together = seconds(lambda: run(*COMMAND, "report", *files, "--anew", "--out", folder / "together"), 1)
    few = files[:10]
    single: tuple[str | Path, ...] = (sys.executable, "-c", ONE_BY_ONE, folder / "alone", *few)
    alone = seconds(lambda: run(*single), 1) * BATCH / len(few)
    ratio(f"{BATCH} inspections in one call, all cores", together, alone, "one process, one by one")


ONE_BY_ONE = """
import sys
from pathlib import Path
from inspect_report import assess, load, render
for path in sys.argv[2:]:
    render(assess(load(Path(path))), Path(sys.argv[1]))
"""


def copies(folder: Path) -> Sequence[Path]:
    """The sample under a hundred numbers, beside its books and photos."""
    home = folder / "samples"
    shutil.copytree(ROOT / "sample_inspections", home)
    text = SAMPLE.read_text(encoding="utf-8")
    number = text.split("inspection:", 1)[1].splitlines()[0].strip()
    files = []
    for i in range(BATCH):
        path = home / f"copy-{i:03}.yaml"
        path.write_text(text.replace(number, f"{number}-{i:03}", 1), encoding="utf-8")
        files.append(path)
    return files


def run_apart(module: str) -> None:
    """A benchmark that wants a process of its own."""
    subprocess.run([sys.executable, "-m", module], check=True, env=AS_INSTALLED)


def main() -> None:
    """Print every ratio."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "many").mkdir()
        whole_report(folder / "one")
        check_of_a_file()
        unchanged_report(folder / "again")
        many_files(folder / "many")
    run_apart("tests.benchmarks.warm")
    run_apart("tests.benchmarks.held")
    leak_bores()
    whole_engine()


if __name__ == "__main__":
    main()
