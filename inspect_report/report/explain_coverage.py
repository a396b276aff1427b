"""Turns what was and was not looked at into the counts, weights and reasons behind what is said of it."""

from collections.abc import Iterator
from typing import Final

from inspect_report.advise.buyer import Looked
from inspect_report.judge.finding import Finding, Verdict
from inspect_report.report import explain_grade, view_missing
from inspect_report.report.chainlines import Line, Told, points, under
from inspect_report.report.source import Source
from inspect_report.report.words import capital, finding_name, sentence
from inspect_report.telling.manner import message, say, say_count

_NEITHER: Final = message("what was not looked at weighs nothing in any grade, and is neither good nor bad")


def told(source: Source, wanted: str) -> Told | None:
    """Title and chain of the coverage; None for any other id."""
    if wanted != view_missing.COVERAGE:
        return None
    return f"{wanted}: {say('What was looked at, and what was not')}", tuple(_coverage(source))


def _coverage(source: Source) -> Iterator[Line]:
    """Checks by count, the engine by weight, then everything nobody looked at, by reason."""
    yield from explain_grade.checks(source)
    yield from _by_weight(source)
    yield from under(message("no part of"), _unseen(source))
    for reason, found in view_missing.by_reason(source):
        yield message("not seen"), f"{sentence(reason)} {_things(found)}"
    if unasked := view_missing.unasked(source):
        names = "; ".join(f"{name} ({one})" for name, one in unasked.items())
        yield message("not seen"), f"{sentence(say(view_missing.UNASKED))} {names}"
    yield from under(message("failed"), _failed(source))
    yield from under(message("not fitted"), _has_not(source))
    yield message("counts as"), sentence(say(_NEITHER))


def _unseen(source: Source) -> Iterator[str]:
    for grade in view_missing.unseen(source):
        yield say_count(
            "{name}: nothing of it; {count} check at another depth",
            "{name}: nothing of it; {count} checks at another depth",
            grade.beyond_depth,
            name=grade.name,
        )


def _things(found: dict[str, Finding]) -> str:
    names = (f"{name} ({finding.characteristic})" for name, finding in found.items())
    return say_count("{count} thing: {names}", "{count} things: {names}", len(found), names="; ".join(names))


def _failed(source: Source) -> Iterator[str]:
    """Checks of ours that went wrong: what they were to show counts as not inspected."""
    for one in source.a.failures:
        finding = next((f for f in source.of(one.characteristic) if f.position == one.position), None)
        yield f"{capital(finding_name(finding) if finding else one.characteristic)}: {one.message}"


def _has_not(source: Source) -> Iterator[str]:
    for row in view_missing.missing(source, Verdict.NOT_APPLICABLE):
        yield f"{row.name}: {row.reason}"


def _by_weight(source: Source) -> Iterator[Line]:
    """How much was looked at by what a fault in each part would mean."""
    known = source.a.advice.buyer
    if known is None:
        return
    weights = {c.id: c.weight for c in source.a.judged.engine.counted}
    yield from under(
        message("by weight"), (_part(source, p, weights.get(p.assembly, 0)) for p in known.looked)
    )
    if known.engine.share is not None:
        yield (
            "",
            say(
                "together {seen} of {weight}: {share}",
                seen=points(source, known.engine.seen),
                weight=points(source, known.engine.weight),
                share=source.figures.percent(known.engine.share),
            ),
        )


def _part(source: Source, part: Looked, weight: int) -> str:
    if part.share is None:
        return say("{name}: nothing of it weighs anything", name=part.name)
    return say(
        "{name}: {seen} of {all} by weight, {share}; the part counts {weight}: {product}",
        name=part.name,
        seen=points(source, part.seen),
        all=points(source, part.weight),
        share=source.figures.percent(part.share),
        weight=weight,
        product=source.figures.number(weight * part.share, 2),
    )
