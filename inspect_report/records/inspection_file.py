"""Turns an inspection file into an inspection, or into every fault in it."""

from dataclasses import replace
from datetime import date
from pathlib import Path as FilePath
from typing import Any, Final

from inspect_report.records.checklist import Checklist
from inspect_report.records.crosschecks import check_pairs
from inspect_report.records.customer_choices import check_customer_choices
from inspect_report.records.days import check_calibrations, check_days
from inspect_report.records.faults import Faults
from inspect_report.records.head_checks import (
    check_distance,
    check_fitted_parts,
    check_left_out,
    check_number,
    check_opened,
    check_shown,
    check_texts,
)
from inspect_report.records.inspection import Answer, Inspection, InspectionHead, Photo
from inspect_report.records.photos import check_photo, check_photos
from inspect_report.records.position import finding_id
from inspect_report.records.problem import Read, in_file_order
from inspect_report.records.readings import Filled, read_readings
from inspect_report.records.salvage import salvaged
from inspect_report.records.shape import read_as
from inspect_report.records.single import whole_id
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.toolbox import Toolbox, read_toolbox
from inspect_report.records.vocabulary import Vocabulary
from inspect_report.records.yaml import Document

HEAD_TOLD: Final = frozenset(
    {"replaces", "depth", "dates", "customer", "inspector", "place", "engine", "reason", "answer"}
)
"""Keys of an inspection whose texts the first page tells as they were written."""


def read_inspection(
    document: Document,
    checklist: Checklist,
    sheet: SpecSheet,
    vocabulary: Vocabulary,
    *,
    folder: FilePath,
    today: date,
) -> Read[Inspection]:
    """
    An inspection, with every fault in its file.

    Args:
        document: The inspection file.
        checklist: Its checklist, further items of the spec sheet included.
        sheet: Its spec sheet.
        vocabulary: Words of the shipped books.
        folder: The inspection's own folder, the only one pictures may lie in.
        today: Nothing in the file may be later.
    """
    head = read_as(InspectionHead, document)
    toolbox = read_toolbox(document)
    tools = toolbox.value or Toolbox()
    filled = read_readings(document, checklist, sheet, tools, vocabulary)
    entries = filled.value or Filled()
    faults = Faults(document)
    check_pairs(entries.readings, faults)
    _check_answer_photos(entries.answers, checklist, folder, faults)
    told = salvaged(head, document, today)
    if told:
        _check_head(told, checklist, sheet, vocabulary, entries, faults)
        _check_files(told, tools, folder, today, faults)
    problems = in_file_order((*head.problems, *toolbox.problems, *filled.problems, *faults.problems))
    if head.value is None or any(p.weight == "error" for p in problems):
        return Read(None, problems)
    shown = _as_shown(head.value, entries.answers, checklist, sheet, tools)
    name = FilePath(document.file).name
    taken = (_seen_from(name, kind) for kind in (entries.readings, entries.ratings, entries.answers))
    readings, ratings, answers = taken
    lines = _head_lines(document)
    return Read(Inspection(name, shown, tools.used, readings, ratings, answers, lines), problems)


def _head_lines(document: Document) -> dict[str, int]:
    """Lines of what is told of the head as it was written, by key."""
    texts = (path for path in document.texts if path[0] in HEAD_TOLD)
    return {".".join(map(str, path)): document.place(path).line for path in texts}


def _seen_from(name: str, taken: tuple[Any, ...]) -> tuple[Any, ...]:
    """What was read, its places named by the file alone: wherever one stands, the record is the same."""
    return tuple(replace(one, place=replace(one.place, file=name)) for one in taken)


def _check_head(
    head: InspectionHead,
    checklist: Checklist,
    sheet: SpecSheet,
    vocabulary: Vocabulary,
    filled: Filled,
    faults: Faults,
) -> None:
    check_number(head, faults)
    check_distance(faults)
    check_texts(head, faults)
    check_left_out(head.left_out, checklist, sheet, filled, faults)
    check_opened(head.opened, vocabulary, faults)
    check_fitted_parts(head, checklist, sheet, vocabulary, faults)
    check_shown(head, checklist, sheet, vocabulary, faults)
    check_customer_choices(head, vocabulary, faults)


def _check_files(head: InspectionHead, tools: Toolbox, folder: FilePath, today: date, faults: Faults) -> None:
    check_days(head.dates, today, faults)
    check_calibrations(tools.used, head.dates.inspected, faults)
    document = faults.document
    check_photos(head, folder, faults)
    if head.inspector.signature:
        place = document.place(("inspector", "signature"))
        check_photo(head.inspector.signature, folder, place, faults)


def _photo_answers(answers: tuple[Answer, ...], checklist: Checklist) -> tuple[Answer, ...]:
    photo_items = {i.id for s in checklist.sections for i in s.items if i.kind == "photo"}
    return tuple(a for a in answers if a.item in photo_items)


def _check_answer_photos(
    answers: tuple[Answer, ...], checklist: Checklist, folder: FilePath, faults: Faults
) -> None:
    for answer in _photo_answers(answers, checklist):
        for name in answer.chosen:
            check_photo(name, folder, answer.place, faults)


def _as_shown(
    head: InspectionHead,
    answers: tuple[Answer, ...],
    checklist: Checklist,
    sheet: SpecSheet,
    tools: Toolbox,
) -> InspectionHead:
    """The head with pictures of photo items among its own, without raw readings and blank instruments."""
    photos = [
        Photo(file=name, caption=item.asks, of=finding_id(answer.item, answer.position))
        for answer in _photo_answers(answers, checklist)
        for name in answer.chosen
        if (item := checklist.item(answer.item)) is not None
    ]
    instruments = {name: i for name, i in head.instruments.items() if name not in tools.blank}
    own = (p.model_copy(update={"of": whole_id(p.of, checklist, sheet)}) for p in head.photos)
    changes = {"photos": (*own, *photos), "instruments": instruments, "readings": None}
    return head.model_copy(update=changes)
