"""Turns housings and journals into the bearing shells to fit, by their maker's selection table."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from inspect_report.measure.bench import Bench, Result, mean, notes
from inspect_report.measure.derived import ShellChoice, Told
from inspect_report.measure.uncertainty import reading_id
from inspect_report.mechanics import bearing, shells
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position
from inspect_report.records.shell_table import ShellTable, SizeClass
from inspect_report.telling.manner import message, say
from inspect_report.telling.units import written

_COVERAGE: Final = 2.0
NO_GRADE: Final = message(
    "no shell of the table takes this up: grind or replace the crankshaft, or mend the housing"
)


@dataclass(frozen=True, slots=True)
class Kind:
    """The checklist items of one kind of shell bearing."""

    axis: str
    housing: str
    journal: str
    housing_mark: str
    journal_mark: str
    fitted: str


KINDS: Final = {
    "main": Kind(
        "main-journal", "main-housing", "main-journal-diameter", "main-housing-mark", "main-journal-mark",
        "shell-code",
    ),
    "big-end": Kind(
        "crankpin", "big-end-housing", "crankpin-diameter", "big-end-housing-mark", "crankpin-mark",
        "big-end-shell-code",
    ),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Sorted:
    """The class of a part: its number in the table, None for none, how it was told, and what to say of it."""

    number: int | None
    mark: str
    by: Told
    note: str = ""


def shells_to_fit(bench: Bench) -> Iterator[ShellChoice]:
    """
    The shells to fit wherever the class of housing and journal is known, in the order of the spec sheet.

    A size that was measured goes before a mark, since parts wear; a mark it contradicts is told.
    """
    for table in bench.case.books.sheet.on_sale.shells:
        for at in bench.places((KINDS[table.bearing].axis,)):
            yield from _choice(bench, table, at)


def _choice(bench: Bench, table: ShellTable, at: Position) -> Iterator[ShellChoice]:
    kind = KINDS[table.bearing]
    houses, journals = bench.those_read(kind.housing, at), bench.those_read(kind.journal, at)
    housing = _sorted(bench, "housing", table.housing, houses, _answer(bench, kind.housing_mark, at))
    journal = _sorted(bench, "journal", table.journal, journals, _answer(bench, kind.journal_mark, at))
    if housing is None or journal is None:
        return
    grade = ""
    if housing.number is not None and journal.number is not None:
        grade = table.grades[housing.number][journal.number]
    expected = _expected(bench, table.thickness.get(grade), houses, journals)
    yield ShellChoice(
        table.bearing,
        at,
        housing.mark,
        housing.by,
        journal.mark,
        journal.by,
        grade,
        _answer(bench, kind.fitted, at),
        table.thickness.get(grade),
        expected.quantity.value if expected else None,
        expected.quantity.u if expected else None,
        tuple(reading_id(r) for r in (*houses, *journals)),
        notes(housing.note, journal.note, "" if grade else say(NO_GRADE)),
    )


def _expected(
    bench: Bench, wall: float | None, houses: Sequence[Reading], journals: Sequence[Reading]
) -> Result | None:
    """Oil clearance with new shells of the grade, their wall taken as printed."""
    if wall is None or not houses or not journals:
        return None

    def clearance(*numbers: float) -> float:
        housing, journal = mean(numbers[: len(houses)]), min(numbers[len(houses) :])
        return bearing.oil_clearance_from_shells(housing, wall, journal)

    read = (*houses, *journals)
    return bench.result(bearing.oil_clearance_from_shells, read, "length", by=clearance, picks=True)


def _sorted(
    bench: Bench, part: str, classes: tuple[SizeClass, ...], readings: Sequence[Reading], mark: str
) -> _Sorted | None:
    lows = [c.low for c in classes if c.low is not None]
    highs = [c.high for c in classes if c.high is not None]
    if not readings or len(lows) < len(classes):
        return _by_mark(part, classes, mark) if mark else None
    inputs = [bench.input(r) for r in readings]
    smallest = min(inputs, key=lambda i: i.value)
    size = smallest.value if part == "journal" else mean([i.value for i in inputs])
    number = shells.size_class(size, lows, highs)
    margin = shells.class_margin(size, lows, highs)
    found = "" if number is None else classes[number].mark
    return _Sorted(number, found, "size", _size_note(part, size, margin, smallest.u, mark, found))


def _size_note(part: str, size: float, margin: float, u: float, mark: str, found: str) -> str:
    if not found:
        return say(
            "{part} of {size} lies {beyond} outside every class",
            part=part,
            size=_mm(size),
            beyond=_mm(-margin),
        )
    unsure = (
        say("{part} may belong to the next class, by its uncertainty", part=part)
        if margin < _COVERAGE * u
        else ""
    )
    other = (
        say("{part} is marked {mark} and measures {found}", part=part, mark=mark, found=found)
        if mark and not _same(mark, found)
        else ""
    )
    return notes(other, unsure)


def _by_mark(part: str, classes: tuple[SizeClass, ...], mark: str) -> _Sorted:
    number = next((i for i, c in enumerate(classes) if _same(c.mark, mark)), None)
    unknown = (
        say("{part} is marked {mark}, which is not in the table", part=part, mark=mark)
        if number is None
        else ""
    )
    return _Sorted(number, mark, "mark", unknown)


def _same(one: str, other: str) -> bool:
    return one.strip().casefold() == other.strip().casefold()


def _answer(bench: Bench, item: str, at: Position) -> str:
    answer = bench.case.inspection.answer(item, at)
    return answer.chosen[0].strip() if answer and answer.chosen else ""


def _mm(value: float) -> str:
    return written(value, "mm", ".3f")
