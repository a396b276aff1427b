"""Gives the tests of pages one assessment, its view and a folder with what its files name."""

from pathlib import Path

import pytest

from inspect_report.assessment import Assessment
from inspect_report.report.reportview import ReportView
from inspect_report.report.view import view
from tests.report.an_assessment import an_assessment


@pytest.fixture(scope="session")
def assessment() -> Assessment:
    """The inline four with a worn third cylinder."""
    return an_assessment()


@pytest.fixture(scope="session")
def shown(assessment: Assessment) -> ReportView:
    """Its report as a view."""
    return view(assessment)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The inspection's own folder with its file."""
    home = tmp_path / "inspection"
    home.mkdir()
    (home / "inspection.yaml").write_text("inspection: HW-2026-031\n", encoding="utf-8")
    return home
