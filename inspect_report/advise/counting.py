"""Turns the places of a job into how often its hours and parts are needed."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Final

from inspect_report.knowledge.case import Books
from inspect_report.knowledge.workbook import AccessStep, Job
from inspect_report.records.checklist import axis_labels
from inspect_report.records.position import ENGINE, Position
from inspect_report.records.specsheet import Layout

PER_CYLINDER: Final = frozenset({"valve", "ring", "reed", "port"})
"""Axes whose labels name the places of one cylinder, so that the engine has them once for each."""
_CARRIED: Final = {"crankpin": "cylinder"}
_HUNDREDTH: Final = Decimal("0.01")


def in_order(position: Position) -> tuple[tuple[int, str], ...]:
    """A key that sorts cylinder 2 before cylinder 10."""
    return tuple((int(label) if label.isdigit() else 0, label) for label in position.labels)


def finest(places: Iterable[Position]) -> tuple[Position, ...]:
    """
    Distinct places in order, without those that others say more exactly.

    ``cylinder 3`` beside ``cylinder 3, inlet valve 1`` is one place and not two: nothing is counted twice.
    """
    distinct = sorted(set(places), key=lambda p: (p.axes, in_order(p)))
    return tuple(p for p in distinct if not any(p != other and holds(p, other) for other in distinct))


def places_of(job: Job, asked: Iterable[Position], layout: Layout) -> tuple[Position, ...]:
    """
    The places of a job out of all that were asked for.

    Where hours or parts are counted by place, the finest; else the job is done once whatever the places, and
    the widest of them say best where: an engine's chain, not the inlet camshaft that shows its wear.
    """
    if "place" in (job.per, *(use.per for use in job.parts)):
        return finest(told_alike(job, tuple(asked), layout))
    distinct = sorted(set(asked), key=lambda p: (p.axes, in_order(p)))
    return tuple(p for p in distinct if not any(p != other and holds(other, p) for other in distinct))


def told_alike(job: Job, asked: Sequence[Position], layout: Layout) -> tuple[Position, ...]:
    """Places a job is asked for at, along the axes it is done along: its reed 3 asks for cylinder 2."""
    along = set(job.places)
    seen = tuple(p.only(*along) if along and along <= set(p.axes) else p for p in asked)
    return by_cylinder(seen, layout)


def by_cylinder(asked: Sequence[Position], layout: Layout) -> tuple[Position, ...]:
    """Places told by crankpin and by cylinder told by cylinder alone, where each crankpin carries one rod."""
    both = {"crankpin", "cylinder"} <= {axis for p in asked for axis in p.axes}
    if not both or layout.counts.get("crankpin") != layout.cylinders:
        return tuple(asked)
    return tuple(Position(tuple(_CARRIED.get(a, a) for a in p.axes), p.labels) for p in asked)


def holds(wide: Position, narrow: Position) -> bool:
    """Whether a place lies in another: cylinder 3 holds its inlet valve 1, the engine holds every place."""
    return all(narrow.label(axis) == wide.label(axis) for axis in wide.axes)


def count_of(per: str, places: Sequence[Position], books: Books) -> int | None:
    """
    How many times something is needed: once per ``job``, per ``place`` of it, or per label of an axis.

    None where the spec sheet does not say how many of the axis the engine has.
    """
    if per in ("job", "place"):
        return 1 if per == "job" else len(places)
    try:
        labels = len(axis_labels(per, books.sheet, books.checklist))
    except KeyError:
        return None
    return labels * books.sheet.layout.cylinders if per in PER_CYLINDER else labels


def hours_of(job: Job, places: Sequence[Position], books: Books) -> Decimal:
    """Hours of a job at its places, by the workshop's own figure where it gives one, in h."""
    count = count_of(job.per, places, books)
    return books.workshop.hours.get(job.id, job.hours) * (len(places) if count is None else count)


def opening_hours(step: AccessStep, books: Books) -> Decimal:
    """Hours to open and close a step, by the workshop's own figure where it gives one, in h."""
    hours = books.workshop.hours.get(step.id, step.opening + step.closing)
    return hours * (count_of(step.per, (ENGINE,), books) or 1)


def strip_down_hours(step: AccessStep, books: Books) -> Decimal:
    """
    Hours to open a step, out of those to open and close it, in h.

    Where the workshop gives one figure for both, it is shared as the workbook shares its own, to a hundredth.
    """
    both, share = opening_hours(step, books), step.opening + step.closing
    return (both * step.opening / share).quantize(_HUNDREDTH) if share else Decimal(0)
