"""Turns bytes into files, all of them whole or none: written beside their place first, then renamed."""

import gc
import os
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from inspect_report.records.problem import CannotRender


def write_all(contents: Mapping[Path, bytes], *, private: bool = False) -> tuple[Path, ...]:
    """
    Write files; a fault leaves what was there before.

    Args:
        contents: Bytes by the file they go to; folders are made where they are missing.
        private: Whether nobody but the user may read them.

    Returns:
        The files, in the order given.

    Raises:
        CannotRender: a folder cannot be written to, or the disk is full.
    """
    waiting: list[tuple[Path, Path]] = []
    try:
        for place, data in contents.items():
            place.parent.mkdir(parents=True, exist_ok=True)
            waiting.append((_beside(place.parent, data, 0o600 if private else 0o644), place))
        for beside, place in waiting:
            os.replace(beside, place)
    except (FileExistsError, NotADirectoryError):
        where = next(iter(contents)).parent
        raise CannotRender(
            f"{where}: cannot be written to: it is a file, or lies in one; name a folder"
        ) from None
    except OSError as fault:
        where = next(iter(contents)).parent
        raise CannotRender(f"{where}: cannot be written to: {fault.strerror or fault}") from None
    finally:
        for beside, _ in waiting:
            beside.unlink(missing_ok=True)
    return tuple(contents)


def _beside(folder: Path, data: bytes, rights: int) -> Path:
    """A new file in the folder with these bytes, removed again when they do not fit."""
    handle, name = tempfile.mkstemp(prefix=".", suffix=".part", dir=folder)
    path = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        path.chmod(rights)
    except BaseException:
        path.unlink(missing_ok=True)
        raise
    return path


def safe_name(text: str) -> str:
    """Text as a file name: letters, figures, point, hyphen and underscore; never hidden, never empty."""
    kept = "".join(c if c.isalnum() or c in "-_." else "-" for c in text.strip())
    return kept.strip(".-")[:120] or "report"


@contextmanager
def collector_at_rest() -> Iterator[None]:
    """No search for garbage: charts and layout live until the files are written, so it would find none."""
    ran = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if ran:
            gc.enable()
