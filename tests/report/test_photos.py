"""Photos are rebuilt upright, small and without anything but the picture; marks show on any ground."""

import io
from base64 import b64decode
from dataclasses import replace
from pathlib import Path
from random import Random
from typing import Any

import pytest
from PIL import Image, ImageChops, ImageCms, ImageFile

from inspect_report.assessment import Assessment
from inspect_report.records.marks import Mark
from inspect_report.records.problem import CannotRender
from inspect_report.records.workshop import ReferencePicture
from inspect_report.report.photos import clean_jpeg, photo_uri, print_pixels
from inspect_report.report.pictures import inside
from inspect_report.report.render import render
from inspect_report.report.theme import theme

MOST = (1600, 1600)
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


def jpeg(path: Path, most: tuple[int, int] = MOST, marks: tuple[Mark, ...] = ()) -> bytes:
    """A picture as it goes into a page."""
    return clean_jpeg(path, most, marks, theme())


def opened(data: bytes) -> Image.Image:
    """The picture in some bytes."""
    return Image.open(io.BytesIO(data))


def bright(image: Image.Image, least: int) -> Image.Image:
    """White where a grey picture is brighter than that, else black."""
    return Image.frombytes("L", image.size, bytes(255 * (shade > least) for shade in image.tobytes()))


def mark(**shape: Any) -> Mark:
    """A mark as written in a file."""
    return Mark.model_validate(shape)


def test_place_and_camera_are_gone(tmp_path: Path) -> None:
    """What the camera noted beside the picture does not reach a customer."""
    path = a_photo(tmp_path / "p.jpg")
    with Image.open(path) as before, Image.open(io.BytesIO(jpeg(path))) as after:
        assert dict(before.getexif())
        assert dict(after.getexif()) == {}
        assert "exif" not in after.info


def test_a_turned_photo_stands_upright(tmp_path: Path) -> None:
    """Exif orientation 6 (turn right to view) is carried out: what was left is then on top."""
    data = jpeg(a_photo(tmp_path / "p.jpg", turned=6))
    with Image.open(io.BytesIO(data)) as image:
        assert image.size == (300, 400)
        rows = image.convert("L").resize((1, 4)).tobytes()
        assert rows[0] > 200 > 50 > rows[3]


def test_large_photos_shrink_and_small_ones_stay(tmp_path: Path) -> None:
    """The longest side is kept to what was asked."""
    for size, wanted in (((3000, 1500), (1600, 800)), ((300, 200), (300, 200))):
        with Image.open(io.BytesIO(jpeg(a_photo(tmp_path / "p.jpg", size)))) as image:
            assert image.size == wanted


def test_see_through_pictures_stand_on_white(tmp_path: Path) -> None:
    """A logo with an open background does not turn black."""
    Image.new("RGBA", (10, 10), (0, 0, 0, 0)).save(tmp_path / "logo.png")
    data = b64decode(photo_uri(tmp_path / "logo.png", (800, 800), (), theme()).partition(",")[2])
    with Image.open(io.BytesIO(data)) as image:
        assert image.getpixel((5, 5)) == (255, 255, 255)


@pytest.mark.parametrize(
    ("content", "told"), [(b"not a picture", "not a JPEG"), (b"%!PS-Adobe-3.0 EPSF-3.0\n", "not a JPEG")]
)
def test_what_is_no_picture_is_told(tmp_path: Path, content: bytes, told: str) -> None:
    """Text and page languages are refused by name."""
    (tmp_path / "p.jpg").write_bytes(content)
    with pytest.raises(CannotRender, match=told):
        jpeg(tmp_path / "p.jpg")


