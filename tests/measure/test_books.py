"""Checks that measuring and the shipped books speak of the same characteristics, items and places."""

from contextlib import suppress
from dataclasses import replace

import pytest

from inspect_report.knowledge.bookread import shipped_book
from inspect_report.knowledge.catalogue import Catalogue, Known
from inspect_report.measure.bench import Bench, bench_of
from inspect_report.measure.missing import MissingInput
from inspect_report.measure.ways import WAYS
from inspect_report.mechanics.errors import OutOfRange
from inspect_report.records.checklist import Checklist
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position
from inspect_report.records.problem import Place
from tests.cases import a_case, a_sheet, some_books

COUNTS = {
    "main-journal": 5, "crankpin": 4, "friction-plate": 6, "steel-plate": 5, "clutch-spring": 4, "fork": 3,
    "cam-journal": 3,
}  # fmt: skip


def _catalogue() -> Catalogue:
    book = shipped_book(Catalogue, "characteristics").value
    assert book is not None
    return book.record


def _checklist(name: str) -> Checklist:
    book = shipped_book(Checklist, f"checklists/{name}").value
    assert book is not None
    return book.record


DERIVED = {known.id: known for known in _catalogue().characteristics if known.needs}


def _bench(known: Known) -> Bench:
    """An empty bench for the kind of engine a characteristic belongs to."""
    two_stroke = str(known.applies.get("strokes")) == "2"
    sheet = a_sheet(layout={"counts": COUNTS})
    books = replace(some_books(sheet), checklist=_checklist("two-stroke" if two_stroke else "four-stroke"))
    return bench_of(a_case(books=books))


def test_every_computed_characteristic_has_a_way_and_every_way_a_characteristic() -> None:
    """What the book says is made from readings is what measuring can make."""
    assert set(WAYS) == set(DERIVED)


@pytest.mark.parametrize("known", DERIVED.values(), ids=DERIVED.keys())
def test_way_reads_the_items_the_book_names(known: Known, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every item a way asks for is on the checklist, and every item the book says it needs is asked for."""
    asked: set[str] = set()

    def handed_out(bench: Bench, item: str, at: Position) -> Reading:
        asked.add(item)
        values = (0.5e5 if "cylinder" in item else 1e5,) if "leak" in item else (1.0,)
        return Reading(item, at, values, "length", ("1",), "tester", Place("none", 1, 1, f"{item}.{at.id}"))

    monkeypatch.setattr(Bench, "find", handed_out)
    bench = _bench(known)
    places = bench.places(known.axes)
    assert places
    with suppress(MissingInput, OutOfRange):
        WAYS[known.id](bench, places[0])
    items = {item.id for section in bench.case.books.checklist.sections for item in section.items}
    assert asked <= items
    assert asked >= set(known.needs)


@pytest.mark.parametrize("name", ["four-stroke", "two-stroke"])
def test_item_judged_as_read_is_judged_at_places_it_is_read_at(name: str) -> None:
    """A characteristic that is an item has no axis the item lacks."""
    checklist = _checklist(name)
    for known in _catalogue().characteristics:
        item = checklist.item(known.id)
        if item is not None and not known.needs:
            assert set(known.axes) <= set(item.axes), known.id
