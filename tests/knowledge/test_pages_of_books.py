"""What a book brings to the page or leaves unread: logos, terms, rows nobody meets, names almost right."""

from pathlib import Path

import pytest
from PIL import Image

from inspect_report.knowledge.shelf import check, load
from inspect_report.records.problem import InvalidInput, Problem
from tests.knowledge.made import SHEET, TODAY, WORKSHOP, a_folder, faults, the_fault


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("logo: none.png", "V352"),
        ("logo: ../../logo.png", "V351"),
        ("logo: workshop.yaml", "V353"),
        ("reference-pictures: [{damage: carbon, step: 3, file: none.png}]", "V352"),
        ("terms: Paid <b>at once</b>", "V346"),
    ],
)
def test_what_a_workshop_brings_to_the_page_is_checked(tmp_path: Path, line: str, code: str) -> None:
    """A logo that cannot be shown and HTML in the terms are told at their line."""
    path = a_folder(tmp_path, books__workshop=WORKSHOP + line + "\n")
    problem = the_fault(path)
    assert (problem.code, problem.place.line) == (code, 4)
    with pytest.raises(InvalidInput, match=code):
        check(tmp_path / "books" / "workshop.yaml", today=TODAY)


def test_a_row_along_an_axis_its_item_does_not_have(tmp_path: Path) -> None:
    """A limit that no place would ever meet is refused."""
    sheet = SHEET.replace("where: {valve: inlet}", "where: {ring: top}")
    problem = the_fault(a_folder(tmp_path, books__sheet=sheet))
    assert (problem.code, problem.found) == ("K367", "ring: top")


def test_a_height_the_checklist_does_not_read(tmp_path: Path) -> None:
    """A piston clearance stated at a height of the bore that nobody measures is refused."""
    sheet = SHEET.replace("characteristics:", "geometry: {clearance-height: skirt}\ncharacteristics:")
    problem = the_fault(a_folder(tmp_path, books__sheet=sheet))
    assert (problem.code, problem.found, problem.place.path) == ("K360", "skirt", "geometry.clearance-height")
    assert "bottom" in problem.allowed
    assert not faults(a_folder(tmp_path, books__sheet=sheet.replace("skirt", "bottom")))


def test_a_name_almost_right_is_warned_of(tmp_path: Path) -> None:
    """A slip in a row's name would leave the known characteristic without its limit."""
    sheet = SHEET.replace("id: valve-clearance", "id: valve-clearanse")
    case = load(a_folder(tmp_path, books__sheet=sheet), today=TODAY)
    assert [(w.code, w.weight) for w in case.warnings] == [("K368", "warning")]
    assert "valve-clearance" in case.warnings[0].mend


def test_a_checklist_that_does_not_fit_is_one_fault(tmp_path: Path) -> None:
    """The rules and jobs of the other kind of engine are not told as faults of theirs."""
    two = SHEET.replace("strokes: 4", "strokes: 2")
    told: tuple[Problem, ...] = faults(a_folder(tmp_path, books__sheet=two))
    assert [p.code for p in told] == ["K350"]


def test_a_file_of_another_kind_is_one_fault(tmp_path: Path) -> None:
    """A workshop file named as spec sheet is told once, not by every key it has too much."""
    path = a_folder(tmp_path, books__sheet=WORKSHOP)
    assert [p.code for p in faults(path)] == ["K366"]


def test_an_inspection_without_its_number_is_still_one(tmp_path: Path) -> None:
    """A file is known by all its keys: a forgotten number does not make a spec sheet of it."""
    path = a_folder(tmp_path)
    path.write_text(path.read_text(encoding="utf-8").partition("\n")[2], encoding="utf-8")
    with pytest.raises(InvalidInput, match="'inspection' is missing"):
        check(path, today=TODAY)


@pytest.mark.parametrize(
    ("old", "new", "code", "line"),
    [
        ("applies: {strokes: 4}", "applies: {stroke: 4}", "K323", 4),
        ("applies: {strokes: 4}", "applies: {strokes: 5}", "K323", 4),
        ("applies: {strokes: 4}", "applies: {clutch: [wet multiplate]}", "K323", 4),
        ("range: [0, 1]", "range: [1, 0]", "K322", 11),
        ("range: [0, 1]", "range: [a, 1]", "K322", 11),
    ],
)
def test_a_checklist_that_no_engine_meets(tmp_path: Path, old: str, new: str, code: str, line: int) -> None:
    """A condition no layout has would put the checklist out of use without a word."""
    text = (
        "checklist: own\nversion: 1\ntitle: Own\napplies: {strokes: 4}\nworkbook: four-stroke\n"
        "sections:\n  - id: lid\n    title: Lid\n    items:\n"
        "      - {id: lid-look, asks: Lid, kind: text}\n"
        "      - {id: lid-gap, asks: Gap, kind: reading, unit: mm, range: [0, 1]}\n"
    )
    (tmp_path / "own.yaml").write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(InvalidInput, match=code) as caught:
        check(tmp_path / "own.yaml", today=TODAY)
    assert [(p.code, p.place.line) for p in caught.value.problems] == [(code, line)]


@pytest.mark.parametrize("key", ["access", "jobs"])
def test_steps_and_jobs_of_one_id_are_told_apart(tmp_path: Path, key: str) -> None:
    """Of two steps or jobs with one id the second would never be found."""
    step = "{id: a, name: A, opening: 1, closing: 1}"
    job = "{id: b, name: B, plain: B, hours: 1}"
    rows = {"access": [step], "jobs": [job]}
    rows[key] *= 2
    text = f"workbook: own\nversion: 1\ntitle: Own\naccess: [{', '.join(rows['access'])}]\n"
    (tmp_path / "own.yaml").write_text(f"{text}jobs: [{', '.join(rows['jobs'])}]\n", encoding="utf-8")
    with pytest.raises(InvalidInput, match="K343") as caught:
        check(tmp_path / "own.yaml", today=TODAY)
    assert [p.place.path for p in caught.value.problems] == [key]


def test_a_picture_of_damage_nobody_knows(tmp_path: Path) -> None:
    """A reference picture names a kind of damage of the scales, or the nearest is offered."""
    picture = "reference-pictures: [{damage: carbn, step: 3, file: a.png}]\n"
    path = a_folder(tmp_path, books__workshop=WORKSHOP + picture)
    Image.new("RGB", (8, 8)).save(path.parent / "books" / "a.png")
    problem = the_fault(path)
    assert (problem.code, problem.mend) == ("K390", "write 'carbon' if that is meant")