def test_a_photo_cut_short_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half a file is not half a picture, also after the PDF library told Pillow to let it pass."""
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    path = tmp_path / "p.jpg"
    Image.effect_noise((800, 600), 80).save(path)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    with pytest.raises(CannotRender, match=r"p\.jpg: the picture cannot be read"):
        jpeg(path)


def test_a_picture_too_large_is_told(tmp_path: Path) -> None:
    """A small file that unfolds to more than 50 million pixels is refused before it is unfolded."""
    Image.new("1", (10_000, 6_000)).save(tmp_path / "p.png")
    with pytest.raises(CannotRender, match="larger than 50 million pixels"):
        jpeg(tmp_path / "p.png")


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


def test_a_photo_is_kept_at_the_resolution_it_is_printed_with(tmp_path: Path) -> None:
    """220 pixels to the inch over 85 mm by 64 mm, whichever side meets its end first."""
    assert print_pixels(theme()) == (736, 554)
    for size, wanted in (((3000, 2000), (736, 491)), ((2000, 3000), (369, 554))):
        assert opened(jpeg(a_photo(tmp_path / "p.jpg", size), print_pixels(theme()))).size == wanted


def test_grey_of_sixteen_bits_stays_grey(tmp_path: Path) -> None:
    """A borescope's 16-bit picture does not turn white."""
    Image.new("I;16", (40, 20), 30_000).save(tmp_path / "p.png")
    assert opened(jpeg(tmp_path / "p.png")).getpixel((9, 9)) == (117, 117, 117)


@pytest.mark.filterwarnings("error")
def test_notes_of_the_camera_that_are_damaged_do_no_harm(tmp_path: Path) -> None:
    """Whatever stands among them: the picture comes out, and nothing is told on the terminal."""
    whole = a_photo(tmp_path / "p.jpg", (64, 48), turned=6).read_bytes()
    start, chance = whole.index(b"Exif"), Random(7)
    for _ in range(300):
        broken = bytearray(whole)
        for _ in range(3):
            broken[start + 6 + chance.randrange(60)] = chance.randrange(256)
        (tmp_path / "q.jpg").write_bytes(bytes(broken))
        assert sorted(opened(jpeg(tmp_path / "q.jpg")).size) == [48, 64]


SHAPES: tuple[Any, ...] = (
    {"arrow": {"tail": [0.2, 0.5], "tip": [0.8, 0.5]}},
    {"circle": {"centre": [0.5, 0.5], "radius": 0.2}},
    {"ellipse": {"centre": [0.5, 0.5], "radii": [0.3, 0.2]}},
)
ON_SHAPES = ((0.4, 0.5), (0.7, 0.5), (0.8, 0.5))
"""A place on the ink of each of these."""


@pytest.mark.parametrize("ground", [0, 128, 255])
@pytest.mark.parametrize(("shape", "on"), list(zip(SHAPES, ON_SHAPES, strict=True)))
def test_marks_show_on_any_ground(tmp_path: Path, ground: int, shape: Any, on: tuple[float, float]) -> None:
    """On black, grey and white there is dark ink at the mark, a light edge beside it, and nothing else."""
    Image.new("L", (800, 600), ground).save(tmp_path / "p.png")
    grey = opened(jpeg(tmp_path / "p.png", (800, 600), (mark(**shape),))).convert("L")
    x, y = round(on[0] * 800), round(on[1] * 600)
    near = grey.crop((x - 14, y - 14, x + 14, y + 14)).tobytes()
    assert min(near) < 50
    assert max(near) > 230
    far = grey.crop((0, 0, 40, 40)).tobytes() + grey.crop((760, 560, 800, 600)).tobytes()
    assert all(abs(shade - ground) < 8 for shade in far)


def test_an_arrow_points_where_the_file_says(tmp_path: Path) -> None:
    """Its head is at the tip, wider than the shaft, and nothing is drawn beyond it."""
    Image.new("L", (800, 600), 255).save(tmp_path / "p.png")
    drawn = opened(jpeg(tmp_path / "p.png", (800, 600), (mark(**SHAPES[0]),))).convert("L")
    dark = [x for x, shade in enumerate(drawn.crop((0, 300, 800, 301)).tobytes()) if shade < 100]
    assert min(dark) == pytest.approx(160, abs=4)
    assert max(dark) == pytest.approx(640, abs=4)

    def thick(x: int) -> int:
        return sum(shade < 100 for shade in drawn.crop((x, 0, x + 1, 600)).tobytes())

    assert thick(620) > 2 * thick(400) > 0


