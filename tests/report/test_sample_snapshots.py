"""
The reports of every sample as they stand; a change shows up as a difference to read.

Each sample's page is kept as HTML, data addresses as marks and charts as their words, and the words of its
PDF as plain text; one sample's JSON, too. Where a change is meant: run ``pytest tests/report
--snapshot-update`` and read the difference.
"""

import json
import re
import shutil
import subprocess
from hashlib import sha256
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from tests.made import Reported, name_of
from tests.samples import SAMPLES, sample_inspections

FILES = sample_inspections()
JSON_OF = SAMPLES / "kart-two-stroke.yaml"


class Kept(SingleFileSnapshotExtension):
    """One text file for each snapshot."""

    _write_mode = WriteMode.TEXT
    file_extension = "txt"


class KeptPage(Kept):
    """HTML."""

    file_extension = "html"


class KeptData(Kept):
    """JSON."""

    file_extension = "json"


def marked(html: str) -> str:
    """Data addresses as a mark of their content, to see that one has changed; charts as their words."""
    html = re.sub(r'(class="code" src=")[^"]*(" alt=")[^"]*', r"\1code\2text", without_digests(html))
    short = re.sub(r'data:([a-z/+-]+);base64,[^")]*', lambda m: f"data:{m[1]},{mark(m[0])}", html)
    return re.sub(r"<svg .*?</svg>", lambda m: f"<svg>{words(m[0])}</svg>", short, flags=re.DOTALL)


def without_digests(text: str) -> str:
    """Digests as a mark alone: they change with every word of a book, and their own tests hold them."""
    return re.sub(r"\b[0-9a-f]{64}\b", "SHA-256", text)


def words(drawing: str) -> str:
    """The words in a drawing."""
    return " | ".join(re.findall(r"<text[^>]*>([^<]*)</text>", drawing))


def mark(text: str) -> str:
    """The first figures of a text's SHA-256."""
    return sha256(text.encode()).hexdigest()[:12]


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_pages(path: Path, reported: Reported, snapshot: SnapshotAssertion) -> None:
    """The HTML of each sample."""
    page = reported(path, "html").read_text(encoding="utf-8")
    assert snapshot(extension_class=KeptPage) == marked(page)


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pdftotext is not installed")
@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_words_of_the_pdf(path: Path, reported: Reported, snapshot: SnapshotAssertion) -> None:
    """The words of each sample's PDF, page by page, in reading order."""
    words = ("pdftotext", "-enc", "UTF-8", reported(path, "pdf"), "-")
    told = subprocess.run(words, capture_output=True, check=True).stdout
    assert snapshot(extension_class=Kept) == without_digests(told.decode()).replace("\f", "\n— page —\n")


def test_data(reported: Reported, snapshot: SnapshotAssertion) -> None:
    """The JSON of one sample."""
    data = json.loads(reported(JSON_OF, "json").read_text(encoding="utf-8"))
    text = json.dumps(data, indent=1, ensure_ascii=False)
    assert snapshot(extension_class=KeptData) == text + "\n"
