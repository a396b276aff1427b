"""Turns what an inspection says of itself into faults where it names what its books do not know."""

import re
from collections.abc import Iterable, Iterator
from typing import Final

from inspect_report.records.checklist import CYLINDER, Checklist, Item, axis_labels, positions
from inspect_report.records.faults import Faults
from inspect_report.records.html import refuse_html
from inspect_report.records.inspection import Answer, FittedPart, InspectionHead, LeftOut, Rating, Reading
from inspect_report.records.problem import nearest, some
from inspect_report.records.readings import Filled
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.vocabulary import Vocabulary
from inspect_report.records.yaml import Path

_NUMBER: Final = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,59}")


def check_number(head: InspectionHead, faults: Faults) -> None:
    """Note a number that cannot name a file, and an issue that replaces itself or a later one."""
    if not _NUMBER.fullmatch(head.inspection):
        faults.add(
            "V350",
            "inspection number of another form",
            ("inspection",),
            head.inspection or "an empty text",
            "up to 60 letters, figures, hyphens, points and underscores, a letter or figure first",
            "write it like HW-2026-031; the report's files are named after it",
        )
    if head.replaces and head.replaces.issue >= head.issue:
        faults.add(
            "V344",
            "issue that replaces itself or a later one",
            ("replaces", "issue"),
            str(head.replaces.issue),
            f"less than issue {head.issue}",
            "give this file the next 'issue' number, and 'replaces' the one before",
        )


def check_distance(faults: Faults) -> None:
    """Ask where a distance has a point and three figures: some write thousands so."""
    path: Path = ("engine", "distance")
    written = faults.document.text(path)
    if re.match(r"[0-9]{1,3}\.[0-9]{3}(?![0-9])", written):
        faults.add_warning(
            "V329",
            "distance with three decimals",
            path,
            written,
            "kilometres, with a space or nothing between thousands",
            f"write {written.replace('.', ' ', 1)!r} if thousands are meant",
        )


def check_texts(head: InspectionHead, faults: Faults) -> None:
    """Note HTML in texts that people write freely."""
    texts: tuple[tuple[Path, str], ...] = (
        (("notes",), head.notes),
        (("reason",), head.reason),
        (("answer",), head.answer),
        (("engine", "history"), head.engine.history),
        (("conditions", "remarks"), head.conditions.remarks),
        *((("left-out", i, "reason"), out.reason) for i, out in enumerate(head.left_out)),
        *((("choices", i, "note"), choice.note) for i, choice in enumerate(head.choices)),
        *_photo_texts(head),
    )
    for path, text in texts:
        refuse_html(text, path, faults)


def _photo_texts(head: InspectionHead) -> Iterator[tuple[Path, str]]:
    for i, photo in enumerate(head.photos):
        path: Path = ("photos", i)
        yield (*path, "caption"), photo.caption
        yield from (((*path, "marks", k, "label"), mark.label) for k, mark in enumerate(photo.marks))
        if photo.before is not None:
            before: Path = (*path, "before")
            yield (*before, "caption"), photo.before.caption
            yield from (
                ((*before, "marks", k, "label"), mark.label) for k, mark in enumerate(photo.before.marks)
            )


def check_left_out(
    left_out: Iterable[LeftOut], checklist: Checklist, sheet: SpecSheet, filled: Filled, faults: Faults
) -> None:
    """Note left-out items that the checklist does not have, and such as were filled in all the same."""
    for i, out in enumerate(left_out):
        path: Path = ("left-out", i)
        item = _known_item(out.item, checklist, (*path, "item"), faults)
        if item and _places_known(out.at, item.axes, checklist, sheet, (*path, "at"), faults):
            _refuse_filled(out, filled, path, faults)


def _known_item(item_id: str, checklist: Checklist, path: Path, faults: Faults) -> Item | None:
    item = checklist.item(item_id)
    if item is None:
        known = [i.id for s in checklist.sections for i in s.items]
        _unknown("V347", "item that the checklist does not have", item_id, known, path, faults)
    return item


def _refuse_filled(out: LeftOut, filled: Filled, path: Path, faults: Faults) -> None:
    entries: tuple[Reading | Rating | Answer, ...] = (*filled.readings, *filled.ratings, *filled.answers)
    for entry in entries:
        if entry.item == out.item and all(entry.position.label(a) == n for a, n in out.at.items()):
            faults.add(
                "V309",
                "item left out and filled in",
                (*path, "item"),
                f"{out.item}, filled in on line {entry.place.line}",
                "one of the two",
                "delete this entry, narrow it with 'at', or empty the readings",
            )
            return


def _places_known(
    at: dict[str, str],
    axes: tuple[str, ...],
    checklist: Checklist,
    sheet: SpecSheet,
    path: Path,
    faults: Faults,
) -> bool:
    """Whether every axis and label exists; a fault is noted for each that does not."""
    good = [_place_known(a, n, axes, checklist, sheet, path, faults) for a, n in at.items()]
    return all(good)


