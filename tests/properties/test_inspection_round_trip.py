"""Inspections: what is filled into a blank file is read back, and written once more gives the same again."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_report.records.blank import BlankOrder, blank_inspection
from inspect_report.records.checklist import Item, positions
from inspect_report.records.inspection import Answer, Inspection, Rating, Reading
from inspect_report.records.letters import odd_letter
from inspect_report.records.problem import Place
from inspect_report.records.quantity import from_si, si, unit_named, usual_units
from inspect_report.records.rewrite import filled
from inspect_report.records.yaml import Path, Plain
from tests.records.made import CHECKLIST, MADE, SHEET, inspected

NAMES = {"checklist": "made", "spec-sheet": "books/sheet.yaml", "workshop": "books/workshop.yaml"}
BLANK = blank_inspection(BlankOrder(SHEET, CHECKLIST, "fully stripped", NAMES))
HEAD: dict[Path, Plain] = {
    ("inspection",): "HW-1",
    ("report",): "rebuild quote",
    ("dates", "inspected"): "2026-03-05",
    ("dates", "issued"): "2026-03-09",
    ("customer", "name"): "Mira Holt",
    ("inspector", "name"): "Jon Vale",
    ("place",): "Bench 2",
    ("engine", "serial"): "C6-1",
    ("reason",): "burns oil",
    **{("instruments", i, "resolution"): 0.01 for i in ("leak-down-tester", "feeler-gauge", "bore-gauge")},
}
# Every letter a report can print; what is none is refused, and tested in tests/test_fonts.py.
LETTERS = [c for c in map(chr, range(0x20, 0x1F700)) if c.isprintable() and odd_letter(c) is None]
TEXTS = st.text(st.sampled_from(LETTERS), min_size=1).filter(lambda t: not {"<", "&"} & {*t} and t.strip())


def amounts(item: Item) -> st.SearchStrategy[Plain]:
    """Amounts an item takes: bare numbers, and text in any usual unit."""
    low, high = item.bounds() or (si(0.1, item.unit), si(50, item.unit))
    numbers = st.floats(from_si(low, item.unit), from_si(high, item.unit)).map(lambda x: round(x, 4))
    units = st.sampled_from(usual_units(unit_named(item.unit).dimension))
    inside = numbers.filter(lambda x: low <= si(x, item.unit) <= high)
    written = st.tuples(inside, units).map(
        lambda pair: f"{from_si(si(pair[0], item.unit), pair[1])!r} {pair[1]}"
    )
    return st.one_of(
        inside, written.filter(lambda text: low <= si(float(text.split()[0]), text.split()[1]) <= high)
    )


def ratings(item: Item) -> st.SearchStrategy[Plain]:
    """Nothing found, or one or two kinds of damage."""
    return st.one_of(st.just("none"), a_rating(item), st.lists(a_rating(item), min_size=1, max_size=2))


def a_rating(item: Item) -> st.SearchStrategy[Any]:
    """One kind of damage with its steps and a note."""

    def written(damage: str, amount: int, second: int, note: str) -> dict[str, Plain]:
        return {
            "damage": damage,
            "amount": amount,
            "strength" if MADE["damage"][damage] else "size": second,
            "note": note,
        }

    steps = st.integers(0, 5)
    return st.builds(written, st.sampled_from(item.damage), st.integers(1, 5), steps, TEXTS)


def values(item: Item) -> st.SearchStrategy[Plain]:
    """What may stand at a place of an item."""
    if item.kind == "reading":
        return st.one_of(amounts(item), st.lists(amounts(item), min_size=1, max_size=3))
    if item.kind == "rating":
        return ratings(item)
    if item.kind == "choice":
        one = st.sampled_from(tuple(item.options))
        return st.one_of(one, st.lists(one, min_size=1, max_size=2)) if item.several else one
    kinds: dict[str, st.SearchStrategy[Any]] = {
        "count": st.integers(4, 200),
        "tick": st.sampled_from(["done", "no"]),
        "text": TEXTS,
    }
    return kinds[item.kind]


def places() -> dict[Path, st.SearchStrategy[Plain]]:
    """Every place a blank file has, without photos and the supply that must exceed the cylinder's reading."""
    skipped = {"leak-down-supply", "side-stand-play", "pulley-wear", "coolant", "belt-cracks", "marks-photo"}
    found: dict[Path, st.SearchStrategy[Plain]] = {}
    for section in CHECKLIST.sections:
        for item in (i for i in section.items if i.id not in skipped):
            for position in positions(item.axes, SHEET, CHECKLIST):
                found[("readings", section.id, item.id, *position.labels)] = values(item)
    return found


