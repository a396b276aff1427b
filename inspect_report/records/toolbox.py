"""Turns declared instruments into SI, and finds the one a reading was taken with."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import ValidationError

from inspect_report.records.checklist import Item
from inspect_report.records.faults import Faults
from inspect_report.records.inspection import Instrument, InstrumentUsed
from inspect_report.records.problem import Read, nearest, some
from inspect_report.records.quantity import QuantityFault, from_si, read_difference, unit_named
from inspect_report.records.yaml import Document, Path


@dataclass(frozen=True, slots=True)
class Toolbox:
    """
    Instruments in SI.

    ``faulty`` holds id and kind of those whose declaration has a fault, told elsewhere; ``blank`` of those
    without a resolution, which matters only where one of them is used.
    """

    used: tuple[InstrumentUsed, ...] = ()
    faulty: Mapping[str, str] = field(default_factory=dict)
    blank: Mapping[str, str] = field(default_factory=dict)

    @property
    def ids(self) -> tuple[str, ...]:
        return (*(i.id for i in self.used), *self.faulty, *self.blank)

    def named(self, instrument_id: str) -> InstrumentUsed | None:
        """The instrument of an id."""
        return next((i for i in self.used if i.id == instrument_id), None)

    def of_kind(self, kind: str) -> tuple[InstrumentUsed, ...]:
        """The instruments of a kind; capitals and hyphens do not matter."""
        return tuple(i for i in self.used if _folded(i.kind) == _folded(kind))

    def blank_of_kind(self, kind: str) -> str:
        """The id of an instrument of a kind whose resolution is not filled in, or empty."""
        return next((name for name, k in self.blank.items() if _folded(k) == _folded(kind)), "")

    def lacks(self, kind: str) -> bool:
        """Whether no instrument of a kind is declared, not even a faulty or blank one."""
        others = (_folded(k) for k in (*self.faulty.values(), *self.blank.values()))
        return not self.of_kind(kind) and _folded(kind) not in others


def read_toolbox(document: Document) -> Read[Toolbox]:
    """The instruments declared in an inspection, each read by itself so that one fault hides no other."""
    declared = document.data.get("instruments") if isinstance(document.data, dict) else None
    if not isinstance(declared, dict):
        return Read(Toolbox())
    faults = Faults(document)
    read = {name: _declared(written) for name, written in declared.items()}
    blank = {name: i.kind for name, i in read.items() if i and i.resolution is None}
    used = {name: _in_si(name, i, faults) for name, i in read.items() if i and name not in blank}
    faulty = {n: _kind(written) for n, written in declared.items() if n not in blank and not used.get(n)}
    return Read(Toolbox(tuple(i for i in used.values() if i), faulty, blank), faults.problems)


def _kind(written: Any) -> str:
    return str(written.get("kind", "")) if isinstance(written, dict) else ""


def _declared(written: Any) -> Instrument | None:
    try:
        return Instrument.model_validate(written)
    except ValidationError:  # told where the head of the inspection is read
        return None


def _in_si(instrument_id: str, instrument: Instrument, faults: Faults) -> InstrumentUsed | None:
    path: Path = ("instruments", instrument_id)
    try:
        dimension = unit_named(instrument.unit).dimension
    except QuantityFault as fault:
        faults.add("V201", fault.title, (*path, "unit"), instrument.unit, fault.allowed, fault.mend)
        return None
    resolution = _step(instrument.resolution, instrument.unit, (*path, "resolution"), faults)
    error = _step(instrument.permissible_error, instrument.unit, (*path, "permissible-error"), faults)
    if resolution is None:
        return None
    return InstrumentUsed(
        instrument_id,
        instrument.kind,
        dimension,
        resolution,
        error,
        instrument.serial,
        instrument.calibrated,
        instrument.calibration_due,
        instrument.orifice,
        instrument.orifice_error,
    )


def _step(written: str | float | None, unit: str, path: Path, faults: Faults) -> float | None:
    """A resolution or permissible error in SI; both are amounts above 0."""
    if written is None:
        return None
    found = faults.document.text(path) or str(written)
    try:
        value = read_difference(written, unit)
    except QuantityFault as fault:
        faults.add("V201", fault.title, path, found, fault.allowed, fault.mend)
        return None
    if value <= 0:
        faults.add(
            "V326",
            "instrument that reads without steps",
            path,
            found,
            f"more than 0 {unit}",
            "write the smallest step of its scale, or the error its papers allow, without a sign",
        )
        return None
    return value


def instrument_for(item: Item, named: str, at: Path, toolbox: Toolbox, faults: Faults) -> str | None:
    """
    The id of the instrument of a reading, empty where the eye is enough.

    Where it is not clear a fault is noted and nothing comes back.

    Args:
        item: What is read.
        named: The instrument named by ``with:``, or empty.
        at: Where a fault is told.
        toolbox: The instruments declared.
        faults: Takes the fault.
    """
    if named:
        return _named_one(item, named, at, toolbox, faults)
    if not item.instrument:
        return ""
    found = toolbox.of_kind(item.instrument)
    if len(found) > 1:
        ids = some(i.id for i in found)
        faults.add(
            "V324",
            f"two instruments of kind {item.instrument!r}",
            at,
            f"{item.id} without 'with'",
            ids,
            f"write '{item.id}: {{with: {found[0].id}, read: …}}', with the one that was used",
        )
        return None
    if not found:
        _refuse_blank(toolbox.blank_of_kind(item.instrument), item, faults)
    return _fitting(item, found[0], at, faults) if found else None


def _named_one(item: Item, named: str, at: Path, toolbox: Toolbox, faults: Faults) -> str | None:
    instrument = toolbox.named(named)
    if named in toolbox.blank:
        _refuse_blank(named, item, faults)
    elif instrument is None and named not in toolbox.faulty:
        near = nearest(named, toolbox.ids)
        faults.add(
            "V322",
            "instrument that is not declared",
            at,
            named,
            some(toolbox.ids) or "one of 'instruments'",
            f"write {near!r} if that is meant" if near else "declare it below 'instruments'",
        )
    return _fitting(item, instrument, at, faults) if instrument else None


def _refuse_blank(instrument_id: str, item: Item, faults: Faults) -> None:
    if instrument_id:
        faults.add(
            "V327",
            f"instrument {instrument_id!r} without a resolution",
            ("instruments", instrument_id, "resolution"),
            "nothing",
            f"the smallest step that can be read on it, such as 0.01 {item.unit}",
            "write it; without it no uncertainty can be given",
        )


def _fitting(item: Item, instrument: InstrumentUsed, at: Path, faults: Faults) -> str | None:
    wanted = unit_named(item.unit).dimension
    if instrument.dimension == wanted:
        return None if _too_coarse(item, instrument, faults) else instrument.id
    faults.add(
        "V323",
        "instrument of another dimension",
        at,
        f"{instrument.id}, which reads {instrument.dimension}",
        f"an instrument that reads {wanted}",
        "name the instrument used, or correct its unit below 'instruments'",
    )
    return None


def _too_coarse(item: Item, instrument: InstrumentUsed, faults: Faults) -> bool:
    """Whether one step of an instrument is larger than all an item can be: its resolution is mistyped."""
    bounds = item.bounds()
    if bounds is None or instrument.resolution <= bounds[1] - bounds[0]:
        return False
    path: Path = ("instruments", instrument.id, "resolution")
    low, high = (from_si(end, item.unit) for end in bounds)
    faults.add(
        "V328",
        "instrument with steps larger than what it reads",
        path,
        faults.document.text(path) or str(instrument.resolution),
        f"less than the range of {item.id}, {low:.7g} to {high:.7g} {item.unit}",
        "write the smallest step that can be read on it, with its unit where it differs",
    )
    return True


def _folded(kind: str) -> str:
    return kind.casefold().replace("-", " ").strip()
