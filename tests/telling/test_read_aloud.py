"""What a native reader stumbles over, in every text of a report in each language."""

import re
from functools import cache
from html import unescape
from pathlib import Path

import pytest

from inspect_report import assess, load
from inspect_report.assessment import Assessment
from inspect_report.places import languages
from inspect_report.report.figures import joined
from inspect_report.report.html import as_html
from inspect_report.report.pictures import Pictures
from inspect_report.report.spacing import spaced
from inspect_report.report.theme import theme
from inspect_report.report.view import view
from inspect_report.report.words import cited
from inspect_report.telling.manner import Manner, lowered, telling
from tests.report.test_told_units import texts
from tests.samples import SAMPLES

OTHERS = [code for code in languages() if code != "en"]
SIGN = re.compile(r"[^\s\u00a0\u202f][:;](?=[\s\u00a0]|$)")
STYLE = re.compile(r"<style.*?</style>", re.DOTALL)
TAG = re.compile(r"<[^>]*>")
UNIT = r"[\u00a0 ](?:mm|%|bar|cm|µm|kN|N|V|hPa|km)\b"
AMOUNT = re.compile(
    rf"\b0\.\d+{UNIT}|\d\.(?!\d{{3}}\b)\d+{UNIT}|\d,\d{{3}}[\u00a0 ](?:km|hPa)|\d,\d{{3}}\.\d\d"
)


@cache
def kart(language: str) -> Assessment:
    """The assessment of the smallest sample in a language."""
    return assess(load((SAMPLES / "kart-two-stroke.yaml").relative_to(Path.cwd())), language)


def screen(language: str) -> str:
    """The text of its page for a screen."""
    look = theme()
    html = as_html(
        view(kart(language)), "rebuild-quote.html", Pictures(SAMPLES, SAMPLES / "books", look), look
    )
    return unescape(TAG.sub("", STYLE.sub("", html)))


@cache
def told(language: str) -> tuple[str, ...]:
    """Every text of one sample's report."""
    shown = view(assess(load((SAMPLES / "used-machine-in-frame.yaml").relative_to(Path.cwd())), language))
    return tuple({text: None for _, text in texts(shown) if text})


@pytest.mark.parametrize("language", OTHERS)
def test_numbers_are_written_as_the_language_writes_them(language: str) -> None:
    """Though the workshop file of the sample says that the British write them."""
    assert [text for text in told(language) if AMOUNT.search(text)] == []
    assert any(AMOUNT.search(text) for text in told("en"))


@pytest.mark.parametrize(("language", "page"), [("en", "p."), ("de", "S."), ("it", "pag.")])
def test_pages_are_cited_as_the_language_does(language: str, page: str) -> None:
    """In the sources of limits; a p. that cites none stays."""
    with telling(Manner(language)):
        assert cited("Manual, p. 3-14 and p. B2") == f"Manual, {page}\u00a03-14 and {page}\u00a0B2"
        assert cited("Corp. 3, App.") == "Corp. 3, App."
    assert any(f"{page}\u00a03-14" in text for text in told(language))


@pytest.mark.parametrize(("language", "tax"), [("de", "MwSt."), ("fr", "TVA"), ("es", "IVA"), ("it", "IVA")])
def test_a_tax_is_told_by_the_name_the_customer_knows(language: str, tax: str) -> None:
    """The file of the sample calls it VAT."""
    assert any(tax in text for text in told(language))
    assert not any("VAT" in text for text in told(language))


def test_a_french_page_has_a_space_before_each_colon_and_semicolon() -> None:
    """However its texts are put together; no other language has one."""
    assert SIGN.findall(screen("fr")) == []
    assert len(SIGN.findall(screen("de"))) > 100


@pytest.mark.parametrize("told", ["0.5 mm", "(1.8 thou)", "20 %,", "27.7 l/min", "22 N·m.", "4 kPa/min"])
def test_no_line_ends_between_a_number_and_its_unit(told: str) -> None:
    """In sentences, in which amounts are written with a plain space."""
    assert spaced(f"<p>{told}</p>") == f"<p>{told}</p>".replace(" ", "\u00a0")
    assert spaced("2 Nuts, 3 marks at 4 bars") == "2 Nuts, 3 marks at 4 bars"


def test_styles_entities_and_times_are_no_text_to_space() -> None:
    """Only a sign behind which a word ends is one."""
    html = '<p style="a: b; c: d">12:30 &amp; <b>jeu</b>: x; y\u00a0: z</p><style>a { b: c; }</style>'
    with telling(Manner("fr", "fr")):
        assert spaced(html) == html.replace("</b>: x; y", "</b>\u00a0: x\u00a0; y")
    assert spaced(html) == html


@pytest.mark.parametrize(
    ("language", "last"),
    [("en", "; and d"), ("de", "; d"), ("fr", "\u00a0; d"), ("es", "; d"), ("it", "; d")],
)
def test_a_list_parted_by_semicolons_ends_as_the_language_ends_it(language: str, last: str) -> None:
    """English says and before the last, the others do not."""
    with telling(Manner(language)):
        assert joined(["a, b", "c", "d"]) == f"a, b; c{last}"


@pytest.mark.parametrize(
    ("language", "small"),
    [
        ("en", "a gap"),
        ("de", "A gap"),
        ("de", "die Bohrung"),
        ("de", "Dichtung"),
        ("fr", "l'huile"),
        ("es", "a gap"),
        ("it", "l'olio"),
        ("fr", "LD-1 sensor"),
    ],
)
def test_names_within_a_sentence_begin_small(language: str, small: str) -> None:
    """After an article of one letter, too; German nouns and signs keep their capitals."""
    with telling(Manner(language)):
        assert lowered(small[:1].upper() + small[1:]) == small
