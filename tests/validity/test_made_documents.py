"""Turns every sample inspection into its documents and has outside checkers look at them."""

import pytest

from tests.made import Reported
from tests.samples import sample_inspections
from tests.validity.html import html_faults
from tests.validity.pdf import pdf_faults
from tests.validity.tags import tag_faults

SAMPLES = sample_inspections()

pytestmark = pytest.mark.skipif(not SAMPLES, reason="no sample inspection exists yet")


def test_every_page_is_valid_html(reported: Reported) -> None:
    """Nu checker: WHATWG HTML and CSS, no error and no warning."""
    assert html_faults([reported(s, "html") for s in SAMPLES]) == []


def test_every_pdf_is_valid(reported: Reported) -> None:
    """Syntax (qpdf), fonts (pdffonts), PDF/UA-1 (ISO 14289-1), PDF/A-3a (ISO 19005-3) by veraPDF's rules."""
    assert pdf_faults([reported(s, "pdf") for s in SAMPLES]) == []


def test_every_tag_is_in_order(reported: Reported) -> None:
    """Headings, tables, lists, pictures and furniture by a second engine (Matterhorn checkpoints)."""
    assert tag_faults([reported(s, "pdf") for s in SAMPLES]) == []
