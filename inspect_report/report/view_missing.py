"""Turns findings of what nobody looked at into what a report says of it: all of it, and in short."""

from collections.abc import Iterable, Sequence

from inspect_report.judge.finding import Finding, Verdict
from inspect_report.records.position import Position
from inspect_report.report.figures import joined
from inspect_report.report.reportparts import MissingGroup, MissingView
from inspect_report.report.source import Source
from inspect_report.report.view_findings import by_characteristic
from inspect_report.report.words import capital, where_words
from inspect_report.telling.manner import lowered, say
from inspect_report.telling.positions import plain_name


def missing(source: Source, verdict: Verdict) -> tuple[MissingView, ...]:
    """Everything with one of the two verdicts of absence: singly, and by assembly where deeper."""
    absent = [f for f in source.a.judged.findings if f.verdict is verdict]
    rows: list[MissingView] = []
    for _, same in by_characteristic(f for f in absent if not f.outside_depth):
        for reason, places in _by_reason(same):
            rows.append(MissingView(capital(same[0].name), _missing_where(source, same[0], places), reason))
    return (*rows, *_deeper([f for f in absent if f.outside_depth], source))


def _deeper(findings: Sequence[Finding], source: Source) -> Iterable[MissingView]:
    """What a deeper strip-down would show, by assembly and depth."""
    gathered: dict[tuple[str, str], dict[str, None]] = {}
    for finding in findings:
        grade = source.grades.get(finding.assembly)
        name = grade.name if grade else plain_name(finding.assembly)
        gathered.setdefault((name, finding.reason), {})[lowered(finding.name)] = None
    for (assembly, reason), names in gathered.items():
        yield MissingView(assembly, capital(", ".join(names)), reason)


def _by_reason(findings: Iterable[Finding]) -> Iterable[tuple[str, list[Position]]]:
    gathered: dict[str, list[Position]] = {}
    for finding in findings:
        gathered.setdefault(finding.reason, []).append(finding.position)
    return gathered.items()


def _missing_where(source: Source, finding: Finding, places: list[Position]) -> str:
    words = where_words(places, source.everywhere[finding.characteristic])
    return say("all of it") if words == "engine" else words


def missing_groups(source: Source, most: int = 4) -> tuple[MissingGroup, ...]:
    """What was not looked at, by reason, the reason with most of it first; for the first page."""
    gathered: dict[str, dict[str, None]] = {}
    for finding in source.a.judged.findings:
        if finding.verdict is Verdict.NOT_INSPECTED:
            gathered.setdefault(finding.reason, {})[lowered(finding.name)] = None
    ordered = sorted(gathered.items(), key=lambda kv: -len(kv[1]))
    return tuple(MissingGroup(capital(r), _some(list(names))) for r, names in ordered[:most])


def _some(names: list[str], most: int = 6) -> str:
    if len(names) <= most:
        return joined(names)
    return say("{list} and {count} more", list=", ".join(names[:most]), count=len(names) - most)
