"""Turns the pictures an inspection names into faults where one is missing, elsewhere, or no picture."""

import warnings
from datetime import date
from pathlib import Path as FilePath
from typing import Final

from inspect_report.records.faults import Faults
from inspect_report.records.inspection import InspectionHead, Photo
from inspect_report.records.problem import Place
from inspect_report.records.yaml import Path

MOST_PIXELS: Final = 50_000_000
LEAST_SIDE: Final = 400
"""Pixels of the longer side below which a photo, printed 85 mm wide, shows its pixels: 120 to the inch."""
MOST_SLENDER: Final = 6
"""How many times longer than the other one side of a photo may be and still fill its place."""
_TAKEN: Final = "a JPEG, PNG or WebP picture"


def check_photos(head: InspectionHead, folder: FilePath, faults: Faults) -> None:
    """Note photos that cannot be shown or printed sharply, and pairs that are none."""
    for i, photo in enumerate(head.photos):
        path: Path = ("photos", i)
        _check_sharp(photo.file, folder, (*path, "file"), faults)
        taken = photo.taken or head.dates.inspected
        if photo.taken and photo.taken > head.dates.issued:
            _not_yet(photo.taken, head.dates.issued, (*path, "taken"), faults)
        if photo.before is not None:
            _check_sharp(photo.before.file, folder, (*path, "before", "file"), faults)
            _check_pair(photo, taken, (*path, "before"), faults)


def _not_yet(taken: date, issued: date, path: Path, faults: Faults) -> None:
    allowed = f"{issued}, when the report is issued, or before"
    faults.add("V364", "photo taken after the report", path, str(taken), allowed, "correct the day")


def _check_pair(photo: Photo, taken: date, path: Path, faults: Faults) -> None:
    before = photo.before
    if before is None:
        return
    if before.taken > taken:
        faults.add(
            "V365",
            "earlier photo taken after the later one",
            (*path, "taken"),
            str(before.taken),
            f"{taken} or before, the day of the later one",
            "exchange the two photos, or give the later one its day with 'taken'",
        )
    if before.file == photo.file:
        faults.add(
            "V366",
            "pair of one photo",
            (*path, "file"),
            before.file,
            f"another photo than {photo.file}",
            "name the earlier photo, or delete 'before'",
        )


def _check_sharp(name: str, folder: FilePath, path: Path, faults: Faults) -> None:
    size = check_photo(name, folder, faults.document.place(path), faults)
    if size is None:
        return
    longer, shorter = max(size), min(size)
    if longer < LEAST_SIDE or longer > MOST_SLENDER * shorter:
        faults.add_warning(
            "V367",
            "photo too small to be printed sharply" if longer < LEAST_SIDE else "photo too slender to print",
            path,
            f"{name}, {size[0]} × {size[1]} pixels",
            f"{LEAST_SIDE} pixels or more along one side, and that at most {MOST_SLENDER} times the other",
            "take the picture as the camera gave it, not a small copy, and cut it less",
        )


def check_photo(name: str, folder: FilePath, place: Place, faults: Faults) -> tuple[int, int] | None:
    """
    Note a fault where a picture cannot be shown.

    Args:
        name: As written, relative to the folder.
        folder: The inspection's own folder; nothing outside it is opened.
        place: Where the name stands in the file.
        faults: Takes the fault.

    Returns:
        Width and height in pixels as stored; None where a fault was noted.
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
        return _checked_picture(folder / name, name, place, faults)
    return None


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
    except (OSError, RuntimeError):  # a link that leads to itself, and is no file: Python 3.13 says it so
        return True


def _checked_picture(file: FilePath, name: str, place: Place, faults: Faults) -> tuple[int, int] | None:
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
        with warnings.catch_warnings(action="ignore"):
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(file, formats=formats) as picture:
                if _too_large(picture.size, name, place, faults):
                    return None
                # Making a PDF before may have told the library to take half pictures for whole ones.
                ImageFile.LOAD_TRUNCATED_IMAGES = False
                picture.load()
                return picture.size
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
    return None


def _too_large(size: tuple[int, int], name: str, place: Place, faults: Faults) -> bool:
    if size[0] * size[1] <= MOST_PIXELS:
        return False
    _tell_too_large(f"{size[0]} × {size[1]}", name, place, faults)
    return True


def _tell_too_large(pixels: str, name: str, place: Place, faults: Faults) -> None:
    allowed = f"at most {MOST_PIXELS // 1_000_000} million"
    faults.add_at("V354", f"picture of {pixels} pixels", place, name, allowed, "save it smaller")
