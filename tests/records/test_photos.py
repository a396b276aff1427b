"""Pictures: only those beside the inspection, in formats that can be shown, none that fills the memory."""

import os
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from inspect_report.records.faults import Faults
from inspect_report.records.photos import check_photo
from inspect_report.records.problem import Place, Problem
from inspect_report.report.photos import clean_jpeg
from inspect_report.report.theme import theme
from tests.records.made import HEAD, INSTRUMENTS, document, inspected


def told(name: str, folder: Path) -> tuple[Problem, ...]:
    """The faults of a picture."""
    faults = Faults(document("a: 1"))
    check_photo(name, folder, Place("made.yaml", 1, 4), faults)
    return faults.problems


def code(name: str, folder: Path) -> str:
    """The code of the one fault of a picture."""
    (problem,) = told(name, folder)
    return problem.code


def huge_png(width: int, height: int) -> bytes:
    """A few bytes that claim to be a picture of any size."""
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(b"0"))
        + chunk(b"IEND", b"")
    )


def chunk(name: bytes, content: bytes) -> bytes:
    """A chunk of a PNG file with its length and checksum."""
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


@pytest.mark.parametrize("name", ["a.jpg", "a.png", "a.webp", "below/a.jpg"])
def test_pictures_that_can_be_shown(tmp_path: Path, name: str) -> None:
    """JPEG, PNG and WebP in the folder or below it are in order."""
    (tmp_path / "below").mkdir()
    Image.new("RGB", (8, 8)).save(tmp_path / name)
    assert told(name, tmp_path) == ()


@pytest.mark.parametrize("name", ["/etc/passwd", "../a.jpg", "below/../../a.jpg", "a\\b.jpg", "a\0.jpg"])
def test_pictures_elsewhere_are_not_opened(tmp_path: Path, name: str) -> None:
    """A path that leaves the folder is refused by its name alone."""
    assert code(name, tmp_path) == "V351"


def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    """A symbolic link inside the folder does not open the rest of the disk."""
    Image.new("RGB", (8, 8)).save(tmp_path / "out.jpg")
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "a.jpg").symlink_to(tmp_path / "out.jpg")
    assert code("a.jpg", tmp_path / "in") == "V351"


def test_a_picture_that_is_not_there(tmp_path: Path) -> None:
    """A missing file, and a folder in its place, are told."""
    (tmp_path / "b.jpg").mkdir()
    assert [code(n, tmp_path) for n in ("a.jpg", "b.jpg")] == ["V352", "V352"]


@pytest.mark.parametrize("kind", ["gif", "bmp", "tiff"])
def test_other_formats_are_refused_whatever_their_name(tmp_path: Path, kind: str) -> None:
    """A picture of another format is not shown, even with the ending of one that would be."""
    Image.new("L", (8, 8)).save(tmp_path / f"a.{kind}")
    (tmp_path / f"a.{kind}").rename(tmp_path / "a.jpg")
    assert code("a.jpg", tmp_path) == "V353"


@pytest.mark.parametrize(
    "content", [b"", b"hello", b"%!PS-Adobe-3.0 EPSF-3.0\n", b"<svg xmlns='http://www.w3.org/2000/svg'/>"]
)
def test_what_is_no_picture_is_told(tmp_path: Path, content: bytes) -> None:
    """Text, PostScript and drawings that could hold commands are no pictures here."""
    (tmp_path / "a.png").write_bytes(content)
    assert code("a.png", tmp_path) == "V353"


def test_a_picture_cut_short_is_told(tmp_path: Path) -> None:
    """A file that ends in the middle is noticed although its head is in order."""
    Image.effect_noise((64, 64), 50).save(tmp_path / "whole.jpg")
    (tmp_path / "a.jpg").write_bytes((tmp_path / "whole.jpg").read_bytes()[:-400])
    assert code("a.jpg", tmp_path) == "V353"


