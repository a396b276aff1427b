"""Books that disagree: each word one of them uses and no other knows is told at its place."""

from pathlib import Path

import pytest

from inspect_report.knowledge.agreement import (
    alone,
    between_books_of_rules,
    disagreements,
    shipped_checklists,
)
from inspect_report.knowledge.bookread import read_book, shipped_book, shipped_ids
from inspect_report.knowledge.bookset import BookSet, as_set, problems_in, read_books
from inspect_report.knowledge.catalogue import Catalogue, Scales, Scoring
from inspect_report.knowledge.workbook import Workbook
from inspect_report.places import knowledge_dir
from inspect_report.records.shape import read_file
from inspect_report.records.workshop import Workshop
from tests.knowledge.made import INSPECTION, SHEET, WORKSHOP, a_folder
from tests.samples import SAMPLES

CHECKLIST = """checklist: own
version: 1
title: Own
applies: {strokes: 4}
workbook: own
opened: {top end off: [lid-off]}
axes: {height: [top, bottom]}
sections:
  - id: lid
    title: Lid
    assembly: valves
    access: lid-off
    caution: [eye-protection]
    items:
      - {id: lid-state, asks: Lid, kind: rating, axes: [cylinder], damage: [crack]}
      - {id: lid-fits, asks: Fits?, kind: choice, options: {well: as new, badly: marginal}}
      - {id: lid-gap, asks: Gap, kind: reading, unit: mm}
      - {id: lid-height, asks: Height, kind: reading, axes: [cylinder], unit: mm}
"""
WORKBOOK = """workbook: own
version: 1
title: Own
access:
  - {id: cover-off, name: Cover off, opening: 1, closing: 1}
  - id: lid-off
    name: Lid off
    behind: [cover-off]
    opening: 1
    closing: 1
    parts: [{part: seal, name: Seal}]
jobs:
  - {id: new-lid, name: New lid, plain: A new lid., access: [lid-off], hours: 1, covers: [dress-lid]}
  - {id: dress-lid, name: Dress lid, plain: Dressed., hours: 1}
"""
RULES = """rulebook: own
version: 1
rules:
  - id: bad-lid
    finding: The lid of cylinder {cylinder} is bad
    why: x
    for: cylinder
    when:
      all:
        - {quantity: lid-gap, at-least: 0.5 mm}
        - any:
            - {rating: lid-state, damage: [crack], where: {cylinder: 1}}
            - not: {choice: lid-fits, answer: [well]}
            - {change: lid-gap, direction: up, by-at-least: 0.1}
            - {quantity: lid-height, at-least: 9 mm}
    work: [new-lid]
    urgency: before running
    if-left: x
    cases: [{given: {lid-gap: 1}, fires: [1]}, {given: {}, fires: []}]
"""
FILES = {"checklist": CHECKLIST, "workbook": WORKBOOK, "rules": RULES, "sheet": SHEET, "workshop": WORKSHOP}


def own_books(folder: Path, spoilt: str = "", old: str = "", new: str = "") -> BookSet:
    """A set of a workshop's own books, one of them with some text exchanged."""
    texts = dict(FILES)
    if spoilt:
        assert old in texts[spoilt], old
        texts[spoilt] = texts[spoilt].replace(old, new, 1)
    (folder / "books" / "workbooks").mkdir(parents=True)
    names = INSPECTION.replace("four-stroke", "books/own.yaml\nrulebook: books/rules.yaml")
    path = a_folder(
        folder,
        inspection=names,
        books__own=texts["checklist"],
        books__rules=texts["rules"],
        books__workbooks__own=texts["workbook"],
        books__sheet=texts["sheet"],
        books__workshop=texts["workshop"],
    )
    reads = read_books(read_file(path))
    books = as_set(reads)
    assert books is not None, problems_in(reads)
    return books


def test_an_axis_only_another_engine_has_is_no_slip(tmp_path: Path) -> None:
    """A checklist may ask for friction plates of engines whose spec sheet counts some."""
    own = own_books(tmp_path, "checklist", "axes: [cylinder], d", "axes: [friction-plate], d")
    assert [p.code for p in disagreements(own)] == []


def test_books_that_agree(tmp_path: Path) -> None:
    """The workshop's own books of these tests agree as long as nothing is exchanged."""
    assert disagreements(own_books(tmp_path)) == ()


