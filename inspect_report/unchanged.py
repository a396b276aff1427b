"""
Turns files that were reported before and have not changed since into what was said of them then.

What a report was made from and what came of it is noted in the user's cache folder: digests of every file
read and written. Where all of them still hold, and the program is the same, nothing is made anew.
"""

import json
import os
import sys
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import asdict, dataclass
from functools import cache
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING, Final

from inspect_report.places import templates_dir
from inspect_report.version import __version__
from inspect_report.whole import keep_whole

if TYPE_CHECKING:
    from inspect_report.records.inspection import Report
    from inspect_report.records.workshop import Units
    from inspect_report.report.carrying import Carry

_PACKAGE: Final = Path(__file__).resolve().parent
_NOT_READ: Final = "__pycache__"


@dataclass(frozen=True, slots=True)
class Job:
    """What is asked for: the files to report, and everything that decides what is made of them."""

    files: tuple[Path, ...]
    out: Path
    formats: tuple[str, ...]
    kind: "Report | None" = None
    title: str = ""
    templates: Path | None = None
    language: str = ""
    units: "Units" = ""
    carry: "Carry" = "fitting"
    unsigned: bool = False
    replaced_by: Path | None = None

    @property
    def key(self) -> str:
        """One name for the same job from the same folder; what is told of it names files as typed."""
        paths = [str(p) for p in (Path.cwd(), *self.files, self.out, *filter(None, (self.templates,)))]
        told = (str(self.replaced_by or ""), self.language, self.units, self.carry, self.unsigned)
        return sha256(json.dumps([paths, self.formats, self.kind, self.title, *told]).encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class Came:
    """What came of a job: exit code, what was complained of, and the files written."""

    code: int
    complaint: str
    written: tuple[str, ...]


def came_of(job: Job) -> Came | None:
    """What came of a job the last time; None where it was never done, or anything has changed since."""
    with suppress(OSError, ValueError, KeyError, TypeError, AttributeError, RuntimeError):
        note = json.loads(_place(job).read_bytes())
        came = Came(note["came"]["code"], note["came"]["complaint"], tuple(note["came"]["written"]))
        if note["program"] == _program() and came.written and _holds(note["states"]):
            return came
    return None


def remember(job: Job, read: Iterable[Path], came: Came, since: int) -> None:
    """
    Note what came of a job; where the cache folder cannot be written, nothing is lost.

    Args:
        job: The job.
        read: Every file and folder that was read, also such as were looked for and not there.
        came: What came of it.
        since: When reading began, in nanoseconds since the epoch; a file changed later is not vouched for.
    """
    paths = [*read, *filter(None, (job.templates,))]
    with suppress(OSError, RuntimeError):  # the latter where the user has no home
        if any(_changed(path) >= since for path in paths):
            return
        states = {str(p.absolute()): _state(p) for p in (*paths, *map(Path, came.written))}
        note = {"program": _program(), "states": states, "came": asdict(came)}
        keep_whole(_place(job), json.dumps(note).encode())


def _holds(states: dict[str, str]) -> bool:
    return all(_state(Path(name)) == state for name, state in states.items())


def _state(path: Path) -> str:
    """Digest of a file, or of all files of a folder with their names; empty where nothing is there."""
    if path.is_dir():
        inside = sorted(p for p in path.rglob("*") if p.is_file() and _NOT_READ not in p.parts)
        told = "".join(f"{p.relative_to(path)} {_state(p)}\n" for p in inside)
        return sha256(told.encode()).hexdigest()
    return sha256(path.read_bytes()).hexdigest() if path.is_file() else ""


def _changed(path: Path) -> int:
    """When a file, or the newest of a folder, was changed or put there last; 0 where nothing is there."""
    inside = path.rglob("*") if path.is_dir() else ()
    return max((_touched(p) for p in (path, *inside) if p.exists()), default=0)


def _touched(path: Path) -> int:
    """When what is in a file was changed, or the file took this place: a copy can bring an old day along."""
    known = path.stat()
    return max(known.st_mtime_ns, known.st_ctime_ns)


@cache
def _program() -> str:
    """The program and the libraries beside it, by names, sizes and days, without reading them."""
    found = find_spec("weasyprint")
    beside = Path(found.origin).parent.parent.stat().st_mtime_ns if found and found.origin else 0
    files = sorted(
        (str(p), p.stat().st_size, p.stat().st_mtime_ns)
        for home in (_PACKAGE, templates_dir())
        for p in home.rglob("*")
        if _NOT_READ not in p.parts and p.is_file()
    )
    return sha256(repr((__version__, sys.version, beside, files)).encode()).hexdigest()


def _place(job: Job) -> Path:
    home = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(home) / "inspect-report" / f"{job.key}.json"
