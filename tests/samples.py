"""Turns the folder of sample inspections into the files that can be reported."""

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SAMPLES = ROOT / "sample_inspections"
_INSPECTION = re.compile(r"^inspection:", re.MULTILINE)


def sample_inspections() -> tuple[Path, ...]:
    """Every sample file that holds an inspection, not a book it refers to; in order of their paths."""
    files = sorted(SAMPLES.rglob("*.yaml"))
    return tuple(file for file in files if _INSPECTION.search(file.read_text(encoding="utf-8")))


def samples_unlike() -> tuple[Path, ...]:
    """Every sample, of the team's engines the last inspection: it rests on all before it."""
    samples = sample_inspections()
    return tuple(p for p in samples if "race-team" not in p.parts or p.stem.endswith("-5"))
