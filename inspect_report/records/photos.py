"""Turns the pictures an inspection names into faults where one is missing, elsewhere, or no picture."""

import warnings
from pathlib import Path as FilePath
from typing import Final

from inspect_report.records.faults import Faults
from inspect_report.records.problem import Place

MOST_PIXELS: Final = 50_000_000
_TAKEN: Final = "a JPEG, PNG or WebP picture"


def check_photo(name: str, folder: FilePath, place: Place, faults: Faults) -> None:
    """
    Note a fault where a picture cannot be shown.

    Args:
        name: As written, relative to the folder.
        folder: The inspection's own folder; nothing outside it is opened.
        place: Where the name stands in the file.
        faults: Takes the fault.
    """
    if not _is_inside(name, folder):
        faults.add_at(
            "V351",
            "picture outside the inspection's folder",
            place,
            name,
            "a file in the folder of the inspection, or below it",
            "copy the picture beside the inspection and write its name",
        )
    elif not _is_file(folder / name):
        faults.add_at(
            "V352",
            "picture that is not there",
            place,
            name or "an empty text",
            f"a file in {folder.name or 'the folder of the inspection'}",
            "check spelling and capitals, or copy the picture there",
        )
    else:
        _check_picture(folder / name, name, place, faults)


def _is_file(path: FilePath) -> bool:
    try:
        return path.is_file()
    except PermissionError:
        return True  # told when it is opened
    except OSError:  # a name too long
        return False


def _is_inside(name: str, folder: FilePath) -> bool:
    if "\0" in name or "\\" in name or FilePath(name).is_absolute() or ".." in FilePath(name).parts:
        return False
    try:
        return (folder / name).resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError):  # a link that leads to itself
        return False


def _check_picture(file: FilePath, name: str, place: Place, faults: Faults) -> None:
    """Read the whole picture once: a file cut short is only noticed at its end."""
    # The three formats named here keep Pillow from loading its forty others.
    from PIL import (
        Image,
        ImageFile,
        JpegImagePlugin,
        PngImagePlugin,
        UnidentifiedImageError,
        WebPImagePlugin,
    )

    formats = (
        JpegImagePlugin.JpegImageFile.format,
        PngImagePlugin.PngImageFile.format,
        WebPImagePlugin.WebPImageFile.format,
    )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(file, formats=formats) as picture:
                if _too_large(picture.size, name, place, faults):
                    return
                # Making a PDF before may have told the library to take half pictures for whole ones.
                ImageFile.LOAD_TRUNCATED_IMAGES = False
                picture.load()
    except (Image.DecompressionBombWarning, Image.DecompressionBombError):
        _tell_too_large("far too many", name, place, faults)
    except PermissionError:
        mend = "let yourself read the file and enter its folder"
        faults.add_at("V353", "picture that may not be read", place, name, _TAKEN, mend)
    except UnidentifiedImageError:
        mend = "save it in one of these formats; a new ending alone does not change a file"
        faults.add_at("V353", "not a picture that can be shown", place, name, _TAKEN, mend)
    except (OSError, SyntaxError, ValueError):
        mend = "copy it again from the camera; the file is damaged or cut short"
        faults.add_at("V353", "picture that cannot be read to its end", place, name, _TAKEN, mend)


def _too_large(size: tuple[int, int], name: str, place: Place, faults: Faults) -> bool:
    if size[0] * size[1] <= MOST_PIXELS:
        return False
    _tell_too_large(f"{size[0]} × {size[1]}", name, place, faults)
    return True


def _tell_too_large(pixels: str, name: str, place: Place, faults: Faults) -> None:
    allowed = f"at most {MOST_PIXELS // 1_000_000} million"
    faults.add_at("V354", f"picture of {pixels} pixels", place, name, allowed, "save it smaller")