SOME_READINGS = st.fixed_dictionaries({}, optional=places())


def read(written: dict[Path, Plain]) -> Inspection:
    """The inspection in the blank file with some values filled in."""
    got = inspected(filled(BLANK, {**HEAD, **written}))
    assert got.problems == (), got.problems
    assert got.value is not None
    return got.value


def place_of(entry: Reading | Rating | Answer) -> Path:
    """Where an entry stands in a file."""
    section = CHECKLIST.section_of(entry.item)
    assert section is not None
    return ("readings", section.id, entry.item, *entry.position.labels)


def entries_of(inspection: Inspection) -> tuple[Reading | Rating | Answer, ...]:
    """Everything filled in."""
    return (*inspection.readings, *inspection.ratings, *inspection.answers)


def si_of(written: Plain, unit: str) -> float:
    """The SI value of a number, or of a number with its unit, worked out without the reader."""
    if isinstance(written, str):
        number, _, symbol = written.partition(" ")
        return si(float(number), symbol)
    assert isinstance(written, float)
    return si(written, unit)


@settings(max_examples=50)
@given(SOME_READINGS)
def test_what_is_filled_in_is_read_back(written: dict[Path, Plain]) -> None:
    """Every filled place comes out once, with its amounts in SI; no other place does."""
    inspection = read(written)
    assert {place_of(e) for e in entries_of(inspection)} == set(written)
    for reading in inspection.readings:
        item, typed = CHECKLIST.item(reading.item), written[place_of(reading)]
        assert item is not None
        expected = [si_of(v, item.unit) for v in (typed if isinstance(typed, list) else [typed])]
        assert list(reading.values) == pytest.approx(expected)


@settings(max_examples=50)
@given(SOME_READINGS)
def test_an_inspection_written_again_is_the_same(written: dict[Path, Plain]) -> None:
    """The entries of an inspection, typed anew into a blank file, give equal entries."""
    first = read(written)
    again = read(typed_anew(first))
    here = Place("made.yaml", 1, 1)
    assert [replace(e, place=here) for e in entries_of(again)] == [
        replace(e, place=here) for e in entries_of(first)
    ]


def typed_anew(inspection: Inspection) -> dict[Path, Plain]:
    """An inspection's entries as they would be typed."""
    typed: dict[Path, list[Any]] = {}
    for reading in inspection.readings:
        typed[place_of(reading)] = list(reading.typed)
    for rating in inspection.ratings:
        typed.setdefault(place_of(rating), []).append(rating_anew(rating))
    for answer in inspection.answers:
        is_count = answer.item == "pitches"
        typed[place_of(answer)] = [int(c) if is_count else c for c in answer.chosen]
    return {place: values[0] if len(values) == 1 else values for place, values in typed.items()}


def rating_anew(rating: Rating) -> Plain:
    """A rating as it would be typed."""
    if not rating.damage:
        return "none"
    steps = {"amount": rating.amount, "size": rating.size, "strength": rating.strength}
    written: dict[str, Any] = {k: v for k, v in steps.items() if v is not None}
    return {"damage": rating.damage, **written, "note": rating.note}
