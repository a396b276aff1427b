"""A PDF carries every file its report rests on, byte for byte, and prints by which digest it is known."""

import json
import shutil
import subprocess
from hashlib import sha256
from pathlib import Path

import pikepdf
import pytest
import zxingcpp
from PIL import Image

from inspect_report.places import knowledge_dir
from inspect_report.records.manifest import digest_of, read_list, record_of
from inspect_report.report.attaching import attachments
from tests.evidence.conftest import Made
from tests.made import Reported
from tests.samples import SAMPLES


def by_qpdf(pdf: Path, name: str) -> bytes:
    """An attachment as a program of others takes it out."""
    command = ["qpdf", f"--show-attachment={name}", str(pdf)]
    return subprocess.run(command, check=True, capture_output=True).stdout


def text_of(pdf: Path) -> str:
    """What is printed, by a program of others, without its spaces."""
    command = ["pdftotext", "-layout", str(pdf), "-"]
    return "".join(subprocess.run(command, check=True, capture_output=True, text=True).stdout.split())


def test_attachments_are_the_files_as_they_lie(kart: Made) -> None:
    """Inspection, spec sheet, workshop file, issue before and every shipped book; the JSON beside the PDF."""
    carried = attachments(kart.pdf.read_bytes())
    own = [
        "kart-two-stroke.yaml",
        "kart-two-stroke-issue-1.yaml",
        "books/ormvik-k125.yaml",
        "books/workshop.yaml",
    ]
    for name in own:
        assert carried[name] == (kart.home / name).read_bytes(), name
    for book in knowledge_dir().rglob("*.yaml"):
        assert carried[f"books-as-used/{book.relative_to(knowledge_dir())}"] == book.read_bytes()
    assert carried["assessment.json"] == kart.json.read_bytes()


def test_another_program_takes_out_the_same(kart: Made) -> None:
    """Qpdf lists as many and gives the same bytes."""
    carried = attachments(kart.pdf.read_bytes())
    listing = subprocess.run(["qpdf", "--list-attachments", str(kart.pdf)], check=True, capture_output=True)
    assert len(listing.stdout.splitlines()) == len(carried)
    for name, data in carried.items():
        assert by_qpdf(kart.pdf, name) == data, name


def test_the_list_is_read_by_another_program(kart: Made, tmp_path: Path) -> None:
    """`sha256sum --check` finds every file of the list that is carried as it is listed."""
    for name, data in attachments(kart.pdf.read_bytes()).items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(data)
    command = ["sha256sum", "--check", "--ignore-missing", "--strict", "evidence.sha256"]
    checked = subprocess.run(command, cwd=tmp_path, check=True, capture_output=True, text=True)
    assert "FAILED" not in checked.stdout
    assert "kart-two-stroke.yaml: OK" in checked.stdout


def test_the_printed_digest_is_that_of_the_list(kart: Made) -> None:
    """On paper and screen stand the SHA-256 of the list and of its record, and that of the issue before."""
    carried = attachments(kart.pdf.read_bytes())
    manifest = carried["evidence.sha256"]
    printed, screen = text_of(kart.pdf), kart.html.read_text(encoding="utf-8")
    record = digest_of(record_of(manifest.decode()).encode())
    before = read_list(manifest.decode())["earlier/HB-2026-063-issue-1.sha256"]
    for digest in (sha256(manifest).hexdigest(), record, before):
        assert digest in printed
        assert digest in screen
    assert json.loads(kart.json.read_bytes())["manifest"] == manifest.decode()


def test_a_camera_reads_number_and_digest_from_the_page(kart: Made, tmp_path: Path) -> None:
    """The code of the page that is printed, as a picture of 150 dots to the inch, by a reader of others."""
    subprocess.run(["pdftoppm", "-r", "150", "-gray", str(kart.pdf), str(tmp_path / "page")], check=True)
    read = [code for file in sorted(tmp_path.iterdir()) for code in zxingcpp.read_barcodes(Image.open(file))]
    manifest = attachments(kart.pdf.read_bytes())["evidence.sha256"]
    assert [c.text for c in read] == [f"HB-2026-063\nissue 2\nsha256 {sha256(manifest).hexdigest()}"]
    assert read[0].ec_level == "M"
    width = read[0].position.top_right.x - read[0].position.top_left.x
    modules_and_margin = 1 + 8 / 45
    assert width / 150 * 25.4 * modules_and_margin == pytest.approx(25, abs=1.5)


def test_few_pictures_travel_along(kart: Made) -> None:
    """As they lie, where a camera noted nothing in them."""
    carried = attachments(kart.pdf.read_bytes())
    photos = ("photos/kart-piston.png", "photos/kart-reeds.png", "books/score-marks-3.png")
    assert [p for p in photos if carried[p] != (kart.home / p).read_bytes()] == []


def test_the_largest_pdf_is_small_without_its_photos(reported: Reported) -> None:
    """Under a megabyte, all books and the assessment within."""
    path = reported(SAMPLES / "inline-four-strip.yaml", "pdf")
    with pikepdf.open(path) as pdf:
        streams = [one for one in pdf.objects if isinstance(one, pikepdf.Stream)]
        photos = [one for one in streams if str(one.get("/Subtype")) in ("/Image", "/image/png")]
        size = path.stat().st_size - sum(len(one.read_raw_bytes()) for one in photos)
    assert len(photos) > 10
    assert size < 1_000_000


@pytest.mark.parametrize("program", ["qpdf", "sha256sum", "pdftotext"])
def test_the_programs_of_others_are_here(program: str) -> None:
    """What the tests above look with."""
    assert shutil.which(program)
