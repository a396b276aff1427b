"""Turns the books of an engine, or those shipped, into everything a rule may speak of."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from inspect_report.knowledge.catalogue import Catalogue, Known
from inspect_report.records.checklist import LAYOUT_AXES, Applies, Checklist, Item

Conditions = tuple[Applies, ...]
"""What a layout must meet for a thing to be there, all of them together."""

PLAIN_LABELS: Final[Mapping[str, tuple[str, ...]]] = {
    "valve": ("inlet", "exhaust"),
    "cam": ("inlet", "exhaust"),
    "ring": ("top", "second", "oil"),
}
"""Labels of the axes that every four-stroke has, whatever its maker counts."""


@dataclass(frozen=True, slots=True)
class Sayable:
    """
    What a rule may speak of.

    ``labels`` holds those of the axes that are named and not counted. ``homes`` tells of every subject under
    which conditions an engine has it: one set for each checklist that asks for it.
    """

    items: Mapping[str, tuple[Item, ...]]
    known: Mapping[str, Known]
    units: Mapping[str, str]
    damage: tuple[str, ...]
    axes: tuple[str, ...]
    jobs: tuple[str, ...] | None
    """Jobs of the workbook; None where no workbook is at hand."""
    labels: Mapping[str, tuple[str, ...]]
    homes: Mapping[str, tuple[Conditions, ...]]

    def subjects(self) -> tuple[str, ...]:
        """Everything that can have a finding: characteristics, readings, ratings and answers."""
        return tuple(dict.fromkeys((*self.units, *self.items)))

    def measured(self) -> tuple[str, ...]:
        """What has a value with a unit or a count, as read or as made from readings."""
        return tuple(s for s in self.subjects() if self.is_measured(s))

    def is_measured(self, subject: str) -> bool:
        """Whether a subject has a value."""
        asked = self.items.get(subject, ())
        needs = self.known[subject].needs if subject in self.known else ()
        return bool(needs) or any(i.kind in ("reading", "count") for i in asked) or subject not in self.items

    def axes_of(self, subject: str) -> frozenset[str]:
        """Every axis a subject has in any checklist."""
        own = self.known[subject].axes if subject in self.known else ()
        return frozenset((*own, *(axis for i in self.items.get(subject, ()) for axis in i.axes)))

    def looked_for(self, rating: str, applies: Applies) -> tuple[str, ...]:
        """Kinds of damage an engine that meets some conditions is looked over for."""
        return tuple(d for i in self.items.get(rating, ()) if not clash(applies, i.applies) for d in i.damage)

    def is_met_with(self, subject: str, applies: Applies) -> bool:
        """Whether an engine that meets some conditions can have a subject."""
        homes = self.homes.get(subject)
        return homes is None or any(not any(clash(applies, c) for c in home) for home in homes)


def clash(a: Applies, b: Applies) -> bool:
    """Whether no layout can meet both conditions."""
    return any(key in b and not _options(a[key]) & _options(b[key]) for key in a)


def _options(wanted: object) -> frozenset[str]:
    return frozenset(map(str, wanted)) if isinstance(wanted, tuple) else frozenset((str(wanted),))


def sayable(
    lists: Iterable[Checklist],
    catalogue: Catalogue,
    damage: Iterable[str],
    jobs: Iterable[str] | None = None,
    counts: Iterable[str] = (),
    labels: Mapping[str, Iterable[str]] | None = None,
) -> Sayable:
    """
    What rules may speak of by some books.

    Args:
        lists: Checklists, the one of the engine first.
        catalogue: The characteristics book.
        damage: Kinds of damage of the scale book.
        jobs: Jobs of the workbook, or None where no workbook is at hand.
        counts: Axes an engine counts.
        labels: Labels that the engine gives to its axes.
    """
    listed = tuple(lists)
    items = _items(listed)
    units = {i.id: i.unit for of in items.values() for i in of[:1] if i.kind in ("reading", "count")}
    units |= {k.id: k.unit or units.get(k.id, "") for k in catalogue.characteristics}
    own = (a for c in listed for a in c.axes)
    counted = (a for of in items.values() for i in of for a in i.axes)
    axes = dict.fromkeys((*LAYOUT_AXES, *counts, *own, *counted))
    known = {k.id: k for k in catalogue.characteristics}
    homes = dict(_homes(listed, known))
    all_jobs = None if jobs is None else tuple(jobs)
    named = _labels(listed, labels or {})
    return Sayable(items, known, units, tuple(damage), tuple(axes), all_jobs, named, homes)


def _items(lists: Iterable[Checklist]) -> dict[str, tuple[Item, ...]]:
    found: dict[str, tuple[Item, ...]] = {}
    for item in (i for c in lists for s in c.sections for i in s.items):
        found[item.id] = (*found.get(item.id, ()), item)
    return found


def _homes(
    lists: Iterable[Checklist], known: Mapping[str, Known]
) -> Iterator[tuple[str, tuple[Conditions, ...]]]:
    of_items: dict[str, tuple[Conditions, ...]] = {}
    for checklist in lists:
        for section in checklist.sections:
            for item in section.items:
                home = (checklist.applies, section.applies, item.applies)
                of_items[item.id] = (*of_items.get(item.id, ()), home)
    yield from ((i, homes) for i, homes in of_items.items() if i not in known)
    for k in known.values():
        made_from = [home for i in k.needs or (k.id,) for home in of_items.get(i, ())]
        if made_from:
            yield k.id, tuple((*home, k.applies) for home in made_from)


def _labels(lists: Iterable[Checklist], of_engine: Mapping[str, Iterable[str]]) -> dict[str, tuple[str, ...]]:
    found = {axis: tuple(labels) for axis, labels in PLAIN_LABELS.items()}
    told = [*(c.axes for c in lists), of_engine]
    for axis, labels in (pair for axes in told for pair in axes.items()):
        found[axis] = tuple(dict.fromkeys((*found.get(axis, ()), *labels)))
    return found
