"""
Turns jobs into the access steps they need, each step once.

Steps form a graph by ``behind``: whoever opens a step has opened everything it lies behind. A step that
this engine has not got is passed through: what lies before it is still needed.
"""

from collections.abc import Iterable, Iterator, Sequence

from inspect_report.knowledge.case import Case
from inspect_report.knowledge.circles import reached
from inspect_report.knowledge.workbook import AccessStep, Workbook
from inspect_report.records.checklist import Depth, applies_to
from inspect_report.records.specsheet import Layout

LEFT_OPEN: tuple[Depth, ...] = ("top end off", "fully stripped")
"""Depths after which the engine stays open; at the others it is closed again as part of the inspection."""


def steps_for(wanted: Iterable[str], workbook: Workbook, layout: Layout) -> tuple[AccessStep, ...]:
    """Some steps with everything they lie behind, each once, in the order of the workbook."""
    behind = {s.id: s.behind for s in workbook.access}
    found = {step for some_id in wanted for step in (some_id, *reached(some_id, behind))}
    return tuple(s for s in workbook.access if s.id in found and applies_to(s.applies, layout))


def deepest(steps: Sequence[AccessStep], workbook: Workbook) -> tuple[AccessStep, ...]:
    """Of some steps with all they lie behind those that say it all: behind which no other of them lies."""
    behind = {s.id: s.behind for s in workbook.access}
    before = {s.id: reached(s.id, behind) for s in steps}
    return tuple(s for s in steps if not any(s.id in before[o.id] for o in steps))


def opened_steps(case: Case) -> tuple[AccessStep, ...]:
    """
    Steps open during the inspection: those of its depth, those it names, and everything before them.

    An engine that lies open is open as far as anything was read in it, too: whoever measured stems had the
    valves out.
    """
    head, books = case.inspection.head, case.books
    read = _behind_what_was_read(case) if head.depth in LEFT_OPEN else ()
    named = (*books.checklist.opened.get(head.depth, ()), *head.opened, *read)
    return steps_for(named, books.workbook, books.sheet.layout)


def _behind_what_was_read(case: Case) -> Iterator[str]:
    """The steps behind which the items that are filled in stand."""
    checklist, inspection = case.books.checklist, case.inspection
    filled = {r.item for r in inspection.readings} | {r.item for r in inspection.ratings}
    filled |= {a.item for a in inspection.answers}
    for section in checklist.sections:
        yield from (i.access or section.access for i in section.items if i.id in filled)


def left_open(case: Case) -> tuple[AccessStep, ...]:
    """
    Steps that stay open when the inspection ends, so that the engine cannot run before they are closed.

    None at the depths ``in the frame`` and ``after assembly``: covers taken off there go back on within the
    inspection, are no cost of the estimate, and must be opened anew for a later job.
    """
    return opened_steps(case) if case.inspection.head.depth in LEFT_OPEN else ()


def share_out(needs: Sequence[Iterable[AccessStep]]) -> tuple[tuple[AccessStep, ...], ...]:
    """Per group, most urgent first, the steps that no group before it has paid for."""
    paid: set[str] = set()
    shared: list[tuple[AccessStep, ...]] = []
    for group in needs:
        fresh = {s.id: s for s in group if s.id not in paid}
        paid.update(fresh)
        shared.append(tuple(fresh.values()))
    return tuple(shared)
