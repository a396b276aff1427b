"""
Turns the samples into their reports, once for a whole run of the tests, whoever looks at them.

A report takes seconds, and pages, words, pictures, validity and more are looked at by tests of their own. The
run of all checks makes the reports before the tests begin; tests run by hand make those they look at.
"""

import os
import sys
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from typing import Final

from inspect_report import assess, load, render
from inspect_report.knowledge.evidence import evidence
from tests.samples import ROOT, SAMPLES, sample_inspections

Reported = Callable[[Path, str], Path]
"""Gives a sample's report as HTML, PDF or JSON: ``reported(sample, "pdf")``."""

FOLDER: Final = "SAMPLE_REPORTS_MADE"
"""Names the folder of the reports of this run; never set by hand, since what lies there is believed."""


def name_of(sample: Path) -> str:
    """A sample's name with its folder: ``race-team-a-1``."""
    return "-".join(sample.relative_to(SAMPLES).with_suffix("").parts)


def report_of(sample: Path, ending: str, own: Path) -> Path:
    """
    A sample's report as HTML, PDF or JSON.

    Args:
        sample: The sample.
        ending: ``html``, ``pdf`` or ``json``.
        own: Folder in which it is made, where no run of all checks has made it before.
    """
    folder = Path(os.environ.get(FOLDER, own))
    if not (folder / name_of(sample)).is_dir():
        make(folder, sample)
    (path,) = (folder / name_of(sample)).glob(f"*.{ending}")
    return path


def make(folder: Path, sample: Path) -> None:
    """Make one report; files are named as they are from the top of the project."""
    case = load(sample.relative_to(ROOT))
    render(assess(case), folder / name_of(sample), evidence=evidence(case))


def make_all(folder: Path) -> None:
    """Make the report of every sample in a folder, on as many cores as there are, the largest first."""
    largest_first = sorted(sample_inspections(), key=lambda path: -path.stat().st_size)
    with ProcessPoolExecutor(os.cpu_count(), mp_context=get_context("spawn")) as pool:
        list(pool.map(partial(make, folder), largest_first))


if __name__ == "__main__":
    make_all(Path(sys.argv[1]))