def _place_known(
    axis: str,
    label: str,
    axes: tuple[str, ...],
    checklist: Checklist,
    sheet: SpecSheet,
    path: Path,
    faults: Faults,
) -> bool:
    labels = axis_labels(axis, sheet, checklist) if axis in axes else ()
    if label in labels:
        return True
    known, word = (labels, label) if axis in axes else (axes, axis)
    title = f"{axis} {label} is not known here" if axis in axes else f"no {axis} here"
    _unknown("V304", title, word, known, (*path, axis), faults)
    return False


def check_opened(opened: tuple[str, ...], vocabulary: Vocabulary, faults: Faults) -> None:
    """Note access steps that the workbook does not have."""
    for i, step in enumerate(opened):
        if step not in vocabulary.steps:
            title = "access step that the workbook does not have"
            _unknown("V348", title, step, sorted(vocabulary.steps), ("opened", i), faults)


def check_fitted_parts(
    head: InspectionHead, checklist: Checklist, sheet: SpecSheet, vocabulary: Vocabulary, faults: Faults
) -> None:
    """Note parts of unknown kind, at unknown places, fitted twice, or fitted in time to come."""
    seen: set[tuple[str, tuple[tuple[str, str], ...]]] = set()
    axes = ("cylinder", "valve", "cam", *sheet.layout.counts)
    for i, part in enumerate(head.fitted_parts):
        path: Path = ("fitted-parts", i)
        if part.part not in vocabulary.parts:
            title = "kind of part whose running time is not followed"
            _unknown("V349", title, part.part, sorted(vocabulary.parts), (*path, "part"), faults)
        _places_known(part.at, axes, checklist, sheet, (*path, "at"), faults)
        _fitted_in_time(part, head.engine.running_time, (*path, "fitted-at"), faults)
        place = (part.part, tuple(sorted(part.at.items())))
        if place in seen:
            faults.add(
                "V355",
                "two parts at one place",
                path,
                f"{part.part} {part.id}",
                "one part of a kind at each place",
                "keep the one that is in the engine now, or tell places apart with 'at'",
            )
        seen.add(place)


def _fitted_in_time(part: FittedPart, running_time: float | None, path: Path, faults: Faults) -> None:
    if running_time is not None and part.fitted_at > running_time:
        faults.add(
            "V356",
            "part fitted after the engine's present running time",
            path,
            faults.document.text(path),
            f"at most {running_time / 3600:g} h, the engine's running time",
            "write the engine's running time at which this part went in",
        )


def check_shown(
    head: InspectionHead, checklist: Checklist, sheet: SpecSheet, vocabulary: Vocabulary, faults: Faults
) -> None:
    """Note pictures that claim to show an item or finding that is not known, and a second for the front."""
    _one_front(head, faults)
    for i, photo in enumerate(head.photos):
        name, _, label = photo.of.partition(".")
        item = checklist.item(name)
        if photo.of and item is None and name not in vocabulary.characteristics:
            known = sorted({i.id for s in checklist.sections for i in s.items} | vocabulary.characteristics)
            _unknown("V357", "item or finding that is not known", name, known, ("photos", i, "of"), faults)
        elif item and label and not _is_place(label, item, checklist, sheet):
            axes = " · ".join(item.axes) or "no place"
            faults.add(
                "V357",
                f"{item.id} has no place {label!r}",
                ("photos", i, "of"),
                photo.of,
                f"{item.id}, or {item.id} with {axes} behind a point",
                "write it like crown-state.2",
            )


def _one_front(head: InspectionHead, faults: Faults) -> None:
    first, *others = [i for i, photo in enumerate(head.photos) if photo.front] or [0]
    for i in others:
        faults.add(
            "V369",
            "second picture for the first page",
            ("photos", i, "front"),
            f"true, as for {head.photos[first].file}",
            "true for one picture",
            "leave out the line at all but one",
        )


def _is_place(label: str, item: Item, checklist: Checklist, sheet: SpecSheet) -> bool:
    try:
        known = positions(item.axes, sheet, checklist)
    except KeyError:
        return False
    ids = {p.id for p in known} | {p.without(CYLINDER).id for p in known if sheet.layout.cylinders == 1}
    return any(i == label or i.startswith(f"{label}.") for i in ids)


def _unknown(code: str, title: str, word: str, known: Iterable[str], path: Path, faults: Faults) -> None:
    listed = tuple(known)
    near = nearest(word, listed)
    mend = f"write {near!r} if that is meant" if near else "take one of those listed, or delete the entry"
    faults.add(code, title, path, word, some(listed, 24) or "nothing of the kind", mend)