def test_marks_turn_with_the_photo(tmp_path: Path) -> None:
    """Places are those of the picture as it stands upright, not of the file as the camera wrote it."""
    a_photo(tmp_path / "p.jpg", (400, 300), turned=6)
    shape = mark(circle={"centre": [0.5, 0.2], "radius": 0.1})
    plain, ringed = (opened(jpeg(tmp_path / "p.jpg", (300, 400), m)).convert("L") for m in ((), (shape,)))
    box = bright(ImageChops.difference(plain, ringed), 40).getbbox()
    assert box is not None
    assert ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2) == pytest.approx((150, 80), abs=4)


def test_a_label_is_written_inside_the_picture_and_off_other_labels(tmp_path: Path) -> None:
    """Words of two marks in one corner stand apart, none over the edge."""
    Image.new("L", (800, 600), 0).save(tmp_path / "p.png")
    one, two = (mark(circle={"centre": [0.05, 0.05], "radius": 0.03}, label=w) for w in ("first", "second"))
    alone, both = (
        bright(opened(jpeg(tmp_path / "p.png", (800, 600), m)).convert("L"), 200)
        for m in ((one,), (one, two))
    )
    assert alone.getbbox() is not None
    first, all_ = (sum(image.tobytes()) // 255 for image in (alone, both))
    assert all_ > 1.5 * first
    assert max(alone.getbbox() or ()) < 800


def test_a_small_photo_is_enlarged_before_it_is_marked(tmp_path: Path) -> None:
    """The ink comes out at print resolution also on a picture that does not."""
    a_photo(tmp_path / "p.jpg", (400, 300))
    assert opened(jpeg(tmp_path / "p.jpg", (736, 554), (mark(**SHAPES[0]),))).size == (736, 552)


def test_marks_are_the_same_in_page_and_pdf_and_on_every_run(tmp_path: Path) -> None:
    """The same bytes go into both."""
    a_photo(tmp_path / "p.jpg")
    shape = mark(**SHAPES[1], label="Grüße, 12 µm")
    assert jpeg(tmp_path / "p.jpg", MOST, (shape,)) == jpeg(tmp_path / "p.jpg", MOST, (shape,))


def exchanged() -> bytes:
    """The profile of a camera that keeps red where others keep green: sRGB with two primaries exchanged."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    for old, new in ((b"rXYZ", b"...."), (b"gXYZ", b"rXYZ"), (b"....", b"gXYZ")):
        profile = profile.replace(old, new, 1)
    return profile


@pytest.mark.parametrize("name", ["p.jpg", "p.png", "p.webp"])
def test_colours_are_shown_as_they_were_taken(tmp_path: Path, name: str) -> None:
    """By the profile beside the picture: page and paper expect sRGB."""
    path = tmp_path / name
    Image.new("RGB", (64, 64), (220, 0, 0)).save(path, icc_profile=exchanged())
    red, green, _ = opened(jpeg(path)).convert("RGB").resize((1, 1)).tobytes()
    assert green > 200 > 40 > red


@pytest.mark.parametrize("profile", [b"no profile", b""])
def test_a_profile_that_cannot_be_read_leaves_the_colours(tmp_path: Path, profile: bytes) -> None:
    """The picture is whole all the same."""
    path = tmp_path / "p.png"
    Image.new("RGB", (64, 64), (220, 0, 0)).save(path, icc_profile=profile)
    red, green, _ = opened(jpeg(path)).convert("RGB").resize((1, 1)).tobytes()
    assert red > 200 > 40 > green


def test_a_profile_of_another_kind_of_picture_leaves_the_colours(tmp_path: Path) -> None:
    """A grey picture with a profile for colours is shown by its greys."""
    path = tmp_path / "p.png"
    Image.new("L", (64, 64), 100).save(path, icc_profile=exchanged())
    assert opened(jpeg(path)).convert("L").resize((1, 1)).tobytes()[0] in range(98, 103)
