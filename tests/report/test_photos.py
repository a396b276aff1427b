"""Photos are rebuilt upright, small and without anything but the picture."""

import io
from base64 import b64decode
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image, ImageFile

from inspect_report.assessment import Assessment
from inspect_report.records.problem import CannotRender
from inspect_report.records.workshop import ReferencePicture
from inspect_report.report.photos import clean_jpeg, photo_uri
from inspect_report.report.pictures import inside
from inspect_report.report.render import render

ORIENTATION, GPS_BLOCK, MAKER = 0x0112, 0x8825, 0x010F


def a_photo(path: Path, size: tuple[int, int] = (400, 300), turned: int = 1) -> Path:
    """A picture whose left half is white and right half black, with camera and place noted in it."""
    image = Image.new("RGB", size, "white")
    image.paste("black", (size[0] // 2, 0, size[0], size[1]))
    exif = Image.Exif()
    exif[ORIENTATION], exif[MAKER] = turned, "a camera"
    exif.get_ifd(GPS_BLOCK)[1] = "N"
    image.save(path, exif=exif)
    return path


def test_place_and_camera_are_gone(tmp_path: Path) -> None:
    """What the camera noted beside the picture does not reach a customer."""
    path = a_photo(tmp_path / "p.jpg")
    with Image.open(path) as before, Image.open(io.BytesIO(clean_jpeg(path, 1600))) as after:
        assert dict(before.getexif())
        assert dict(after.getexif()) == {}
        assert "exif" not in after.info


def test_a_turned_photo_stands_upright(tmp_path: Path) -> None:
    """Exif orientation 6 (turn right to view) is carried out: what was left is then on top."""
    data = clean_jpeg(a_photo(tmp_path / "p.jpg", turned=6), 1600)
    with Image.open(io.BytesIO(data)) as image:
        assert image.size == (300, 400)
        rows = image.convert("L").resize((1, 4)).tobytes()
        assert rows[0] > 200 > 50 > rows[3]


def test_large_photos_shrink_and_small_ones_stay(tmp_path: Path) -> None:
    """The longest side is kept to what was asked."""
    for size, wanted in (((3000, 1500), (1600, 800)), ((300, 200), (300, 200))):
        with Image.open(io.BytesIO(clean_jpeg(a_photo(tmp_path / "p.jpg", size), 1600))) as image:
            assert image.size == wanted


def test_see_through_pictures_stand_on_white(tmp_path: Path) -> None:
    """A logo with an open background does not turn black."""
    Image.new("RGBA", (10, 10), (0, 0, 0, 0)).save(tmp_path / "logo.png")
    data = b64decode(photo_uri(tmp_path / "logo.png", 800).partition(",")[2])
    with Image.open(io.BytesIO(data)) as image:
        assert image.getpixel((5, 5)) == (255, 255, 255)


@pytest.mark.parametrize(
    ("content", "told"), [(b"not a picture", "not a JPEG"), (b"%!PS-Adobe-3.0 EPSF-3.0\n", "not a JPEG")]
)
def test_what_is_no_picture_is_told(tmp_path: Path, content: bytes, told: str) -> None:
    """Text and page languages are refused by name."""
    (tmp_path / "p.jpg").write_bytes(content)
    with pytest.raises(CannotRender, match=told):
        clean_jpeg(tmp_path / "p.jpg", 1600)


def test_a_photo_cut_short_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half a file is not half a picture, also after the PDF library told Pillow to let it pass."""
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    path = tmp_path / "p.jpg"
    Image.effect_noise((800, 600), 80).save(path)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    with pytest.raises(CannotRender, match=r"p\.jpg: the picture cannot be read"):
        clean_jpeg(path, 1600)


def test_a_picture_too_large_is_told(tmp_path: Path) -> None:
    """A small file that unfolds to more than 50 million pixels is refused before it is unfolded."""
    Image.new("1", (10_000, 6_000)).save(tmp_path / "p.png")
    with pytest.raises(CannotRender, match="larger than 50 million pixels"):
        clean_jpeg(tmp_path / "p.png", 1600)


@pytest.mark.parametrize("name", ["../secret.png", "/etc/passwd", "link/secret.png"])
def test_pictures_lie_inside_their_folder(tmp_path: Path, name: str) -> None:
    """Neither dots nor links lead out of the folder."""
    home = tmp_path / "home"
    home.mkdir()
    (home / "link").symlink_to(tmp_path)
    with pytest.raises(CannotRender, match="pictures must lie in the folder"):
        inside(home, name)


def test_reference_pictures_of_what_was_rated(folder: Path, tmp_path: Path, assessment: Assessment) -> None:
    """The workshop's picture of a step is printed where something was rated so, and no other."""
    a_photo(folder / "scuffing-3.jpg")
    kept = {(r.damage, r.grade) for r in assessment.inspection.ratings if r.damage}
    damage, step = sorted(kept)[0]
    pictures = [
        {"damage": damage, "step": step, "file": "scuffing-3.jpg", "note": "our own"},
        {"damage": damage, "step": step % 5 + 1, "file": "gone.jpg"},
    ]
    records = tuple(ReferencePicture.model_validate(p) for p in pictures)
    shop = assessment.workshop.model_copy(update={"reference_pictures": records})
    shown = replace(assessment, workshop=shop)
    page = render(shown, tmp_path, formats=("html",), folder=folder)[0].read_text(encoding="utf-8")
    assert f'alt="Reference: {damage}, step {step} of 5"' in page
    assert page.count('alt="Reference:') == 1
