"""Turns texts at many places into few cells: one for each label of the first axis."""

from collections.abc import Iterable

from inspect_report.records.position import Position
from inspect_report.report.reportparts import PlacedText
from inspect_report.report.words import place_words, places_words, short_place


def placed(texts: Iterable[tuple[Position, str]]) -> tuple[PlacedText, ...]:
    """Texts by place; where there are several axes, those of one first label together."""
    grouped: dict[Position, list[str]] = {}
    for position, text in texts:
        first = position.only(*position.axes[:1])
        rest = position.without(*first.axes)
        grouped.setdefault(first, []).append(f"{short_place(rest)} = {text}" if rest.axes else text)
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
