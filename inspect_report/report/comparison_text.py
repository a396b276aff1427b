"""Turns what two assessments say otherwise into text for a terminal, and into JSON."""

import textwrap
from collections.abc import Iterator, Sequence
from datetime import timedelta
from typing import Final

from pydantic import TypeAdapter

from inspect_report.advise.advice import JobChange
from inspect_report.assessment import Assessment
from inspect_report.comparison.difference import Cause, Comparison, Side, Told, VerdictChange
from inspect_report.judge.finding import Limit, Verdict
from inspect_report.report.chainlines import Line, under
from inspect_report.report.figures import Figures, counted, joined
from inspect_report.report.view_estimate import TITLES
from inspect_report.report.words import NOT_GOOD, capital
from inspect_report.telling.positions import place_words

WIDTH: Final = 100
LABEL: Final = 12
MOST_NAMES: Final = 12
MOST_REASONS: Final = 2
_BECAUSE: Final[dict[Cause, str]] = {
    "reading": "reading changed",
    "instrument": "instrument changed",
    "computation": "readings the same, but not what is computed with them (sizes, conditions or formula)",
    "limit": "limit changed",
    "decision rule": "decision rule changed",
    "what was seen": "what was seen changed",
    "answer": "answer changed",
    "books": "seen the same, but scales or checklist judge it otherwise",
    "newly inspected": "newly inspected",
    "no longer inspected": "not inspected this time",
    "newly asked": "not asked before",
    "no longer asked": "no longer asked",
    "check of ours": "a check of ours went wrong in one of the two",
}
_TURNS: Final = ("worse", "better", "known now", "no longer known")


def comparison_json(found: Comparison) -> str:
    """A comparison as JSON; values in SI, money as decimal text."""
    return TypeAdapter(Comparison).dump_json(found, indent=1).decode()


def comparison_text(found: Comparison, of: Assessment) -> str:
    """
    A comparison as text, no line wider than a terminal.

    Args:
        found: What the later of two assessments says otherwise.
        of: The later assessment; its workshop says how figures are written.
    """
    figures = Figures(of.workshop.locale, of.workshop.currency)
    head = f"{found.maker} {found.model}, serial {found.serial}"
    told = (text for label, line in _lines(found, figures) for text in _laid_out(label, line))
    return "\n".join((head, "", *told))


def _laid_out(label: str, text: str) -> Iterator[str]:
    lines = textwrap.wrap(text, WIDTH - LABEL - 2, break_long_words=False, break_on_hyphens=False) or [""]
    for n, piece in enumerate(lines):
        yield f"  {label if n == 0 else '':<{LABEL}}{piece}".rstrip()


def _lines(found: Comparison, figures: Figures) -> Iterator[Line]:
    yield "before", _side(found.before, figures)
    yield "after", _side(found.after, figures)
    yield from _between(found, figures)
    yield from under("books", _books(found))
    if found.alike:
        yield "verdicts", f"all {found.compared} places are judged alike, and so are work and sums"
        return
    yield "verdicts", _count(found)
    for turn in _TURNS:
        yield from _turned(turn, [v for v in found.verdicts if v.turn == turn], figures)
    yield from under("grades", (f"{g.name}: {g.after}, before {g.before}" for g in found.grades))
    yield from under("patterns", _patterns(found))
    yield from under("work", map(_job, found.jobs))
    yield from under("sums", _sums(found, figures))


def _side(side: Side, figures: Figures) -> str:
    run = figures.hours(side.running_time) or figures.distance(side.distance)
    parts = (f"{side.inspection}, issue {side.issue}", figures.day(side.day), side.depth, run, side.grade)
    return ", ".join(part for part in parts if part)


def _between(found: Comparison, figures: Figures) -> Iterator[Line]:
    """How long and how far the engine ran between the two."""
    days = found.after.day - found.before.day
    told = [counted(abs(days.days), "day", "days")] if days != timedelta(0) else []
    for name, text in (("running_time", figures.hours), ("distance", figures.distance)):
        old, new = getattr(found.before, name), getattr(found.after, name)
        if old is not None and new is not None and new != old:
            told.append(text(new - old))
    if told:
        yield "between", joined(told)


def _books(found: Comparison) -> Iterator[str]:
    if found.before.program != found.after.program:
        yield f"program: {found.after.program}, before {found.before.program}"
    for book in found.books:
        same = " with other text" if book.before == book.after else f", before {book.before or 'none'}"
        yield f"{book.kind}: {book.after or 'none'}{same}"


