"""Turns findings of what nobody looked at into what a report says of it: all of it, and in short."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from inspect_report.judge.finding import Finding, Grade, Verdict
from inspect_report.records.position import Position
from inspect_report.report.figures import joined
from inspect_report.report.reportparts import MissingGroup, MissingView
from inspect_report.report.source import Source
from inspect_report.report.view_findings import by_characteristic
from inspect_report.report.view_lines import known_as
from inspect_report.report.words import capital, where_words
from inspect_report.telling.manner import lowered, message, say
from inspect_report.telling.positions import plain_name

COVERAGE: Final = "coverage"
"""The id by which the chain behind what was and was not looked at is asked for."""
MOST_REASONS: Final = 4
"""How many reasons the first page tells."""
UNASKED: Final = message("the checklist used does not ask for it; the price of a job depends on it")
NOTHING_LOOKED_AT: Final = message("nothing at all was looked at of these")


def missing(source: Source, verdict: Verdict) -> tuple[MissingView, ...]:
    """
    Everything with one of the two verdicts of absence: singly, and by assembly where deeper.

    To what was not inspected belongs what the checklist does not ask for, where a price depends on it.
    """
    absent = [f for f in source.a.judged.findings if f.verdict is verdict]
    rows: list[MissingView] = []
    for _, same in by_characteristic(f for f in absent if not f.outside_depth):
        for reason, places in _by_reason(same):
            where = _missing_where(source, same[0], places)
            rows.append(MissingView(_titled(source, same[0], places), where, reason))
    if verdict is Verdict.NOT_INSPECTED:
        rows += [MissingView(capital(name), say("all of it"), say(UNASKED)) for name in unasked(source)]
    return (*rows, *_deeper([f for f in absent if f.outside_depth], source))


def unasked(source: Source) -> dict[str, str]:
    """What prices of jobs depend on and no checklist asked for: ids of characteristics by name."""
    awaited = (c for w in source.a.advice.work if not w.covered_by for c in w.awaits)
    return {known_as(source, c): c for c in awaited if not source.of(c)}


def _deeper(findings: Sequence[Finding], source: Source) -> Iterable[MissingView]:
    """What a deeper strip-down would show, by assembly and depth."""
    gathered: dict[tuple[str, str], dict[str, None]] = {}
    for finding in findings:
        grade = source.grades.get(finding.assembly)
        name = grade.name if grade else plain_name(finding.assembly)
        gathered.setdefault((name, finding.reason), {})[lowered(finding.name)] = None
    for (assembly, reason), names in gathered.items():
        yield MissingView(assembly, capital(joined(list(names))), reason)


def _by_reason(findings: Iterable[Finding]) -> Iterable[tuple[str, list[Position]]]:
    gathered: dict[str, list[Position]] = {}
    for finding in findings:
        gathered.setdefault(finding.reason, []).append(finding.position)
    return gathered.items()


def _titled(source: Source, finding: Finding, places: list[Position]) -> str:
    """The name of what the engine does not have, with its places where it has others; else the name alone."""
    name = capital(finding.name)
    if finding.verdict is not Verdict.NOT_APPLICABLE or len(places) == len(source.of(finding.characteristic)):
        return name
    return f"{name}, {where_words(places, source.everywhere[finding.characteristic])}"


def _missing_where(source: Source, finding: Finding, places: list[Position]) -> str:
    words = where_words(places, source.everywhere[finding.characteristic])
    return say("all of it") if words == "engine" else words


def missing_groups(source: Source) -> tuple[MissingGroup, ...]:
    """
    What was not looked at, for the first page.

    First the assemblies nobody looked into, then the rest by reason, the reason with most of it first; what
    is much is told by its assemblies.
    """
    reasons = by_reason(source)[:MOST_REASONS]
    rest = [MissingGroup(r, capital(_some(source, found))) for r, found in reasons]
    if names := unasked(source):
        rest.append(MissingGroup(say(UNASKED), capital(joined(list(names)))))
    nowhere = "; ".join(lowered(g.name) for g in unseen(source))
    return (*([MissingGroup(say(NOTHING_LOOKED_AT), capital(nowhere))] if nowhere else []), *rest)


def unseen(source: Source) -> tuple[Grade, ...]:
    """The assemblies nobody looked into."""
    return tuple(g for g in source.a.judged.grades if _is_unseen(g))


def by_reason(source: Source) -> list[tuple[str, dict[str, Finding]]]:
    """What else was not looked at: findings by name, by reason, the reason with most of it first."""
    nowhere = {g.assembly for g in unseen(source)}
    gathered: dict[str, dict[str, Finding]] = {}
    for finding in source.a.judged.findings:
        if finding.verdict is Verdict.NOT_INSPECTED and finding.assembly not in nowhere:
            gathered.setdefault(finding.reason, {})[lowered(finding.name)] = finding
    return sorted(gathered.items(), key=lambda kv: -len(kv[1]))


def _is_unseen(grade: Grade) -> bool:
    """Whether all that is to see of an assembly needs a deeper strip-down."""
    return not grade.used and not grade.planned and bool(grade.beyond_depth)


def _name_and_where(source: Source, name: str, one: Finding) -> str:
    """The name of what was not looked at, with its places where others of it were."""
    same = source.of(one.characteristic)
    places = [f.position for f in same if f.verdict is one.verdict and f.reason == one.reason]
    if len(places) == len(same):
        return name
    return f"{name} ({where_words(places, source.everywhere[one.characteristic])})"


def _some(source: Source, found: Mapping[str, Finding], most: int = 6) -> str:
    if len(found) <= most:
        return joined([_name_and_where(source, name, one) for name, one in found.items()])
    parts = dict.fromkeys(lowered(g.name) for f in found.values() if (g := source.grades.get(f.assembly)))
    return say("{count} things of: {parts}", count=len(found), parts="; ".join(parts))
