"""Turns a number with a point into one that still knows how it was typed."""

from typing import Self


class Figures(float):
    """A number with a point that remembers how it was typed: a serial 1.50 must not become 1.5."""

    __slots__ = ("typed",)
    typed: str

    def __new__(cls, typed: str) -> Self:
        made = super().__new__(cls, typed)
        made.typed = typed
        return made

    def __str__(self) -> str:
        return self.typed

    def __getnewargs__(self) -> tuple[str]:  # type: ignore[override]
        return (self.typed,)
