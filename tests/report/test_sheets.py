"""A blank checklist holds what applies, with boxes for every place, limits and cautions."""

import re
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from inspect_report.knowledge.bench import bench_books
from inspect_report.knowledge.case import Books
from inspect_report.records.checklist import DEPTHS, Depth, applies_to, depths_of, positions
from inspect_report.report.sheetgrid import RATING
from inspect_report.report.sheets import TO_WRITE, sheet_view, write_sheet
from inspect_report.report.sheetview import ItemView, SectionView, SheetView
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
    """How many places an item has boxes for; those of a rating are three to a place, or lines."""
    if one.grid is None:
        return 0
    if one.grid.where:
        return 1
    return len(one.grid.rows) if one.grid.columns == RATING else sum(len(r.boxes) for r in one.grid.rows)


@pytest.mark.parametrize("depth", DEPTHS)
def test_every_place_has_a_box(books: Books, depth: Depth) -> None:
    """As many boxes as the engine has places, for every item of the depth."""
    layout = books.sheet.layout
    wanted = {
        i.id: len(positions(i.axes, books.sheet, books.checklist))
        for section in books.checklist.sections
        for i in section.items
        if depth in depths_of(i, section)
        and applies_to(i.applies, layout)
        and applies_to(section.applies, layout)
        and (i.axes or i.kind in ("reading", "rating", "count", "text"))
    }
    gridded = [i for s in sheet_view(books, depth).sections for i in s.items if i.grid is not None]
    assert {i.id: boxes(i) for i in gridded} == {name: n for name, n in wanted.items() if n}
    assert len(gridded) == len({i.id for i in gridded})


@pytest.mark.parametrize("depth", DEPTHS)
@pytest.mark.parametrize("engine", ["corvane-600", "ormvik-k125"])
def test_stages_follow_the_steps_of_the_workbook(engine: str, depth: Depth) -> None:
    """Nothing is asked for before it is open; the other way round where the engine is closed again."""
    held = bench_books(BOOKS / f"{engine}.yaml", "", BOOKS / "workshop.yaml")
    steps = ["", *(s.name for s in held.workbook.access)]
    at = [steps.index(s.access) for s in sheet_view(held, depth).sections]
    assert at == sorted(at, reverse=depth == "after assembly")
    assert len(set(at)) > 1


def test_each_thing_is_read_while_it_can_be(books: Books) -> None:
    """Cam timing with the chain still on and the tensioner after it; shims once the camshafts are out."""
    order = [(s.access, i.id) for s in sheet_view(books, "fully stripped").sections for i in s.items]
    stage = {name: step for step, name in order}
    place = {name: n for n, (_, name) in enumerate(order)}
    assert stage["squish-by-solder"] == stage["selection"] == "Spark plugs out"
    assert stage["cam-closing"] == stage["tensioner-travel"] == "Cam cover off"
    assert place["valve-clearance"] < place["cam-opening"] < place["tensioner-travel"]
    assert stage["shim-fitted"] == "Camshafts out"
    assert place["tensioner-before-caps"] < place["caps-in-stages"] < place["shim-fitted"]
    assert stage["bucket-state"] == "Camshafts out"
    assert stage["chamber-state"] == "Cylinder head off"
    assert stage["bore-state"] == stage["bore-diameter"] == "Barrels off"
    assert place["strainer-find"] < place["debris-amount"]


def test_deeper_inspections_ask_for_more(books: Books) -> None:
    """A full strip asks for more items than the top end, and that for more than the frame."""
    counts = [
        sum(len(s.items) for s in sheet_view(books, d).sections)
        for d in ("in the frame", "top end off", "fully stripped")
    ]
    assert counts == sorted(set(counts))


def test_limits_stand_beside(books: Books) -> None:
    """Limits of the item; common practice is marked."""
    sheet = sheet_view(books, "fully stripped")
    assert any("0.11 to 0.20\u00a0mm" in limit for limit in item(sheet, "Clearance").limits)
    assert any("common practice" in limit for s in sheet.sections for i in s.items for limit in i.limits)


