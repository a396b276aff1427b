"""Turns faults of ours in measuring into failing tests."""

import pytest

from inspect_report.measure.guard import RAISE


@pytest.fixture(autouse=True)
def _faults_are_raised(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(RAISE, "1")
