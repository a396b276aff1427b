"""Turns a case into what proves a report of it: every file it rests on, and the list of their digests."""

import json
import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from inspect_report.knowledge.case import Case, IssuedReport
from inspect_report.knowledge.grounds import Ground, grounds
from inspect_report.knowledge.shelf import load
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


def evidence(case: Case, templates: Path | None = None) -> Evidence:
    """
    What proves a report.

    Args:
        case: An inspection as loaded from its file.
        templates: Folder of the workshop's own templates, where the report is drawn by them.

    Raises:
        InvalidInput: as ``grounds``.
    """
    files = (*_Records(case).files(case), *_templates(templates))
    return Evidence(_list(files), files)


def _list(files: Iterable[Ground]) -> str:
    return list_of(Listed(file.name, file.digest) for file in files)


class _Records:
    """The records of the inspections before one, each made once."""

    def __init__(self, newest: Case) -> None:
        self._known = {_where(one): one for one in newest.earlier}
        self._made: dict[str, Ground] = {}

    def files(self, case: Case) -> tuple[Ground, ...]:
        """The files of a case, and the records of what lies directly before it."""
        return (*grounds(case), *self._before(case))

    def _before(self, case: Case) -> Iterator[Ground]:
        for one in self._followed(case):
            yield self._record(one)
        if case.replaced:
            yield _named(case.replaced, evidence(load(_where(case.replaced))).manifest)
        if case.issued:
            yield from _as_sent_out(case.issued)

    def _record(self, case: Case) -> Ground:
        where = _where(case)
        if where not in self._made:
            self._made[where] = _named(case, self._manifest(case, where))
        return self._made[where]

    def _manifest(self, case: Case, where: str) -> str:
        if case.inspection.head.replaces and case.inspection.head.replaces.file:
            # Only the newest inspection was read with the issue that it replaces.
            return evidence(load(where)).manifest
        return _list(self.files(replace(case, earlier=self._all_before(case))))

    def _followed(self, case: Case) -> Iterator[Case]:
        for name in case.inspection.head.follows:
            yield self._known[os.path.realpath(Path(case.folder) / name)]

    def _all_before(self, case: Case) -> tuple[Case, ...]:
        """Every inspection that one follows, near or far, oldest first."""
        found, waiting = dict[str, Case](), [*self._followed(case)]
        for one in waiting:
            if _where(one) not in found:
                found[_where(one)] = one
                waiting.extend(self._followed(one))
        return tuple(sorted(found.values(), key=lambda one: one.inspection.head.dates.inspected))


def _where(case: Case) -> str:
    return os.path.realpath(Path(case.folder) / Path(case.inspection.file).name)


def _named(case: Case, manifest: str) -> Ground:
    head = case.inspection.head
    return Ground(EARLIER, list_name(head.inspection, head.issue), record_of(manifest).encode())


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
    paths = sorted(folder.rglob("*")) if folder else ()
    for path in paths:
        if path.suffix in ENDINGS and path.is_file() and folder:
            name = f"{TEMPLATES}/{path.relative_to(folder).as_posix()}"
            yield Ground(TEMPLATE, name, raw_file(path))
