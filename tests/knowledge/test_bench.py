"""Before an inspection: books by a spec sheet alone, and a blank file that loads with its head filled in."""

from pathlib import Path

import pytest

from inspect_report.knowledge.bench import bench_books, new_inspection
from inspect_report.knowledge.shelf import load
from inspect_report.records.checklist import DEPTHS, Depth
from inspect_report.records.problem import InvalidKnowledge
from inspect_report.records.rewrite import filled
from inspect_report.records.yaml import Path as KeyPath
from inspect_report.records.yaml import Plain
from tests.knowledge.made import SHEET, TODAY, a_folder

HEAD: dict[KeyPath, Plain] = {
    ("inspection",): "HW-1",
    ("report",): "rebuild quote",
    ("dates", "inspected"): "2026-03-05",
    ("dates", "issued"): "2026-03-09",
    ("customer", "name"): "Mira Holt",
    ("inspector", "name"): "Jon Vale",
    ("place",): "Bench 2",
    ("engine", "serial"): "C6-1",
    ("reason",): "burns oil",
}


@pytest.mark.parametrize("strokes", [2, 4])
@pytest.mark.parametrize("depth", DEPTHS)
def test_a_blank_file_loads_once_its_head_is_filled_in(tmp_path: Path, depth: Depth, strokes: int) -> None:
    """With the shipped checklists, at every depth, and with one reading more."""
    a_folder(
        tmp_path, books__sheet=SHEET.split("characteristics:")[0].replace("strokes: 4", f"strokes: {strokes}")
    )
    out = tmp_path / "new" / "blank.yaml"
    out.parent.mkdir()
    books = tmp_path / "books"
    text = new_inspection(books / "sheet.yaml", depth, "", books / "workshop.yaml", out)
    out.write_text(filled(text, HEAD), encoding="utf-8")
    case = load(out, today=TODAY)
    assert (case.inspection.head.depth, case.books.sheet.layout.strokes) == (depth, strokes)
    assert (case.inspection.readings, case.inspection.ratings, case.inspection.answers) == ((), (), ())


def test_readings_filled_into_a_blank_file_come_out(tmp_path: Path) -> None:
    """A reading, its instrument and a rating written into the blank file are read at their places."""
    a_folder(tmp_path)
    sheet, out = tmp_path / "books" / "sheet.yaml", tmp_path / "blank.yaml"
    values: dict[KeyPath, Plain] = {
        **HEAD,
        ("workshop",): "books/workshop.yaml",
        ("instruments", "feeler-gauge", "resolution"): "0.01 mm",
        ("readings", "valve-gaps", "valve-clearance", "2", "inlet-1"): "6 thou",
    }
    out.write_text(filled(new_inspection(sheet, "fully stripped", out=out), values), encoding="utf-8")
    (reading,) = load(out, today=TODAY).inspection.readings
    assert (reading.item, reading.position.id, reading.typed) == ("valve-clearance", "2.inlet-1", ("6 thou",))
    assert reading.instrument == "feeler-gauge"


def test_books_are_named_from_where_the_file_will_be(tmp_path: Path) -> None:
    """A file in another folder finds its books; one beside it is told from a shipped id by its ending."""
    a_folder(tmp_path)
    sheet = tmp_path / "books" / "sheet.yaml"
    assert "spec-sheet: ../books/sheet.yaml" in new_inspection(
        sheet, "in the frame", out=tmp_path / "new" / "a.yaml"
    )
    assert "spec-sheet: sheet.yaml" in new_inspection(
        sheet, "in the frame", out=tmp_path / "books" / "a.yaml"
    )


def test_a_sheet_needs_no_workshop(tmp_path: Path) -> None:
    """Without a workshop file the books hold a nameless one, for sheets that are filled in by pencil."""
    a_folder(tmp_path)
    books = bench_books(tmp_path / "books" / "sheet.yaml")
    assert (books.workshop.workshop, books.checklist.checklist) == ("", "four-stroke")


@pytest.mark.parametrize(
    ("sheet", "checklist", "match"),
    [
        ("books/none.yaml", "", "Y110"),
        ("books/sheet.yaml", "four-strok", "(?s)command line.*write 'four-stroke'"),
        ("books/sheet.yaml", "books/none.yaml", "Y110"),
        ("books/sheet.yaml", "two-stroke", "K350"),
        ("books/workshop.yaml", "", "K366"),
    ],
)
def test_books_that_are_not_there_or_do_not_fit(
    tmp_path: Path, sheet: str, checklist: str, match: str
) -> None:
    """What is named on the command line is told as in a file."""
    a_folder(tmp_path)
    with pytest.raises(InvalidKnowledge, match=match):
        bench_books(tmp_path / sheet, checklist)
