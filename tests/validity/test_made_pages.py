"""Turns every sample inspection into its page and has a browser look at it as readers do."""

import io
import re
import subprocess
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Final

import pikepdf
import pytest

from inspect_report import assess, from_json, load
from inspect_report.report.render import render, render_history
from tests.made import Reported, name_of
from tests.samples import ROOT, SAMPLES, sample_inspections
from tests.validity.browser import Browser
from tests.validity.screens import LOOKS, Look, barriers, printed, shown_without_scripts, ways_out

MOST_BYTES: Final = 2_000_000
SEASON: Final = tuple(sample for sample in sample_inspections() if sample.parent != SAMPLES)
"""Samples of one kind of report, of engines that are inspected again and again."""
SINGLE: Final = tuple(
    sample for sample in sample_inspections() if sample not in SEASON and "issue" not in sample.stem
)
"""Samples unlike each other."""
ALIKE: Final = tuple(sample for sample in sample_inspections() if sample not in SINGLE)
"""The season, and an issue that was replaced."""
EVERY_LOOK: Final = tuple(pytest.param(sample, LOOKS, id=name_of(sample)) for sample in SINGLE)
LOOKS_IN_TURN: Final = tuple(
    pytest.param(sample, (LOOKS[number % len(LOOKS)],), id=name_of(sample))
    for number, sample in enumerate(ALIKE)
)
"""Of pages that are alike each is held to all rules in one look, the next page in the next look."""
PHOTO: Final = re.compile(r"data:image/(?:jpeg|png);base64,[A-Za-z0-9+/=]*")


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """One browser for all pages."""
    with Browser() as started:
        yield started


@pytest.fixture(scope="module")
def history(reported: Reported, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The history of a season of several engines."""
    season = [from_json(reported(sample, "json").read_text(encoding="utf-8")) for sample in SEASON]
    folder = tmp_path_factory.mktemp("history")
    return render_history(season, folder, title="Season so far", formats=("html",))[0]


def test_all_looks_come_round() -> None:
    """There are enough pages alike for each look to have one."""
    assert len(SINGLE) >= 3
    assert len(ALIKE) >= len(LOOKS) == 8


@pytest.mark.parametrize(("sample", "looks"), [*EVERY_LOOK, *LOOKS_IN_TURN])
def test_no_page_has_barriers(
    sample: Path, looks: tuple[Look, ...], reported: Reported, browser: Browser
) -> None:
    """WCAG 2.2 A and AA and good practice, by axe-core: light and dark, desk and phone, closed and opened."""
    assert barriers(browser, reported(sample, "html"), looks) == []


@pytest.mark.parametrize("sample", sample_inspections(), ids=name_of)
def test_a_page_is_whole_by_itself(sample: Path, reported: Reported, browser: Browser) -> None:
    """It asks for nothing, needs no script, fits a phone, and is small but for its photos."""
    page = reported(sample, "html")
    assert ways_out(page) == []
    assert shown_without_scripts(browser, page) == []
    assert len(PHOTO.sub("", page.read_text(encoding="utf-8")).encode()) < MOST_BYTES


@pytest.mark.parametrize("sample", SINGLE, ids=name_of)
def test_a_browser_prints_as_on_paper(
    sample: Path, reported: Reported, browser: Browser, tmp_path: Path
) -> None:
    """The first page fills one sheet, laid out as on a desk; the second sheet begins with a chapter."""
    page, paper = reported(sample, "html"), tmp_path / "printed.pdf"
    paper.write_bytes(printed(browser, page))
    command = ["pdftotext", "-f", "2", "-l", "2", str(paper), "-"]
    second = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    chapters = re.findall("<h2>(.*?)</h2>", page.read_text(encoding="utf-8"))
    assert second.split("\n", 1)[0] in [unescape(chapter) for chapter in chapters]


@pytest.mark.parametrize("sample", SINGLE, ids=name_of)
def test_a_browser_prints_about_as_many_sheets_as_the_pdf(
    sample: Path, reported: Reported, browser: Browser
) -> None:
    """What is closed stays closed on paper: a fifth more or less than our own PDF."""
    with (
        pikepdf.open(io.BytesIO(printed(browser, reported(sample, "html")))) as theirs,
        pikepdf.open(reported(sample, "pdf")) as ours,
    ):
        assert abs(len(theirs.pages) - len(ours.pages)) <= len(ours.pages) / 5


def test_a_history_has_no_barriers_and_is_whole(history: Path, browser: Browser) -> None:
    """The page of several engines is held to the same."""
    assert barriers(browser, history) == []
    assert ways_out(history) == []
    assert shown_without_scripts(browser, history) == []


def test_long_words_fit_a_phone(tmp_path: Path, browser: Browser) -> None:
    """German joins its words: nothing runs beyond the edge there either."""
    largest = max(SINGLE, key=lambda sample: sample.stat().st_size)
    made = render(assess(load(largest.relative_to(ROOT)), "de"), tmp_path, formats=("html",))[0]
    assert shown_without_scripts(browser, made) == []
