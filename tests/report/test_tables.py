"""Readings and findings as pandas tables."""

from dataclasses import replace

import pandas as pd
import pytest

from inspect_report.assessment import Assessment
from inspect_report.report.tables import (
    FINDING_COLUMNS,
    READING_COLUMNS,
    SHIM_COLUMNS,
    findings,
    readings,
    shims,
)


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


def test_shims_have_one_row_for_each_valve(assessment: Assessment) -> None:
    """Gap, shim, aim and the gap to expect in mm, with standard uncertainty and where the shim comes from."""
    one = replace(
        assessment.measured.shims[0],
        exact_u=4e-6,
        predicted_u=5e-6,
        inside=0.99,
        source="box",
        readings=("a", "b"),
    )
    assessment = replace(assessment, measured=replace(assessment.measured, shims=(one,)))
    table = shims(assessment)
    assert list(table.columns) == [*SHIM_COLUMNS, "cylinder", "valve"]
    row = table.iloc[0]
    assert (row.measured, row.fitted, row.exact, row.predicted) == pytest.approx((0.12, 2.60, 2.565, 0.17))
    assert (row.exact_u, row.predicted_u, row["size"], row.inside) == pytest.approx(
        (0.004, 0.005, 2.55, 0.99)
    )
    assert (row.place, row.source, row.readings, row.unit) == (
        "cylinder 3, inlet valve 1",
        "box",
        "a; b",
        "mm",
    )


def test_shim_that_is_not_there_leaves_its_columns_empty(assessment: Assessment) -> None:
    """A valve that no size reaches has no gap to expect."""
    none = replace(assessment.measured.shims[0], size=None, predicted=None)
    row = shims(replace(assessment, measured=replace(assessment.measured, shims=(none,)))).iloc[0]
    assert pd.isna(row["size"])
    assert pd.isna(row.predicted)
