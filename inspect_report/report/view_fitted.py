"""Turns the parts fitted at several inspections into where each is and was, and for how long it ran."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from inspect_report.assessment import Assessment
from inspect_report.judge.past import running_time
from inspect_report.records.inspection import FittedPart
from inspect_report.records.position import Position
from inspect_report.report.figures import joined
from inspect_report.report.reportview import PartsRow, PartsView
from inspect_report.report.source import Source
from inspect_report.report.words import capital, sentence
from inspect_report.telling.manner import lowered, message, say, thing
from inspect_report.telling.positions import place_words

KINDS: Final = {
    "barrel": message("Barrel"),
    "piston": message("Piston"),
    "ring-set": message("Ring set"),
    "crankshaft": message("Crankshaft"),
    "rod": message("Connecting rod"),
    "head": message("Cylinder head"),
    "camshaft": message("Camshaft"),
    "cam-chain": message("Timing chain"),
    "timing-gears": message("Timing gears"),
    "reeds": message("Reeds"),
}
"""Kinds of parts that the shipped books follow; one of an own book is told by its id."""


@dataclass(frozen=True, slots=True)
class _Stay:
    """A part as one inspection found it."""

    part: FittedPart
    engine: str
    engine_time: float | None
    is_latest: bool
    """Whether it is the latest inspection of that engine."""


def parts(ordered: Sequence[Assessment], engines: Mapping[str, str]) -> PartsView | None:
    """
    Every part that some inspections name; None where they name none.

    Args:
        ordered: Inspections, oldest first.
        engines: Short names of the engines by their serial numbers, in the order they are told in.
    """
    found: dict[tuple[str, str], list[_Stay]] = {}
    for stay in _stays(ordered):
        found.setdefault((stay.part.part, stay.part.id), []).append(stay)
    if not found:
        return None
    source, kinds = Source(ordered[-1]), list(dict.fromkeys(kind for kind, _ in found))
    there = [s for s in found.values() if _is_in(s[-1])]
    gone = [_gone(source, s, engines) for s in found.values() if not _is_in(s[-1])]
    return PartsView(
        kinds=tuple(_kind(kind) for kind in kinds),
        rows=tuple(_row(source, serial, kinds, there, engines) for serial in engines),
        gone=sentence("; ".join(gone)) if gone else "",
    )


def _stays(ordered: Sequence[Assessment]) -> Iterator[_Stay]:
    latest = {a.inspection.head.engine.serial: a.inspection.number for a in ordered}
    for head in (a.inspection.head for a in ordered):
        serial = head.engine.serial
        is_latest = latest[serial] == head.inspection
        yield from (_Stay(p, serial, head.engine.running_time, is_latest) for p in head.fitted_parts)


def _is_in(stay: _Stay) -> bool:
    return stay.is_latest and not stay.part.taken_out


def _row(
    source: Source,
    serial: str,
    kinds: Sequence[str],
    there: Sequence[Sequence[_Stay]],
    engines: Mapping[str, str],
) -> PartsRow:
    own = [s for s in there if s[-1].engine == serial]
    cells = (tuple(_fitted(source, s, engines) for s in own if s[-1].part.part == kind) for kind in kinds)
    return PartsRow(engines[serial], tuple(cells))


def _kind(kind: str) -> str:
    return say(KINDS[kind]) if kind in KINDS else capital(thing(kind))


def _fitted(source: Source, stays: Sequence[_Stay], engines: Mapping[str, str]) -> str:
    """A part in an engine: its serial, its place, its running time, and since when it is there."""
    last, hours = stays[-1], source.figures.hours
    place = place_words(Position(tuple(last.part.at), tuple(last.part.at.values())))
    told = [last.part.id, *((place,) if last.part.at else ()), _ran(source, last)]
    others = [engines[e] for e in dict.fromkeys(s.engine for s in stays) if e != last.engine]
    since = say("fitted at {time}", time=hours(last.part.fitted_at)) if last.part.fitted_at else ""
    before = say("before in {engines}", engines=joined(others)) if others else ""
    more = "; ".join(filter(None, (since, before)))
    return f"{', '.join(told)} ({more})" if more else ", ".join(told)


def _gone(source: Source, stays: Sequence[_Stay], engines: Mapping[str, str]) -> str:
    """A part in none of the engines: what it was, how long it ran, from where it was taken and why."""
    last = stays[-1]
    why = f": {last.part.taken_out}" if last.part.taken_out else ""
    told = (_kind(last.part.part), last.part.id)
    return f"{lowered(told[0])} {told[1]} ({', '.join((_ran(source, last), engines[last.engine]))}{why})"


def _ran(source: Source, stay: _Stay) -> str:
    return source.figures.hours(running_time(stay.part, stay.engine_time)) or "–"
