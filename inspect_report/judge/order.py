"""Turns findings into their fixed order: assembly, characteristic, then place as the engine is counted."""

from collections.abc import Iterable

from inspect_report.judge.finding import Finding
from inspect_report.knowledge.case import Books
from inspect_report.records.checklist import axis_labels
from inspect_report.records.position import Position

Key = tuple[int, ...]


def in_order(findings: Iterable[Finding], books: Books) -> tuple[Finding, ...]:
    """Findings in the order of the catalogue; those it does not know come last in their assembly."""
    assemblies = {a.id: n for n, a in enumerate(books.catalogue.assemblies)}
    known = {k.id: n for n, k in enumerate(books.catalogue.characteristics)}
    others = _order_of_others(books)
    unknown = len(known) + len(others)

    def key(finding: Finding) -> tuple[int, int, Key, str]:
        rank = known.get(finding.characteristic, len(known) + others.get(finding.characteristic, unknown))
        assembly = assemblies.get(finding.assembly, len(assemblies))
        return assembly, rank, place_key(finding.position, books), finding.id

    return tuple(sorted(findings, key=key))


def _order_of_others(books: Books) -> dict[str, int]:
    """Order of what only the checklist or the spec sheet knows."""
    items = (item.id for section in books.checklist.sections for item in section.items)
    rows = (row.id for row in books.sheet.characteristics)
    return {name: n for n, name in enumerate(dict.fromkeys((*items, *rows)))}


def place_key(position: Position, books: Books) -> Key:
    """Sorts places as the engine counts them: cylinder 2 before 10, inlet before exhaust."""
    return tuple(_label_key(a, n, books) for a, n in zip(position.axes, position.labels, strict=True))


def _label_key(axis: str, label: str, books: Books) -> int:
    try:
        labels = axis_labels(axis, books.sheet, books.checklist)
    except KeyError:
        labels = ()
    if label in labels:
        return labels.index(label)
    return int(label) if label.isdigit() else len(labels)
