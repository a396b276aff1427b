"""Turns what people write for a language into one that reports can be told in, and refuses what is none."""

from typing import Annotated, Final

from pydantic import BeforeValidator, WithJsonSchema

from inspect_report.places import languages
from inspect_report.records.money import locales
from inspect_report.records.problem import nearest
from inspect_report.records.shape import refusal

ENGLISH: Final = "en"
"""The language of the source; it needs no catalogue."""
BRITISH: Final = "en_GB"
"""The English of a report whose workshop's country writes none with a decimal point."""
LETTER: Final = frozenset(
    ["BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"]
)
"""Countries that print on Letter, the others on A4: Unicode CLDR, measurement data (from memory)."""


def _read_language(written: object) -> str:
    text = str(written)
    known = languages()
    if not text or text in known:
        return text
    near = nearest(text, known)
    raise refusal(
        "V213",
        "language that reports are not told in",
        ", ".join(known),
        f"write {near!r} if that is meant" if near else "take one of these, or add a folder of catalogues",
    )


Language = Annotated[str, BeforeValidator(_read_language), WithJsonSchema({"type": "string"})]
"""The code of a language; empty where none is named."""


def language_of(*named: str, locale: str) -> str:
    """The first language named; else that of the locale where reports can be told in it; else English."""
    first = next((language for language in named if language), locale.partition("_")[0])
    return first if first in languages() else ENGLISH


def locale_of(language: str, *, locale: str) -> str:
    """
    The locale by which a report in a language writes numbers, days and money.

    That of the workshop where it is of the same language, else the language as its country writes it, where
    it does: 28,400 km in a German report would be read as 28.4 km.

    Args:
        language: The code of the report's language.
        locale: The locale of the workshop.
    """
    own, _, country = locale.partition("_")
    if own == language:
        return locale
    written = f"{language}_{country.rpartition('_')[2]}"
    if language == ENGLISH:
        return written if written in locales() and _has_point(written) else BRITISH
    return written if written in locales() else language


def _has_point(locale: str) -> bool:
    """Whether a locale writes a decimal point; English with a comma, as in en_DE, would be misread."""
    from babel.numbers import get_decimal_symbol

    return get_decimal_symbol(locale) == "."


def paper_of(locale: str) -> str:
    """The paper of the country of a locale."""
    return "Letter" if locale.rpartition("_")[2] in LETTER else "A4"
