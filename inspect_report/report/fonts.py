"""Turns the folder of shipped fonts into files known to be whole, or into one line that says which is not."""

from functools import cache
from hashlib import sha256
from pathlib import Path

from inspect_report.places import fallback_font, fonts_dir
from inspect_report.records.problem import CannotRender

MEND = "install inspect-report again"


@cache
def whole_fonts() -> tuple[Path, ...]:
    """
    The files of the shipped family, each read and compared with its digest.

    Raises:
        CannotRender: one is missing, cannot be read or is damaged.
    """
    return tuple(_whole(name, digest) for name, digest in _digests().items())


@cache
def fallback() -> Path:
    """
    The font for signs that ours lack.

    Raises:
        CannotRender: it is missing.
    """
    path = fallback_font()
    if not path.is_file():
        raise CannotRender(f"{path}: the font for rare signs is missing; install matplotlib again")
    return path


def _digests() -> dict[str, str]:
    list_of_files = fonts_dir() / "digests.txt"
    try:
        lines = list_of_files.read_text(encoding="ascii").splitlines()
    except OSError as fault:
        raise CannotRender(f"{list_of_files}: cannot be read: {fault.strerror}; {MEND}") from None
    return {name: digest for digest, name in (line.split() for line in lines)}


def _whole(name: str, digest: str) -> Path:
    path = fonts_dir() / name
    try:
        found = sha256(path.read_bytes()).hexdigest()
    except OSError as fault:
        raise CannotRender(f"{path}: the font cannot be read: {fault.strerror}; {MEND}") from None
    if found != digest:
        raise CannotRender(f"{path}: the font is damaged, or not the one that belongs here; {MEND}")
    return path
