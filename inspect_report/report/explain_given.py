"""Turns what the first page tells as it was written into the lines of the inspection file where it stands."""

from collections.abc import Iterator

from inspect_report.records.problem import Place
from inspect_report.report import view_front
from inspect_report.report.source import Source
from inspect_report.report.words import sentence
from inspect_report.telling.manner import message, say

Line = tuple[str, str]
Told = tuple[str, tuple[Line, ...]]


def told(source: Source, wanted: str) -> Told | None:
    """Title and chain of what was given; None for any other id."""
    if wanted != view_front.GIVEN:
        return None
    return f"{wanted}: {say('As it stands in the inspection file')}", tuple(_given(source))


def _given(source: Source) -> Iterator[Line]:
    """The facts of the first page, then what was said and answered, each with its lines in the file."""
    facts = (*view_front.engine_given(source), *view_front.people_given(source))
    for n, (label, text, keys) in enumerate(facts):
        yield message("facts") if n == 0 else "", f"{label}: {text}{_lines(source, *keys)}"
    head = source.a.inspection.head
    for label, told_as, keys in (
        (message("as told"), head.engine.history, ("engine.history",)),
        (message("answer"), head.answer, ("answer",)),
        (message("replaces"), view_front.replaces(source), ("replaces.issue", "replaces.reason")),
    ):
        if told_as:
            yield label, f"{sentence(told_as)}{_lines(source, *keys)}"


def _lines(source: Source, *keys: str) -> str:
    """Where some keys stand; nothing in an assessment made before that was kept."""
    inspection = source.a.inspection
    lines = dict.fromkeys(inspection.head_lines[k] for k in keys if k in inspection.head_lines)
    places = ", ".join(source.at(Place(inspection.file, line, 1)) for line in lines)
    return f" ({places})" if places else ""
