"""Turns picture files into clean upright JPEG data for a page, with their marks, without place or camera."""

import io
import struct
import warnings
from base64 import b64encode
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from inspect_report.records.marks import Mark
from inspect_report.records.problem import CannotRender
from inspect_report.report.marking import marked
from inspect_report.report.theme import Theme

if TYPE_CHECKING:
    from PIL import Image

MOST_PIXELS: Final = 50_000_000
FORMATS: Final = ("JPEG", "PNG", "WEBP")
QUALITY: Final = 82
MM: Final = 25.4
_NOTES_AT_FAULT: Final = (
    OSError,
    SyntaxError,
    ValueError,
    TypeError,
    LookupError,
    ArithmeticError,
    struct.error,
)
"""What reading the camera's notes raises where strangers wrote them; the picture itself is whole by then."""

_SPACES: Final = {
    "RGB": ("RGB", "RGB"),
    "RGBA": ("RGB", "RGBA"),
    "L": ("GRAY", "RGB"),
    "CMYK": ("CMYK", "RGB"),
}
"""By kind of pixel: the colours its profile must speak of, and the kind it becomes in sRGB."""


def print_pixels(theme: Theme) -> tuple[int, int]:
    """Width and height in pixels of the place a photo has on paper, at the resolution it is printed with."""
    photo = theme.photo
    return round(photo.width_mm / MM * photo.dpi), round(photo.height_mm / MM * photo.dpi)


def photo_uri(path: Path, most: tuple[int, int], marks: Sequence[Mark], theme: Theme) -> str:
    """
    A picture as a JPEG data address.

    Args:
        path: JPEG, PNG or WebP file of 50 million pixels at most.
        most: Greatest width and height; a smaller picture keeps its size unless marked. [pixel]
        marks: Arrows and rings to draw into it.
        theme: Colours and resolution of the marks.

    Raises:
        CannotRender: the file cannot be read, is no picture, is cut short or too large.
    """
    return f"data:image/jpeg;base64,{b64encode(clean_jpeg(path, most, marks, theme)).decode()}"


def clean_jpeg(path: Path, most: tuple[int, int], marks: Sequence[Mark], theme: Theme) -> bytes:
    """The picture turned upright, scaled down, marked, and rebuilt from its pixels alone."""
    from PIL import Image, ImageFile, UnidentifiedImageError

    # The PDF library lets half pictures pass, for the whole process; here they are faults.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        # Warnings are of bombs, whose size is looked at next, and of notes of the camera that are damaged.
        with warnings.catch_warnings(action="ignore"), Image.open(path, formats=FORMATS) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                raise CannotRender(f"{path}: larger than 50 million pixels; scale the picture down")
            opened.draft("RGB", (max(most), max(most)))
            upright = _in_srgb(_eight_bits(_upright(opened)))
            upright.thumbnail(most)
            clean = _on_white(upright)
    except UnidentifiedImageError:
        raise CannotRender(f"{path}: not a JPEG, PNG or WebP picture") from None
    except (OSError, Image.DecompressionBombError, SyntaxError, ValueError) as fault:
        raise CannotRender(f"{path}: the picture cannot be read: {fault}") from None
    return _as_jpeg(marked(_enlarged(clean, most), marks, theme) if marks else clean)


def _upright(opened: "Image.Image") -> "Image.Image":
    """As the camera was held; as it lies where the camera's notes cannot be read."""
    from PIL import ImageOps

    opened.load()
    try:
        return ImageOps.exif_transpose(opened)
    except _NOTES_AT_FAULT:
        return opened


def _eight_bits(image: "Image.Image") -> "Image.Image":
    """Shades that can be scaled: 16 bits of grey would else turn white, and palettes be thinned out."""
    if image.mode.startswith("I"):
        return image.convert("I").point(lambda grey: grey / 256).convert("L")
    return image.convert("RGBA") if image.mode in ("P", "1", "PA") else image


def _in_srgb(image: "Image.Image") -> "Image.Image":
    """The colours as they were taken: by the profile beside the picture, where one is whole and its own."""
    from PIL import ImageCms

    space, shown = _SPACES.get(image.mode, ("", ""))
    profile = image.info.get("icc_profile")
    if not profile or not space:
        return image
    try:
        taken = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        if taken.profile.xcolor_space.strip() != space:
            return image
        srgb = ImageCms.createProfile("sRGB")
        turn = ImageCms.buildTransform(taken, srgb, image.mode, shown)
        return ImageCms.applyTransform(image, turn) or image
    except (ImageCms.PyCMSError, *_NOTES_AT_FAULT):
        return image


def _on_white(image: "Image.Image") -> "Image.Image":
    """Only the pixels, on white where the picture was see-through."""
    from PIL import Image

    clean = Image.new("RGB", image.size, "white")
    seen = image.convert("RGBA")
    clean.paste(seen, mask=seen.getchannel("A"))
    return clean


def _enlarged(image: "Image.Image", most: tuple[int, int]) -> "Image.Image":
    """A small picture as large as it is printed, so that what is drawn into it comes out sharp."""
    from PIL import Image

    scale = min(most[0] / image.width, most[1] / image.height)
    if scale <= 1.0:
        return image
    size = (max(1, round(image.width * scale)), max(1, round(image.height * scale)))
    return image.resize(size, Image.Resampling.BICUBIC)


def _as_jpeg(image: "Image.Image") -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, "JPEG", quality=QUALITY, optimize=True)
    return buffer.getvalue()