def test_limits_are_told_in_the_size_of_the_box(books: Books) -> None:
    """By hand: a fifth lost of 6 bar leaves 4.8 bar; 0.10 mm of wear off 35.12 mm leaves 35.02 mm."""
    sheet = sheet_view(books, "fully stripped")
    leak = next(t for t in item(sheet, "Cylinder gauge").limits)
    assert "limit ≥\u00a080\u00a0% of the supply gauge (4.80\u00a0bar at 6.00\u00a0bar)" in leak
    assert any("limit ≤\u00a0120\u00a0% of the dry gauge" in t for t in item(sheet, "Gauge, wet").limits)
    assert any("limit ≥\u00a035.02\u00a0mm" in limit for limit in item(sheet, "Lobe height").limits)


def test_what_readings_come_to_has_boxes_of_its_own(books: Books) -> None:
    """A clearance has its limit and a box for each place, behind the second of its two sizes."""
    sheet = sheet_view(books, "fully stripped")
    (stem,) = item(sheet, "Guide bore").comes_to
    assert "limit ≤\u00a00.08\u00a0mm" in stem.limits[0]
    assert sum(len(r.boxes) for r in stem.grid.rows) == 16
    assert [c.name for c in item(sheet, "Pin bore").comes_to] == ["Pin clearance"]
    assert [c.name for c in item(sheet, "Small-end bore").comes_to] == ["Small-end clearance"]
    assert not item(sheet, "Tensioner travel").comes_to


def test_one_cylinder_has_nothing_to_be_compared_with() -> None:
    """No best cylinder, no spread, and no label on the one box."""
    single = bench_books(BOOKS / "ormvik-k125.yaml", "", BOOKS / "workshop.yaml")
    dry = item(sheet_view(single, "in the frame"), "Gauge")
    assert not any("best cylinder" in limit for limit in dry.limits)
    assert dry.grid is not None
    assert [(r.label, r.boxes) for r in dry.grid.rows] == [("", ("",))]


def told(section: SectionView) -> list[str]:
    """Cautions of a section, those of its stage and items with it."""
    return [*section.stage_cautions, *section.cautions, *(c for i in section.items for c in i.cautions)]


def test_cautions_stand_at_their_step(books: Books) -> None:
    """Air in a cylinder: at the leak-down, before its items; exhaust gas where the engine is run."""
    frame = sheet_view(books, "in the frame")
    section = next(s for s in frame.sections if "eak-down" in s.title)
    assert any("spin the engine" in c for c in section.cautions)
    assert any("Exhaust gas" in c for c in item(frame, "Noises").cautions)
    assert any(c.startswith("Support a heavy engine") for c in sheet_view(books, "fully stripped").cautions)


def test_no_caution_of_another_depth(books: Books) -> None:
    """A look through the plug hole has no springs that fly, and nobody lifts the engine out."""
    frame = sheet_view(books, "in the frame")
    cautions = [*frame.cautions, *(c for s in frame.sections for c in told(s))]
    assert not any("circlips fly" in c or "heavy engine" in c for c in cautions)
    assert not any("Lay the gears out" in s.intro for s in frame.sections)


@pytest.mark.parametrize("depth", DEPTHS)
def test_a_caution_stands_once_in_a_stage(books: Books, depth: Depth) -> None:
    """Where it is first needed."""
    stages: list[list[str]] = []
    for section in sheet_view(books, depth).sections:
        if section.stage:
            stages.append([])
        stages[-1] += told(section)
    assert any(stages)
    assert all(len(s) == len(set(s)) for s in stages)


def test_what_the_engine_does_not_have_is_not_asked_for(books: Books) -> None:
    """Without a timing chain no pitch is measured."""
    layout = books.sheet.layout.model_copy(update={"timing_drive": "gear"})
    geared = replace(books, sheet=books.sheet.model_copy(update={"layout": layout}))
    asked = {i.asks for s in sheet_view(geared, "fully stripped").sections for i in s.items}
    assert not any("itches" in a for a in asked)
    assert any("itches" in i.asks for s in sheet_view(books, "fully stripped").sections for i in s.items)


def test_the_sheet_is_a_pdf_to_write_on(books: Books, tmp_path: Path) -> None:
    """A PDF with page numbers, and on every page a line for the number and the scale of ratings."""
    path = write_sheet(books, "in the frame", tmp_path / "sheet.pdf")
    text = subprocess.run(
        ["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True
    ).stdout
    assert re.search(r"page 1 of \d+", text)
    assert "Serial number" in text
    pages = text.split("\f")[:-1]
    assert all("5 so severe" in page for page in pages)
    assert all(f"Inspection number: {TO_WRITE}" in page for page in pages[1:])
