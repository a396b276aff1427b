"""
Every page of the samples as a picture, held against the one kept of it with some tolerance.

What moves on a page, is cut off or prints in another weight shows here, even if no word of it changes. A page
may differ a little, since other releases of the picture maker draw edges otherwise. Where a change is meant:
``pytest tests/report --snapshot-update``, and look at the pictures.
"""

import io
import shutil
import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension
from syrupy.types import SerializableData, SerializedData

from inspect_report import assess, load
from inspect_report.knowledge.shelf import load_all
from inspect_report.report.render import render_history
from inspect_report.report.sheets import write_filled_sheet
from tests.made import Reported
from tests.samples import SAMPLES

DOTS_PER_INCH = 14
ABREAST = 8
BLOCK = 8
MOST_ON_A_PAGE = 2.5
MOST_IN_A_BLOCK = 45.0
"""Grey levels of 255 by which a page may differ on average, and a square of eight dots."""

Grey = NDArray[np.uint8]


def pictures(pdf: Path) -> list[Grey]:
    """Its pages as small grey pictures."""
    with TemporaryDirectory() as folder:
        words = ("pdftoppm", "-r", str(DOTS_PER_INCH), "-gray", pdf, f"{folder}/page")
        subprocess.run(words, check=True, capture_output=True)
        return [np.array(Image.open(p)) for p in sorted(Path(folder).glob("*.pgm"))]


def side_by_side(pages: list[Grey]) -> Image.Image:
    """All pages on one sheet, a line between them."""
    high, wide = (max(p.shape[n] for p in pages) + 1 for n in (0, 1))
    rows = -(-len(pages) // ABREAST)
    sheet = np.zeros((rows * high, min(len(pages), ABREAST) * wide), np.uint8)
    for n, page in enumerate(pages):
        top, left = n // ABREAST * high, n % ABREAST * wide
        sheet[top : top + page.shape[0], left : left + page.shape[1]] = page
    return Image.fromarray(sheet)


def as_png(image: Image.Image) -> bytes:
    """The bytes of a picture."""
    data = io.BytesIO()
    image.save(data, "PNG", optimize=True)
    return data.getvalue()


def differs(one: bytes, other: bytes) -> bool:
    """Whether two sheets differ by more than another drawing of the same edges."""
    a, b = (np.asarray(Image.open(io.BytesIO(data)).convert("L"), float) for data in (one, other))
    if a.shape != b.shape:
        return True
    apart = np.abs(a - b)
    high, wide = (n // BLOCK * BLOCK for n in apart.shape)
    blocks = apart[:high, :wide].reshape(high // BLOCK, BLOCK, wide // BLOCK, BLOCK).mean(axis=(1, 3))
    return bool(apart.mean() > MOST_ON_A_PAGE or blocks.max() > MOST_IN_A_BLOCK)


class KeptPicture(SingleFileSnapshotExtension):
    """One picture for each report, compared with a tolerance."""

    file_extension = "png"

    def matches(self, *, serialized_data: SerializedData, snapshot_data: SerializableData) -> bool:
        """Whether two sheets show the same."""
        assert isinstance(serialized_data, bytes)
        assert isinstance(snapshot_data, bytes)
        return not differs(serialized_data, snapshot_data)


REPORTS = ("inline-four-strip", "used-machine-in-frame", "kart-two-stroke")
needs_pdftoppm = pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="pdftoppm is not installed")


@needs_pdftoppm
@pytest.mark.parametrize("name", REPORTS)
def test_reports_look_as_they_did(name: str, reported: Reported, snapshot: SnapshotAssertion) -> None:
    """A quote, an assessment for a buyer, and a quote that replaces another."""
    pdf = reported(SAMPLES / f"{name}.yaml", "pdf")
    assert snapshot(extension_class=KeptPicture) == as_png(side_by_side(pictures(pdf)))


@needs_pdftoppm
def test_the_history_looks_as_it_did(tmp_path: Path, snapshot: SnapshotAssertion) -> None:
    """Three engines of a team over a season."""
    files = sorted((SAMPLES / "race-team").glob("*.yaml"))
    (pdf,) = render_history([assess(c) for c in load_all(files)], tmp_path, formats=("pdf",))
    assert snapshot(extension_class=KeptPicture) == as_png(side_by_side(pictures(pdf)))


@needs_pdftoppm
def test_the_sheet_looks_as_it_did(tmp_path: Path, snapshot: SnapshotAssertion) -> None:
    """A sheet for the bench with what was read so far."""
    pdf = write_filled_sheet(load(SAMPLES / "kart-two-stroke.yaml"), tmp_path / "sheet.pdf")
    assert snapshot(extension_class=KeptPicture) == as_png(side_by_side(pictures(pdf)))


def a_page(*, words: int = 40, left: int = 10) -> Grey:
    """A page of grey lines that could be words."""
    page = np.full((160, 116), 255, np.uint8)
    for n in range(words):
        page[8 + n * 3, left : left + 90] = 90
    return page


def sheet(*pages: Grey) -> bytes:
    """Pages as kept."""
    return as_png(side_by_side(list(pages)))


def test_a_softer_edge_is_no_difference() -> None:
    """Every dot of every line a little paler."""
    paler = np.where(a_page() < 255, a_page() + 6, 255).astype(np.uint8)
    assert not differs(sheet(a_page()), sheet(paler))


@pytest.mark.parametrize(
    "other",
    [
        sheet(a_page(), a_page(), a_page()),
        sheet(a_page(), a_page(words=30)),
        sheet(a_page(), a_page(left=16)),
        sheet(a_page(), np.full((160, 116), 255, np.uint8)),
    ],
    ids=["a page more", "lines that are gone", "a column moved", "an empty page"],
)
def test_what_moves_or_is_missing_is_a_difference(other: bytes) -> None:
    """Each would be seen by eye as well."""
    assert differs(sheet(a_page(), a_page()), other)
