"""Books that an inspection or its workshop names in place of shipped ones: used, and told where at fault."""

import re
from pathlib import Path

import pytest

from inspect_report.knowledge.shelf import load
from inspect_report.places import knowledge_dir
from tests.knowledge.made import INSPECTION, TODAY, WORKSHOP, a_folder, faults

NAMES = ("characteristics", "scales", "scoring", "practice", "cautions")


def shipped(name: str, old: str = "", new: str = "", version: int = 42) -> str:
    """The text of a shipped book under another version, with something else in it."""
    text = (knowledge_dir() / f"{name}.yaml").read_text(encoding="utf-8")
    assert old in text
    return re.sub(r"(?m)^version: \d+", f"version: {version}", text.replace(old, new, 1) if old else text)


def versions(path: Path) -> dict[str, int]:
    """The version of each book by its kind."""
    return {f.kind: f.version for f in load(path, today=TODAY).files}


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("by", ["inspection", "books/workshop"])
def test_a_book_named_as_a_file_is_used(name: str, by: str, tmp_path: Path) -> None:
    """Named by the inspection or, from its own folder, by the workshop file; its version is told."""
    texts = {"inspection": INSPECTION, "books/workshop": WORKSHOP}
    place = "books/mine.yaml" if by == "inspection" else "mine.yaml"
    texts[by] += f"books: {{{name}: {place}}}\n"
    path = a_folder(
        tmp_path, **{k.replace("/", "__"): v for k, v in texts.items()}, books__mine=shipped(name)
    )
    kind = "characteristics book" if name == "characteristics" else name
    assert [k for k, v in versions(path).items() if v == 42] == [kind]


def test_the_inspection_comes_before_its_workshop(tmp_path: Path) -> None:
    """Of two the nearer holds."""
    path = a_folder(
        tmp_path,
        inspection=INSPECTION + "books: {practice: books/near.yaml}\n",
        books__workshop=WORKSHOP + "books: {practice: far.yaml, cautions: cautions.yaml}\n",
        books__near=shipped("practice", version=7),
        books__far=shipped("practice", version=8),
        books__cautions=shipped("cautions", version=9),
    )
    found = versions(path)
    assert (found["practice"], found["cautions"]) == (7, 9)


def test_a_workbook_of_one_inspection(tmp_path: Path) -> None:
    """It stands in for the one the checklist names."""
    own = shipped("workbooks/four-stroke")
    path = a_folder(tmp_path, inspection=INSPECTION + "books: {workbook: books/w.yaml}\n", books__w=own)
    assert versions(path)["workbook"] == 42


@pytest.mark.parametrize(
    ("written", "code", "at"),
    [
        ("{practice: books/none.yaml}", "K351", "books.practice"),
        ("{practice: starting-limits}", "K351", "books.practice"),
        ("{practise: books/sheet.yaml}", "V206", "books.practise"),
        ("{practice: [books/sheet.yaml]}", "V205", "books.practice"),
        ("practice", "V210", "books"),
    ],
)
def test_a_book_that_is_not_known_is_told_where_it_is_named(
    written: str, code: str, at: str, tmp_path: Path
) -> None:
    """No such file, an id, an unknown key, no text: told at the line of the inspection."""
    path = a_folder(tmp_path, inspection=INSPECTION + f"books: {written}\n")
    told = faults(path)
    assert [(p.place.path, Path(p.place.file).name) for p in told] == [(at, "inspection.yaml")], told
    assert told[0].code == code


def test_a_book_of_another_kind_is_told(tmp_path: Path) -> None:
    """A spec sheet is no book of practice."""
    path = a_folder(tmp_path, inspection=INSPECTION + "books: {practice: books/sheet.yaml}\n")
    (problem,) = faults(path)
    assert (problem.code, problem.found) == ("K366", "a file that looks like: spec sheet")


@pytest.mark.parametrize(
    ("name", "old", "new", "code"),
    [
        ("practice", "id: leak-down\n", "id: leak-dwn\n", "K358"),
        ("practice", 'unit: "%"', "unit: mm", "K361"),
        ("scoring", "big-end-clearance", "big-end-clearence", "K358"),
        ("scoring", "- crack\n", "- crck\n", "K354"),
        ("scoring", "  undecided: marginal", "  undecidd: marginal", "K355"),
        ("scales", "verdicts: [as new,", "verdicts: [as now,", "K355"),
    ],
)
def test_what_no_book_knows_is_told(name: str, old: str, new: str, code: str, tmp_path: Path) -> None:
    """A limit, cap or verdict that could never hold is no silent skip."""
    path = a_folder(
        tmp_path, inspection=INSPECTION + f"books: {{{name}: mine.yaml}}\n", mine=shipped(name, old, new)
    )
    assert [(p.code, Path(p.place.file).name) for p in faults(path)] == [(code, "mine.yaml")]
