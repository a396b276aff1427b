"""
Turns a case into readings found by item and place, and a formula over some of them into a quantity.

The tools every area of measuring works with. A function of an area asks the bench for the readings of one
place and gives them to a formula; what is missing travels up as `MissingInput`.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from inspect_report.knowledge.case import Case
from inspect_report.measure.budget import Formula, as_it_stands, propagated
from inspect_report.measure.derived import BudgetLine, Derived
from inspect_report.measure.missing import MissingInput, in_words, not_read
from inspect_report.measure.uncertainty import Input, input_of, reading_id
from inspect_report.records.checklist import applies_to, axis_labels, positions
from inspect_report.records.inspection import Conditions, Reading
from inspect_report.records.position import Position
from inspect_report.records.quantity import Quantity
from inspect_report.records.specsheet import Geometry, Layout
from inspect_report.telling.manner import say


@dataclass(frozen=True, slots=True)
class Result:
    """What a formula gave: quantity, name of the formula, readings that went in and what to say of it."""

    quantity: Quantity
    formula: str
    readings: tuple[Reading, ...] = ()
    note: str = ""
    doubt: str = ""
    """Why it should be measured again, in words."""
    budget: tuple[BudgetLine, ...] = ()
    engine: str = ""
    """State of the engine at the test, cold, warm or hot, where that bears on the result."""
    basis: str = ""
    """What else it must share with a value it is held against: the tester's orifice."""
    sold_in: str = ""
    """The unit it is sold in, where it is a size of a part on sale."""

    def at(self, characteristic: str, position: Position) -> Derived:
        """The result as a characteristic of one place."""
        return Derived(
            characteristic,
            position,
            self.quantity,
            self.formula,
            tuple(dict.fromkeys(reading_id(r) for r in self.readings)),
            tuple(dict.fromkeys(r.place for r in self.readings)),
            tuple(dict.fromkeys(r.instrument for r in self.readings if r.instrument)),
            self.note,
            self.doubt,
            self.budget,
            self.engine,
            self.basis,
            self.sold_in,
        )


