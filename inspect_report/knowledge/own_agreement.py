"""Turns own books in place of shipped ones into problems where they speak of what no book knows."""

from collections.abc import Iterator
from pathlib import Path as FilePath
from typing import Any

from inspect_report.knowledge.bookread import Book
from inspect_report.knowledge.bookset import BookSet
from inspect_report.knowledge.sheet_agreement import row_unit
from inspect_report.knowledge.words import unknown, unknown_each
from inspect_report.places import knowledge_dir
from inspect_report.records.problem import Problem
from inspect_report.records.yaml import Path

RATED = ("as new", "serviceable", "marginal", "undecided", "beyond limit")
"""Verdicts that scales may give and scoring rules weigh."""


def own_disagreements(books: BookSet) -> Iterator[Problem]:
    """
    Limits of what nobody judges or in a unit of another kind, caps for what no book knows, unknown verdicts.

    Shipped books are held to agree by the tests, not again in every run.
    """
    if is_own(books, books.practice):
        yield from _practice(books)
    if is_own(books, books.scales):
        yield from _scales(books)
    if any(is_own(books, book) for book in (books.scoring, books.scales, books.catalogue)):
        yield from _scoring(books)


def is_own(books: BookSet, book: Book[Any]) -> bool:
    """Whether a book does not come with a release."""
    return not FilePath(book.document.file).is_relative_to(books.library or knowledge_dir())


def _practice(books: BookSet) -> Iterator[Problem]:
    document = books.practice.document
    for i, row in enumerate(books.practice.record.characteristics):
        path: Path = ("characteristics", i)
        known = _judged(books)
        yield from unknown(document, "K358", "characteristic", row.id, (*path, "id"), known)
        yield from row_unit(document, row, path, books)


def _judged(books: BookSet) -> Iterator[str]:
    yield from (k.id for k in books.catalogue.record.characteristics)
    yield from (i.id for s in books.full_checklist().sections for i in s.items)


def _scales(books: BookSet) -> Iterator[Problem]:
    for i, word in enumerate(books.scales.record.words):
        path: Path = ("words", i, "verdicts")
        yield from unknown_each(books.scales.document, "K355", "verdict", word.verdicts, path, RATED)


def _scoring(books: BookSet) -> Iterator[Problem]:
    """A cap for what no book knows would never hold, and a verdict that is none never count."""
    document, scoring = books.scoring.document, books.scoring.record
    damage = tuple(word.damage for word in books.scales.record.words)
    for i, cap in enumerate(scoring.caps):
        path: Path = ("caps", i)
        at: Path = (*path, "characteristics")
        yield from unknown_each(document, "K358", "characteristic", cap.characteristics, at, _judged(books))
        yield from unknown_each(document, "K354", "kind of damage", cap.damage, (*path, "damage"), damage)
        yield from unknown_each(document, "K355", "verdict", cap.verdicts, (*path, "verdicts"), RATED)
    for key, given in (("grade-of", scoring.grade_of), ("left-of", scoring.left_of)):
        for verdict in given:
            yield from unknown(document, "K355", "verdict", verdict, (key, verdict), RATED)
