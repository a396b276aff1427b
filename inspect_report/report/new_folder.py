"""Turns files into a new folder that has its name once all of them are in it, and never before."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from inspect_report.records.problem import CannotRender


def is_taken(out: Path) -> bool:
    """Whether something stands where a new folder is wanted; an empty folder may be used."""
    return out.exists() and (not out.is_dir() or any(out.iterdir()))


@contextmanager
def begun(out: Path) -> Iterator[Path]:
    """
    A folder beside the one asked for, which takes its name where all went well and goes where not.

    Args:
        out: The folder asked for, not taken.

    Raises:
        CannotRender: it cannot be written.
    """
    folder = None
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        folder = Path(tempfile.mkdtemp(prefix=".", suffix=".part", dir=out.parent))
        folder.chmod(0o755)
        yield folder
        os.replace(folder, out)
    except OSError as fault:
        raise CannotRender(f"{out}: cannot be written to: {fault.strerror or fault}") from None
    finally:
        if folder is not None:
            shutil.rmtree(folder, ignore_errors=True)
