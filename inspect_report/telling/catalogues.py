"""
Turns the message catalogues of a language into a table from English to that language, kept once read.

A language is a folder of ``languages/`` with ``.po`` files as gettext writes them: ``program.po`` for what
the program and its templates say, ``books.po`` for what the shipped books say. A new folder is a new
language. Reading them takes longer than a check; what they hold is kept in ``__pycache__`` beside them, under
the digest of the files, as shipped books are.
"""

import json
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from gettext import c2py
from hashlib import sha256
from pathlib import Path
from typing import Any, Final

from inspect_report.places import languages_dir
from inspect_report.records.languages import ENGLISH
from inspect_report.whole import keep_whole

_CONTEXT: Final = "\x04"
"""Parts a message's context from its text, as gettext's own files do."""
_LAYOUT: Final = 1
"""Raised when what is kept is laid out otherwise."""


@dataclass(frozen=True, slots=True)
class Catalogue:
    """What one language says for each English message: one text, or one for each form of its plurals."""

    messages: Mapping[str, tuple[str, ...]]
    form: Callable[[int], int]
    """Which form of the plural a count takes."""

    def one(self, message: str, context: str = "") -> str:
        """What is said for a message; the message itself where the catalogue has none."""
        found = self.messages.get(f"{context}{_CONTEXT}{message}" if context else message)
        return found[0] if found else message

    def many(self, one: str, many: str, count: int) -> str:
        """What is said for a message that counts."""
        found = self.messages.get(one)
        if found is None:
            return one if count == 1 else many
        return found[min(self.form(count), len(found) - 1)]


_NONE: Final = Catalogue({}, lambda n: int(n != 1))


@cache
def catalogue(language: str) -> Catalogue:
    """The catalogue of a language; English has an empty one, and says what the source says."""
    if language == ENGLISH:
        return _NONE
    files = sorted((languages_dir() / language).glob("*.po"))
    raw = [path.read_bytes() for path in files]
    digest = sha256(b"\0".join((str(_LAYOUT).encode(), *raw))).hexdigest()
    place = languages_dir() / "__pycache__" / f"{language}.json"
    held = _kept(place, digest) or _read_and_kept(files, place, digest)
    messages = {key: tuple(texts) for key, texts in held["messages"].items()}
    return Catalogue(messages, c2py(held["plural"]))


def _kept(place: Path, digest: str) -> dict[str, Any] | None:
    try:
        kept = json.loads(place.read_bytes())
    except (OSError, ValueError):
        return None
    return kept if isinstance(kept, dict) and kept.get("digest") == digest else None


def _read_and_kept(files: list[Path], place: Path, digest: str) -> dict[str, Any]:
    held = {"digest": digest, **_read(files)}
    if not sys.dont_write_bytecode:
        keep_whole(place, json.dumps(held, ensure_ascii=False, separators=(",", ":")).encode())
    return held


def _read(files: list[Path]) -> dict[str, Any]:
    """What the files say; a message that is not translated, or only perhaps, is left out."""
    from babel.messages.pofile import read_po

    messages: dict[str, tuple[str, ...]] = {}
    plural = "(n != 1)"
    for path in files:
        with path.open("rb") as file:
            found = read_po(file)
        plural = found.plural_expr
        for message in found:
            ids = message.id if isinstance(message.id, (list, tuple)) else (message.id,)
            texts = message.string if isinstance(message.string, (list, tuple)) else (message.string,)
            told = tuple(text for text in texts if text)
            if ids[0] and len(told) == len(texts) and not message.fuzzy:
                key = f"{message.context}{_CONTEXT}{ids[0]}" if message.context else ids[0]
                messages[key] = told
    return {"plural": plural, "messages": messages}
