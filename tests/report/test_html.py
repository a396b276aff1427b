"""One HTML file holds everything: no address leads out of it."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from inspect_report.assessment import Assessment
from inspect_report.report.html import as_html
from inspect_report.report.pictures import Pictures
from inspect_report.report.render import render
from inspect_report.report.reportview import ReportView
from inspect_report.report.theme import theme
from inspect_report.report.view import view


class Outline(HTMLParser):
    """Collects headings, addresses, ids and pictures of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.headings: list[int] = []
        self.addresses: list[str] = []
        self.ids: list[str] = []
        self.alts: list[str | None] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if re.fullmatch(r"h[1-6]", tag):
            self.headings.append(int(tag[1]))
        self.addresses += [str(given[k]) for k in ("src", "href", "data", "action") if k in given]
        self.ids += [str(given["id"])] if "id" in given else []
        self.alts += [given.get("alt")] if tag == "img" else []
        self.alts += [given.get("aria-label")] if tag == "svg" else []


@pytest.fixture(scope="module")
def made(shown: ReportView) -> str:
    """The rebuild quote as HTML."""
    pictures = Pictures(Path(), Path(), theme())
    return as_html(shown, "rebuild-quote.html", pictures, theme())


@pytest.fixture(scope="module")
def outline(made: str) -> Outline:
    """What stands in it."""
    found = Outline()
    found.feed(made)
    return found


def test_nothing_is_fetched(made: str, outline: Outline) -> None:
    """Every address is data inside the file, in tags and in style sheets."""
    assert all(address.startswith("data:") for address in outline.addresses)
    assert all(url.startswith(('"data:', "#c")) for url in re.findall(r"url\(([^)]{0,12})", made))
    assert "@import" not in made
    assert "<script" not in made


def test_headings_go_down_one_at_a_time(outline: Outline) -> None:
    """One heading of the first order, and no step left out."""
    assert outline.headings.count(1) == 1
    assert all(b - a <= 1 for a, b in zip(outline.headings, outline.headings[1:], strict=False))


def test_ids_are_unique(outline: Outline) -> None:
    """Every place that can be linked to is there once."""
    assert len(outline.ids) == len(set(outline.ids)) > 10


def test_every_picture_has_a_text(outline: Outline) -> None:
    """Charts and photos can be read without seeing them."""
    assert outline.alts
    assert all(outline.alts)


def test_it_stays_small(made: str) -> None:
    """Without photos, fonts and charts included, less than two megabytes."""
    assert len(made.encode()) < 2_000_000


def test_the_language_is_named(made: str) -> None:
    """Readers aloud need to know."""
    assert made.startswith('<!DOCTYPE html>\n<html lang="en"')


def test_same_bytes(shown: ReportView, made: str) -> None:
    """Drawn again, it is the same page."""
    pictures = Pictures(Path(), Path(), theme())
    assert as_html(shown, "rebuild-quote.html", pictures, theme()) == made


def test_why_opens_in_place(assessment: Assessment, folder: Path, tmp_path: Path) -> None:
    """Behind each verdict a click opens its chain, without a script; the PDF has no such thing."""
    page = render(assessment, tmp_path, formats=("html",), folder=folder)[0].read_text(encoding="utf-8")
    assert "<script" not in page
    chains = [c for c in page.split('<details class="why-chain">')[1:] if 'class="chain-of"' in c]
    rows = sum(len(a.results) for a in view(assessment).assemblies)
    assert len(chains) == rows
    bore = next(c for c in chains if "Bore wear, cylinder 3" in c.split("</details>")[0])
    for wanted in ("bore-diameter.3.top.across = 67.096", "shown at 95", "Rebore and fit oversize pistons"):
        assert wanted in bore.split("</details>")[0]


def test_why_has_a_row_of_its_own(made: str, outline: Outline, shown: ReportView) -> None:
    """What a verdict opens takes the width of its table; the word that opens it is tied to its finding."""
    row = r'<tr class="why-row"><td colspan="4"><details [^>]*><summary aria-describedby="([^"]+)">'
    findings = re.findall(row, made)
    assert len(findings) == len(set(findings)) == sum(len(a.results) for a in shown.assemblies) > 10
    assert set(findings) <= set(outline.ids)
