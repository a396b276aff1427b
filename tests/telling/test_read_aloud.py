"""What a native reader stumbles over, in every text of a report in each language."""

import re
from functools import cache
from pathlib import Path

import pytest

from inspect_report import assess, load
from inspect_report.places import languages
from inspect_report.report.view import view
from inspect_report.report.words import cited
from inspect_report.telling.manner import Manner, telling
from tests.report.test_told_units import texts
from tests.samples import SAMPLES

OTHERS = [code for code in languages() if code != "en"]
UNIT = r"[\u00a0 ](?:mm|%|bar|cm|µm|kN|N|V|hPa|km)\b"
AMOUNT = re.compile(
    rf"\b0\.\d+{UNIT}|\d\.(?!\d{{3}}\b)\d+{UNIT}|\d,\d{{3}}[\u00a0 ](?:km|hPa)|\d,\d{{3}}\.\d\d"
)


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
