"""Defines an inspection as a record: who, when, which engine, what was read, seen and left out."""

from dataclasses import dataclass, field
from datetime import date
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from inspect_report.records.checklist import Depth
from inspect_report.records.languages import Language
from inspect_report.records.marks import Marks
from inspect_report.records.own_books import InspectionBooks
from inspect_report.records.position import Position
from inspect_report.records.problem import Place
from inspect_report.records.shape import Day, Id, Record, Text, amount
from inspect_report.records.workshop import Units

Report = Literal["pre-purchase assessment", "rebuild quote", "condition history"]


class Person(Record):
    """Somebody named on the report."""

    name: Text
    address: Text = ""
    contact: Text = ""


class Inspector(Record):
    """Who inspected, and who may sign."""

    name: Text
    qualification: Text = ""
    signature: Text = ""
    """Image file of a signature; without one a line to sign on is printed."""


class Dates(Record):
    """Days that matter to the statement."""

    received: Day | None = None
    inspected: Day
    inspected_until: Day | None = None
    issued: Day


class Engine(Record):
    """The engine as given and as found."""

    maker: Text
    model: Text
    serial: Text
    machine: Text = ""
    """What it is fitted in."""
    owner: Text = ""
    running_time: amount("h", low=0, below=200_000) | None = None  # type: ignore[valid-type]
    distance: amount("km", low=0, below=5_000_000) | None = None  # type: ignore[valid-type]
    history: Text = ""
    """What the owner or seller says of it; printed as said by them."""


class FittedPart(Record):
    """
    A part that wears and can move between engines; its readings follow it by ``id``.

    Running time of the part now = ``running-time-before`` + engine running time now − ``fitted-at``.
    """

    part: Id
    """Kind of part, a word of the characteristics book: piston, barrel, crankshaft, cam-chain …"""
    id: Text
    """Serial or mark of this one."""
    at: dict[Text, Text] = {}
    """Where, ``{cylinder: 1}``; everywhere when left out."""
    fitted_at: amount("h", low=0) = 0.0  # type: ignore[valid-type]
    running_time_before: amount("h", low=0) = 0.0  # type: ignore[valid-type]
    taken_out: Text = ""
    """Why it leaves the engine at this inspection; then no forecast and no work of its own is told."""


class Conditions(Record):
    """What bears on the results."""

    ambient_temperature: amount("°C", low=-60, below=70) | None = None  # type: ignore[valid-type]
    ambient_pressure: amount("hPa", low=300, below=1100) | None = None  # type: ignore[valid-type]
    altitude: amount("m", low=-500, below=9000) | None = None  # type: ignore[valid-type]
    engine: Literal["cold", "warm", "hot", ""] = ""
    battery: amount("V", low=0, below=100) | None = None  # type: ignore[valid-type]
    remarks: Text = ""


class Instrument(Record):
    """What a reading was taken with; resolution and permissible error in the unit it reads.

    Without a resolution it can take no reading; a blank file lists such instruments.
    """

    kind: Text
    unit: Text = "mm"
    resolution: Text | float | None = None
    permissible_error: Text | float | None = None
    serial: Text = ""
    calibrated: Day | None = None
    calibration_due: Day | None = None
    orifice: amount("mm", above=0.05, below=20) | None = None  # type: ignore[valid-type]
    """Leak-down tester: bore of its own orifice."""
    orifice_error: amount("mm", above=0) | None = None  # type: ignore[valid-type]
    """How far the orifice may be from that bore."""


class EarlierPhoto(Record):
    """What the same place looked like before: a picture of an earlier inspection, or of this one."""

    file: Text
    taken: Day
    caption: Text = ""
    marks: Marks = ()


class Photo(Record):
    """A picture beside this file."""

    file: Text
    caption: Text
    of: Text = ""
    """Item or finding it shows: ``crown-state.2``; it is printed beside it."""
    marks: Marks = ()
    """Arrows, circles and ellipses, ``{arrow: {tip: [0.4, 0.6], tail: [0.2, 0.3]}, label: crack}``."""
    taken: Day | None = None
    """The day of the inspection when left out."""
    before: EarlierPhoto | None = None
    """An earlier picture of the same place, printed beside this one."""
    front: bool = False
    """``true`` for the picture of the whole engine that goes on the first page; one at most."""


class LeftOut(Record):
    """An item that was not done, or does not apply, and why."""

    item: Id
    at: dict[Text, Text] = {}
    """Which places, ``{cylinder: 3}``; all when left out."""
    reason: Text
    applies: bool = True
    """``false`` when the engine has no such thing."""


class Replaced(Record):
    """An earlier issue of the same inspection that this one replaces."""

    issue: Annotated[int, Field(ge=1)]
    reason: Text
    file: Text = ""
    """That issue, beside this file: its JSON report, or its inspection; the quote then tells what changed."""


class CustomerChoice(Record):
    """What a customer decided about a job; of several about one job the last day holds."""

    job: Id
    """As the workbook calls it; the JSON report lists them."""
    decision: Literal["ordered", "declined", "later"]
    date: Day
    name: Text
    """Who decided."""
    note: Text = ""


