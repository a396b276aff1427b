"""Reports become files that are whole or not there at all."""

import json
import os
from pathlib import Path

import pytest

from inspect_report.assessment import Assessment, from_json
from inspect_report.records.problem import CannotRender
from inspect_report.report.render import render, render_history
from inspect_report.report.writing import safe_name, write_all
from tests.report.an_assessment import an_assessment
from tests.report.test_photos import a_photo


def test_files_are_named_after_number_and_issue(assessment: Assessment, folder: Path, tmp_path: Path) -> None:
    """The three files, in the order asked for; nothing else is left in the folder."""
    made = render(assessment, tmp_path / "out", folder=folder)
    assert [p.name for p in made] == [f"HW-2026-031-issue-2.{e}" for e in ("html", "pdf", "json")]
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == sorted(p.name for p in made)
    assert from_json(made[2].read_text()) == assessment


def test_a_kind_other_than_the_inspections_own(assessment: Assessment, folder: Path, tmp_path: Path) -> None:
    """The same assessment gives any of the three reports."""
    page = render(assessment, tmp_path, kind="pre-purchase assessment", formats=("html",), folder=folder)[0]
    assert "Pre-purchase assessment HW-2026-031" in page.read_text()


def test_photos_come_from_the_folder(folder: Path, tmp_path: Path) -> None:
    """A photo that is there is shown; one that is not stops the report, and nothing is written."""
    a_photo(folder / "bore.jpg")
    told = {"file": "bore.jpg", "caption": "Bore 3", "of": "bore-wear.3"}
    page = render(an_assessment(photos=[told]), tmp_path / "a", formats=("html",), folder=folder)[0]
    assert 'alt="Photo: Bore 3"' in page.read_text()
    with pytest.raises(CannotRender, match=r"gone\.jpg: the picture cannot be read"):
        render(an_assessment(photos=[{**told, "file": "gone.jpg"}]), tmp_path / "b", folder=folder)
    assert not (tmp_path / "b").exists()


def test_an_unknown_format_is_told(assessment: Assessment, folder: Path, tmp_path: Path) -> None:
    """The formats there are are named."""
    with pytest.raises(CannotRender, match="'docx' is not known; one or more of html, pdf, json"):
        render(assessment, tmp_path, formats=("docx",), folder=folder)


def test_a_missing_inspection_file_is_told(assessment: Assessment, tmp_path: Path) -> None:
    """The PDF carries the inspection along; without it none is made."""
    with pytest.raises(CannotRender, match=r"inspection\.yaml: the inspection file"):
        render(assessment, tmp_path / "out", formats=("pdf",), folder=tmp_path)


def test_a_history_is_written(assessment: Assessment, folder: Path, tmp_path: Path) -> None:
    """One page for several assessments, and JSON that holds them all."""
    made = render_history(
        [assessment, assessment], tmp_path / "out", title="Works: engines", formats=("html", "json")
    )
    assert [p.name for p in made] == ["Works--engines.html", "Works--engines.json"]
    assert len(json.loads(made[1].read_text())) == 2


def test_what_was_there_stays_when_the_disk_is_full(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A write that fails half-way leaves the old files and no rest of the new ones."""
    old = tmp_path / "r.html"
    old.write_text("old")
    written: list[int] = []

    def full(handle: int) -> None:
        written.append(handle)
        if len(written) > 1:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(CannotRender, match="cannot be written to: No space left on device"):
        write_all({old: b"new", tmp_path / "r.json": b"new"})
    assert [p.name for p in tmp_path.iterdir()] == ["r.html"]
    assert old.read_text() == "old"


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    """A file where the folder should be."""
    (tmp_path / "out").write_text("")
    with pytest.raises(
        CannotRender, match=r"out: cannot be written to: it is a file, or lies in one; name a folder"
    ):
        write_all({tmp_path / "out" / "r.html": b""})


@pytest.mark.parametrize(
    ("number", "name"),
    [
        ("HW-2026/031", "HW-2026-031"),
        ("../../etc", "etc"),
        ("a b:c", "a-b-c"),
        ("…", "report"),
        ("x" * 300, "x" * 120),
    ],
)
def test_names_are_safe(number: str, name: str) -> None:
    """No separator, no hidden file, no name too long, whatever the number."""
    assert safe_name(number) == name
