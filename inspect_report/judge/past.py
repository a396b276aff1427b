"""Turns the quantities of one inspection into past readings that follow their parts from engine to engine."""

from collections.abc import Iterable, Iterator

from inspect_report.judge.finding import PastReading
from inspect_report.knowledge.case import Case, known_or_row
from inspect_report.knowledge.catalogue import Known
from inspect_report.measure.derived import Derived
from inspect_report.records.checklist import in_group
from inspect_report.records.inspection import FittedPart
from inspect_report.records.position import Position


def past_readings(case: Case, quantities: Iterable[Derived]) -> tuple[PastReading, ...]:
    """The known quantities of an inspection, each with its part and that part's running time."""
    return tuple(_past_readings(case, quantities))


def _past_readings(case: Case, quantities: Iterable[Derived]) -> Iterator[PastReading]:
    head = case.inspection.head
    for derived in quantities:
        known = known_or_row(case.books, derived.characteristic)
        if known is None:
            continue
        part = fitted_part(known, derived.position, head.fitted_parts)
        yield PastReading(
            inspection=head.inspection,
            day=head.dates.inspected,
            engine=head.engine.serial,
            characteristic=known.id,
            position=derived.position,
            part=part.id if part else head.engine.serial,
            engine_time=head.engine.running_time,
            part_time=running_time(part, head.engine.running_time),
            quantity=derived.quantity,
            state=derived.engine,
            basis=derived.basis,
        )


def fitted_part(known: Known, position: Position, parts: Iterable[FittedPart]) -> FittedPart | None:
    """The part a characteristic at a place belongs to; None where none is named."""
    return next((p for p in parts if p.part == known.part and _is_at(p, position)), None)


def _is_at(part: FittedPart, position: Position) -> bool:
    return all(in_group(position.label(axis) or "", label) for axis, label in part.at.items())


def running_time(part: FittedPart | None, engine_time: float | None) -> float | None:
    """Running time [s] of a part, or of the engine where no part is named; None where none was noted."""
    if part is None or engine_time is None:
        return engine_time
    return float(part.running_time_before) + engine_time - float(part.fitted_at)


def of_part_taken_out(case: Case, characteristic: str, position: Position) -> bool:
    """Whether a characteristic at a place belongs to a part that leaves the engine at this inspection."""
    known = known_or_row(case.books, characteristic)
    part = known and fitted_part(known, position, case.inspection.head.fitted_parts)
    return bool(part and part.taken_out)