@pytest.mark.parametrize(
    ("spoilt", "old", "new", "code", "path"),
    [
        ("checklist", "applies: {strokes: 4}", "applies: {strokes: 2}", "K350", "applies"),
        ("checklist", "[lid-off]}", "[lid-of]}", "K352", "opened.top end off[0]"),
        ("checklist", "access: lid-off", "access: lid-on", "K352", "sections[0].access"),
        ("checklist", "eye-protection", "eye-protecton", "K353", "sections[0].caution[0]"),
        ("checklist", "damage: [crack]", "damage: [crck]", "K354", "sections[0].items[0].damage[0]"),
        ("checklist", "axes: [cylinder], d", "axes: [cilinder], d", "K359", "sections[0].items[0].axes[0]"),
        ("checklist", "well: as new", "well: good", "K355", "sections[0].items[1].options.well"),
        ("checklist", "assembly: valves", "assembly: valve", "K365", "sections[0].assembly"),
        ("workbook", "behind: [cover-off]", "behind: [cover]", "K352", "access[1].behind[0]"),
        (
            "workbook",
            "Cover off, opening",
            "Cover off, behind: [lid-off], opening",
            "K362",
            "access[0].behind",
        ),
        (
            "workbook",
            "Dressed., hours: 1",
            "Dressed., hours: 1, otherwise: dress-lid",
            "K380",
            "jobs[1].otherwise",
        ),
        (
            "workbook",
            "hours: 1, covers",
            "hours: 1, may-need: [{depends-on: [lid-gp]}], covers",
            "K358",
            "jobs[0].may-need[0].depends-on[0]",
        ),
        ("workbook", "hours: 1, covers", "hours: 1, alters: [lid-gp], covers", "K358", "jobs[0].alters[0]"),
        ("workbook", "covers: [dress-lid]", "covers: [new-lid]", "K381", "jobs[0].covers[0]"),
        ("workbook", "access: [lid-off]", "access: [lid]", "K352", "jobs[0].access[0]"),
        ("workbook", "covers: [dress-lid]", "covers: [dress]", "K357", "jobs[0].covers[0]"),
        ("workbook", "hours: 1, covers", "hours: 1, caution: [x], covers", "K353", "jobs[0].caution[0]"),
        ("rules", "work: [new-lid]", "work: [new-ld]", "K357", "rules[0].work[0]"),
        ("rules", "of cylinder {cylinder}", "of cylinder {cilinder}", "K342", "rules[0].finding"),
        ("rules", "if-left: x", "if-left: 'x {valve}'", "K342", "rules[0].if-left"),
        ("rules", "for: cylinder", "for: cilinder", "K359", "rules[0].for"),
        ("rules", "quantity: lid-gap", "quantity: lid-gp", "K358", "rules[0].when.all[0].quantity"),
        ("rules", "0.5 mm", "0.5 bar", "K361", "rules[0].when.all[0].at-least"),
        ("rules", "rating: lid-state", "rating: lid-fits", "K358", "rules[0].when.all[1].any[0].rating"),
        ("rules", "damage: [crack]", "damage: [crck]", "K354", "rules[0].when.all[1].any[0].damage[0]"),
        ("rules", "where: {cylinder", "where: {valv", "K359", "rules[0].when.all[1].any[0].where.valv"),
        ("rules", "choice: lid-fits", "choice: lid-fit", "K358", "rules[0].when.all[1].any[1].not.choice"),
        ("rules", "answer: [well]", "answer: [fine]", "K358", "rules[0].when.all[1].any[1].not.answer[0]"),
        ("rules", "change: lid-gap", "change: lid-gip", "K358", "rules[0].when.all[1].any[2].change"),
        ("sheet", "page: 3-4", "note: x", "K303", "characteristics[0]"),
        ("sheet", "manual: Workshop manual\n", "", "K303", "characteristics[0]"),
        ("sheet", "id: bore-wear,", "id: bore-wear, unit: bar,", "K361", "characteristics[1].unit"),
        ("sheet", "{valve: inlet}", "{valve: intake}", "K360", "characteristics[0].where.valve"),
        ("sheet", "{valve: inlet}", "{valf: inlet}", "K359", "characteristics[0].where.valf"),
        ("sheet", "id: bore-wear,", "id: fork-play, axes: [fork],", "K359", "characteristics[1].axes[0]"),
        ("workshop", "rate: 60", "rate: 60\nprices: {seel: 3}", "K364", "prices.seel"),
        ("workshop", "rate: 60", "rate: 60\nhours: {lid-of: 3}", "K364", "hours.lid-of"),
        ("workshop", "rate: 60", "rate: 60\nshares-beyond: {gp: 3 %}", "K358", "shares-beyond.gp"),
    ],
)
def test_a_word_no_other_book_knows(
    tmp_path: Path, spoilt: str, old: str, new: str, code: str, path: str
) -> None:
    """The exchanged word is told at its own place; a word two books miss may be told twice."""
    told = disagreements(own_books(tmp_path, spoilt, old, new))
    assert (code, path) in [(p.code, p.place.path) for p in told], told
    assert {p.code for p in told} == {code}


def test_a_row_stands_once_for_each_place(tmp_path: Path) -> None:
    """Two rows of one characteristic and place are told, with the line of the first."""
    twice = "  - {id: bore-wear, limit: {high: 0.1}, wears: up, page: 3-9}\n"
    books = own_books(tmp_path, "sheet", "characteristics:\n", "characteristics:\n" + twice)
    (problem,) = disagreements(books)
    assert (problem.code, problem.place.path, "line 16" in problem.found) == (
        "K363",
        "characteristics[2]",
        True,
    )


