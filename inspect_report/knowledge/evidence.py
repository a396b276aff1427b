"""Turns a case into what proves a report of it: every file it rests on, and the list of their digests."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from inspect_report.knowledge.case import Case, IssuedReport
from inspect_report.knowledge.grounds import PICTURE, Ground, files_read, grounds
from inspect_report.knowledge.history import History, history_of
from inspect_report.records.bare_picture import bare_picture
from inspect_report.records.manifest import Listed, list_name, list_of, record_of
from inspect_report.records.shape import raw_file

TEMPLATES: Final = "templates-as-used"
"""Where a workshop's own templates lie among the files."""
ENDINGS: Final = (".css", ".html", ".toml")
EARLIER: Final = "record of an earlier inspection"
TEMPLATE: Final = "template"


@dataclass(frozen=True, slots=True)
class Evidence:
    """Every file a report rests on, and the list of their digests; its own SHA-256 is the report's digest."""

    manifest: str
    files: tuple[Ground, ...]
    read: tuple[Path, ...] = ()
    """Every file and folder that was looked into for it, also such as are not there (``files_read``)."""


def evidence(case: Case, templates: Path | None = None) -> Evidence:
    """
    What proves a report.

    Args:
        case: An inspection as loaded from its file.
        templates: Folder of the workshop's own templates, where the report is drawn by them.

    Raises:
        InvalidInput: as ``grounds`` and ``history_of``.
    """
    history = history_of(case)
    files = (*_Records(history).files(history.newest), *_templates(templates))
    return Evidence(_list(files), files, files_read(history.whole(history.newest)))


def _bare(file: Ground) -> Ground:
    """A picture without what the camera wrote into it: place and device are nobody's business."""
    return replace(file, data=bare_picture(file.data) or file.data) if file.kind == PICTURE else file


def _list(files: Iterable[Ground]) -> str:
    return list_of(Listed(file.name, file.digest) for file in files)


class _Records:
    """The records of the inspections of a history, each made once."""

    def __init__(self, history: History) -> None:
        self._history = history
        self._made: dict[str, Ground] = {}

    def files(self, where: str) -> tuple[Ground, ...]:
        """The files of an inspection and of all before it, and the records of those directly before it."""
        case = self._history.whole(where)
        records = (self._record(one) for one in self._history.directly_before(where))
        return (*map(_bare, grounds(case)), *records, *(_as_sent_out(case.issued) if case.issued else ()))

    def _record(self, where: str) -> Ground:
        if where not in self._made:
            head = self._history.cases[where].inspection.head
            record = record_of(_list(self.files(where)))
            self._made[where] = Ground(EARLIER, list_name(head.inspection, head.issue), record.encode())
        return self._made[where]


def _as_sent_out(report: IssuedReport) -> Iterator[Ground]:
    """The record in a JSON report; one made before reports had a list has none."""
    said = json.loads(report.text)
    manifest = said.get("manifest")
    if isinstance(manifest, str) and manifest:
        head = said["inspection"]["head"]
        name = list_name(head["inspection"], head["issue"])
        yield Ground(EARLIER, name, record_of(manifest).encode())


def _templates(folder: Path | None) -> Iterator[Ground]:
    """The workshop's own templates and style sheets; what else lies in the folder is not used."""
    for path in sorted(folder.rglob("*")) if folder else ():
        place = path.relative_to(folder or path)
        if path.suffix in ENDINGS and path.is_file() and "__pycache__" not in place.parts:
            yield Ground(TEMPLATE, f"{TEMPLATES}/{place.as_posix()}", raw_file(path))
