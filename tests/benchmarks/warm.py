"""
Turns reports made in a process that runs already into timings against a browser that runs already.

The report is the largest sample's, whole: judged, drawn, printed, and written as HTML, PDF and JSON, by a
process with a second one beside it. The browser loads that HTML in a new tab and prints it.
"""

import tempfile
from io import BytesIO
from pathlib import Path

import pikepdf

from inspect_report.report.beside import second_process
from tests.benchmarks.timing import ratio, seconds

SAMPLE = Path(__file__).resolve().parents[2] / "sample_inspections" / "inline-four-strip.yaml"


def ours(folder: Path) -> float:
    """Seconds for a report, when two were made before it."""
    with second_process() as beside:
        from inspect_report import assess, load, render

        def report() -> None:
            render(assess(load(SAMPLE)), folder, beside=beside)

        report()
        report()
        return seconds(report, 5)


def main() -> None:
    """Print the ratio, and how many pages either printed."""
    with tempfile.TemporaryDirectory() as name:
        own = ours(Path(name))
        # Only now: what speaks to the browser loads arrays, and those must come after the second process.
        from tests.validity.browser import Browser
        from tests.validity.screens import printed

        (page,), (paper,) = Path(name).glob("*.html"), Path(name).glob("*.pdf")
        with Browser() as browser:
            theirs = printed(browser, page)
            browsers = seconds(lambda: printed(browser, page), 5)
        ratio("report of the largest sample, warm", own, browsers, "Chromium printing that HTML, warm")
        with pikepdf.open(paper) as pdf, pikepdf.open(BytesIO(theirs)) as other:
            print(f"{'':<58} {len(pdf.pages):7} pages {len(other.pages):4} of Chromium")


if __name__ == "__main__":
    main()
