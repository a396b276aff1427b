"""The PDF carries pages, tags, bookmarks and the inspection file, and opens nothing it was not given."""

import re
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from inspect_report.assessment import Assessment
from inspect_report.records.problem import CannotRender
from inspect_report.report import pdf
from inspect_report.report.pdf import printed
from inspect_report.report.render import render

YAML = b"inspection: HW-2026-031\n"
TITLE = "<html lang=en><title>t</title>"


def told(*command: str | Path) -> str:
    """What an outside tool says."""
    done = subprocess.run([str(c) for c in command], capture_output=True, text=True, check=True)
    return done.stdout


@pytest.fixture(scope="module")
def made(assessment: Assessment, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The rebuild quote as a PDF."""
    home = tmp_path_factory.mktemp("pdf")
    (home / "inspection.yaml").write_bytes(YAML)
    return render(assessment, home / "out", formats=("pdf",), folder=home)[0]


def test_pages_are_numbered_and_carry_the_report_number(made: Path) -> None:
    """Every page says which it is and of how many; from the second on also of which report."""
    pages = told("pdftotext", "-layout", made, "-").rstrip("\f").split("\f")
    for number, text in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in text
        assert "HW-2026-031, issue 2" in text


def test_paper_follows_the_workshop(assessment: Assessment, tmp_path: Path) -> None:
    """A4 is 595 by 842 points, Letter 612 by 792."""
    (tmp_path / "inspection.yaml").write_bytes(YAML)
    for paper, size in (("A4", r"595\.\d+ x 841\.\d+ pts \(A4\)"), ("Letter", r"612 x 792 pts \(letter\)")):
        shop = assessment.workshop.model_copy(update={"paper": paper})
        out = render(replace(assessment, workshop=shop), tmp_path / paper, formats=("pdf",), folder=tmp_path)
        assert re.search(rf"Page size:\s+{size}", told("pdfinfo", out[0]))


def test_text_is_text_also_in_charts(made: Path) -> None:
    """Words of tables and of charts can be found and copied."""
    text = told("pdftotext", made, "-")
    for words in ("Do not run this engine", "heard: crankcase", "Condition by assembly", "least squish gap"):
        assert words in text


def test_fonts_are_our_own(made: Path) -> None:
    """Every font is embedded and comes from the shipped family or its fallback."""
    rows = told("pdffonts", made).splitlines()[2:]
    assert rows
    for row in rows:
        assert re.match(r"[A-Z]{6}\+(Inter|DejaVu)", row), row
        assert re.search(r"yes yes yes", row), row


def test_the_inspection_travels_along(made: Path, tmp_path: Path) -> None:
    """The attached file has the very bytes of the inspection."""
    told("pdfdetach", "-saveall", "-o", tmp_path, made)
    assert (tmp_path / "inspection.yaml").read_bytes() == YAML


def test_it_is_tagged_with_heads_and_lists(made: Path) -> None:
    """Table heads, headings and numbered lists are in the structure tree; page numbers are not."""
    tree = told("pdfinfo", "-struct-text", made)
    for tag in ("H1", "H2", "H3", "Table", "TH", "Figure", "Caption", "LI"):
        assert re.search(rf"^\s*{tag}\b", tree, re.MULTILINE), tag
    assert "page 1 of" not in tree


def test_both_standards_are_claimed(made: Path) -> None:
    """The metadata name PDF/A-3a and PDF/UA-1 (checked by an outside checker in tests/validity)."""
    meta = told("pdfinfo", "-meta", made)
    claims = dict(re.findall(r"(pdf\w+id:(?:part|conformance))(?:>|=\")(\w+)", meta))
    assert claims == {"pdfaid:part": "3", "pdfaid:conformance": "A", "pdfuaid:part": "1"}


def test_same_bytes() -> None:
    """Two prints of one page are one file."""
    html = f"{TITLE}<h1>x</h1><ol><li>a<li>b</ol>"
    assert printed(html) == printed(html)


def test_a_page_names_its_drawings() -> None:
    """What stands at a drawing's address is printed, and another drawing makes another file."""
    html = f'{TITLE}<img src="drawing:0" alt=x>'
    head = b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9">'
    square = head + b'<rect width="9" height="9"/></svg>'
    wide = head + b'<rect width="9" height="8"/></svg>'
    assert printed(html, (), {"drawing:0": square}) == printed(html, (), {"drawing:0": square})
    assert printed(html, (), {"drawing:0": square}) != printed(html, (), {"drawing:0": wide})


@pytest.mark.parametrize(
    "html",
    [
        '<img src="file:///etc/hostname" alt=x>',
        '<img src="https://example.org/x.png" alt=x>',
        '<style>@font-face { font-family: a; src: url("file:///etc/hosts") } p { font-family: a }</style>x',
        '<link rel=attachment href="file:///etc/passwd">',
        '<a rel=attachment href="file:///etc/passwd">x</a>',
        '<link rel=stylesheet href="https://example.org/x.css">',
        '<p style="background: url(file:///etc/hostname)">x',
        '<img src="data:text/html,x" alt=x>',
        '<object data="file:///etc/hostname"></object>',
        '<img src="drawing:0" alt="a drawing that nobody made">',
    ],
)
def test_nothing_outside_is_opened(html: str) -> None:
    """Whatever a page asks for, only our own data and the shipped fonts are opened."""
    with pytest.raises(CannotRender, match="something it may not or cannot open"):
        printed(f"{TITLE}{html}")


def test_missing_libraries_are_named_with_their_cure(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the system lacks a library, the one line that installs it is told."""
    real = __import__

    def without(name: str, *more: object, **given: object) -> object:
        if name.startswith("weasyprint"):
            raise OSError("cannot load library 'libpango-1.0-0'")
        return real(name, *more, **given)  # type: ignore[arg-type]

    monkeypatch.setattr("builtins.__import__", without)
    with pytest.raises(CannotRender, match=r"apt-get install .*libpango-1.0-0"):
        pdf._weasyprint()


def test_lists_say_how_they_are_numbered(tmp_path: Path) -> None:
    """A numbered list is decimal, a bulleted one has discs."""
    (tmp_path / "l.pdf").write_bytes(printed(f"{TITLE}<ol><li>a<li>b</ol><ul><li>c</ul>"))
    told("qpdf", "--qdf", "--object-streams=disable", tmp_path / "l.pdf", tmp_path / "plain.pdf")
    plain = (tmp_path / "plain.pdf").read_text(encoding="latin-1")
    assert re.findall(r"/ListNumbering /(\w+)", plain) == ["Decimal", "Disc"]
