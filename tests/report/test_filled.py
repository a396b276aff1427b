"""A part-filled sheet shows in each box what the inspection holds there, and nothing anywhere else."""

from dataclasses import replace
from functools import cache
from itertools import product
from pathlib import Path

import pytest

from inspect_report.knowledge.case import Case
from inspect_report.knowledge.shelf import load
from inspect_report.records.checklist import axis_labels
from inspect_report.report.filled import filled_from
from inspect_report.report.sheets import BLANKS, filled_view, sheet_view
from inspect_report.report.sheetview import ItemView, SheetView
from tests.samples import SAMPLES, sample_inspections


@cache
def case() -> Case:
    """The inline four, fully stripped."""
    return load(SAMPLES / "inline-four-strip.yaml")


@cache
def page() -> SheetView:
    """Its sheet."""
    return filled_view(case())


def item(id_: str, of: SheetView | None = None) -> ItemView:
    """One item of it."""
    return next(i for s in (of or page()).sections for i in s.items if i.id == id_)


def boxes(one: ItemView) -> list[tuple[str, ...]]:
    """What stands in its boxes, row by row."""
    assert one.grid is not None
    return [r.boxes for r in one.grid.rows]


def written(of: SheetView) -> list[str]:
    """Everything written in boxes, and every answer ticked."""
    items = [i for s in of.sections for i in s.items]
    inside = [b for i in items if i.grid for r in i.grid.rows for b in r.boxes if b]
    return inside + [t.text for i in items for t in i.ticks if t.ticked]


def test_readings_stand_in_the_box_of_their_place() -> None:
    """By hand from the file: the supply gauge's and the cylinder gauge's four readings, in bar as typed."""
    assert boxes(item("leak-down-cylinder")) == [("5.66", "5.12", "4.36", "5.62")]


def test_letters_stand_for_damage_and_answers() -> None:
    """What the letters mean stands above the boxes; two raters of one place stand side by side."""
    heard = item("leak-down-heard")
    assert "c = exhaust" in heard.key
    assert boxes(heard) == [("a", "c", "d", "a")]
    rows = {r.label: r.boxes for r in item("valve-face-state").grid.rows}  # type: ignore[union-attr]
    assert rows["Cylinder 2, exhaust valve 1"] == ("b", "1", "1")
    assert rows["Cylinder 1, exhaust valve 1"] == ("a; a", "1; 1", "1; 2")
    assert rows["Cylinder 1, inlet valve 1"] == ("0", "", "")


def test_answers_are_ticked() -> None:
    """One answer of five, and the photo taken."""
    assert [t.text for t in item("turns-by-hand").ticks if t.ticked] == ["free"]
    assert [t.ticked for t in item("photo-as-received").ticks] == [True]


def test_the_head_and_the_instruments_are_filled_in() -> None:
    """Each line has a text in the same place; instruments carry number, resolution with unit and day."""
    assert [f.label for f in page().blanks] == list(BLANKS)
    assert page().blanks[6].text == "CT6-018842"
    assert page().blanks[10].text == "cold, 12.7\u00a0V"
    tool = page().instruments[0]
    assert (tool.kind, tool.number, tool.resolution) == ("leak-down tester", "LD-1", "0.02 bar")
    assert tool.error == "± 0.06 bar"
    assert page().head_right == "Inspection number: HB-2026-041"


def test_what_was_left_out_says_why() -> None:
    """The reason stands at the item."""
    assert item("head-crack-check").left_out.startswith("coolant clear and no trace at the gasket; offered")


def test_words_of_the_inspector_stand_on_the_sheet() -> None:
    """Where the leak is beside its letter, notes below their boxes, remarks and photos at the end."""
    assert boxes(item("outside-leaks"))[0] == ("a", "2", "2", "cam cover at the left rear")
    assert item("valve-face-state").remarks == "Cylinder 2, exhaust valve 1: dull patch towards the plug"
    assert page().remarks[0].startswith("Leak-down and compression were taken warm")
    assert any(r.startswith("photos/as-received.png: On the bench stand") for r in page().remarks)
    assert page().notes


def test_what_the_readings_come_to_is_filled_in() -> None:
    """By hand from the file: 4.36 of 6.00 bar is the worst, 5.66 the best; 27.3 less 5.7 is 21.7 %."""
    (spread,) = item("leak-down-cylinder").comes_to
    assert [r.boxes for r in spread.grid.rows] == [("21.7",)]


def test_a_blank_sheet_has_nothing_written_on_it() -> None:
    """The same page of the same books, without an inspection."""
    blank = sheet_view(case().books, case().inspection.head.depth)
    assert written(blank) == []
    assert not any(f.text for f in blank.blanks)


@pytest.mark.parametrize("path", sample_inspections(), ids=lambda p: p.stem)
def test_nothing_of_an_inspection_is_lost(path: Path) -> None:
    """As many boxes and ticks are filled as the file holds places of items asked for at its depth."""
    one = load(path)
    view = filled_view(one)
    on_sheet = {i.id for s in view.sections for i in s.items}
    held = one.inspection
    read = {(r.item, r.position.labels) for r in held.readings}
    seen = {(r.item, r.position.labels) for r in held.ratings}
    said = {(a.item, a.position.labels) for a in held.answers}
    spots = {spot for spot in read | seen | said if spot[0] in on_sheet}
    filled = filled_from(one)
    found = {
        (i.id, labels)
        for s in one.books.checklist.sections
        for i in s.items
        if i.id in on_sheet
        for labels in product(*(axis_labels(a, one.books.sheet, one.books.checklist) for a in i.axes))
        if filled.box(i, labels) or any(filled.rating(i, labels)) or (not labels and filled.ticked(i))
    }
    assert spots
    assert found == spots


def test_the_item_alone_changes_with_its_reading() -> None:
    """Taking one reading out empties its box and no other."""
    held = case().inspection
    fewer = replace(
        held, readings=tuple(r for r in held.readings if not _is_second(r.item, r.position.labels))
    )
    now = filled_view(replace(case(), inspection=fewer))
    assert boxes(item("leak-down-cylinder", now)) == [("5.66", "", "4.36", "5.62")]
    assert len(written(now)) == len(written(page())) - 1


def _is_second(item_id: str, labels: tuple[str, ...]) -> bool:
    return (item_id, labels) == ("leak-down-cylinder", ("2",))


def test_amounts_and_figures_stand_as_they_were_written() -> None:
    """How much lay in the strainer stands behind each tick; nothing of the head is rounded away."""
    assert [(t.text, t.amount) for t in item("strainer-find").ticks if t.ticked] == [
        ("plastic bits", "2"),
        ("sealant", "1"),
    ]
    head = case().inspection.head
    conditions = head.conditions.model_copy(update={"battery": 12.65})
    changed = head.model_copy(update={"conditions": conditions})
    told = filled_view(replace(case(), inspection=replace(case().inspection, head=changed)))
    assert told.blanks[10].text == "cold, 12.65\u00a0V"
