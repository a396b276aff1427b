"""Loading: an inspection with its books, the inspections it follows, and every fault of all of them."""

from datetime import date
from hashlib import sha256
from pathlib import Path

import pytest

from inspect_report.knowledge.shelf import check, load, load_all
from inspect_report.records.problem import InvalidInspection, InvalidKnowledge
from tests.knowledge.made import INSPECTION, SHEET, TODAY, WORKSHOP, a_folder, faults, the_fault
from tests.samples import ROOT


def test_a_case_holds_everything(tmp_path: Path) -> None:
    """Inspection, books, their digests and the folder of the pictures."""
    path = a_folder(tmp_path)
    case = load(path, today=TODAY)
    assert case.inspection.number == "HW-2026-031"
    assert (case.books.sheet.model, case.books.workbook.workbook) == ("600", "four-stroke")
    assert (case.folder, case.earlier, case.warnings) == (str(tmp_path), (), ())
    digests = {f.kind: (f.id, f.version, f.digest) for f in case.files}
    assert digests["spec sheet"] == ("corvane-600", 1, sha256(SHEET.encode()).hexdigest())
    assert set(digests) == {
        "spec sheet", "checklist", "workshop file", "characteristics book", "scales", "scoring",
        "practice", "rulebook", "workbook", "cautions",
    }  # fmt: skip


def test_what_only_the_spec_sheet_knows_is_an_item(tmp_path: Path) -> None:
    """A limit row that no item and no formula knows can be read without a change of the checklist."""
    row = "  - {id: kick-bush-fit, unit: mm, standard: [0.01, 0.05], page: 9-9}\n"
    readings = "  further-readings: {kick-bush-fit: 0.04}\n"
    path = a_folder(tmp_path, books__sheet=SHEET + row, inspection=INSPECTION + readings)
    case = load(path, today=TODAY)
    assert case.inspection.readings[0].values == pytest.approx((0.00004,))
    assert case.books.checklist.item("kick-bush-fit") is not None


def test_faults_of_every_file_are_told_at_once(tmp_path: Path) -> None:
    """A misspelt key in the workshop file, a bad row and a bad reading come in one answer."""
    path = a_folder(
        tmp_path,
        books__workshop=WORKSHOP + "phon: 1\n",
        books__sheet=SHEET + "  - {id: a, standard: [2, 1], page: 1}\n",
        inspection=INSPECTION.replace("turns-by-hand: free", "turns-by-hand: fre").replace(
            "place: Bench 2\n", ""
        ),
    )
    assert [p.code for p in faults(path)] == ["K302", "V206", "V207"]
    mended = a_folder(
        tmp_path, books__workshop=WORKSHOP + "phon: 1\n", inspection=INSPECTION.replace("free", "fre")
    )
    assert [p.code for p in faults(mended)] == ["V206", "V313"]


def test_whose_fault_it_is(tmp_path: Path) -> None:
    """A fault of a book alone is one of knowledge, any fault of an inspection is one of the inspection."""
    with pytest.raises(InvalidKnowledge, match="V206"):
        load(a_folder(tmp_path, books__workshop=WORKSHOP + "phon: 1\n"), today=TODAY)
    with pytest.raises(InvalidInspection, match="V313"):
        load(a_folder(tmp_path, inspection=INSPECTION.replace("free", "fre")), today=TODAY)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("books/sheet.yaml", "books/shet.yaml", "write 'books/sheet.yaml' if that is meant"),
        ("books/sheet.yaml", "corvane-600", "write the file's name with its ending .yaml"),
        ("books/sheet.yaml", "nowhere/sheet.yaml", "check name and folder"),
        ("checklist: four-stroke", "checklist: four-strok", "write 'four-stroke' if that is meant"),
        ("report:", "rulebook: engine-bilder\nreport:", "write 'engine-builder' if that is meant"),
    ],
)
def test_a_book_that_is_not_there(tmp_path: Path, old: str, new: str, said: str) -> None:
    """The line that names it is told, with the nearest name that exists."""
    problem = the_fault(a_folder(tmp_path, inspection=INSPECTION.replace(old, new)))
    assert problem.code == "K351"
    assert Path(problem.place.file).name == "inspection.yaml"
    assert said in problem.mend


