"""Turns every sample inspection into its documents and has outside checkers look at them."""

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.samples import ROOT, sample_inspections
from tests.validity.html import html_faults
from tests.validity.pdf import pdf_faults

SAMPLES = sample_inspections()

pytestmark = pytest.mark.skipif(not SAMPLES, reason="no sample inspection exists yet")


def made(sample: Path, out: Path) -> subprocess.CompletedProcess[str]:
    """The report command run as a user would, into a folder of the sample's own."""
    command = [sys.executable, "-m", "inspect_report", "report", str(sample), "--out", str(out)]
    return subprocess.run(
        command, cwd=ROOT, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False
    )


@pytest.fixture(scope="module")
def documents(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, ...]:
    """Every file that the reports of all samples consist of."""
    folders = [tmp_path_factory.mktemp(sample.stem) for sample in SAMPLES]
    with ThreadPoolExecutor(2) as pool:
        runs = list(pool.map(made, SAMPLES, folders))
    failed = [f"{run.args[4]}: {run.stderr}" for run in runs if run.returncode]
    assert not failed, "\n".join(failed)
    return tuple(file for folder in folders for file in sorted(folder.rglob("*")) if file.is_file())


def of_kind(documents: tuple[Path, ...], ending: str) -> list[Path]:
    """The documents whose names end so; at least one for each sample."""
    found = [document for document in documents if document.suffix == ending]
    assert len(found) >= len(SAMPLES), f"{len(found)} *{ending} for {len(SAMPLES)} samples"
    return found


def test_every_page_is_valid_html(documents: tuple[Path, ...]) -> None:
    """Nu checker: WHATWG HTML and CSS, no error and no warning."""
    assert html_faults(of_kind(documents, ".html")) == []


def test_every_pdf_is_valid(documents: tuple[Path, ...]) -> None:
    """Syntax (qpdf), fonts (pdffonts), PDF/UA-1 (ISO 14289-1), PDF/A-3a (ISO 19005-3) by veraPDF's rules."""
    assert pdf_faults(of_kind(documents, ".pdf")) == []
