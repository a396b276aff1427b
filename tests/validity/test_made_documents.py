"""Turns every sample inspection into its documents and has outside checkers look at them."""

import re
from pathlib import Path

import pikepdf
import pytest

from tests.evidence.certificates import certificate
from tests.evidence.sealed import of_file
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


@pytest.fixture(scope="module")
def signed(reported: Reported, tmp_path_factory: pytest.TempPathFactory) -> dict[Path, Path]:
    """The PDF of every sample, signed, by its sample."""
    folder = tmp_path_factory.mktemp("signed")
    signing = of_file(folder, certificate("Hollowbrook Engines"))
    files = {sample: folder / f"signed-{reported(sample, 'pdf').name}" for sample in SAMPLES}
    for sample, file in files.items():
        file.write_bytes(signing.sign(reported(sample, "pdf").read_bytes()))
    return files


def test_every_pdf_is_valid(reported: Reported, signed: dict[Path, Path]) -> None:
    """
    Syntax (qpdf), fonts (pdffonts), PDF/UA-1 (ISO 14289-1), PDF/A-3a (ISO 19005-3) by veraPDF's rules.

    Every report is judged as it is made, and again when it is signed.
    """
    assert pdf_faults([*(reported(sample, "pdf") for sample in SAMPLES), *signed.values()]) == []


def test_signing_leaves_the_report_as_it_is(reported: Reported, signed: dict[Path, Path]) -> None:
    """The unsigned file comes first; behind it catalog, metadata and first page are written anew."""
    for sample, file in signed.items():
        before, after = reported(sample, "pdf").read_bytes(), file.read_bytes()
        assert after.startswith(before)
        with pikepdf.open(reported(sample, "pdf")) as old:
            known = (old.Root, old.Root.Metadata, old.trailer.Info, old.pages[0].obj)
            anew = {int(number) for number in re.findall(rb"\n(\d+) 0 obj", after[len(before) :])}
            assert {number for number in anew if number <= len(old.objects)} <= {
                one.objgen[0] for one in known
            }


def test_every_tag_is_in_order(reported: Reported) -> None:
    """Headings, tables, lists, pictures and furniture by a second engine (Matterhorn checkpoints)."""
    assert tag_faults([reported(s, "pdf") for s in SAMPLES]) == []
