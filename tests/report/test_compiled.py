"""What is kept of a compiled template is taken for that very template, and never stands in the way."""

import os
import sys
from pathlib import Path

import pytest
from jinja2 import DictLoader, Environment

from inspect_report.report.compiled import Compiled


def made(folder: Path, text: str) -> str:
    """A template rendered by an environment that keeps what it compiles in a folder."""
    return Environment(
        loader=DictLoader({"a.html": text}), bytecode_cache=Compiled(folder), autoescape=True
    ).get_template("a.html").render(x=3)  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to keep in."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    return tmp_path / "kept"


def test_it_is_kept_and_taken(folder: Path) -> None:
    """The second environment compiles nothing: it renders what lies there, even of another template."""
    assert made(folder, "{{ x }}!") == "3!"
    (kept,) = folder.iterdir()
    right = kept.read_bytes()
    assert made(folder, "{{ x }}?") == "3?"
    digest = slice(0, right.index(b"\xe3"))
    kept.write_bytes(right[digest] + kept.read_bytes()[digest.stop :])
    assert made(folder, "{{ x }}!") == "3?"


def test_a_changed_template_is_compiled_anew(folder: Path) -> None:
    """The name is the same, the source another."""
    assert made(folder, "{{ x }}!") == "3!"
    assert made(folder, "{{ x }}?") == "3?"


@pytest.mark.parametrize("spoilt", [b"", b"j2", b"\x00" * 40])
def test_a_spoilt_one_is_compiled_anew(folder: Path, spoilt: bytes) -> None:
    """A file cut short costs time only."""
    made(folder, "{{ x }}!")
    (kept,) = folder.iterdir()
    kept.write_bytes(spoilt)
    assert made(folder, "{{ x }}!") == "3!"


def test_a_full_disk_costs_time_only(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is left half written."""

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    assert made(folder, "{{ x }}!") == "3!"
    assert not [*folder.iterdir()]


def test_nothing_is_kept_where_python_keeps_nothing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who switches Python's own keeping off means ours as well."""
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert made(folder, "{{ x }}!") == "3!"
    assert not folder.exists()