def test_a_row_nobody_saw_in_print_says_so_instead_of_a_page(tmp_path: Path) -> None:
    """A row from memory needs no page; the report says that it is from memory."""
    assert disagreements(own_books(tmp_path, "sheet", "page: 3-4", "sure: from memory")) == ()


def test_a_checklist_for_another_engine_is_told_where_it_was_chosen(tmp_path: Path) -> None:
    """An inspection that names the checklist is told at that line."""
    books = own_books(tmp_path, "checklist", "applies: {strokes: 4}", "applies: {strokes: 2}")
    (problem,) = disagreements(books, read_file(tmp_path / "inspection.yaml"))
    assert (problem.code, problem.place.path, problem.place.line) == ("K350", "checklist", 4)


def test_prices_of_other_engines_are_no_fault(tmp_path: Path) -> None:
    """One workshop file prices the parts of every shipped workbook."""
    book = shipped_book(Workbook, "workbooks/two-stroke").value
    assert book is not None
    part = next(u.part for s in book.record.access for u in s.parts)
    assert (
        disagreements(own_books(tmp_path, "workshop", "rate: 60", f"rate: 60\nprices: {{{part}: 3}}")) == ()
    )


def test_a_workshop_file_alone(tmp_path: Path) -> None:
    """Without an inspection a workshop file is held against the shipped workbooks."""
    (tmp_path / "shop.yaml").write_text(WORKSHOP + "prices: {head-gaskt: 3}\n")
    book = read_book(Workshop, tmp_path / "shop.yaml").value
    assert book is not None
    assert [p.code for p in alone(book)] == ["K364"]


@pytest.mark.parametrize("name", shipped_ids("checklists"))
def test_the_shipped_books_agree(tmp_path: Path, name: str) -> None:
    """Checklist, workbook, rulebook, catalogue, scales and cautions as shipped know each other's words."""
    strokes = 2 if name.startswith("two") else 4
    sheet = SHEET.split("characteristics:")[0].replace("strokes: 4", f"strokes: {strokes}")
    path = a_folder(tmp_path, inspection=INSPECTION.replace("four-stroke", name), books__sheet=sheet)
    books = as_set(read_books(read_file(path)))
    assert books is not None
    assert disagreements(books) == ()


def test_the_catalogue_names_items_jobs_and_assemblies_that_exist() -> None:
    """What a characteristic needs is in a shipped checklist, its work in a shipped workbook."""
    catalogue = shipped_book(Catalogue, "characteristics").value
    assert catalogue is not None
    items = {i.id for c in shipped_checklists() for s in c.sections for i in s.items}
    workbooks = [shipped_book(Workbook, f"workbooks/{n}").value for n in shipped_ids("workbooks")]
    jobs = {j.id for b in workbooks if b for j in b.record.jobs}
    known = catalogue.record.characteristics
    assert {n for k in known for n in k.needs} - items == set()
    assert {w.job for k in known for w in k.work} - jobs == set()


def test_the_scoring_book_names_what_exists() -> None:
    """Caps speak of characteristics and kinds of damage that other books know."""
    catalogue = shipped_book(Catalogue, "characteristics").value
    scales = shipped_book(Scales, "scales").value
    scoring = shipped_book(Scoring, "scoring").value
    assert catalogue is not None
    assert scales is not None
    assert scoring is not None
    known = {k.id for k in catalogue.record.characteristics}
    damage = {w.damage for w in scales.record.words}
    assert {c for cap in scoring.record.caps for c in cap.characteristics} - known == set()
    assert {d for cap in scoring.record.caps for d in cap.damage} - damage == set()


@pytest.mark.parametrize("sample", ["inline-four-strip", "kart-two-stroke", "race-team/a-1"])
def test_shipped_books_agree(sample: str) -> None:
    """Checklist, workbook and rulebook of the package, which no run holds against each other again."""
    books = as_set(read_books(read_file(SAMPLES / f"{sample}.yaml")))
    assert books is not None
    assert [p.title for p in between_books_of_rules(books)] == []


def test_own_books_beside_shipped_ones_are_held_against_them(tmp_path: Path) -> None:
    """A rulebook of one's own is not taken on trust because the checklist is shipped."""
    path = a_folder(tmp_path)
    rules = (knowledge_dir() / "rulebooks" / "engine-builder.yaml").read_text(encoding="utf-8")
    (tmp_path / "rules.yaml").write_text(rules.replace("quantity: leak-down,", "quantity: leak-dwn,", 1))
    text = path.read_text(encoding="utf-8")
    path.write_text(text + "rulebook: rules.yaml\n", encoding="utf-8")
    books = as_set(read_books(read_file(path)))
    assert books is not None
    assert "leak-dwn" in {p.found for p in disagreements(books)}
