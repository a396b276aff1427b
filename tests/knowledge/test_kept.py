"""What is kept of a shipped book is what its YAML holds, and is only taken where it is of that very book."""

import json
import os
import shutil
import sys
from pathlib import Path

import pytest

from inspect_report.knowledge import kept
from inspect_report.places import knowledge_dir
from inspect_report.records.shape import document_of
from inspect_report.records.typed import Figures
from inspect_report.records.yaml import Document

BOOKS = sorted(knowledge_dir().rglob("*.yaml"))


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A shelf of shipped books of its own, where what was read is kept."""
    folder = tmp_path / "knowledge"
    shutil.copytree(knowledge_dir(), folder, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    monkeypatch.setattr(kept, "knowledge_dir", lambda: folder)
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    return folder


def _read(book: Path) -> Document:
    return kept.document_of_book(book.read_bytes(), book)


def _typed(data: object) -> object:
    """Values with numbers as typed, so that 1.50 and 1.5 differ."""
    if isinstance(data, dict):
        return {key: _typed(value) for key, value in data.items()}
    if isinstance(data, list):
        return [_typed(value) for value in data]
    return str(data) if isinstance(data, Figures) else data


@pytest.mark.parametrize("book", BOOKS, ids=lambda b: b.stem)
def test_second_reading_is_the_first(shelf: Path, book: Path) -> None:
    """Values, typed figures and places are the same whether the book is parsed or was kept."""
    here = shelf / book.relative_to(knowledge_dir())
    parsed = document_of(here.read_bytes(), str(here))
    _read(here)
    again = _read(here)
    assert _typed(again.data) == _typed(parsed.data)
    assert again.marks() == parsed.marks()


def test_it_is_really_kept(shelf: Path) -> None:
    """The second reading takes what lies there, or the test above compares a book with itself."""
    book = shelf / "scoring.yaml"
    _read(book)
    place = shelf / "__pycache__" / "scoring.json"
    held = json.loads(place.read_text())
    place.write_text(json.dumps({**held, "data": {"kept": 1}}))
    assert _read(book).data == {"kept": 1}


@pytest.mark.parametrize("spoilt", ["", "[]", "{", '{"digest": "0", "data": {"old": 1}}', "\udcff"])
def test_what_is_of_another_book_or_spoilt_is_not_taken(shelf: Path, spoilt: str) -> None:
    """A changed book, and a kept file that was cut short, are read from the YAML."""
    book = shelf / "scoring.yaml"
    before = _read(book).data
    (shelf / "__pycache__" / "scoring.json").write_text(spoilt, errors="surrogateescape")
    assert _read(book).data == before


def test_a_changed_book_is_read_anew(shelf: Path) -> None:
    """What the YAML says holds, not what was kept of it."""
    book = shelf / "scoring.yaml"
    _read(book)
    book.write_text(book.read_text() + "\nadded: 1\n")
    data = _read(book).data
    assert isinstance(data, dict)
    assert data["added"] == 1


def test_other_peoples_books_are_not_kept(shelf: Path, tmp_path: Path) -> None:
    """Nothing is written beside a workshop's own books."""
    own = tmp_path / "own.yaml"
    own.write_text("scoring: own\n")
    assert _read(own).data == {"scoring": "own"}
    assert not (tmp_path / "__pycache__").exists()
    assert not (shelf / "__pycache__").exists()


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_shelf_that_cannot_be_written_to_is_read(shelf: Path) -> None:
    """A package installed by another user works the same."""
    shelf.chmod(0o500)
    assert _read(shelf / "scoring.yaml").data


def test_a_shelf_without_room_is_read(shelf: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk costs time, not the report."""

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    assert _read(shelf / "scoring.yaml").data
    assert not [*(shelf / "__pycache__").iterdir()]


def test_nothing_is_kept_where_python_keeps_nothing(shelf: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who switches Python's own keeping off means ours as well."""
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    _read(shelf / "scoring.yaml")
    assert not (shelf / "__pycache__").exists()
