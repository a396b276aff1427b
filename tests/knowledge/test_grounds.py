"""Every file an assessment rests on, each once, laid out so that a folder of them judges the same."""

import re
import shutil
from collections.abc import Iterable
from pathlib import Path

import pytest

from inspect_report.knowledge import as_used, bookread
from inspect_report.knowledge import grounds as module
from inspect_report.knowledge.case import Case
from inspect_report.knowledge.grounds import Ground, grounds
from inspect_report.knowledge.shelf import load
from inspect_report.places import knowledge_dir
from inspect_report.records.problem import InvalidInput, InvalidInspection, InvalidKnowledge, Problem
from tests.knowledge.made import INSPECTION, SHEET, TODAY, WORKSHOP, a_folder
from tests.samples import SAMPLES, samples_unlike


def laid_out(files: Iterable[Ground], folder: Path) -> Path:
    """The files written into a folder; returns the inspection."""
    listed = tuple(files)
    for file in listed:
        path = folder / file.name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(file.data)
    return folder / listed[0].name


def kept(tmp_path: Path) -> Path:
    """A small inspection laid out with all it rests on."""
    return laid_out(grounds(load(a_folder(tmp_path / "own"), today=TODAY)), tmp_path / "kept")


def told(path: Path) -> tuple[Problem, ...]:
    """What is told of a file that cannot be judged."""
    with pytest.raises(InvalidInput) as fault:
        load(path, today=TODAY)
    return fault.value.problems


def facts(case: Case) -> object:
    """What a case holds but for where its files lie."""
    return case.books, case.files, case.inspection.head, [c.files for c in case.earlier]


@pytest.mark.parametrize("sample", samples_unlike(), ids=lambda p: p.stem)
def test_a_sample_laid_out_elsewhere_is_the_same_case(sample: Path, tmp_path: Path) -> None:
    """All books, inspections before it, pictures and the issue it replaces are among the files."""
    case = load(sample)
    there = load(laid_out(grounds(case), tmp_path))
    assert facts(there) == facts(case)
    assert [g.digest for g in grounds(there)] == [g.digest for g in grounds(case)]
    assert {f.digest for f in case.files} <= {g.digest for g in grounds(case)}


def test_every_file_is_named_once_and_below_the_folder(tmp_path: Path) -> None:
    """Names are relative, with slashes; the inspection comes first, as it was written."""
    files = grounds(load(SAMPLES / "kart-two-stroke.yaml"))
    names = [f.name for f in files]
    assert len(set(names)) == len(names)
    assert not [n for n in names if n.startswith("/") or ".." in n or "\\" in n]
    assert files[0] == Ground(
        "inspection", "kart-two-stroke.yaml", (SAMPLES / "kart-two-stroke.yaml").read_bytes()
    )
    assert {f.kind for f in files} >= {"spec sheet", "workshop file", "picture", "book of the release"}
    assert "photos/kart-reeds.png" in names
    assert "books/score-marks-3.png" in names


def test_the_earlier_photo_of_a_pair_is_kept_too() -> None:
    """Without it the report could not be made again."""
    names = {f.name for f in grounds(load(SAMPLES / "inline-four-strip.yaml"))}
    assert {"photos/bore-3.png", "photos/bore-3-2024.png"} <= names


def test_files_of_folders_beside_keep_their_places(tmp_path: Path) -> None:
    """An inspection that names books in a folder beside its own still finds them."""
    inspection = INSPECTION.replace("books/", "../books/")
    (tmp_path / "jobs").mkdir()
    a_folder(tmp_path, jobs__17=inspection)
    files = grounds(load(tmp_path / "jobs" / "17.yaml", today=TODAY))
    assert [f.name for f in files[:3]] == ["jobs/17.yaml", "books/sheet.yaml", "books/workshop.yaml"]
    assert "jobs/books-as-used/scales.yaml" in {f.name for f in files}
    load(laid_out(files, tmp_path / "kept"), today=TODAY)


def test_books_kept_beside_an_inspection_judge_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A later release with other books judges it by those kept; elsewhere the new ones hold."""
    path = kept(tmp_path)
    before = load(path, today=TODAY)
    release = tmp_path / "release"
    shutil.copytree(knowledge_dir(), release, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    for book in release.rglob("*.yaml"):
        text = book.read_text(encoding="utf-8")
        book.write_text(re.sub(r"^version: \d+", "version: 77", text, count=1, flags=re.M), encoding="utf-8")
    for one in (bookread, module):
        monkeypatch.setattr(one, "knowledge_dir", lambda: release)
    assert facts(load(path, today=TODAY)) == facts(before)
    shutil.rmtree(path.parent / as_used.FOLDER)
    shipped = [
        f.version for f in load(path, today=TODAY).files if f.kind not in ("spec sheet", "workshop file")
    ]
    assert shipped == [77] * 8


def test_a_kept_book_that_was_changed_is_told(tmp_path: Path) -> None:
    """The line of the list of digests is named; nothing is judged by a book that is no longer the one."""
    path = kept(tmp_path)
    book = path.parent / "books-as-used" / "scoring.yaml"
    book.write_text(book.read_text(encoding="utf-8").replace("serviceable: 0.6", "serviceable: 0.9"))
    (problem,) = told(path)
    assert (problem.code, problem.found) == ("K391", "scoring.yaml")
    assert problem.excerpt.endswith("scoring.yaml")
    with pytest.raises(InvalidKnowledge):
        load(path, today=TODAY)


@pytest.mark.parametrize(
    ("spoil", "found"),
    [
        (lambda f: (f / "cautions.yaml").unlink(), "cautions.yaml"),
        (lambda f: (f / "more.yaml").write_text("a: 1\n"), "more.yaml"),
        (lambda f: (f / "digests.txt").unlink(), "no readable digests.txt"),
        (lambda f: (f / "digests.txt").write_text("so\n"), "so"),
    ],
)
def test_kept_books_missing_added_or_without_list(spoil: object, found: str, tmp_path: Path) -> None:
    """Each is told with the file, what stands there and what to do."""
    path = kept(tmp_path)
    assert callable(spoil)
    spoil(path.parent / "books-as-used")
    problem = next(p for p in told(path) if p.code == "K391")
    assert problem.found == found
    assert problem.mend


def test_a_file_named_from_the_root_is_refused(tmp_path: Path) -> None:
    """Elsewhere it would not be found; the line that names it is told."""
    sheet = tmp_path / "own" / "books" / "sheet.yaml"
    path = a_folder(tmp_path / "own", inspection=INSPECTION.replace("books/sheet.yaml", str(sheet)))
    with pytest.raises(InvalidInspection) as fault:
        grounds(load(path, today=TODAY))
    (problem,) = fault.value.problems
    assert (problem.code, problem.place.line, problem.found) == ("V392", 5, str(sheet))


def test_a_book_changed_while_it_is_used_is_refused(tmp_path: Path) -> None:
    """What was judged and what is kept would be two things."""
    path = a_folder(tmp_path / "own")
    case = load(path, today=TODAY)
    a_folder(tmp_path / "own", books__workshop=WORKSHOP.replace("60", "75"), books__sheet=SHEET)
    with pytest.raises(InvalidInspection) as fault:
        grounds(case)
    assert [p.code for p in fault.value.problems] == ["V391"]
