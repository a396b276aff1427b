"""
Turns templates into compiled ones that are kept beside them, as Python keeps its own modules.

Kept in ``__pycache__`` of the shipped templates under the name and digest of each source, so that a changed
template is compiled anew; where nothing may be written there, each run compiles.
"""

import sys
from io import BytesIO
from pathlib import Path

from jinja2 import BytecodeCache
from jinja2.bccache import Bucket

from inspect_report.places import templates_dir
from inspect_report.whole import keep_whole


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
        compiled = BytesIO()
        bucket.write_bytecode(compiled)
        keep_whole(self._place(bucket), compiled.getvalue())

    def _place(self, bucket: Bucket) -> Path:
        return self.folder / f"{bucket.key}.{sys.implementation.cache_tag}.template"
