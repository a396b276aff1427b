"""Whole pages and chains as they stand; a change shows up as a difference to read."""

from typing import Any

import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from inspect_report.assessment import Assessment
from inspect_report.report.explain import why
from inspect_report.report.pages import environment, page
from inspect_report.report.view import view
from inspect_report.report.view_history import history_view
from tests.report.an_assessment import an_assessment


class PageFile(SingleFileSnapshotExtension):
    """One HTML file for each snapshot."""

    _write_mode = WriteMode.TEXT
    file_extension = "html"


class TextFile(SingleFileSnapshotExtension):
    """One text file for each snapshot."""

    _write_mode = WriteMode.TEXT
    file_extension = "txt"


def named(thing: Any) -> str:
    """A picture's own words in place of its data."""
    return f"data:,{type(thing).__name__}"


@pytest.mark.parametrize("kind", ["rebuild quote", "pre-purchase assessment", "condition history"])
def test_reports(assessment: Assessment, snapshot: SnapshotAssertion, kind: Any) -> None:
    """The three reports of one assessment."""
    shown = view(assessment, kind)
    made = page(environment(None, named), f"{kind.replace(' ', '-')}.html", shown, "screen", "")
    assert snapshot(extension_class=PageFile) == made


def test_history(assessment: Assessment, snapshot: SnapshotAssertion) -> None:
    """The history of one engine over two inspections."""
    early = an_assessment(inspection="HW-2025-052", dates={"inspected": "2025-02-11", "issued": "2025-02-12"})
    shown = history_view([assessment, early], "Works engines")
    assert snapshot(extension_class=PageFile) == page(
        environment(None, named), "history.html", shown, "screen", ""
    )


@pytest.mark.parametrize(
    "finding", ["bore-wear.3", "valve-clearance.3.exhaust-1", "crown-state.3", "big-end-clearance"]
)
def test_chains(assessment: Assessment, snapshot: SnapshotAssertion, finding: str) -> None:
    """What the command `why` says of four findings."""
    assert snapshot(extension_class=TextFile) == why(assessment, finding) + "\n"