@dataclass(frozen=True, slots=True)
class Bench:
    """A case with its readings laid out by item and place."""

    case: Case
    laid_out: Mapping[tuple[str, Position], Reading]

    @property
    def layout(self) -> Layout:
        return self.case.books.sheet.layout

    @property
    def geometry(self) -> Geometry:
        return self.case.books.sheet.geometry

    @property
    def conditions(self) -> Conditions:
        return self.case.inspection.head.conditions

    def printed(self, name: str, *, optional: bool = False) -> float:
        """
        A number of the engine's geometry, in SI; angles in degrees.

        Raises:
            MissingInput: the spec sheet does not print it.
        """
        value: float | None = getattr(self.geometry, name)
        if value is None:
            raise MissingInput(say("{what} is not in the spec sheet", what=in_words(name)), optional=optional)
        return value

    def asks_for(self, item_id: str) -> bool:
        """Whether the checklist has an item and the engine what it asks for."""
        checklist = self.case.books.checklist
        item, section = checklist.item(item_id), checklist.section_of(item_id)
        if item is None or section is None:
            return False
        known = all(_has_axis(axis, self.case) for axis in item.axes)
        return known and all(applies_to(part.applies, self.layout) for part in (item, section))

    def places(self, axes: tuple[str, ...]) -> tuple[Position, ...]:
        """Every place along some axes; none where the engine has no such parts."""
        if not all(_has_axis(axis, self.case) for axis in axes):
            return ()
        return positions(axes, self.case.books.sheet, self.case.books.checklist)

    def find(self, item_id: str, at: Position) -> Reading | None:
        """The reading of an item at a place, or at the place it is part of; None where there is none."""
        return self.laid_out.get((item_id, _seen_along(self._axes(item_id), at)))

    def one(self, item_id: str, at: Position) -> Reading:
        """
        The reading of an item at a place.

        Raises:
            MissingInput: it was not read.
        """
        reading = self.find(item_id, at)
        if reading is None:
            raise self.missing(item_id, at)
        return reading

    def several(self, item_id: str, at: Position) -> tuple[Reading, ...]:
        """
        The readings of an item at every place that belongs to one.

        Raises:
            MissingInput: one of them was not read.
        """
        try:
            return tuple(self.one(item_id, place) for place in self.within(item_id, at))
        except MissingInput as fault:
            raise fault.in_part(item_id) if self.those_read(item_id, at) else fault from None

    def some(self, item_id: str, at: Position) -> tuple[Reading, ...]:
        """
        The readings there are of an item at the places that belong to one, at least one.

        Raises:
            MissingInput: none of them was read.
        """
        found = self.those_read(item_id, at)
        if not found:
            raise self.missing(item_id, at)
        return found

    def those_read(self, item_id: str, at: Position) -> tuple[Reading, ...]:
        """The readings there are of an item at the places that belong to one; may be none."""
        found = (self.find(item_id, place) for place in self.within(item_id, at))
        return tuple(reading for reading in found if reading is not None)

    def within(self, item_id: str, at: Position) -> tuple[Position, ...]:
        """Places of an item that belong to a place, in the order of the item's axes."""
        return tuple(p for p in self.places(self._axes(item_id)) if _agree(p, at))

    def engine_at(self, item_id: str) -> str:
        """
        State of the engine at the test an item belongs to: as answered there, else as noted for the day.

        Empty where the item's section does not ask, in an item named after it: ``compression-engine``.
        """
        section = self.case.books.checklist.section_of(item_id)
        asked = f"{section.id}-engine" if section else ""
        if self.case.books.checklist.item(asked) is None:
            return ""
        answers = (a.chosen[0] for a in self.case.inspection.answers if a.item == asked and a.chosen)
        return next(answers, self.conditions.engine)

    def missing(self, item_id: str, at: Position) -> MissingInput:
        """Why an item has no reading at a place."""
        checklist = self.case.books.checklist
        item, section = checklist.item(item_id), checklist.section_of(item_id)
        if item is None or section is None:
            return MissingInput(
                say(
                    "{what} is not on the checklist {checklist}",
                    what=in_words(item_id),
                    checklist=checklist.checklist,
                )
            )
        return not_read(item, section, _seen_along(item.axes, at), self.case.inspection.head)

    def _axes(self, item_id: str) -> tuple[str, ...]:
        item = self.case.books.checklist.item(item_id)
        return item.axes if item else ()

    def input(self, reading: Reading) -> Input:
        """A reading as a formula takes it."""
        return input_of(reading, self.case.inspection.instrument(reading.instrument))

    def as_read(self, reading: Reading, note: str = "") -> Result:
        """A reading as it is: the mean of its repeats."""
        repeats = (
            say("mean of {count} readings", count=len(reading.values)) if len(reading.values) > 1 else ""
        )
        said = notes(repeats, note, reading.note)
        found = as_it_stands(self.input(reading))
        quantity, engine = found.quantity(reading.dimension), self.engine_at(reading.item)
        return Result(quantity, "reading", (reading,), said, budget=found.budget, engine=engine)

    def result(
        self,
        formula: Callable[..., object],
        readings: Sequence[Reading],
        dimension: str,
        *,
        by: Formula | None = None,
        picks: bool = False,
        mirrored: Sequence[Reading] = (),
        alike: Sequence[Reading] = (),
        given: Sequence[Input] = (),
        note: str = "",
    ) -> Result:
        """
        A formula of ``mechanics`` over some readings, with the uncertainty they bring to it.

        Args:
            formula: The formula it is named after.
            readings: Its inputs; one that stands for several places counts as one.
            dimension: Dimension of the result.
            by: How to call it with one number for each reading; left out: just so.
            picks: Whether the formula takes the greatest or the least of its inputs.
            mirrored: Those of the readings that count against the sense of their instrument's scale.
            alike: Those of the readings that tell one thing at several places and enter as their mean, such
                as lengths of one chain: their scatter over the places counts as well.
            given: Numbers that are no readings, such as the air pressure of the day; ``by`` takes them behind
                those of the readings.
            note: What to say of it.

        Raises:
            OutOfRange: the formula does not hold for these readings.
        """
        call = by or _floats(formula)
        once = tuple(dict.fromkeys(_key(r) for r in readings))
        number = {key: i for i, key in enumerate(once)}
        slots = [number[_key(r)] for r in readings]
        against = {_key(r) for r in mirrored}
        read = (self.input(next(r for r in readings if _key(r) == key)) for key in once)
        inputs = [replace(i, mirrored=key in against) for key, i in zip(once, read, strict=True)]
        slots += range(len(inputs), len(inputs) + len(given))
        inputs += given
        over = [number[key] for key in dict.fromkeys(_key(r) for r in alike)]
        found = propagated(lambda *xs: call(*(xs[i] for i in slots)), inputs, picks=picks, alike=over)
        quantity = found.quantity(dimension)
        return Result(quantity, name_of(formula), tuple(readings), note, budget=found.budget)


