"""Turns what was not read, looked at or answered into findings that say so and why; absent is never good."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from inspect_report.judge.asked import Asked, asked
from inspect_report.judge.finding import Finding, Verdict, finding_of
from inspect_report.knowledge.case import Books, Case, known_or_row
from inspect_report.knowledge.catalogue import Known
from inspect_report.measure.derived import Measured, Unmeasured
from inspect_report.measure.missing import in_words, not_read
from inspect_report.records.checklist import applies_to, depths_of
from inspect_report.records.position import ENGINE, Position

_NOT_DONE: Final = {
    "reading": "not read",
    "count": "not counted",
    "rating": "not looked at",
    "choice": "not answered",
}


@dataclass(frozen=True, slots=True)
class Gap:
    """A place without a value, and why."""

    position: Position
    why: str
    outside_depth: bool
    applies: bool

    @property
    def kind(self) -> tuple[bool, bool]:
        """What the gap is told as: within the depth, beyond it, or of a thing the engine does not have."""
        return self.applies, self.outside_depth


def absent_findings(case: Case, measured: Measured, there: Iterable[Finding]) -> Iterator[Finding]:
    """
    A finding for every judged place without a value; a whole item without any gives one for the engine.

    Args:
        case: The inspection with its books.
        measured: What measuring gave.
        there: The findings that exist.
    """
    found = {(f.characteristic, f.position) for f in there}
    of_items = asked(case)
    for one in of_items:
        yield from _told(one.known, _gaps_of_item(one, case, found), any_read=_any_read(one, case, found))
    items = {one.known.id for one in of_items}
    for known, unmeasured in _by_characteristic(measured.unmeasured, case.books):
        if known.id not in items:
            gaps = [Gap(u.position, u.why, u.outside_depth, u.applies) for u in unmeasured]
            left = [g for g in gaps if (known.id, g.position) not in found]
            yield from _told(known, left, any_read=any(name == known.id for name, _ in found))


def _told(known: Known, gaps: list[Gap], *, any_read: bool) -> Iterator[Finding]:
    """One finding for a gap that takes in every place, else one for each place."""
    if gaps and not any_read and len({gap.kind for gap in gaps}) == 1:
        why = "; ".join(dict.fromkeys(gap.why for gap in gaps))
        gaps = [replace(gaps[0], position=ENGINE, why=why)]
    for gap in gaps:
        verdict = Verdict.NOT_INSPECTED if gap.applies else Verdict.NOT_APPLICABLE
        yield replace(
            finding_of(known, gap.position, verdict, gap.why), outside_depth=gap.outside_depth and gap.applies
        )


def _gaps_of_item(one: Asked, case: Case, found: set[tuple[str, Position]]) -> list[Gap]:
    if _for_another_day(one, case):
        return []
    filled = _filled(one, case)
    empty = (p for p in one.places if p not in filled and (one.known.id, p) not in found)
    gaps = (_gap(one, position, case) for position in empty)
    return [gap for gap in gaps if not (one.item.optional and gap.why == _unfilled(one))]


def _any_read(one: Asked, case: Case, found: set[tuple[str, Position]]) -> bool:
    return bool(_filled(one, case)) or any(name == one.known.id for name, _ in found)


def _filled(one: Asked, case: Case) -> set[Position]:
    inspection, item = case.inspection, one.item.id
    read = {r.position for r in inspection.readings if r.item == item}
    rated = {r.position for r in inspection.ratings if r.item == item}
    return read | rated | {a.position for a in inspection.answers if a.item == item}


def _gap(one: Asked, position: Position, case: Case) -> Gap:
    fault = not_read(one.item, one.section, position, case.inspection.head)
    unfilled = fault.why == f"{in_words(one.item.id)} not read"
    return Gap(position, _unfilled(one) if unfilled else fault.why, fault.outside_depth, fault.applies)


def _unfilled(one: Asked) -> str:
    return _NOT_DONE[one.item.kind]


def _for_another_day(one: Asked, case: Case) -> bool:
    """Whether an item belongs to the check after assembly alone: no deeper strip-down would give it."""
    return set(depths_of(one.item, one.section)) == {"after assembly"} != {case.inspection.head.depth}


def _by_characteristic(
    unmeasured: Iterable[Unmeasured], books: Books
) -> Iterator[tuple[Known, list[Unmeasured]]]:
    """What could not be measured, by characteristic; without what this kind of engine does not have."""
    groups: dict[str, list[Unmeasured]] = {}
    for one in unmeasured:
        groups.setdefault(one.characteristic, []).append(one)
    for name, group in groups.items():
        known = known_or_row(books, name)
        if known is not None and applies_to(known.applies, books.sheet.layout):
            yield known, group
