"""Turns the record behind the verdicts into text: readings, instruments, rule, photos, scope, books."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from inspect_report.judge.finding import Seen
from inspect_report.judge.visual import found_in_words
from inspect_report.records.checklist import Item
from inspect_report.records.inspection import Answer, Instrument, InstrumentUsed, Reading, Report
from inspect_report.records.position import Position
from inspect_report.records.workshop import ReferencePicture
from inspect_report.report.figures import bare, joined, shown_unit, with_unit
from inspect_report.report.markdown import as_markup
from inspect_report.report.placed import placed, placed_by_text
from inspect_report.report.reportparts import (
    BookView,
    Fact,
    InstrumentView,
    PhotoView,
    Picture,
    ReadingsView,
    ReadingView,
    WordView,
    WorkshopView,
)
from inspect_report.report.reportview import ClosingView
from inspect_report.report.source import Source, chip, grade_chip
from inspect_report.report.statements import (
    OF_FORECASTS,
    OF_PRICES,
    OF_WARMTH,
    OF_WEIGHTS,
    SCOPE,
    decision_sentences,
)
from inspect_report.report.view_findings import outlier_test
from inspect_report.report.words import GRAVITY, MEANING, capital, seen_words
from inspect_report.telling.manner import lowered, message, resigned, say, word
from inspect_report.telling.positions import answer_words
from inspect_report.telling.units import as_the_books

WARM: Final = frozenset({"barrel-temperature", "piston-temperature"})
"""Readings by which others are brought to 20 °C."""
SO_FAR: Final = message("by what was seen, half or less of what a full strip-down shows")


def workshop_view(source: Source, kind: Report) -> WorkshopView:
    """Who issues the report, and on which terms for its kind."""
    shop = source.a.workshop
    buyer = kind == "pre-purchase assessment"
    return WorkshopView(
        name=shop.workshop,
        address=tuple(line.strip() for line in shop.address.splitlines() if line.strip()),
        contact=tuple(c for c in (shop.phone, shop.email) if c),
        logo=Picture(shop.logo, say("Logo of {workshop}", workshop=shop.workshop), "logo")
        if shop.logo
        else None,
        terms=as_markup((shop.buyer_terms if buyer else "") or shop.terms),
    )


@dataclass(frozen=True, slots=True)
class _Taken:
    """One reading, rating or answer with the texts of its row."""

    item: str
    position: Position
    text: str
    instrument: str
    number: bool = False


def readings(source: Source) -> tuple[ReadingsView, ...]:
    """Readings, ratings and answers as taken, by section of the checklist."""
    by_item: dict[str, list[_Taken]] = {}
    for taken in _all_taken(source):
        by_item.setdefault(taken.item, []).append(taken)
    parts = []
    for section in source.a.checklist.sections:
        given = [(i, by_item[i.id]) for i in section.items if i.id in by_item]
        done = tuple(lowered(i.asks) for i, ones in given if _is_done(ones))
        rows = tuple(row for i, ones in given if not _is_done(ones) for row in _rows(i, ones))
        if rows or done:
            parts.append(ReadingsView(section.title, rows, done))
    return tuple(parts)


def _is_done(taken: Sequence[_Taken]) -> bool:
    return [(one.text, one.position.axes) for one in taken] == [("done", ())]


def _all_taken(source: Source) -> Iterator[_Taken]:
    inspection = source.a.inspection
    for reading in inspection.readings:
        yield _Taken(reading.item, reading.position, _read(source, reading), reading.instrument, number=True)
    for r in inspection.ratings:
        seen = seen_words(Seen(r.damage, r.amount, r.size, r.strength, r.note, r.by))
        clean = say("nothing found ({by})", by=r.by) if r.by else say("nothing found")
        text = seen if r.damage else clean + note_words(r.note)
        yield _Taken(r.item, r.position, text, say("eye"))
    for answer in inspection.answers:
        text = joined(_answered(source, answer)) + note_words(answer.note)
        yield _Taken(answer.item, answer.position, text, "")


def _answered(source: Source, answer: Answer) -> list[str]:
    """Answers as a person says them; a file's name and free text stay as they were written."""
    item = source.a.checklist.item(answer.item)
    if item is not None and item.kind in ("photo", "text"):
        return list(answer.chosen)
    if answer.amounts:
        return found_in_words(answer)
    return [answer_words(chosen) for chosen in answer.chosen]


def note_words(note: str) -> str:
    """A note behind what it belongs to."""
    return f" – {note}" if note else ""


def _read(source: Source, reading: Reading) -> str:
    item = source.a.checklist.item(reading.item)
    texts = [as_typed(typed, item.unit if item else "") for typed in reading.typed]
    return joined(texts) + note_words(reading.note)


def _rows(item: Item, taken: Sequence[_Taken]) -> Iterator[ReadingView]:
    """Readings of one item, a row for each instrument."""
    grouped: dict[str, list[_Taken]] = {}
    for one in taken:
        grouped.setdefault(one.instrument, []).append(one)
    for instrument, same in grouped.items():
        unit = _common_unit(item, same)
        texts = [(one.position, bare(one.text, unit)) for one in same]
        order, read = placed(texts) if same[0].number else ("", placed_by_text(texts))
        yield ReadingView(capital(item.asks), unit, order, read, instrument)


def _common_unit(item: Item, taken: Sequence[_Taken]) -> str:
    """The item's unit where every reading ends with it and has it once."""
    unit = shown_unit(item.unit)
    alike = unit and all(
        one.number and one.text.endswith(unit) and one.text.count(unit) == 1 for one in taken
    )
    return unit if alike else ""


