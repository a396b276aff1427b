"""
Turns the readings of an inspection, nested by section, item and place, into readings, ratings and answers.

Every fault is noted and none stops the reading, so that a person is told all of them at once.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Final

from inspect_report.records.checklist import (
    CYLINDER,
    Checklist,
    Item,
    Section,
    applies_to,
    axis_labels,
)
from inspect_report.records.complaints import value_text
from inspect_report.records.faults import Faults
from inspect_report.records.html import refuse_html
from inspect_report.records.inspection import Answer, Rating, Reading
from inspect_report.records.leaves import is_empty, take
from inspect_report.records.position import ENGINE
from inspect_report.records.problem import Read, nearest, some
from inspect_report.records.single import leaves_cylinder_out
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.toolbox import Toolbox
from inspect_report.records.tray import Spot, Tray
from inspect_report.records.vocabulary import Vocabulary
from inspect_report.records.yaml import Document, Path

READINGS: Final = "readings"
WRAPPING: Final = frozenset({"with", "read", "note"})


@dataclass(frozen=True, slots=True)
class Filled:
    """What was filled in, in the order of the file."""

    readings: tuple[Reading, ...] = ()
    ratings: tuple[Rating, ...] = ()
    answers: tuple[Answer, ...] = ()


def read_readings(
    document: Document, checklist: Checklist, sheet: SpecSheet, toolbox: Toolbox, vocabulary: Vocabulary
) -> Read[Filled]:
    """
    The readings of an inspection, with every fault in them.

    Args:
        document: The inspection file.
        checklist: Its checklist, further items of the spec sheet included.
        sheet: Its spec sheet, which says how many of each part the engine has.
        toolbox: The instruments declared.
        vocabulary: Words of the shipped books.
    """
    tray = Tray(Faults(document), toolbox, vocabulary)
    written = document.data.get(READINGS) if isinstance(document.data, dict) else None
    _Walk(tray, checklist, sheet).sections(written)
    filled = Filled(tuple(tray.readings), tuple(tray.ratings), tuple(tray.answers))
    return Read(filled, tray.faults.problems)


@dataclass(frozen=True, slots=True)
class _Walk:
    """Goes down the nesting: sections, items, axes, and the leaves behind them."""

    tray: Tray
    checklist: Checklist
    sheet: SpecSheet

    def sections(self, written: Any) -> None:
        lacking: dict[str, list[Spot]] = {}
        for section_id, items in self._members(written, (READINGS,), "the sections of the checklist"):
            section = self._section(section_id)
            if section is None:
                continue
            path: Path = (READINGS, section_id)
            for item_id, value in self._members(items, path, "the items of the section"):
                self._item(section, item_id, value, lacking)
        for kind, spots in lacking.items():
            self._no_instrument(kind, spots)

    def _members(self, written: Any, path: Path, what: str) -> Iterator[tuple[str, Any]]:
        if isinstance(written, dict):
            yield from written.items()
        elif written is not None:
            found = value_text(written, path, self.tray.document)
            self.tray.faults.add(
                "V300",
                "readings of another shape",
                path,
                found,
                what,
                "write 'name: value' lines, indented below it",
            )

    def _section(self, section_id: str) -> Section | None:
        known = {s.id: s for s in self.checklist.sections}
        if section_id in known:
            return known[section_id]
        home = self.checklist.section_of(section_id)
        near = nearest(section_id, tuple(known))
        mend = f"write {near!r} if that is meant" if near else "take one of the sections listed"
        if home:
            mend = f"{section_id!r} is an item: write it below {home.id!r}"
        self.tray.faults.add(
            "V301",
            "section that the checklist does not have",
            (READINGS, section_id),
            section_id,
            some(known, 40),
            mend,
            at_key=True,
        )
        return None

    def _item(self, section: Section, item_id: str, value: Any, lacking: dict[str, list[Spot]]) -> None:
        path: Path = (READINGS, section.id, item_id)
        item = self._known_item(section, item_id, path)
        if item is None or is_empty(value) or not self._belongs(section, item, path):
            return
        spot = Spot(item, ENGINE, path, path)
        if item.kind == "reading" and item.instrument and self.tray.toolbox.lacks(item.instrument):
            if not _names_instrument(value):
                lacking.setdefault(item.instrument, []).append(spot)
            item = item.model_copy(update={"instrument": ""})
        self._walk(replace(spot, item=item), value, item.axes)

    def _known_item(self, section: Section, item_id: str, path: Path) -> Item | None:
        own = {i.id: i for i in section.items}
        if item_id in own:
            return own[item_id]
        home = self.checklist.section_of(item_id)
        if home:
            self.tray.faults.add(
                "V303",
                "item below another section",
                path,
                f"{item_id} below {section.id}",
                f"{item_id} below {home.id}",
                f"move it below {home.id!r}",
                at_key=True,
            )
            return None
        near = nearest(item_id, tuple(own)) or nearest(
            item_id, [i.id for s in self.checklist.sections for i in s.items]
        )
        at = self.checklist.section_of(near) if near else None
        mend = f"write {near!r} below {at.id!r} if that is meant" if at else "take one of the items listed"
        self.tray.faults.add(
            "V302", "item that the checklist does not have", path, item_id, some(own, 40), mend, at_key=True
        )
        return None

    def _belongs(self, section: Section, item: Item, path: Path) -> bool:
        layout = self.sheet.layout
        if applies_to(section.applies, layout) and applies_to(item.applies, layout):
            return True
        conditions = {**section.applies, **item.applies}
        allowed = "; ".join(f"{key}: {_options(wanted)}" for key, wanted in conditions.items())
        self.tray.faults.add(
            "V308",
            "item that this engine does not have",
            path,
            item.id,
            f"only where the spec sheet's layout says {allowed}",
            "delete it, or correct the layout in the spec sheet",
            at_key=True,
        )
        return False

    def _no_instrument(self, kind: str, spots: list[Spot]) -> None:
        first = spots[0]
        self.tray.faults.add(
            "V325",
            f"no instrument of kind {kind!r}",
            first.path,
            "asked for by " + some(s.item.id for s in spots),
            f"an instrument below 'instruments' with 'kind: {kind}'",
            "declare it with unit and resolution; if another kind was used, name it: {with: ID, read: …}",
            at_key=True,
        )

    def _walk(self, spot: Spot, value: Any, axes: tuple[str, ...]) -> None:
        if is_empty(value):
            return
        if isinstance(value, dict) and "read" in value:
            self._unwrap(spot, value, axes)
        elif axes:
            self._along(spot, value, axes)
        else:
            take(spot, value, self.tray)

    def _unwrap(self, spot: Spot, value: dict[str, Any], axes: tuple[str, ...]) -> None:
        for key in (k for k in value if k not in WRAPPING):
            near = nearest(key, sorted(WRAPPING))
            self.tray.faults.add(
                "V206",
                "key that is not known here",
                (*spot.path, key),
                f"key {key!r}",
                "read, with, note",
                f"write {near!r} if that is meant" if near else "move it below 'read'",
                at_key=True,
            )
        note = self.tray.document.text((*spot.path, "note"))
        refuse_html(note, (*spot.path, "note"), self.tray.faults)
        inner = replace(spot.below("read"), note=note or spot.note)
        instrument = self.tray.document.text((*spot.path, "with"))
        if instrument:
            inner = replace(inner, instrument=instrument, asked_at=(*spot.path, "with"))
        self._walk(inner, value["read"], axes)

    def _along(self, spot: Spot, value: Any, axes: tuple[str, ...]) -> None:
        labels = self._labels(spot, axes[0])
        if labels is None:
            return
        further = (self._known_labels(axes[1]) or ()) if axes[1:] else ()
        if len(labels) == 1 and leaves_cylinder_out(spot.item, value, axes, further):
            only = replace(spot, position=spot.position.at(CYLINDER, labels[0]))
            self._walk(only, value, axes[1:])
            return
        if not isinstance(value, dict) or (spot.item.kind == "rating" and "damage" in value):
            self._too_shallow(spot, value, axes[0], labels)
            return
        if "all" in value and "all" not in labels:
            self._everywhere(spot, value, axes, labels)
            return
        for label, inner in value.items():
            if label in labels:
                self._walk(_at(spot, axes[0], label, label), inner, axes[1:])
            elif not is_empty(inner):
                self._no_label(spot, axes[0], label, labels)

    def _labels(self, spot: Spot, axis: str) -> tuple[str, ...] | None:
        labels = self._known_labels(axis)
        if labels:
            return labels
        title = f"number of {axis} not known" if labels is None else f"engine without {axis}"
        self.tray.faults.add(
            "V308",
            title,
            spot.path,
            spot.item.id,
            "items whose places the spec sheet's layout counts",
            f"write '{axis}: 4', or how many there are, below 'counts' of the spec sheet's layout",
            at_key=True,
        )
        return None

    def _known_labels(self, axis: str) -> tuple[str, ...] | None:
        try:
            return axis_labels(axis, self.sheet, self.checklist)
        except KeyError:
            return None

    def _too_shallow(self, spot: Spot, value: Any, axis: str, labels: tuple[str, ...]) -> None:
        document = self.tray.document
        example = (
            f"{spot.path[-1]}: {{{labels[0]}: …" + (f", {labels[1]}: …" if len(labels) > 1 else "") + "}"
        )
        self.tray.faults.add(
            "V305",
            f"value for each {axis} expected",
            spot.path,
            value_text(value, spot.path, document),
            f"{axis}: {some(labels)}",
            f"write '{example}'",
        )

    def _everywhere(
        self, spot: Spot, value: dict[str, Any], axes: tuple[str, ...], labels: tuple[str, ...]
    ) -> None:
        path: Path = (*spot.path, "all")
        if not spot.item.shared:
            self.tray.faults.add(
                "V306",
                "one value for all places",
                path,
                "all",
                f"a value for each {axes[0]}: {some(labels)}",
                "write what was read at each place",
                at_key=True,
            )
        elif len(value) > 1:
            self.tray.faults.add(
                "V307",
                "'all' beside single places",
                path,
                "keys " + some(value),
                f"'all' alone, or each {axes[0]}",
                "write one of the two",
                at_key=True,
            )
        else:
            for label in labels:
                self._walk(_at(spot, axes[0], label, "all"), value["all"], axes[1:])

    def _no_label(self, spot: Spot, axis: str, label: str, labels: tuple[str, ...]) -> None:
        numbered = label.isdigit() and labels[-1].isdigit()
        title = f"{axis} {label} of {labels[-1]}" if numbered else f"{axis} {label!r} is not known here"
        near = nearest(label, labels)
        mend = (
            f"write {near!r} if that is meant"
            if near and not numbered
            else f"correct the {axis}, or the spec sheet's layout"
        )
        self.tray.faults.add(
            "V304", title, (*spot.path, label), label, f"{axis}: {some(labels, 24)}", mend, at_key=True
        )


def _at(spot: Spot, axis: str, label: str, step: str) -> Spot:
    return replace(spot.below(step), position=spot.position.at(axis, label))


def _names_instrument(value: Any) -> bool:
    return isinstance(value, dict) and bool(value.get("with"))


def _options(wanted: Any) -> str:
    return " or ".join(str(w) for w in wanted) if isinstance(wanted, tuple) else str(wanted)
