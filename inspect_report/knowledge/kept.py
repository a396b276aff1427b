"""
Turns a shipped book into its document without reading its YAML again, as Python does with its own source.

Parsing the shipped books takes longer than all else in a check. What they hold is kept in ``__pycache__``
beside them, under the digest of the book and of the reader; where that folder cannot be written, or a digest
differs, the book is read as it stands. Places are looked up in the book itself, when a fault is told.
"""

import json
import sys
from functools import cache, partial
from hashlib import sha256
from pathlib import Path
from typing import Any, Final

from inspect_report.places import knowledge_dir
from inspect_report.records import yaml as reader
from inspect_report.records.shape import document_of
from inspect_report.records.typed import Figures
from inspect_report.records.yaml import Document, Marks, Plain
from inspect_report.whole import keep_whole

_FIGURES: Final = "figures as typed"


def document_of_book(raw: bytes, path: Path) -> Document:
    """
    The document of a book, from what is kept of it where it is a shipped one.

    Args:
        raw: The bytes of its file.
        path: Its file.

    Raises:
        InvalidInput: as ``document_of``; a shipped book never is at fault.
    """
    if not path.is_relative_to(knowledge_dir()):
        return document_of(raw, str(path))
    digest = _digest(raw)
    place = _place(path)
    data = _kept(place, digest)
    if data is not None:
        return Document(str(path), data, cache(partial(_marks, raw, str(path))))
    document = document_of(raw, str(path))
    _keep(place, digest, document.data)
    return document


def _marks(raw: bytes, name: str) -> Marks:
    return document_of(raw, name).marks()


def _place(path: Path) -> Path:
    name = "-".join(path.relative_to(knowledge_dir()).with_suffix(".json").parts)
    return knowledge_dir() / "__pycache__" / name


def _digest(raw: bytes) -> str:
    return sha256(_reader() + raw).hexdigest()


@cache
def _reader() -> bytes:
    """The reader itself: what another one read is not taken."""
    return Path(reader.__file__).read_bytes()


def _kept(place: Path, digest: str) -> Plain:
    """What is kept under a digest; None where that is nothing."""
    try:
        kept = json.loads(place.read_bytes(), object_hook=_with_figures)
    except (OSError, ValueError):
        return None
    data: Plain = kept.get("data") if isinstance(kept, dict) and kept.get("digest") == digest else None
    return data


def _keep(place: Path, digest: str, data: Plain) -> None:
    """Keep a document's values, whole or not at all; where nothing may be written, nothing is lost."""
    if sys.dont_write_bytecode:
        return
    text = json.dumps({"digest": digest, "data": _plain(data)}, ensure_ascii=False, separators=(",", ":"))
    keep_whole(place, text.encode())


def _plain(data: Plain) -> Any:
    """Values as JSON holds them; a number with a point goes along as it was typed."""
    if isinstance(data, Figures):
        return {_FIGURES: data.typed}
    if isinstance(data, dict):
        return {key: _plain(value) for key, value in data.items()}
    return [_plain(value) for value in data] if isinstance(data, list) else data


def _with_figures(members: dict[str, Any]) -> Any:
    return Figures(members[_FIGURES]) if _FIGURES in members else members
