"""
Turns the manner of a report, its language and how it writes numbers, into what ``say`` and ``figure`` give.

Everything that is told to a customer is told within ``telling(manner)``: sentences are made deep in judging
and advising, and none of them takes a language as an argument. The manner holds for that call alone, in that
thread alone, and what was before holds again behind it, so that reports of several languages do not mix.
"""

import re
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from inspect_report.records.languages import ENGLISH
from inspect_report.records.workshop import Workshop
from inspect_report.telling.catalogues import catalogue


@dataclass(frozen=True, slots=True)
class Manner:
    """
    How a report tells: the code of its language, the locale by which it writes numbers, and its units.

    ``units``: ``metric``, ``imperial``, ``both``, or empty for each amount as the books write it.
    """

    language: str = ENGLISH
    locale: str = "en_GB"
    units: str = ""


_ENGLISH: Final = Manner()
_NOW: ContextVar[Manner] = ContextVar("manner", default=_ENGLISH)


@contextmanager
def telling(manner: Manner) -> Iterator[None]:
    """Within it, everything is told in this manner."""
    before = _NOW.set(manner)
    try:
        yield
    finally:
        _NOW.reset(before)


def told_by(workshop: Workshop) -> AbstractContextManager[None]:
    """Within it, everything is told as a workshop tells its customers."""
    return telling(Manner(workshop.language or ENGLISH, workshop.locale, workshop.units))


def manner() -> Manner:
    """The manner that holds now; English, and numbers as the British write them, where none was asked for."""
    return _NOW.get()


def in_english() -> bool:
    """Whether English is told now."""
    return _NOW.get().language == ENGLISH


def say(message: str, /, **named: object) -> str:
    """
    A message in the language told now, its placeholders filled in.

    Args:
        message: The English text, as it stands in the source; ``{name}`` stands for what is filled in.
        named: What is filled in, ready to print.
    """
    language = _NOW.get().language
    text = message if language == ENGLISH else catalogue(language).one(message)
    return text.format(**named) if named else text


def say_as(context: str, message: str, /, **named: object) -> str:
    """As ``say``, for a message that means another thing elsewhere: ``context`` tells the two apart."""
    language = _NOW.get().language
    text = message if language == ENGLISH else catalogue(language).one(message, context)
    return text.format(**named) if named else text


def say_count(one: str, many: str, count: int, /, **named: object) -> str:
    """
    A message that counts, in the form that the language has for the count.

    Args:
        one: The English text for one; ``{count}`` stands for the count.
        many: The English text for any other.
        count: How many.
        named: What else is filled in.
    """
    language = _NOW.get().language
    if language == ENGLISH:
        text = one if count == 1 else many
    else:
        text = catalogue(language).many(one, many, count)
    return text.format(count=count, **named)


def message(text: str) -> str:
    """A text that is said later: marks it for the catalogues where it is written down."""
    return text


def message_as(context: str, text: str) -> str:
    """As ``message``, for a text said later by ``say_as`` in this context."""
    del context
    return text


def word(text: str) -> str:
    """
    A word of the books or of the program as it is shown: damage, answers, depths, verdicts, urgencies.

    In files and in data it stays English; what the catalogues do not know is shown as it is written.
    """
    return say(text)


def lowered(name: str) -> str:
    """
    A name or a clause for the middle of a sentence; one written in capitals keeps them.

    A language whose nouns keep theirs translates the rule as the words that do not: articles and the like.
    """
    rule = say_as("names within a sentence", "begin small")
    if rule != "begin small" and name.partition(" ")[0] not in rule.split():
        return name
    follows = name[2:3] if name[1:2] in "'’ " else name[1:2]
    return name[:1].lower() + name[1:] if follows.islower() else name


def thing(name: str) -> str:
    """An id as the words of a thing: ``big-end-clearance`` reads "big end clearance"."""
    words = name.replace("-", " ").replace("_", " ")
    if in_english() or say(words) != words:
        return say(words)
    named = words[:1].upper() + words[1:]
    told = say(named)
    return words if told == named else lowered(told)


_POINT: Final = "."
_TYPED_SIGN: Final = re.compile(r"(?<=\d)[.,](?=\d)")


def figure(written: str) -> str:
    """A number written with a decimal point, as the locale told now writes it."""
    if _POINT not in written:
        return written
    return written.replace(_POINT, _sign(_NOW.get().locale))


def resigned(typed: str) -> str:
    """What somebody typed, with the decimal sign of the locale told now: files have no sign of thousands."""
    return _TYPED_SIGN.sub(_sign(_NOW.get().locale), typed)


@lru_cache(maxsize=64)
def _sign(locale: str) -> str:
    """The decimal sign of a locale."""
    if locale in ("en_GB", "en_US"):
        return _POINT  # known without the library, which takes long to load
    from babel.numbers import get_decimal_symbol

    return get_decimal_symbol(locale)