def _one_or_several(written: object) -> object:
    if isinstance(written, list | tuple):
        return written
    return () if written == "" else (written,)


Files = Annotated[
    tuple[Text, ...],
    BeforeValidator(_one_or_several),
    WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}]}),
]
"""One file, or a list of them."""


class InspectionHead(Record):
    """Everything of an inspection file but the readings, which the checklist gives their shape."""

    inspection: Text
    """Unique number."""
    issue: Annotated[int, Field(ge=1, le=999)] = 1
    replaces: Replaced | None = None
    follows: Files = ()
    """File of the inspection before this one, or a list: the engine's own, and one a part came from."""
    report: Report
    language: Language = ""
    """In which this report is told; that of the workshop when left out."""
    units: Units = ""
    """In which this report tells amounts; those of the workshop when left out."""
    depth: Depth
    checklist: Text
    """Id of a shipped checklist, or a file beside this one."""
    spec_sheet: Text
    """File beside this one."""
    workshop: Text
    """File beside this one."""
    rulebook: Text = "engine-builder"
    """Id of a shipped rulebook, or a file beside this one."""
    books: InspectionBooks = InspectionBooks()
    """Files beside this one in place of further shipped books."""
    dates: Dates
    customer: Person
    inspector: Inspector
    place: Text
    engine: Engine
    reason: Text
    """What the customer asks, in a sentence."""
    answer: Text = ""
    """The inspector's answer to it, in a sentence or two: an opinion, printed as one on the first page."""
    conditions: Conditions = Conditions()
    opened: tuple[Id, ...] = ()
    """Access steps found or made open, beyond those of the depth."""
    fitted_parts: tuple[FittedPart, ...] = ()
    instruments: dict[Id, Instrument] = {}
    readings: Any = None
    """By section and item of the checklist; see there."""
    left_out: tuple[LeftOut, ...] = ()
    photos: tuple[Photo, ...] = ()
    choices: tuple[CustomerChoice, ...] = ()
    """What the customer decided about the work of an earlier issue; it changes no verdict."""
    notes: Text = ""
    """Markdown without HTML."""


@dataclass(frozen=True, slots=True)
class InstrumentUsed:
    """An instrument in SI: resolution and permissible error are differences in the unit of ``dimension``."""

    id: str
    kind: str
    dimension: str
    resolution: float
    permissible_error: float | None
    serial: str
    calibrated: date | None
    calibration_due: date | None
    orifice: float | None
    orifice_error: float | None = None


@dataclass(frozen=True, slots=True)
class Reading:
    """What was read at one place: one value, or several repeats, in SI and as typed."""

    item: str
    position: Position
    values: tuple[float, ...]
    dimension: str
    typed: tuple[str, ...]
    instrument: str
    place: Place
    note: str = ""


@dataclass(frozen=True, slots=True)
class Rating:
    """
    What was seen at one place: kind of damage, how much of it and how big or how strong, 0 to 5.

    ``damage`` is empty when the place was looked at and nothing was found. The scale is that of
    ISO 4628-1: 0 none, 5 so severe that further steps make no sense.
    """

    item: str
    position: Position
    damage: str
    amount: int
    size: int | None
    strength: int | None
    note: str
    place: Place
    by: str = ""
    """Who rated it, where several did."""

    @property
    def grade(self) -> int:
        """The worst of amount, size and strength; 0 where nothing was found."""
        return max(self.amount, self.size or 0, self.strength or 0) if self.damage else 0


@dataclass(frozen=True, slots=True)
class Answer:
    """A choice, count, text, tick or photo item filled in at one place; a count is written as its figures."""

    item: str
    position: Position
    chosen: tuple[str, ...]
    place: Place
    note: str = ""
    amounts: tuple[int, ...] = ()
    """How much of each was found, steps 1 to 5; empty where it was not said."""


@dataclass(frozen=True, slots=True)
class Inspection:
    """One engine on one occasion, as read from its file; what is not in here was not inspected."""

    file: str
    """Its name alone, as in the place of everything read from it."""
    head: InspectionHead
    instruments: tuple[InstrumentUsed, ...]
    readings: tuple[Reading, ...]
    ratings: tuple[Rating, ...]
    answers: tuple[Answer, ...]
    head_lines: dict[str, int] = field(default_factory=dict, compare=False)
    """Lines of the file where the texts of its head stand, by their keys: ``engine.serial``."""

    @property
    def number(self) -> str:
        return self.head.inspection

    def answer(self, item: str, position: Position) -> Answer | None:
        """What was answered to an item at a place; None where it was not."""
        here = (a for a in self.answers if a.item == item and a.position.labels == position.labels)
        return next(here, None)

    def instrument(self, instrument_id: str) -> InstrumentUsed | None:
        """The instrument of an id."""
        return next((i for i in self.instruments if i.id == instrument_id), None)
