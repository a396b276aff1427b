"""Turns findings that changed between two issues into the rows that tell how they stood and stand now."""

from collections.abc import Sequence

from inspect_report.advise.advice import Changes, FindingChange
from inspect_report.judge.finding import Finding
from inspect_report.report.quoteparts import ChangeView
from inspect_report.report.source import Source
from inspect_report.report.view_findings import found_words
from inspect_report.report.words import capital, is_present, places_words, seen_words
from inspect_report.telling.manner import lowered, say, word


def counts(found: Changes) -> str:
    """How many findings are beyond their limits and how many checks graded; empty where neither changed."""
    if found.beyond[0] == found.beyond[1] and found.graded[0] == found.graded[1]:
        return ""
    return say(
        "Findings beyond the limit: {beyond}, before {beyond_before}. Checks graded: {graded}, before "
        "{graded_before}.",
        beyond=found.beyond[1],
        beyond_before=found.beyond[0],
        graded=found.graded[1],
        graded_before=found.graded[0],
    )


def findings(source: Source, changed: Sequence[FindingChange]) -> tuple[ChangeView, ...]:
    """Findings that changed, places of one characteristic that changed alike together."""
    gathered: dict[tuple[str, ...], list[FindingChange]] = {}
    for change in changed:
        gathered.setdefault(_kind(change), []).append(change)
    return tuple(_row(source, alike) for alike in gathered.values())


def kinds(changed: Sequence[FindingChange]) -> list[str]:
    """The names of what changed, each once."""
    return list(dict.fromkeys(lowered(_known(change).name) for change in changed))


def _known(change: FindingChange) -> Finding:
    """The one of the two that names its place most exactly; the later of two alike."""
    known = [f for f in (change.now, change.before) if f is not None]
    return max(known, key=lambda f: len(f.position.axes))


def _kind(change: FindingChange) -> tuple[str, ...]:
    sides = [
        (str(f.verdict), "; ".join(map(seen_words, f.seen)), ", ".join(f.chosen)) if f else ("",)
        for f in (change.before, change.now)
    ]
    return (_known(change).characteristic, change.why, *sides[0], *sides[1])


def _row(source: Source, alike: Sequence[FindingChange]) -> ChangeView:
    where = places_words([_known(c).position for c in alike])
    name = capital(_known(alike[0]).name)
    before = _told(source, [c.before for c in alike if c.before is not None])
    now = _told(source, [c.now for c in alike if c.now is not None])
    what = name if where == "engine" else f"{name}, {where}"
    return ChangeView(what, before, now, capital(alike[0].why), "")


def _told(source: Source, alike: Sequence[Finding]) -> str:
    """What was found, with its verdict; of what was not looked at the verdict alone."""
    if not alike:
        return "–"
    verdict = word(alike[0].verdict)
    return f"{found_words(source.figures, alike)}, {verdict}" if is_present(alike[0]) else capital(verdict)
