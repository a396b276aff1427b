"""Turns planted faults into proof that the checkers of made documents see them."""

from pathlib import Path

import pytest

from tests.validity import checkers, html, pdf
from tests.validity.html import html_faults
from tests.validity.pdf import pdf_faults, profile_faults
from tests.validity.tags import tag_faults

GOOD_PAGE = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>Bores</title></head>
<body><h1>Bores</h1><p>All four measured.</p></body></html>
"""


def page(folder: Path, text: str) -> Path:
    """A page of the text in the folder."""
    path = folder / "page.html"
    path.write_text(text, encoding="utf-8")
    return path


def printed(folder: Path, text: str, variant: str) -> Path:
    """The text printed as PDF of the variant."""
    from weasyprint import HTML

    path = folder / "page.pdf"
    HTML(string=text).write_pdf(path, pdf_variant=variant)
    return path


def bare_pdf(folder: Path) -> Path:
    """A PDF by hand: one page, one line, in a font that is not embedded."""
    objects = (
        b"<</Type/Catalog/Pages 2 0 R>>",
        b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 200]/Contents 5 0 R/Resources<</Font<</F 4 0 R>>>>>>",
        b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>",
        b"<</Length 36>>stream\nBT /F 12 Tf 20 90 Td (Bore 1) Tj ET \nendstream",
    )
    body, starts = b"%PDF-1.7\n", []
    for number, content in enumerate(objects, 1):
        starts.append(len(body))
        body += b"%d 0 obj%s endobj\n" % (number, content)
    table = b"".join(b"%010d 00000 n \n" % start for start in starts)
    body += b"xref\n0 6\n0000000000 65535 f \n%strailer<</Size 6/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n" % (
        table,
        body.index(b"5 0 obj") + len(b"%d 0 obj%s endobj\n" % (5, objects[4])),
    )
    path = folder / "bare.pdf"
    path.write_bytes(body)
    return path


def test_a_valid_page_has_no_fault(tmp_path: Path) -> None:
    """A small page that keeps the standard passes."""
    assert html_faults([page(tmp_path, GOOD_PAGE)]) == []


def test_planted_faults_of_a_page_are_told(tmp_path: Path) -> None:
    """What a template could get wrong is seen, each fault with the page's name and its line."""
    planted = (
        '<p><img src="bore.png"></p>',
        '<p style="colour: black">All four measured.</p>',
        '<p id="bore-1"></p><p id="bore-1">Again</p>',
        "<table><p>All four measured.</p></table>",  # last: the checker cannot read on behind it
    )
    path = page(tmp_path, GOOD_PAGE.replace("<p>All four", "\n".join(planted) + "\n<p>All four"))

    faults = html_faults([path])

    told = ("“alt” attribute", "“colour”", "Duplicate ID", "Start tag “p” seen in “table”")
    for line, words in enumerate(told, 3):
        assert any(fault.startswith(f"page.html:{line}:") and words in fault for fault in faults), (
            words,
            faults,
        )


def test_an_accessible_file_keeps_its_profile(tmp_path: Path) -> None:
    """A page printed for PDF/UA-1 keeps all rules of PDF/UA-1, though not those of PDF/A-3a."""
    path = printed(tmp_path, GOOD_PAGE, "pdf/ua-1")

    broken = profile_faults([path], ["PDFUA-1", "PDFA-3A"])

    assert broken["PDFUA-1"] == []
    assert any("6.6.4-1" in fault for fault in broken["PDFA-3A"]), broken


@pytest.mark.parametrize(
    ("fine", "planted", "clause"),
    [
        ("<p>All four measured.</p>", "<h4>Bore 1</h4>", "7.4.2-1"),
        ("<title>Bores</title>", "<title></title>", "7.1-9"),
        ('<html lang="en">', "<html>", "7.2-"),
    ],
)
def test_a_planted_fault_of_a_file_is_told(tmp_path: Path, fine: str, planted: str, clause: str) -> None:
    """A skipped heading, a missing title or language breaks its clause of PDF/UA-1 (ISO 14289-1)."""
    path = printed(tmp_path, GOOD_PAGE.replace(fine, planted), "pdf/ua-1")

    faults = pdf_faults([path])

    assert any(f"page.pdf: PDFUA-1 {clause}" in fault for fault in faults), faults


def test_a_planted_fault_of_the_tags_is_told(tmp_path: Path) -> None:
    """A table without heads and a skipped heading, seen by the second engine; the good page has none."""
    assert tag_faults([printed(tmp_path, GOOD_PAGE, "pdf/ua-1")]) == []
    table = "<table><tr><td>Bore</td><td>67.02</td></tr><tr><td>Bore</td><td>67.03</td></tr></table>"
    faulty = GOOD_PAGE.replace("<p>", f"<h4>Again</h4>{table}<p>")

    faults = tag_faults([printed(tmp_path, faulty, "pdf/ua-1")])

    assert any("TBL" in fault for fault in faults), faults
    assert any("HDG" in fault or "heading" in fault for fault in faults), faults


def test_a_font_that_is_not_embedded_is_told(tmp_path: Path) -> None:
    """A file that trusts the reader's own fonts fails, by two checkers."""
    faults = pdf_faults([bare_pdf(tmp_path)])

    assert any("font not embedded" in fault and "Helvetica" in fault for fault in faults), faults
    assert any("PDFA-3A 6.2.11.4.1-1" in fault for fault in faults), faults


def test_a_damaged_file_is_told(tmp_path: Path) -> None:
    """A stream shorter than it claims is seen by the syntax checker."""
    path = bare_pdf(tmp_path)
    path.write_bytes(path.read_bytes().replace(b"/Length 36", b"/Length 63"))

    assert any(": syntax: " in fault for fault in pdf_faults([path]))


def test_a_file_that_is_no_pdf_is_never_passed(tmp_path: Path) -> None:
    """Bytes that are no PDF stop the check; they do not slip through as faultless."""
    path = tmp_path / "page.pdf"
    path.write_text(GOOD_PAGE, encoding="utf-8")

    with pytest.raises(RuntimeError, match="not every file was judged"):
        pdf_faults([path])


def test_a_missing_page_is_never_passed(tmp_path: Path) -> None:
    """A page that does not exist stops the check; the checker alone would call it faultless."""
    with pytest.raises(FileNotFoundError, match=r"no such page: .*absent\.html"):
        html_faults([tmp_path / "absent.html"])


def test_a_profile_that_is_not_demanded_only_speaks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A profile switched off tells its faults without failing."""
    monkeypatch.setattr(pdf, "DEMANDED", {"PDFUA-1": True, "PDFA-3A": False})

    faults = pdf_faults([printed(tmp_path, GOOD_PAGE, "pdf/ua-1")])

    assert faults == []
    assert "not demanded: page.pdf: PDFA-3A" in capsys.readouterr().out


def test_a_missing_checker_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a checker nothing is called valid; the message names the command that fetches it."""
    monkeypatch.setattr(html, "HTML_JAR", checkers.ROOT / ".tools/absent.jar")

    with pytest.raises(checkers.CheckerMissing, match=r"absent\.jar is not there; run  \.ci/setup test"):
        html_faults([page(tmp_path, GOOD_PAGE)])
