"""
Turns many reports of one process into what it holds in the end: ``python -m tests.benchmarks.held [1000]``.

A thousand reports of the smallest sample take half an hour; a run of all benchmarks makes sixty.
"""

import resource
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from inspect_report import assess, load, render

ROOT = Path(__file__).resolve().parents[2]
SAMPLE = ROOT / "sample_inspections" / "race-team" / "a-1.yaml"
FEW = 20
"""Reports after which everything is loaded that stays."""


def most_held(reports: int, folder: Path) -> Iterator[int]:
    """The most memory held, in KiB, after each of a number of reports with HTML, PDF and JSON."""
    for _ in range(reports):
        render(assess(load(SAMPLE)), folder)
        yield resource.getrusage(resource.RUSAGE_SELF).ru_maxrss


def main(reports: int = 60) -> None:
    """Print what is held after many reports, against after a few: flat is 1."""
    with tempfile.TemporaryDirectory() as folder:
        held = list(most_held(max(reports, FEW), Path(folder)))
    title = f"memory held after {len(held)} reports in one process"
    print(f"{title:<58} {held[-1] / 1024:7.0f} MiB {held[-1] / held[FEW - 1]:6.2f} × after {FEW}", flush=True)


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
