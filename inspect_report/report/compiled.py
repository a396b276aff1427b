"""
Turns templates into compiled ones that are kept beside them, as Python keeps its own modules.

Kept in ``__pycache__`` of the shipped templates under the name and digest of each source, so that a changed
template is compiled anew; where nothing may be written there, each run compiles.
"""

import os
import sys
from pathlib import Path

from jinja2 import BytecodeCache
from jinja2.bccache import Bucket

from inspect_report.places import templates_dir


class Compiled(BytecodeCache):
    """Where the template library finds and leaves what it compiled."""

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or templates_dir() / "__pycache__"

    def load_bytecode(self, bucket: Bucket) -> None:
        """Give what is kept of a template; the library itself sees whether it is of this source."""
        try:
            with self._place(bucket).open("rb") as file:
                bucket.load_bytecode(file)
        except (OSError, EOFError, ValueError, TypeError):
            bucket.reset()

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep a compiled template, whole or not at all."""
        if sys.dont_write_bytecode:
            return
        place = self._place(bucket)
        beside = place.with_suffix(f".{os.getpid()}.part")
        try:
            self.folder.mkdir(exist_ok=True)
            with beside.open("wb") as file:
                bucket.write_bytecode(file)
            os.replace(beside, place)
        except OSError:
            beside.unlink(missing_ok=True)

    def _place(self, bucket: Bucket) -> Path:
        return self.folder / f"{bucket.key}.{sys.implementation.cache_tag}.template"
