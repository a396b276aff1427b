"""Turns texts into the lines of a chain: each behind a label, or behind none where it goes on below one."""

from collections.abc import Callable, Iterable, Iterator

from inspect_report.report.source import Source

Line = tuple[str, str]
"""A label, empty where the line goes on below the one before, and a text."""
Told = tuple[str, tuple[Line, ...]]
"""The title of a chain and its lines."""


def under(label: str, texts: Iterable[str]) -> Iterator[Line]:
    """Texts below one label, which stands at the first; empty ones are left out."""
    for n, text in enumerate(t for t in texts if t):
        yield label if n == 0 else "", text


def points(source: Source, amount: float) -> str:
    """Points of a score or a weight, to a tenth."""
    return source.figures.number(amount, 1)


def once(source: Source, kind: str, name: str, lines: Callable[[], Iterable[Line]]) -> tuple[Line, ...]:
    """Lines that many chains share, made once."""
    if (kind, name) not in source.told:
        source.told[kind, name] = tuple(lines())
    return source.told[kind, name]