def test_a_checklist_of_the_workshop_s_own(tmp_path: Path) -> None:
    """A checklist may lie beside the inspection; the workbook is then looked for beside the checklist."""
    checklist = (
        "checklist: own\nversion: 3\ntitle: Own\nworkbook: own\nsections:\n"
        "  - {id: s, title: S, items: [{id: t, asks: T, kind: tick, access: lid-off}]}\n"
    )
    workbook = (
        "workbook: own\nversion: 1\ntitle: Own\njobs: []\n"
        "access: [{id: lid-off, name: Lid off, opening: 1, closing: 1}]\n"
    )
    (tmp_path / "books" / "workbooks").mkdir(parents=True)
    text = INSPECTION.replace(
        "checklist: four-stroke", "checklist: books/own.yaml\nrulebook: books/rules.yaml"
    )
    path = a_folder(
        tmp_path,
        inspection=text.replace("whole-engine: {turns-by-hand: free}", "s: {t: done}"),
        books__own=checklist,
        books__rules="rulebook: own\nversion: 1\nrules: []\n",
        books__workbooks__own=workbook,
    )
    case = load(path, today=TODAY)
    assert (case.books.checklist.version, case.books.workbook.access[0].id) == (3, "lid-off")
    own = tmp_path / "books" / "own.yaml"
    own.write_text(checklist.replace("access: lid-off}", "access: lid-off, axes: [cilinder]}"))
    slip = next(p for p in faults(path) if p.code == "K359")
    assert (Path(slip.place.file).name, slip.place.line, slip.place.path) == (
        "own.yaml", 6, "sections[0].items[0].axes[0]"
    )  # fmt: skip


def after(text: str, number: int, follows: str, day: str = "2026-03-05") -> str:
    """The text of an inspection that follows another."""
    changed = text.replace("031", f"{number:03d}").replace("inspected: 2026-03-05", f"inspected: {day}")
    return changed + (f"follows: {follows}\n" if follows else "")


def test_earlier_inspections_come_oldest_first(tmp_path: Path) -> None:
    """The chain behind ``follows`` is loaded to its beginning."""
    path = a_folder(
        tmp_path,
        inspection=after(INSPECTION, 3, "second.yaml"),
        second=after(INSPECTION, 2, "./first.yaml", "2025-09-01"),
        first=after(INSPECTION, 1, "", "2025-03-01"),
    )
    case = load(path, today=TODAY)
    assert [c.inspection.number for c in case.earlier] == ["HW-2026-001", "HW-2026-002"]
    assert all(c.earlier == () for c in case.earlier)


@pytest.mark.parametrize("target", ["inspection.yaml", "second.yaml"])
def test_inspections_that_follow_each_other_in_a_circle(tmp_path: Path, target: str) -> None:
    """A circle of ``follows`` is told once, where it closes."""
    path = a_folder(
        tmp_path,
        inspection=after(INSPECTION, 3, target),
        second=after(INSPECTION, 2, "inspection.yaml"),
    )
    problem = the_fault(path)
    assert (problem.code, problem.place.path) == ("V345", "follows")


def test_an_earlier_inspection_is_there_and_earlier(tmp_path: Path) -> None:
    """A missing file and one inspected later are told at the line that names them."""
    missing = the_fault(a_folder(tmp_path, inspection=INSPECTION + "follows: none.yaml\n"))
    assert (missing.code, missing.place.line) == ("V358", 15)
    later = a_folder(
        tmp_path,
        inspection=INSPECTION + "follows: later.yaml\n",
        later=after(INSPECTION, 9, "", "2026-03-06"),
    )
    assert the_fault(later).code == "V359"


def test_an_inspection_may_follow_several(tmp_path: Path) -> None:
    """All of them and those before them come once, oldest first, whichever way they are reached."""
    path = a_folder(
        tmp_path,
        inspection=after(INSPECTION, 5, "[own.yaml, other.yaml]"),
        own=after(INSPECTION, 3, "first.yaml", "2025-12-01"),
        other=after(INSPECTION, 4, "[first.yaml, own.yaml]", "2026-01-07"),
        first=after(INSPECTION, 1, "", "2025-03-01"),
    )
    numbers = [c.inspection.number for c in load(path, today=TODAY).earlier]
    assert numbers == ["HW-2026-001", "HW-2026-003", "HW-2026-004"]


