"""
Turns the books of a case into the same in the language of its report, and settles what a workshop left open.

A text that stands in a shipped book is told as its catalogue says it; a text of a workshop's own stays as it
is written. Ids and the words by which files are filled in (kinds of damage, answers, depths) stay English:
they are compared, and ``telling.manner.word`` shows them.
"""

from dataclasses import replace
from functools import cache
from typing import Any, Final

from inspect_report.knowledge.case import Books, Case
from inspect_report.records.languages import ENGLISH, language_of, locale_of, paper_of
from inspect_report.records.shape import Record
from inspect_report.records.workshop import Units, Workshop
from inspect_report.telling.catalogues import Catalogue, catalogue

TEXTS: Final = frozenset({
    "asks", "hint", "intro", "name", "title", "plain", "plain_open", "told_as", "if_left", "if_beyond",
    "finding", "seen", "why", "tells_them_apart", "check", "note", "standard", "steps", "text", "throughout",
    "could_also_be", "source",
})  # fmt: skip
"""Fields of the books whose texts are printed."""
_COMPARED: Final = frozenset({"common practice", "spec sheet"})
"""Sources that are told apart by these words."""
_BOOKS: Final = (
    "checklist", "catalogue", "scales", "scoring", "practice", "rulebook", "workbook", "cautions",
)  # fmt: skip
"""Books that are shipped; the spec sheet and the workshop file are always a workshop's own."""


def case_in_language(case: Case, language: str = "", units: Units = "") -> Case:
    """
    A case in the language of its report.

    Args:
        case: The case as read.
        language: The language asked for; that of the inspection, the workshop or its locale when empty.
        units: The units asked for; those of the inspection or the workshop when empty.
    """
    head = case.inspection.head
    return replace(case, books=books_in_language(case.books, language or head.language, units or head.units))


def books_in_language(books: Books, language: str = "", units: Units = "") -> Books:
    """The books of a case in a language and told in units; those of the workshop or its locale when empty."""
    workshop = settled(books.workshop, language, units)
    if workshop.language == ENGLISH:
        return replace(books, workshop=workshop)
    said = catalogue(workshop.language)
    told: dict[str, Any] = {name: _record(getattr(books, name), said) for name in _BOOKS}
    return replace(books, workshop=workshop, **told)


def settled(workshop: Workshop, language: str = "", units: Units = "") -> Workshop:
    """A workshop with what holds where it names none: the language, its locale, the units and the paper."""
    told = language_of(language, workshop.language, locale=workshop.locale)
    paper = workshop.paper or paper_of(workshop.locale)
    locale = locale_of(told, locale=workshop.locale)
    settled_so = {"language": told, "locale": locale, "units": units or workshop.units, "paper": paper}
    return workshop.model_copy(update=settled_so)


def _record(record: Record, said: Catalogue) -> Record:
    """A record with its texts in the language; the same one where nothing in it is said otherwise."""
    changed: dict[str, Any] = {}
    for name in _fields(type(record)):
        value = getattr(record, name)
        told = _told(value, name in TEXTS, said)
        if told is not value:
            changed[name] = told
    return record.model_copy(update=changed) if changed else record


@cache
def _fields(model: type[Record]) -> tuple[str, ...]:
    return tuple(model.model_fields)


def _told(value: Any, is_text: bool, said: Catalogue) -> Any:
    if isinstance(value, str):
        return said.one(value) if is_text and value not in _COMPARED else value
    if isinstance(value, Record):
        return _record(value, said)
    if isinstance(value, tuple):
        told = tuple(_told(one, is_text, said) for one in value)
        return told if any(a is not b for a, b in zip(told, value, strict=True)) else value
    if isinstance(value, dict) and not is_text:
        inner = {key: _told(one, False, said) for key, one in value.items()}
        return inner if any(inner[key] is not value[key] for key in value) else value
    return value
