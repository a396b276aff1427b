"""Turns a sample inspection into one that was read otherwise: other values, other answers, other books."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from inspect_report.knowledge.case import Case
from inspect_report.knowledge.shelf import load
from inspect_report.measure.uncertainty import reading_id
from inspect_report.records.inspection import Answer, Conditions, InstrumentUsed, Reading
from inspect_report.records.position import Position
from inspect_report.records.problem import Place
from inspect_report.records.quantity import read_amount, unit_named
from tests.samples import SAMPLES

KART, FOUR = "kart-two-stroke.yaml", "inline-four-strip.yaml"
NOWHERE = Place("changed.yaml", 1, 1, "readings")


@cache
def _sample(name: str) -> Case:
    return load(SAMPLES / name)


def changed(
    name: str,
    values: Mapping[str, float | None] | None = None,
    answers: Mapping[str, tuple[str, ...] | None] | None = None,
    geometry: Mapping[str, Any] | None = None,
    workshop: Mapping[str, Any] | None = None,
    **conditions: Any,
) -> Case:
    """
    A sample with some of it changed; what is set to None was not read, answered or printed.

    Args:
        name: The sample's file.
        values: Values by the id of their reading, in the unit the checklist asks for.
        answers: Answers by the id of their item and place.
        geometry: Dimensions of the spec sheet, in SI.
        workshop: Fields of the workshop file, as records have them.
        conditions: Conditions of the day, as they are written in files.
    """
    case = _sample(name)
    inspection, books = case.inspection, case.books
    head = inspection.head
    if conditions:
        written = {key.replace("_", "-"): value for key, value in conditions.items()}
        head = head.model_copy(update={"conditions": Conditions.model_validate(written)})
    inspection = replace(
        inspection,
        head=head,
        readings=_merged(inspection.readings, _readings(case, values or {}), set(values or {})),
        answers=_answers(case, answers or {}),
    )
    sheet = books.sheet.model_copy(
        update={"geometry": books.sheet.geometry.model_copy(update=dict(geometry or {}))}
    )
    books = replace(books, sheet=sheet, workshop=books.workshop.model_copy(update=dict(workshop or {})))
    return replace(case, inspection=inspection, books=books)


def with_tool(case: Case, kind: str, **changes: Any) -> Case:
    """A case in which the instrument of a kind is another."""
    tools = tuple(replace(t, **changes) if t.kind == kind else t for t in case.inspection.instruments)
    return replace(case, inspection=replace(case.inspection, instruments=tools))


def _merged(readings: Iterable[Reading], new: Iterable[Reading], gone: set[str]) -> tuple[Reading, ...]:
    return (*(r for r in readings if reading_id(r) not in gone), *new)


def _readings(case: Case, values: Mapping[str, float | None]) -> Iterable[Reading]:
    for number, (name, value) in enumerate(values.items(), start=1):
        if value is not None:
            item_id, *labels = name.split(".")
            item = case.books.checklist.item(item_id)
            assert item is not None, item_id
            tools = [t for t in case.inspection.instruments if t.kind == item.instrument]
            tool: InstrumentUsed | None = next(iter(tools), None)
            yield Reading(
                item_id,
                Position(item.axes, tuple(labels)),
                (read_amount(value, item.unit),),
                unit_named(item.unit).dimension,
                (str(value),),
                tool.id if tool else "",
                replace(NOWHERE, line=number),
            )


def _answers(case: Case, answers: Mapping[str, tuple[str, ...] | None]) -> tuple[Answer, ...]:
    kept = (a for a in case.inspection.answers if _answer_id(a) not in answers)
    new = []
    for name, chosen in answers.items():
        item_id, *labels = name.split(".")
        item = case.books.checklist.item(item_id)
        assert item is not None, item_id
        if chosen is not None:
            new.append(Answer(item_id, Position(item.axes, tuple(labels)), chosen, NOWHERE))
    return (*kept, *new)


def _answer_id(answer: Answer) -> str:
    return ".".join((answer.item, *answer.position.labels))
