"""Turns a case into all that lies before it, near and far: what it follows and what it replaces."""

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from inspect_report.knowledge.case import Case
from inspect_report.knowledge.shelf import load
from inspect_report.records.problem import InvalidInspection, Problem
from inspect_report.records.shape import read_file


@dataclass(frozen=True, slots=True)
class History:
    """Inspections by where they lie; each knows what it replaces."""

    newest: str
    cases: Mapping[str, Case]

    def directly_before(self, where: str) -> tuple[str, ...]:
        """Where the inspections lie that one follows, and the issue that it replaces."""
        return tuple(_directly_before(self.cases[where]))

    def whole(self, where: str) -> Case:
        """
        A case with every inspection before it, near or far, oldest first.

        Raises:
            InvalidInspection: it lies before itself.
        """
        before, waiting = dict[str, Case](), [*self.directly_before(where)]
        for one in waiting:
            if one == where:
                raise InvalidInspection([_circle(where)])
            if one not in before:
                before[one] = self.cases[one]
                waiting.extend(self.directly_before(one))
        by_day = sorted(before.values(), key=lambda case: case.inspection.head.dates.inspected)
        return replace(self.cases[where], earlier=tuple(by_day))


def history_of(newest: Case) -> History:
    """
    All that lies before an inspection.

    Args:
        newest: As loaded from its file: with what it follows, near and far, and with what it replaces.

    Raises:
        InvalidInput: what an inspection before it rests on is at fault or no longer there.
    """
    known = {lies(case): case for case in newest.earlier}
    found: dict[str, Case] = {}
    waiting = [newest]
    for case in waiting:
        where = lies(case)
        if where in found:
            continue
        whole = case if case is newest or _is_whole(case, known) else load(where)
        found[where] = whole
        read_with_it = (*whole.earlier, *((whole.replaced,) if whole.replaced else ()))
        known.update((lies(one), one) for one in read_with_it)
        waiting.extend(known[one] for one in _directly_before(whole))
    return History(lies(newest), found)


def lies(case: Case) -> str:
    """Where the file of an inspection lies, links followed."""
    return os.path.realpath(Path(case.folder) / Path(case.inspection.file).name)


def _is_whole(case: Case, known: Mapping[str, Case]) -> bool:
    """Whether all that lies directly before it was read with it; of an issue replaced nothing was."""
    replaced = case.inspection.head.replaces
    is_read = not (replaced and replaced.file) or bool(case.replaced or case.issued)
    return is_read and all(one in known for one in _directly_before(case))


def _directly_before(case: Case) -> Iterator[str]:
    for name in case.inspection.head.follows:
        yield os.path.realpath(Path(case.folder) / name)
    if case.replaced:
        yield lies(case.replaced)


def _circle(where: str) -> Problem:
    title, mend = (
        "inspection that lies before itself",
        "name the one before it behind 'follows' and 'replaces'",
    )
    place = ("replaces", "file")
    allowed = "an inspection before this one"
    return read_file(Path(where)).problem("V345", title, place, Path(where).name, allowed, mend)
