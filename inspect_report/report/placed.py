"""Turns texts at many places into few words: the last axis is told once, its texts with strokes between."""

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Final

from inspect_report.records.position import Position
from inspect_report.report.reportparts import PlacedText
from inspect_report.report.words import places_words
from inspect_report.telling.positions import place_words, short_place

Texts = Sequence[tuple[Position, str]]
BETWEEN: Final = " / "


def placed(texts: Iterable[tuple[Position, str]]) -> tuple[str, tuple[PlacedText, ...]]:
    """
    Texts by place, and the order in which those between strokes stand.

    A grid of cylinders, heights and directions gives one text for each cylinder, ``top 67.01 / 67.02; …``,
    and the order ``along / across``. Where a place is missing every text carries its own.
    """
    pairs = list(texts)
    if len(pairs) < 2 or not _is_full_grid([position for position, _ in pairs]):
        return "", _one_by_one(pairs)
    if len(pairs[0][0].axes) == 1:
        place = places_words([position for position, _ in pairs])
        return "", (PlacedText(place, BETWEEN.join(text for _, text in pairs)),)
    last = _labels(pairs)[0][1]
    axis = pairs[0][0].axes[-1]
    order = BETWEEN.join(short_place(Position((axis,), (label,))) for label in last)
    return order, _one_by_one(_rows(pairs), between=" ")


def _is_full_grid(positions: Sequence[Position]) -> bool:
    """Whether all places have the same axes, and every row of the last one the same labels in order."""
    axes = positions[0].axes
    if not axes or any(p.axes != axes for p in positions):
        return False
    rows = [[p.labels[-1] for p in row] for _, row in groupby(positions, key=lambda p: p.labels[:-1])]
    starts = [start for start, _ in groupby(positions, key=lambda p: p.labels[:-1])]
    return len(rows[0]) > 1 and all(row == rows[0] for row in rows) and len(set(starts)) == len(starts)


def _labels(pairs: Texts) -> list[tuple[Position, list[str]]]:
    axis = pairs[0][0].axes[-1]
    rows = groupby(pairs, key=lambda pair: pair[0].without(axis))
    return [(start, [position.labels[-1] for position, _ in row]) for start, row in rows]


def _rows(pairs: Texts) -> list[tuple[Position, str]]:
    """One text for each row of the last axis."""
    axis = pairs[0][0].axes[-1]
    rows = groupby(pairs, key=lambda pair: pair[0].without(axis))
    return [(start, BETWEEN.join(text for _, text in row)) for start, row in rows]


def _one_by_one(pairs: Texts, between: str = " = ") -> tuple[PlacedText, ...]:
    """Texts by place; where there are several axes, those of one first label together."""
    grouped: dict[Position, list[str]] = {}
    for position, text in pairs:
        first = position.only(*position.axes[:1])
        rest = position.without(*first.axes)
        told = f"{short_place(rest)}{between}{text}" if rest.axes else text
        grouped.setdefault(first, []).append(told)
    return tuple(
        PlacedText(place_words(first) if first.axes else "", "; ".join(told))
        for first, told in grouped.items()
    )


def placed_by_text(texts: Iterable[tuple[Position, str]]) -> tuple[PlacedText, ...]:
    """Texts by place, places that share a text together; for what is seen, where the same is often seen."""
    places: dict[str, list[Position]] = {}
    for position, text in texts:
        places.setdefault(text, []).append(position)
    told = ((places_words(same), text) for text, same in places.items())
    return tuple(PlacedText("" if where == "engine" else where, text) for where, text in told)
