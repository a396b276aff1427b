"""A value in a wrong unit is caught by the range of its place, and the message names the right unit."""

from collections.abc import Iterator

import pytest
from pydantic import BaseModel, ValidationError

from inspect_report.places import knowledge_dir
from inspect_report.records.believable import is_believable, probably_meant
from inspect_report.records.checklist import Checklist, Item
from inspect_report.records.inspection import Conditions, Instrument
from inspect_report.records.quantity import from_si, si, unit_named, usual_units
from inspect_report.records.shape import read_as, read_file
from inspect_report.records.specsheet import Geometry
from inspect_report.records.workshop import DecisionRule

SHARES = (0.02, 0.05, 0.25, 0.5, 0.75, 0.95)
KINDS = ("reading", "count")


def measured_items(name: str) -> Iterator[Item]:
    """Items of a shipped checklist that take a number."""
    checklist = read_as(Checklist, read_file(knowledge_dir() / f"checklists/{name}.yaml")).value
    assert checklist is not None
    yield from (i for section in checklist.sections for i in section.items if i.kind in KINDS)


ITEMS = {(name, item.id): item for name in ("four-stroke", "two-stroke") for item in measured_items(name)}


def slips(item: Item) -> Iterator[tuple[float, str]]:
    """Believable values as numbers of other units, where such a number is out of range in the item's own."""
    low, high = item.bounds() or (0.0, 0.0)
    own = item.unit or "pcs"
    for unit in usual_units(unit_named(own).dimension):
        for share in SHARES:
            number = from_si(low + share * (high - low), unit)
            if unit != own and number and not is_believable(si(number, own), item):
                yield number, unit


@pytest.mark.parametrize("key", ITEMS, ids=".".join)
def test_every_item_has_a_range(key: tuple[str, str]) -> None:
    """Without a range no slip of the unit can be seen."""
    assert ITEMS[key].bounds() is not None


@pytest.mark.parametrize("key", ITEMS, ids=".".join)
def test_unit_meant_is_named(key: tuple[str, str]) -> None:
    """Whatever usual unit a believable value was read in: out of range, its unit is offered."""
    item = ITEMS[key]
    for number, unit in slips(item):
        told = probably_meant(number, item)
        shared = f"if it is a share of one, write {from_si(number, item.unit or 'pcs'):.10g}"
        wanted = shared if unit == "1" else f"if the unit is {unit}, write {number:.10g} {unit}"
        assert wanted in told, (unit, told)


def test_slips_are_many() -> None:
    """The walk over the items is no empty one: pressures, lengths, forces and more are mistaken."""
    found = [(unit_named(unit).dimension, unit) for item in ITEMS.values() for _, unit in slips(item)]
    assert len(found) > 1000
    assert {dimension for dimension, _ in found} >= {"length", "pressure", "force", "volume", "time"}


@pytest.mark.parametrize(
    ("model", "written", "told"),
    [
        (Conditions, {"ambient-pressure": 1.004}, "if the unit is bar, write 1.004 bar"),
        (Conditions, {"ambient-pressure": 14.6}, "if the unit is psi, write 14.6 psi"),
        (Conditions, {"ambient-temperature": 295}, "if the unit is K, write 295 K"),
        (Conditions, {"altitude": 12_000}, "if the unit is ft, write 12000 ft"),
        (Geometry, {"bore": 2.64}, "if the unit is in, write 2.64 in"),
        (Geometry, {"stroke": 0.0425}, "if the unit is m, write 0.0425 m"),
        (Geometry, {"chamber-volume": 0.011}, "if the unit is l, write 0.011 l"),
        (Geometry, {"bore": "67000 mm"}, "if the unit is µm, write 67000 µm"),
        (Instrument, {"kind": "leak-down tester", "orifice": 40}, "if the unit is thou, write 40 thou"),
        (DecisionRule, {"kind": "shown at confidence", "confidence": 0.95}, "a share of one, write 95 %"),
        (Conditions, {"battery": -3}, "correct the number or its unit"),
    ],
)
def test_unit_meant_in_the_head_and_in_books(
    model: type[BaseModel], written: dict[str, object], told: str
) -> None:
    """Amounts of an inspection's head, a spec sheet and the workshop's file are met the same way."""
    with pytest.raises(ValidationError) as caught:
        model.model_validate(written)
    assert told in str(caught.value.errors()[0]["ctx"]["mend"])
