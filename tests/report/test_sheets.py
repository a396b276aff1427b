"""A blank checklist holds what applies, with boxes for every place, limits and cautions."""

import re
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from inspect_report.knowledge.bench import bench_books
from inspect_report.knowledge.case import Books
from inspect_report.records.checklist import DEPTHS, Depth, applies_to, depths_of, positions
from inspect_report.report.sheets import RATING, sheet_view, write_sheet
from inspect_report.report.sheetview import ItemView, SheetView
from tests.samples import SAMPLES

BOOKS = SAMPLES / "books"


@pytest.fixture(scope="module")
def books() -> Books:
    """The books of the sample's inline four."""
    return bench_books(BOOKS / "corvane-600.yaml", "", BOOKS / "workshop.yaml")


def item(sheet: SheetView, asks: str) -> ItemView:
    """The item that asks for something."""
    return next(i for s in sheet.sections for i in s.items if asks in i.asks)


def boxes(one: ItemView) -> int:
    """How many places an item has boxes for; those of a rating are three to a place."""
    if one.grid is None:
        return 0
    return len(one.grid.rows) if one.grid.columns == RATING else sum(len(r.boxes) for r in one.grid.rows)


@pytest.mark.parametrize("depth", DEPTHS)
def test_every_place_has_a_box(books: Books, depth: Depth) -> None:
    """As many boxes as the engine has places, for every item of the depth."""
    layout = books.sheet.layout
    wanted = [
        len(positions(i.axes, books.sheet, books.checklist))
        for section in books.checklist.sections
        for i in section.items
        if depth in depths_of(i, section)
        and applies_to(i.applies, layout)
        and applies_to(section.applies, layout)
        and (i.axes or i.kind in ("reading", "rating", "count", "text"))
    ]
    gridded = [i for s in sheet_view(books, depth).sections for i in s.items if i.grid is not None]
    assert [boxes(i) for i in gridded] == [n for n in wanted if n]


def test_deeper_inspections_ask_for_more(books: Books) -> None:
    """A full strip asks for more items than the top end, and that for more than the frame."""
    counts = [
        sum(len(s.items) for s in sheet_view(books, d).sections)
        for d in ("in the frame", "top end off", "fully stripped")
    ]
    assert counts == sorted(set(counts))


def test_limits_stand_beside(books: Books) -> None:
    """Limits of the item, and of what is computed from it; common practice is marked."""
    sheet = sheet_view(books, "fully stripped")
    assert any("0.11 to 0.20\u00a0mm" in limit for limit in item(sheet, "Clearance").limits)
    assert any("common practice" in limit for s in sheet.sections for i in s.items for limit in i.limits)


def test_cautions_stand_at_their_step(books: Books) -> None:
    """Air in a cylinder: the caution is in the leak-down section, before its items."""
    section = next(s for s in sheet_view(books, "in the frame").sections if "eak-down" in s.title)
    assert any("spin the engine" in c for c in section.cautions)


def test_what_the_engine_does_not_have_is_not_asked_for(books: Books) -> None:
    """Without a timing chain no pitch is measured."""
    layout = books.sheet.layout.model_copy(update={"timing_drive": "gear"})
    geared = replace(books, sheet=books.sheet.model_copy(update={"layout": layout}))
    asked = {i.asks for s in sheet_view(geared, "fully stripped").sections for i in s.items}
    assert not any("itches" in a for a in asked)
    assert any("itches" in i.asks for s in sheet_view(books, "fully stripped").sections for i in s.items)


def test_the_sheet_is_a_pdf_to_write_on(books: Books, tmp_path: Path) -> None:
    """A PDF with page numbers and boxes of ten millimetres at least."""
    path = write_sheet(books, "in the frame", tmp_path / "sheet.pdf")
    text = subprocess.run(
        ["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True
    ).stdout
    assert re.search(r"page 1 of \d+", text)
    assert "Serial number" in text
