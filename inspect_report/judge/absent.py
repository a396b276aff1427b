"""Turns what was not read, looked at or answered into findings that say so and why; absent is never good."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from inspect_report.judge.asked import Asked, asked
from inspect_report.judge.finding import Finding, Verdict, finding_of
from inspect_report.knowledge.case import Case, known_or_row
from inspect_report.knowledge.catalogue import Known
from inspect_report.measure.derived import Measured, Unmeasured
from inspect_report.measure.missing import MissingInput, not_read, unread
from inspect_report.records.checklist import Depth, Item, Section, depths_of
from inspect_report.records.position import ENGINE, Position
from inspect_report.telling.manner import message, say

AFTER: Final[Depth] = "after assembly"
_NOT_DONE: Final = {"rating": message("not looked at"), "choice": message("not answered")}
"""Words for an empty place, by kind of item."""


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


def absent_findings(case: Case, measured: Measured) -> Iterator[Finding]:
    """
    A finding for every judged place without a value; a whole characteristic without any gives one.

    Measuring tells the gaps of what is measured and counted; those of what is looked at and answered are
    seen from the checklist here.
    """
    read = {q.characteristic for q in measured.quantities}
    for known, gaps in _unmeasured_gaps(case, measured.unmeasured):
        yield from _told(known, gaps, any_read=known.id in read)
    for one in asked(case):
        if one.item.kind in _NOT_DONE and not _for_another_day(one.item, one.section, case):
            filled = _filled(one.item, case)
            yield from _told(one.known, _unseen_gaps(one, filled, case), any_read=bool(filled))


def _told(known: Known, gaps: list[Gap], *, any_read: bool) -> Iterator[Finding]:
    """One finding for a gap that takes in every place, else one for each place."""
    if gaps and not any_read and len({gap.kind for gap in gaps}) == 1:
        why = "; ".join(dict.fromkeys(gap.why for gap in gaps))
        gaps = [replace(gaps[0], position=ENGINE, why=why)]
    for gap in gaps:
        verdict = Verdict.NOT_INSPECTED if gap.applies else Verdict.NOT_APPLICABLE
        finding = finding_of(known, gap.position, verdict, gap.why)
        yield replace(finding, outside_depth=gap.outside_depth and gap.applies)


def _unmeasured_gaps(case: Case, unmeasured: Iterable[Unmeasured]) -> Iterator[tuple[Known, list[Gap]]]:
    groups: dict[str, list[Gap]] = {}
    for one in unmeasured:
        gap = Gap(one.position, one.why, one.outside_depth, one.applies)
        groups.setdefault(one.characteristic, []).append(gap)
    for name, gaps in groups.items():
        known = known_or_row(case.books, name)
        if known is not None and not _made_another_day(known, case):
            yield known, gaps


def _made_another_day(known: Known, case: Case) -> bool:
    checklist = case.books.checklist
    sources = ((checklist.item(i), checklist.section_of(i)) for i in known.needs or (known.id,))
    return any(_for_another_day(i, s, case) for i, s in sources if i is not None and s is not None)


def _for_another_day(item: Item, section: Section, case: Case) -> bool:
    """Whether an item belongs to the check after assembly alone: no deeper strip-down would give it."""
    return set(depths_of(item, section)) == {AFTER} and case.inspection.head.depth != AFTER


def _filled(item: Item, case: Case) -> set[Position]:
    rated = {r.position for r in case.inspection.ratings if r.item == item.id}
    return rated | {a.position for a in case.inspection.answers if a.item == item.id}


def _unseen_gaps(one: Asked, filled: set[Position], case: Case) -> list[Gap]:
    empty = [p for p in one.places if p not in filled]
    faults = [(p, not_read(one.item, one.section, p, case.inspection.head)) for p in empty]
    return [_gap(one, position, fault) for position, fault in faults if not fault.optional]


def _gap(one: Asked, position: Position, fault: MissingInput) -> Gap:
    unfilled = fault.why == unread(one.item.id)
    why = say(_NOT_DONE[one.item.kind]) if unfilled else fault.why
    return Gap(position, why, fault.outside_depth, fault.applies)
