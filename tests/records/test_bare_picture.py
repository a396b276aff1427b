"""A picture without the camera's notes shows the same pixels, the same way up, and tells nothing else."""

import io
from pathlib import Path

import pytest
from PIL import Image, ImageOps, PngImagePlugin

from inspect_report.records.bare_picture import ORIENTATION, bare_picture
from tests.samples import SAMPLES

PLACE = b"GPS-here"
FORMATS = ("JPEG", "PNG", "WEBP")


def camera(kind: str, turn: int, **more: object) -> bytes:
    """A picture as a camera writes it: turned, with its place, device and a note."""
    picture = Image.effect_noise((120, 90), 60).convert("RGB")
    notes = Image.Exif()
    notes[ORIENTATION] = turn
    notes[0x010F] = "GPS-here"
    notes.get_ifd(0x8825)[1] = "N"
    if kind == "PNG":
        said = PngImagePlugin.PngInfo()
        said.add_text("Comment", "GPS-here")
        more["pnginfo"] = said
    else:
        more["xmp"] = b"<x>GPS-here</x>"
    file = io.BytesIO()
    picture.save(file, kind, exif=notes, **more)
    return file.getvalue()


def upright(data: bytes) -> tuple[tuple[int, int], bytes]:
    """Size and pixels, turned upright."""
    with Image.open(io.BytesIO(data)) as opened:
        shown = ImageOps.exif_transpose(opened)
        return shown.size, shown.convert("RGB").tobytes()


@pytest.mark.parametrize("turn", range(1, 9))
@pytest.mark.parametrize("kind", FORMATS)
def test_same_pixels_without_notes(kind: str, turn: int) -> None:
    """However the camera was held; a second time takes out nothing more."""
    before = camera(kind, turn) + b"behind the end: GPS-here"
    bare = bare_picture(before)
    assert PLACE in before
    assert PLACE not in bare
    assert upright(bare) == upright(before)
    assert bare_picture(bare) == bare
    with Image.open(io.BytesIO(bare)) as opened:
        assert dict(opened.getexif()) == ({ORIENTATION: turn} if turn > 1 else {})
        assert not opened.getexif().get_ifd(0x8825)


def test_a_jpeg_in_several_scans() -> None:
    """Progressive, with marks to start again within its pixels."""
    before = camera("JPEG", 6, progressive=True, restart_marker_blocks=3)
    assert upright(bare_picture(before)) == upright(before)


def test_colours_are_kept() -> None:
    """Four inks and their profile."""
    file = io.BytesIO()
    Image.effect_noise((60, 40), 60).convert("CMYK").save(
        file, "JPEG", icc_profile=b"a profile", comment=b"GPS-here"
    )
    bare = bare_picture(file.getvalue())
    assert upright(bare) == upright(file.getvalue())
    assert b"a profile" in bare
    assert PLACE not in bare


@pytest.mark.parametrize("path", sorted(SAMPLES.rglob("*.png")), ids=lambda p: p.name)
def test_a_picture_without_notes_is_left_as_it_is(path: Path) -> None:
    """Byte for byte."""
    assert bare_picture(path.read_bytes()) == path.read_bytes()


@pytest.mark.parametrize(
    "data", [b"", b"%PDF-1.7", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\nshort", b"RIFF\0\0\0\0WEBP"[:9]]
)
def test_what_is_no_picture_is_not_given_away(data: bytes) -> None:
    """Nobody knows what stands in it."""
    assert bare_picture(data) == b""


@pytest.mark.parametrize("kind", FORMATS)
def test_damage_anywhere_raises_nothing(kind: str) -> None:
    """A byte changed, or the end cut off, wherever: a picture or nothing comes out."""
    whole = camera(kind, 6)
    for at in range(0, len(whole), max(1, len(whole) // 150)):
        assert isinstance(bare_picture(whole[:at]), bytes)
        assert isinstance(bare_picture(whole[:at] + bytes([whole[at] ^ 0xFF]) + whole[at + 1 :]), bytes)
