"""Turns printed parts, not yet joined, into what the frame of their sheets says of pages and chapters."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter by its heading, and the page it begins on, counted from 1."""

    title: str
    page: int


@dataclass(frozen=True, slots=True)
class Bound:
    """What of several PDFs, one behind the other, is known before they are joined."""

    pages: int
    chapters: tuple[Chapter, ...]