@pytest.mark.parametrize("size", [(8000, 6251), (12000, 12000), (60000, 60000)])
def test_a_picture_of_too_many_pixels_is_not_unpacked(tmp_path: Path, size: tuple[int, int]) -> None:
    """A small file that would unpack to more than 50 million pixels is refused by its head."""
    (tmp_path / "a.png").write_bytes(huge_png(*size))
    assert code("a.png", tmp_path) == "V354"


def test_a_picture_that_is_in_order_gives_its_size(tmp_path: Path) -> None:
    """Width and height as stored; nothing where it cannot be shown."""
    Image.new("RGB", (480, 320)).save(tmp_path / "a.png")
    faults = Faults(document("a: 1"))
    assert check_photo("a.png", tmp_path, Place("made.yaml", 1, 4), faults) == (480, 320)
    assert check_photo("b.png", tmp_path, Place("made.yaml", 1, 4), faults) is None


def test_a_picture_as_long_as_a_million_pixels_is_told_to_be_slender(tmp_path: Path) -> None:
    """A strip one pixel high is no bomb and no photo."""
    Image.new("L", (1_000_000, 1)).save(tmp_path / "a.png")
    text = HEAD + INSTRUMENTS + "photos: [{file: a.png, caption: x}]\n"
    (problem,) = inspected(text, tmp_path).problems
    assert (problem.code, problem.weight, problem.title) == ("V367", "warning", "photo too slender to print")


def test_a_picture_with_a_bomb_among_its_texts_is_told(tmp_path: Path) -> None:
    """A few bytes of text that unpack to many are not unpacked."""
    head = struct.pack(">IIBBBBB", 480, 320, 8, 0, 0, 0, 0)
    bomb = b"Comment\0\0" + zlib.compress(b"0" * 200_000_000, 9)
    pixels = zlib.compress(bytes(481 * 320))
    chunks = (chunk(b"IHDR", head), chunk(b"zTXt", bomb), chunk(b"IDAT", pixels), chunk(b"IEND", b""))
    (tmp_path / "a.png").write_bytes(b"\x89PNG\r\n\x1a\n" + b"".join(chunks))
    assert code("a.png", tmp_path) == "V353"


@pytest.mark.parametrize("name", ["a.svg", "a.html", "a.js"])
def test_a_script_is_no_picture_whatever_it_is_called(tmp_path: Path, name: str) -> None:
    """What could run in a browser is never taken, as it is named or renamed."""
    script = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
    for file in (name, "a.jpg"):
        (tmp_path / file).write_bytes(script)
        assert code(file, tmp_path) == "V353"


def test_a_picture_with_the_ending_of_another_format_is_shown(tmp_path: Path) -> None:
    """What counts is what the file holds: a PNG that is called JPEG is one."""
    Image.new("RGB", (480, 320)).save(tmp_path / "a.png")
    (tmp_path / "a.png").rename(tmp_path / "a.jpg")
    assert told("a.jpg", tmp_path) == ()


def test_a_link_to_itself_and_a_pipe_are_told(tmp_path: Path) -> None:
    """Neither is opened, which would never end."""
    (tmp_path / "a.jpg").symlink_to(tmp_path / "a.jpg")
    os.mkfifo(tmp_path / "b.jpg")
    assert [code(n, tmp_path) for n in ("a.jpg", "b.jpg")] == ["V352", "V352"]


def test_a_jpeg_with_anything_behind_it_is_shown_without_it(tmp_path: Path) -> None:
    """A file that is a picture and an archive at once gives its pixels alone."""
    Image.new("RGB", (480, 320)).save(tmp_path / "a.jpg")
    (tmp_path / "a.jpg").write_bytes((tmp_path / "a.jpg").read_bytes() + b"PK\x03\x04<script>")
    assert told("a.jpg", tmp_path) == ()
    assert b"script" not in clean_jpeg(tmp_path / "a.jpg", (800, 600), (), theme())
