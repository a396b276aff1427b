"""Turns an assessment into the list of everything that can be asked why, each with its id."""

import json
from collections.abc import Iterable, Iterator
from typing import Final

from inspect_report.assessment import Assessment
from inspect_report.report.explain import kinds_of_ids, titled_steps
from inspect_report.report.source import Source
from inspect_report.report.view_findings import by_characteristic
from inspect_report.report.words import capital, finding_name
from inspect_report.telling.manner import say, say_count, told_by, word

COLUMN: Final = 44
"""Where titles begin."""


def all_ids(assessment: Assessment) -> str:
    """Everything that can be asked for, one line each, findings by their characteristic; for a terminal."""
    source = Source(assessment)
    with told_by(assessment.workshop):
        kinds = ((kind, _titled(source, ids)) for kind, ids in kinds_of_ids(source).items() if ids)
        lines = [line for kind, ids in kinds for line in _laid_out(kind, ids)]
        return "\n".join((*lines, *_laid_out(say("Findings"), _characteristics(source))))


def all_ids_json(assessment: Assessment) -> str:
    """The same as JSON, every finding on its own: what it is called, and what it is of."""
    source = Source(assessment)
    with told_by(assessment.workshop):
        kinds = {kind: _titled(source, ids) for kind, ids in kinds_of_ids(source).items()}
        findings = ((f.id, f"{finding_name(f)}: {word(f.verdict)}") for f in source.findings.values())
        listed = [
            {"of": some_id, "kind": kind, "title": title}
            for kind, ids in (*kinds.items(), (say("Findings"), findings))
            for some_id, title in ids
        ]
    return json.dumps(listed, ensure_ascii=False, indent=1)


def _titled(source: Source, ids: Iterable[str]) -> Iterator[tuple[str, str]]:
    return ((some_id, titled_steps(source, some_id)[0]) for some_id in ids)


def _laid_out(kind: str, ids: Iterable[tuple[str, str]]) -> Iterator[str]:
    yield f"{kind}"
    yield from (f"  {some_id:<{COLUMN - 3}} {title}" for some_id, title in ids)


def _characteristics(source: Source) -> Iterator[tuple[str, str]]:
    for _, same in by_characteristic(source.a.judged.findings):
        more = say_count(" and {count} place more", " and {count} places more", len(same) - 1)
        yield same[0].id, capital(same[0].name) + (more if len(same) > 1 else "")
