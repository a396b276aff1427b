"""Turns every message into itself in brackets, as a language of its own: what stands outside is not told."""

from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import write_po

from inspect_report import places
from inspect_report.telling import catalogues
from tests.agreement import messages

CODE = "eo"
"""A language that reports are not told in, with two forms of the plural as English has."""
OPEN, CLOSE = "⟦", "⟧"


def bracketed(text: str) -> str:
    """A text in brackets, its spaces at either end outside of them."""
    if text.startswith("{name}: "):
        return f"{{name}}: {OPEN}{text.removeprefix('{name}: ')}{CLOSE}"
    core = text.strip(" ")
    return text.replace(core, f"{OPEN}{core}{CLOSE}", 1) if core else text


def write_language(home: Path) -> None:
    """The catalogues of the language, in a folder of its own."""
    folder = home / CODE
    folder.mkdir(parents=True)
    for name, told in messages.catalogues().items():
        made = Catalog(locale=CODE)
        for context, text in told:
            forms = bracketed(text) if isinstance(text, str) else tuple(bracketed(t) for t in text)
            made.add(text, forms, context=context or None)
        with (folder / f"{name}.po").open("wb") as file:
            write_po(file, made)


def use_language(home: Path, patch: pytest.MonkeyPatch) -> None:
    """Let reports be told in it."""
    patch.setattr(places, "languages_dir", lambda: home)
    patch.setattr(catalogues, "languages_dir", lambda: home)
    catalogues.catalogue.cache_clear()


def outside(text: str) -> str:
    """What of a text stands outside all brackets."""
    depth, kept = 0, []
    for letter in text:
        depth += letter == OPEN
        if not depth:
            kept.append(letter)
        depth -= letter == CLOSE
    return "".join(kept)