def test_each_of_several_is_told_at_its_own_place(tmp_path: Path) -> None:
    """A missing file, one inspected later and a circle are told where the list names them."""
    path = a_folder(
        tmp_path,
        inspection=after(INSPECTION, 5, "[none.yaml, later.yaml, first.yaml]"),
        later=after(INSPECTION, 6, "", "2026-03-06"),
        first=after(INSPECTION, 1, "[last.yaml, inspection.yaml]", "2026-03-05"),
        last=after(INSPECTION, 0, "", "2025-03-01"),
    )
    told = {(p.code, Path(p.place.file).stem, p.place.path) for p in faults(path)}
    assert told == {
        ("V358", "inspection", "follows[0]"),
        ("V359", "inspection", "follows[1]"),
        ("V345", "first", "follows[1]"),
    }


def test_follows_is_a_file_or_a_list_of_files(tmp_path: Path) -> None:
    """Anything else behind it is refused where the head is read."""
    for written in ("{file: first.yaml}", "[[first.yaml]]"):
        problem = the_fault(a_folder(tmp_path, inspection=INSPECTION + f"follows: {written}\n"))
        assert (problem.code, problem.place.line) == ("V205", 15)


def test_faults_of_earlier_inspections_are_told_too(tmp_path: Path) -> None:
    """A fault in the oldest file of a chain names that file."""
    bad = after(INSPECTION, 1, "", "2025-03-01").replace("free", "fre")
    path = a_folder(tmp_path, inspection=after(INSPECTION, 3, "first.yaml"), first=bad)
    assert Path(the_fault(path).place.file).name == "first.yaml"


def test_warnings_come_with_the_case(tmp_path: Path) -> None:
    """A calibration that had run out does not stop the case."""
    text = (
        INSPECTION + "instruments: {g: {kind: feeler gauge, resolution: 0.01, calibration-due: 2026-01-01}}\n"
    )
    case = load(a_folder(tmp_path, inspection=text), today=TODAY)
    assert [w.code for w in case.warnings] == ["V343"]


def test_several_inspections_at_once(tmp_path: Path) -> None:
    """All of them come back in order; of faulty ones every fault is told together."""
    one = a_folder(tmp_path / "one")
    two = a_folder(tmp_path / "two", inspection=INSPECTION.replace("free", "fre"))
    three = a_folder(tmp_path / "three", books__workshop=WORKSHOP + "phon: 1\n")
    assert len(load_all([one, one], today=TODAY)) == 2
    with pytest.raises(InvalidInspection, match=r"(?s)V206.*V313") as caught:
        load_all([one, two, three], today=TODAY)
    assert len(caught.value.problems) == 2


def test_a_book_can_be_checked_alone(tmp_path: Path) -> None:
    """``check`` tells by the first key what a file is."""
    a_folder(tmp_path, books__sheet=SHEET.replace("standard: [0.15, 0.24]", "standard: [0.24, 0.15]"))
    assert check(tmp_path / "books" / "workshop.yaml") == ()
    with pytest.raises(InvalidKnowledge, match="K302"):
        check(tmp_path / "books" / "sheet.yaml")


def test_a_spec_sheet_alone_is_asked_for_its_sources(tmp_path: Path) -> None:
    """A row without page or source is told without an inspection."""
    a_folder(tmp_path, books__sheet=SHEET.replace(", page: 3-4", ""))
    with pytest.raises(InvalidKnowledge, match="K303"):
        check(tmp_path / "books" / "sheet.yaml")


@pytest.mark.parametrize("content", ["", "hello", "[1]", "a: b: c", "inspection: x"])
def test_a_file_that_is_no_inspection(tmp_path: Path, content: str) -> None:
    """Whatever a file holds, loading it ends in problems and nothing else."""
    (tmp_path / "a.yaml").write_text(content)
    with pytest.raises(InvalidInspection, match=r"a\.yaml"):
        check(tmp_path / "a.yaml")


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    """A missing inspection is told by its name."""
    with pytest.raises(InvalidInspection, match="Y110"):
        load(tmp_path / "none.yaml")


def test_without_a_day_the_computer_s_holds(tmp_path: Path) -> None:
    """A file dated far ahead is refused without being told which day it is."""
    ahead = INSPECTION.replace("issued: 2026-03-09", f"issued: {date.today().year + 1}-01-01")
    with pytest.raises(InvalidInspection, match="V341"):
        load(a_folder(tmp_path, inspection=ahead))


def test_a_book_given_as_an_inspection_is_one_problem() -> None:
    """A spec sheet given to `load` is told once, by what it is, and not key by key."""
    sheet = ROOT / "sample_inspections" / "books" / "corvane-600.yaml"
    with pytest.raises(InvalidInspection, match="this is a spec sheet, not an inspection") as fault:
        load(sheet)
    assert [p.code for p in fault.value.problems] == ["V370"]
