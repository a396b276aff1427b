"""Turns picture files into clean upright JPEG data for a page, without place or camera."""

import io
import warnings
from base64 import b64encode
from pathlib import Path
from typing import TYPE_CHECKING, Final

from inspect_report.records.problem import CannotRender

if TYPE_CHECKING:
    from PIL import Image

MOST_PIXELS: Final = 50_000_000
FORMATS: Final = ("JPEG", "PNG", "WEBP")
QUALITY: Final = 82


def photo_uri(path: Path, longest: int) -> str:
    """
    A photo as a JPEG data address.

    Args:
        path: JPEG, PNG or WebP file of 50 million pixels at most.
        longest: Longest side allowed; a smaller picture keeps its size. [pixel]

    Raises:
        CannotRender: the file cannot be read, is no picture, is cut short or too large.
    """
    return f"data:image/jpeg;base64,{b64encode(clean_jpeg(path, longest)).decode()}"


def clean_jpeg(path: Path, longest: int) -> bytes:
    """The picture turned upright, scaled down and rebuilt from its pixels alone."""
    from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

    # The PDF library lets half pictures pass, for the whole process; here they are faults.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        with warnings.catch_warnings(), Image.open(path, formats=FORMATS) as opened:
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            if opened.width * opened.height > MOST_PIXELS:
                raise CannotRender(f"{path}: larger than 50 million pixels; scale the picture down")
            opened.draft("RGB", (longest, longest))
            upright = ImageOps.exif_transpose(opened)
            upright.thumbnail((longest, longest))
            return _rebuilt(upright)
    except UnidentifiedImageError:
        raise CannotRender(f"{path}: not a JPEG, PNG or WebP picture") from None
    except (OSError, Image.DecompressionBombError, SyntaxError, ValueError) as fault:
        raise CannotRender(f"{path}: the picture cannot be read: {fault}") from None


def _rebuilt(image: "Image.Image") -> bytes:
    """Only the pixels, on white where the picture was see-through."""
    from PIL import Image

    clean = Image.new("RGB", image.size, "white")
    seen = image.convert("RGBA")
    clean.paste(seen, mask=seen.getchannel("A"))
    buffer = io.BytesIO()
    clean.save(buffer, "JPEG", quality=QUALITY, optimize=True)
    return buffer.getvalue()
