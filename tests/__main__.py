"""Turns the working tree into one answer: runs every check, times each, then says which failed."""

import os
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from tests.made import FOLDER

ROOT = Path(__file__).resolve().parent.parent
PYTHON = sys.executable
LINT_IMPORTS = str(Path(PYTHON).parent / "lint-imports")


@dataclass(frozen=True, slots=True)
class Step:
    """One check: what it is called, and the command that exits with 0 when it is kept."""

    name: str
    command: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Outcome:
    """How one check ended and how long it took, in seconds."""

    name: str
    kept: bool
    seconds: float

    def __str__(self) -> str:
        return f"{'passed' if self.kept else 'FAILED'}  {self.seconds:6.1f} s  {self.name}"


STEPS = (
    Step("layout of the code", (PYTHON, "-m", "ruff", "format", "--check", ".")),
    Step("habits of the code", (PYTHON, "-m", "ruff", "check", ".")),
    Step("types", (PYTHON, "-m", "mypy")),
    Step("layers", (LINT_IMPORTS,)),
    Step("reports of the samples", (PYTHON, "-m", "tests.made", "{reports}")),
    Step("rules tried by their own cases", (PYTHON, "-m", "tests.rules.coverage")),
    Step(
        "behaviour, and validity of what is made",
        (PYTHON, "-m", "pytest", "-q", "-n", "auto", "--dist", "loadfile", "--no-loadscope-reorder"),
    ),
)


def run(step: Step, reports: str) -> Outcome:
    """Runs one check in the project's folder with its output shown; the reports it may look at lie ready."""
    command = [word.format(reports=reports) for word in step.command]
    print(f"\n=== {step.name}: {' '.join(command)}", flush=True)
    start = time.monotonic()
    told = {**os.environ, FOLDER: reports, "PYTHONDONTWRITEBYTECODE": ""}  # what was compiled once is kept
    code = subprocess.run(command, cwd=ROOT, env=told, stdin=subprocess.DEVNULL, check=False).returncode
    return Outcome(step.name, code == 0, time.monotonic() - start)


def main() -> int:
    """Runs all checks, whatever fails on the way; 1 when one of them failed."""
    with tempfile.TemporaryDirectory() as reports:
        outcomes = [run(step, reports) for step in STEPS]
    print("\n=== all checks", *outcomes, sep="\n", flush=True)
    return 0 if all(outcome.kept for outcome in outcomes) else 1


if __name__ == "__main__":
    sys.exit(main())