def bench_of(case: Case) -> Bench:
    """A case laid out for measuring; what was counted lies there as a reading without an instrument."""
    readings = (*case.inspection.readings, *_counts(case))
    return Bench(case, {(r.item, r.position): r for r in readings})


def _counts(case: Case) -> Iterator[Reading]:
    for answer in case.inspection.answers:
        item = case.books.checklist.item(answer.item)
        if item is not None and item.kind == "count":
            counted = tuple(float(figure) for figure in answer.chosen)
            yield Reading(answer.item, answer.position, counted, "count", answer.chosen, "", answer.place)


def name_of(formula: Callable[..., object]) -> str:
    """How a formula is named on reports: ``mechanics.bore.taper``."""
    module = formula.__module__.removeprefix("inspect_report.")
    return f"{module}.{formula.__name__}"


def notes(*parts: str) -> str:
    """Notes one behind the other, each told once."""
    return "; ".join(dict.fromkeys(part for part in parts if part))


def mean(values: Sequence[float]) -> float:
    """Mean of some values."""
    return sum(values) / len(values)


def only(values: Sequence[float]) -> float:
    """The one value of a part of a formula's inputs."""
    return values[0]


def split(formula: Callable[..., object], *parts: tuple[Callable[[Sequence[float]], object], int]) -> Formula:
    """
    A formula as a function of plain numbers, which it takes in parts.

    Args:
        formula: Takes one argument for each part.
        parts: How a part becomes the argument, ``mean`` or ``min`` for one, and how many numbers it has.
    """

    def call(*values: float) -> float:
        arguments, start = [], 0
        for reduced, count in parts:
            arguments.append(reduced(values[start : start + count]))
            start += count
        return float(formula(*arguments))  # type: ignore[arg-type]

    return call


def _floats(formula: Callable[..., object]) -> Formula:
    def call(*values: float) -> float:
        return float(formula(*values))  # type: ignore[arg-type]

    return call


def _key(reading: Reading) -> tuple[object, ...]:
    """What makes two readings one: a value written once for every cylinder was read once."""
    return reading.item, reading.place, reading.values


def _has_axis(axis: str, case: Case) -> bool:
    try:
        return bool(axis_labels(axis, case.books.sheet, case.books.checklist))
    except KeyError:
        return False


def _agree(place: Position, other: Position) -> bool:
    """Whether two places have the same label along every axis that both have."""
    labels = zip(other.axes, other.labels, strict=True)
    return all(place.label(axis) in (None, label) for axis, label in labels)


def _seen_along(axes: tuple[str, ...], at: Position) -> Position:
    """A place along the axes of an item, in the item's order."""
    labels = {axis: label for axis in axes if (label := at.label(axis)) is not None}
    return Position(tuple(labels), tuple(labels.values()))