def _count(found: Comparison) -> str:
    moved = f"; {counted(len(found.moved), 'value', 'values')} moved within the same verdict"
    places = counted(found.compared, "place", "places")
    return f"{len(found.verdicts)} of {places} judged otherwise{moved if found.moved else ''}"


def _turned(turn: str, changes: Sequence[VerdictChange], figures: Figures) -> Iterator[Line]:
    """Each change that matters in a line of its own; what was looked at or left out and is good, counted."""
    alone = [c for c in changes if turn in ("worse", "better") or _bad(c.after) or _bad(c.before)]
    yield from under(turn, (_change(c, figures) for c in alone))
    rest = [c for c in changes if c not in alone]
    if rest:
        yield ("" if alone else turn), _names(turn, rest)


def _bad(told: Told) -> bool:
    return told.verdict in {str(v) for v in (*NOT_GOOD, Verdict.CHECK_FAILED)}


def _names(turn: str, changes: Sequence[VerdictChange]) -> str:
    names = list(dict.fromkeys(c.name for c in changes))
    more = len(names) - MOST_NAMES
    told = ", ".join(names[:MOST_NAMES]) + (f" and {more} more" if more > 0 else "")
    how = "in order" if turn == "known now" else "in order before"
    return f"{counted(len(changes), 'place', 'places')} {how}: {told}"


def _change(change: VerdictChange, figures: Figures) -> str:
    place = place_words(change.position)
    name = change.name if place == "engine" else f"{change.name}, {place}"
    told = (
        f"{capital(name)} ({change.id}): {change.after.verdict}, before {change.before.verdict}",
        f"because {_because(change)}",
        _values(change, figures),
        _limits(change, figures),
        _instruments(change),
    )
    return "; ".join(text for text in told if text)


def _because(change: VerdictChange) -> str:
    """The causes in words: together where they are needed together, one or the other where each would do."""
    if not change.by:
        also = joined([_BECAUSE[c] for c in change.changed])
        return f"of one or several of: {also}" if also else "of this program's own change"
    ways = [joined([_BECAUSE[c] for c in way]) for way in change.by]
    if len(ways) == 1:
        return f"{ways[0]}{' (together)' if len(change.by[0]) > 1 else ''}"
    return f"{joined(ways, 'or')} (each would do alone)"


def _values(change: VerdictChange, figures: Figures) -> str:
    old, new = (_value(change, told, figures) for told in (change.before, change.after))
    return f"{new or 'nothing'}, before {old or 'nothing'}" if old != new else ""


def _value(change: VerdictChange, told: Told, figures: Figures) -> str:
    if told.quantity is None:
        return told.said
    return figures.measured(told.quantity, change.unit, change.decimals)


def _limits(change: VerdictChange, figures: Figures) -> str:
    if "limit" not in change.changed:
        return ""
    old, new = (_limit(t.limit, change.decimals, figures) for t in (change.before, change.after))
    return f"limit {new}, before {old}"


def _limit(limit: Limit | None, decimals: int, figures: Figures) -> str:
    if limit is None:
        return "none"
    told = figures.range(limit.low, limit.high, limit.unit, decimals)
    new = figures.range(limit.standard_low, limit.standard_high, limit.unit, decimals)
    return told or (f"new {new}" if new else "none")


def _instruments(change: VerdictChange) -> str:
    if "instrument" not in change.changed:
        return ""
    old, new = (", ".join(t.instruments) or "none" for t in (change.before, change.after))
    return f"by {new}, before {old}" if old != new else f"by {new}, declared otherwise"


def _patterns(found: Comparison) -> Iterator[str]:
    for one in found.patterns:
        how = "read now" if one.made_by == "after" else "no longer read"
        yield f"{one.finding}: {how}, because of {one.because}"


def _job(job: JobChange) -> str:
    """A job as it is now and was before, and why."""
    told = f"{capital(job.name)}: {job.now or 'no longer asked for'} (before: {job.was or 'not asked for'})"
    reasons = "; ".join(job.because[:MOST_REASONS])
    more = len(job.because) - MOST_REASONS
    return f"{told}, because: {reasons}{f'; and {more} more' if more > 0 else ''}" if reasons else told


def _sums(found: Comparison, figures: Figures) -> Iterator[str]:
    if found.currencies[0] != found.currencies[1]:
        yield f"in {found.currencies[1]}, before in {found.currencies[0]}: not compared"
    for one in found.sums:
        old, new = ("none" if s is None else figures.money_range(s.low, s.high) for s in one.gross)
        yield f"{TITLES.get(one.id, one.title)}: {new}, before {old}, with tax"
