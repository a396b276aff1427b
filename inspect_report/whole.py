"""Turns bytes into a file that is kept for the next run, whole or not at all."""

import os
from pathlib import Path


def keep_whole(place: Path, data: bytes) -> None:
    """
    Keep a file beside its place first, then rename it, so that nobody reads half of it.

    Args:
        place: The file; its folder is made where it is missing. What cannot be written is not kept: whoever
            keeps a file can make it again.
        data: Its bytes.
    """
    beside = place.with_suffix(f".{os.getpid()}.part")
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        beside.write_bytes(data)
        os.replace(beside, place)
    except OSError:
        _drop(beside)


def _drop(beside: Path) -> None:
    try:
        beside.unlink(missing_ok=True)
    except OSError:
        return  # its folder is a file, or may not be looked into
