"""Readings and findings as pandas tables."""

from dataclasses import replace

import pandas as pd
import pytest

from inspect_report.assessment import Assessment
from inspect_report.report.tables import FINDING_COLUMNS, READING_COLUMNS, findings, readings


def test_readings_have_one_row_for_each_value(assessment: Assessment) -> None:
    """Values stand in the unit of their item, with place, instrument and line."""
    table = readings(assessment)
    assert list(table.columns[: len(READING_COLUMNS)]) == list(READING_COLUMNS)
    assert len(table) == sum(len(r.values) for r in assessment.inspection.readings)
    row = table[table.place == "bore-diameter.3.top.across"].iloc[0]
    assert (row.unit, row.instrument, row.line, row.cylinder, row.height) == (
        "mm",
        "bore-gauge",
        40,
        "3",
        "top",
    )
    assert row.value == pytest.approx(67.096)


def test_findings_have_value_limit_and_verdict_in_one_unit(assessment: Assessment) -> None:
    """Value, standard uncertainty and limits of bore 3."""
    table = findings(assessment).set_index("id")
    assert list(findings(assessment).columns[: len(FINDING_COLUMNS)]) == list(FINDING_COLUMNS)
    row = table.loc["bore-wear.3"]
    assert (row.value, row.u, row.limit_high) == pytest.approx((0.096, 0.0018, 0.08))
    assert row.verdict == "beyond limit"
    assert table.verdict.value_counts()["not inspected"] == 3


def test_tables_of_nothing_keep_their_columns(assessment: Assessment) -> None:
    """An inspection without readings gives an empty table, not a fault."""
    bare = replace(assessment, inspection=replace(assessment.inspection, readings=()))
    table = readings(bare)
    assert isinstance(table, pd.DataFrame)
    assert (len(table), list(table.columns)) == (0, list(READING_COLUMNS))