def as_typed(typed: str, unit: str) -> str:
    """A reading digit by digit as its inspector wrote it, with the item's unit where none was written."""
    written = resigned(typed.strip())
    bare = typed.strip().replace(",", ".", 1).lstrip("+-−")
    return with_unit(written, unit) if bare.replace(".", "", 1).isdigit() else written


def instruments(source: Source) -> tuple[InstrumentView, ...]:
    """Instruments in the order of the inspection file."""
    declared = source.a.inspection.head.instruments
    used = {i.id: i for i in source.a.inspection.instruments}
    return tuple(_instrument(source, key, written, used.get(key)) for key, written in declared.items())


def _instrument(source: Source, key: str, written: Instrument, used: InstrumentUsed | None) -> InstrumentView:
    day = source.figures.day
    return InstrumentView(
        id=key,
        kind=capital(word(written.kind)) + _orifice(source, used),
        serial=written.serial or "–",
        resolution=_error_text(source, written.resolution, written.unit),
        error=_plus_minus(source, written.permissible_error, written.unit),
        calibrated=day(written.calibrated) or no_record(),
        due=_due(source, written),
    )


def some_due(source: Source) -> bool:
    """Whether the next calibration of any instrument is on record."""
    return any(i.calibration_due for i in source.a.inspection.head.instruments.values())


def no_record() -> str:
    """What stands where no calibration is on record."""
    return say("no record")


def _due(source: Source, written: Instrument) -> str:
    """When the calibration runs out; marked where that was before the inspection."""
    due, head = written.calibration_due, source.a.inspection.head
    if due is None:
        return "–"
    return f"{source.figures.day(due)}{say(' (run out)') if due < head.dates.inspected else ''}"


def _orifice(source: Source, used: InstrumentUsed | None) -> str:
    """A tester's orifice, as its resolution: in the unit of the file."""
    if used is None or used.orifice is None:
        return ""
    with as_the_books():
        return say(", orifice {size}", size=source.figures.limit(used.orifice, "mm", 1))


def _plus_minus(source: Source, error: str | float | None, unit: str) -> str:
    return "–" if error is None else f"±\u00a0{_error_text(source, error, unit)}"


def _error_text(source: Source, written: Any, unit: str) -> str:
    """Resolution or permissible error in the unit it was written in."""
    if not isinstance(written, str):
        return with_unit(source.figures.exact(float(written), 0), unit)
    return as_typed(written, unit)


def decision_rule(source: Source) -> tuple[str, ...]:
    """How a verdict is reached, in sentences; and how explanations are weighed, where some are."""
    weighed = any(d.explanations for d in source.a.advice.diagnoses)
    read = {r.partition(".")[0] for f in source.a.judged.findings for r in f.readings}
    told = decision_sentences(source.a.workshop.decision_rule, source.figures)
    warm = (say(OF_WARMTH),) if read & WARM else ()
    return (*told, *outlier_test(source), *warm, *((say(OF_WEIGHTS),) if weighed else ()))


def word_list(source: Source) -> tuple[WordView, ...]:
    """The verdict words, gravest first, that occur in this assessment; then grades that hold only so far."""
    occurring = {f.verdict for f in source.a.judged.findings}
    verdicts = tuple(WordView(chip(v), say(MEANING[v])) for v in GRAVITY if v in occurring)
    partial = dict.fromkeys(c for g in source.a.judged.grades if (c := grade_chip(g)) != chip(g.word))
    return (*verdicts, *(WordView(c, say(SO_FAR)) for c in partial))


def conditions(source: Source) -> tuple[Fact, ...]:
    """What bears on the results."""
    given = source.a.inspection.head.conditions
    pairs = (
        (say("Ambient temperature"), _amount(source, given.ambient_temperature, "°C", 0)),
        (say("Ambient pressure"), _amount(source, given.ambient_pressure, "hPa", 0)),
        (say("Altitude"), _amount(source, given.altitude, "m", 0)),
        (say("Engine, where a test says nothing else"), word(given.engine)),
        (say("Battery"), _amount(source, given.battery, "V", 1)),
        (say("Remarks"), given.remarks),
    )
    return tuple(Fact(label, text) for label, text in pairs if text)


def _amount(source: Source, value: float | None, unit: str, decimals: int) -> str:
    return "" if value is None else source.figures.amount(value, unit, decimals)


def references(source: Source) -> tuple[PhotoView, ...]:
    """The workshop's pictures of the steps of damage that were rated in this inspection."""
    rated = {(r.damage, r.grade) for r in source.a.inspection.ratings}
    return tuple(
        PhotoView(
            Picture(p.file, say("Reference: {step}", step=_step(p)), "reference"), capital(_step(p)), p.note
        )
        for p in source.a.workshop.reference_pictures
        if (p.damage, p.step) in rated
    )


def _step(picture: ReferencePicture) -> str:
    return say("{damage}, step {step} of 5", damage=word(picture.damage), step=picture.step)


def closing(source: Source) -> ClosingView:
    """Notes, cautions, what the report states and what it does not, and who signs."""
    head = source.a.inspection.head
    prices = (say(OF_PRICES),) if source.a.advice.work else ()
    forecasts = (say(OF_FORECASTS),) if source.a.judged.trends else ()
    name, picture = head.inspector.name, head.inspector.signature
    return ClosingView(
        notes=as_markup(head.notes),
        cautions=tuple(c.text for c in source.a.cautions),
        scope=(*map(say, SCOPE), *prices, *forecasts),
        signer=", ".join(p for p in (name, head.inspector.qualification) if p),
        signature=Picture(picture, say("Signature of {name}", name=name), "signature") if picture else None,
    )


def books(source: Source) -> tuple[BookView, ...]:
    """Books the verdicts rest on."""
    return tuple(BookView(capital(word(b.kind)), b.id, str(b.version), b.digest[:12]) for b in source.a.books)
