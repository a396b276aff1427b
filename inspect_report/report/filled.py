"""Turns an inspection into what its sheet shows as read already: boxes, ticks and the lines of its head."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import zip_longest
from typing import Final

from inspect_report.knowledge.case import Case
from inspect_report.knowledge.catalogue import Known
from inspect_report.measure.measuring import measure
from inspect_report.records.checklist import Item
from inspect_report.records.inspection import Answer, InspectionHead, Rating, Reading
from inspect_report.records.quantity import from_si
from inspect_report.report.figures import Figures, decimals_for, with_unit
from inspect_report.report.view_back import as_typed
from inspect_report.telling.manner import manner, resigned, say
from inspect_report.telling.positions import plain_name
from inspect_report.telling.units import Among, one_way, sign

LETTERS: Final = "abcdefghijklmnopqrstuvwxyz"
TICKED: Final = "✓"

Spot = tuple[str, tuple[str, ...]]
"""An item and the labels of a place, in the order of the item's axes."""


@dataclass(frozen=True, slots=True)
class Filled:
    """What was read, seen and answered so far, by item and place; empty for a blank sheet."""

    head: tuple[str, ...] = ()
    """What stands in the lines of the head, in their order; empty where nothing is filled in."""
    readings: Mapping[Spot, Reading] = field(default_factory=dict)
    ratings: Mapping[Spot, tuple[Rating, ...]] = field(default_factory=dict)
    answers: Mapping[Spot, Answer] = field(default_factory=dict)
    computed: Mapping[Spot, str] = field(default_factory=dict)
    """What was computed from the readings so far, by characteristic."""

    def box(self, item: Item, labels: Sequence[str]) -> str:
        """What is written in the one box of a place; empty where nothing was read."""
        spot = (item.id, tuple(labels))
        reading, answer = self.readings.get(spot), self.answers.get(spot)
        if reading is not None:
            return " / ".join(_typed(t, item.unit) for t in reading.typed)
        if spot in self.computed:
            return self.computed[spot]
        return _answered(item, answer) if answer is not None else ""

    def rating(self, item: Item, labels: Sequence[str]) -> tuple[str, str, str]:
        """Letters of the damage seen at a place, its amounts, its sizes or strengths."""
        seen = self.ratings.get((item.id, tuple(labels)), ())
        kinds, amounts, sizes = zip(*(_steps(item, r) for r in seen), strict=True) if seen else ((), (), ())
        return ("; ".join(kinds), "; ".join(filter(None, amounts)), "; ".join(filter(None, sizes)))

    def damages(self, item: Item, labels: Sequence[str]) -> tuple[tuple[str, str, str, str], ...]:
        """What was seen at a place, a line for each kind of damage: letter, amount, size, note."""
        seen = self.ratings.get((item.id, tuple(labels)), ())
        return tuple((*_steps(item, r), r.note) for r in seen)

    def notes(self, item: Item) -> tuple[tuple[tuple[str, ...], str], ...]:
        """What was noted of an item besides, by place."""
        taken: list[tuple[Spot, str]] = [(s, r.note) for s, r in self.readings.items()]
        taken += [(s, a.note) for s, a in self.answers.items()]
        taken += [(s, r.note) for s, seen in self.ratings.items() for r in seen]
        return tuple((at, note) for (id_, at), note in taken if id_ == item.id and note)

    def ticked(self, item: Item) -> Mapping[str, str]:
        """Answers ticked where an item has one place only, each with how much of it where that was said."""
        answer = self.answers.get((item.id, ()))
        if answer is None:
            return {}
        done = {"tick": ("done",), "photo": ("taken",)}.get(item.kind)
        chosen = done or answer.chosen
        return dict(zip_longest(chosen, map(str, answer.amounts[: len(chosen)]), fillvalue=""))


BLANK: Final = Filled()
"""A sheet nothing was written on yet."""


def _typed(typed: str, unit: str) -> str:
    """A reading as typed; with its unit where the boxes of the sheet name another."""
    return as_typed(typed, unit) if manner().units else resigned(typed.removesuffix(unit).strip())


def _answered(item: Item, answer: Answer) -> str:
    if item.kind in ("tick", "photo"):
        return TICKED
    if item.kind == "choice":
        return ", ".join(_letter(item.options, chosen) for chosen in answer.chosen)
    return "; ".join(answer.chosen)


def _steps(item: Item, seen: Rating) -> tuple[str, str, str]:
    """Letter of a kind of damage, its amount, its size or strength; 0 alone where nothing was found."""
    if not seen.damage:
        return ("0", "", "")
    big = seen.size if seen.size is not None else seen.strength
    return (_letter(item.damage, seen.damage), str(seen.amount), "–" if big is None else str(big))


def _letter(words: Iterable[str], word: str) -> str:
    """The letter a word has on the sheet; the word itself where the sheet gives it none."""
    known = dict(zip(words, LETTERS, strict=False))
    return known.get(word, plain_name(word))


def filled_from(case: Case) -> Filled:
    """What an inspection holds so far."""
    inspection = case.inspection
    ratings: dict[Spot, tuple[Rating, ...]] = {}
    for rating in inspection.ratings:
        spot = (rating.item, rating.position.labels)
        ratings[spot] = (*ratings.get(spot, ()), rating)
    shop = case.books.workshop
    figures = Figures(shop.locale, shop.currency)
    return Filled(
        head=_head(inspection.head, figures),
        readings={(r.item, r.position.labels): r for r in inspection.readings},
        ratings=ratings,
        answers={(a.item, a.position.labels): a for a in inspection.answers},
        computed=dict(_computed(case, figures)),
    )


def _computed(case: Case, figures: Figures) -> Iterator[tuple[Spot, str]]:
    """What the readings come to, in the unit and as fine as its characteristic is told."""
    for found in measure(case).quantities:
        known = case.books.catalogue.known(found.characteristic)
        if known is not None and known.needs:
            yield (known.id, found.position.labels), _in_its_box(found.quantity.value, known, figures)


def _in_its_box(value: float, known: Known, figures: Figures) -> str:
    """A value in the one unit of its box, named where the boxes of the sheet name theirs."""
    way = one_way(known.unit, known.decimals, Among((value,)))
    number = figures.number(from_si(value, way.unit), way.decimals)
    return with_unit(number, sign(way.unit)) if manner().units else number


def _head(head: InspectionHead, figures: Figures) -> tuple[str, ...]:
    """The lines of a sheet's head, in the order of ``sheets.BLANKS``."""
    engine, conditions, dates = head.engine, head.conditions, head.dates
    return (
        say("{number}, issue {issue}", number=head.inspection, issue=head.issue),
        _listed(*(figures.day(d) for d in (dates.received, dates.inspected, dates.issued))),
        _listed(head.inspector.name, head.inspector.qualification),
        _listed(head.customer.name, head.customer.address),
        engine.owner,
        engine.machine,
        engine.serial,
        _listed(_amount(engine.running_time, "h", figures), _amount(engine.distance, "km", figures)),
        head.place,
        head.reason,
        _listed(conditions.engine, _amount(conditions.battery, "V", figures)),
        _listed(
            _amount(conditions.ambient_temperature, "°C", figures),
            _amount(conditions.ambient_pressure, "hPa", figures),
        ),
    )


def _listed(*texts: str) -> str:
    return ", ".join(t for t in texts if t)


def _amount(value: float | None, unit: str, figures: Figures) -> str:
    """An amount as it was written, up to two decimals."""
    if value is None:
        return ""
    return figures.amount(value, unit, min(2, decimals_for(from_si(value, unit), 0)))
