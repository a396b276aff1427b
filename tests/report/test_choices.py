"""Head gaskets and bearing shells to choose among, on the page and as pandas tables."""

from dataclasses import replace

import pandas as pd
import pytest

from inspect_report.assessment import Assessment
from inspect_report.knowledge.shelf import load
from inspect_report.measure.derived import GasketChoice, ShellChoice
from inspect_report.pipeline import assess
from inspect_report.records.position import Position
from inspect_report.report.choice_tables import GASKET_COLUMNS, SHELL_COLUMNS, gaskets, shells
from inspect_report.report.source import Source
from inspect_report.report.view_choices import gasket_note
from inspect_report.report.view_choices import gaskets as gasket_views
from inspect_report.report.view_choices import shells as shell_views
from tests.samples import SAMPLES

ONE, TWO = Position(("cylinder",), ("1",)), Position(("cylinder",), ("2",))
THIN = GasketChoice(
    "thin", 0.5e-3, 0.645e-3, 12.24, 0.65e-3, 12.3, False, True, False, False, 3e-6, 0.01, TWO, ONE
)
FITS = replace(THIN, grade="fits", thickness=0.55e-3, squish=0.695e-3, squish_ok=True, chosen=True)
THICK = replace(FITS, grade="thick", thickness=0.65e-3, squish=0.795e-3, chosen=False, fitted=True)
SHELL = ShellChoice(
    "main",
    Position(("main-journal",), ("3",)),
    "B",
    "size",
    "2",
    "mark",
    "brown",
    "Brown",
    1.497e-3,
    0.031e-3,
    2e-6,
    ("main-housing.3",),
    "look again",
)
NONE = replace(SHELL, grade="", fitted="green", thickness=None, clearance=None, clearance_u=None, journal="")


def _with(assessment: Assessment, **choices: object) -> Assessment:
    return replace(assessment, measured=replace(assessment.measured, **choices))  # type: ignore[arg-type]


def test_gaskets_are_told_with_doubt_and_reason(assessment: Assessment) -> None:
    """Pass or fail of each bound, why a grade that keeps both is not taken, and a bound that is near."""
    rows = gasket_views(Source(assessment), (THIN, FITS, THICK))
    assert [row.judged for row in rows] == [
        "squish gap too small; near its bound, by its uncertainty",
        "keeps both bounds",
        "keeps both bounds, as a thinner one does",
    ]
    assert [row.role for row in rows] == ["", "to fit", "fitted now"]
    assert "0.645" in rows[0].squish
    assert "±" in rows[0].squish
    assert "12.24" in rows[0].ratio
    assert "±" in rows[0].ratio


def test_gasket_without_a_ratio(assessment: Assessment) -> None:
    """No ratio is a stroke, and no bound of it is near."""
    (row,) = gasket_views(Source(assessment), (replace(FITS, ratio=None, ratio_u=None, ratio_ok=False),))
    assert (row.ratio, row.judged) == ("–", "ratio too high")


@pytest.mark.parametrize(("ratio", "near"), [(12.27, False), (12.281, True), (12.319, True), (12.33, False)])
def test_ratio_near_its_ceiling_is_told_on_either_side(
    assessment: Assessment, ratio: float, near: bool
) -> None:
    """Within two standard uncertainties of 0.01 from 12.3."""
    (row,) = gasket_views(Source(assessment), (replace(FITS, ratio=ratio),))
    assert ("near its bound" in row.judged) is near


def test_shells_are_told_by_class_and_way(assessment: Assessment) -> None:
    """Classes with how they were told; found shells that are right, whatever their capitals, stay."""
    right, none = shell_views(Source(assessment), (SHELL, NONE))
    assert (right.place, right.housing, right.journal, right.fit) == (
        "Main journal 3",
        "B by size",
        "2 by mark",
        "brown",
    )
    assert (right.change, right.note) == (False, "Look again. Only if replaced.")
    assert "0.031" in right.after
    assert (none.fit, none.journal, none.after, none.change) == ("none fits", "outside the table", "–", True)


def test_gaskets_as_a_table(assessment: Assessment) -> None:
    """One row a grade, in mm, with the cylinder that decides each bound."""
    table = gaskets(_with(assessment, gaskets=(THIN, FITS)))
    assert list(table.columns) == list(GASKET_COLUMNS)
    row = table.iloc[0]
    assert (row.thickness, row.squish, row.squish_u, row.squish_floor) == pytest.approx(
        (0.5, 0.645, 0.003, 0.65)
    )
    assert (row.ratio, row.ratio_u, row.ratio_ceiling) == pytest.approx((12.24, 0.01, 12.3))
    assert (row.tightest, row.highest, row.unit) == ("cylinder 2", "cylinder 1", "mm")
    assert list(table.chosen) == [False, True]


def test_shells_as_a_table(assessment: Assessment) -> None:
    """One row a bearing, in mm; what is not known is empty."""
    table = shells(_with(assessment, shells=(SHELL, NONE)))
    assert list(table.columns) == list(SHELL_COLUMNS)
    row = table.iloc[0]
    assert (row.thickness, row.clearance, row.clearance_u) == pytest.approx((1.497, 0.031, 0.002))
    assert (row.bearing, row.place, row.grade, row.readings) == (
        "main",
        "main journal 3",
        "brown",
        "main-housing.3",
    )
    assert pd.isna(table.iloc[1].clearance)


def test_tables_of_nothing_keep_their_columns(assessment: Assessment) -> None:
    """An engine without a choice gives empty tables."""
    bare = _with(assessment, gaskets=(), shells=())
    assert (len(gaskets(bare)), len(shells(bare))) == (0, 0)
    assert list(shells(bare).columns) == list(SHELL_COLUMNS)


def test_tables_name_their_bounds_and_the_work_that_makes_them_void() -> None:
    """Bores are to be bored and one seat cut; main shells stay, and no wall of the crankpins' is printed."""
    source = Source(assess(load(SAMPLES / "inline-four-strip.yaml")))
    measured = source.a.measured
    gasket = gasket_note(source, measured.gaskets)
    assert "squish gap at least 0.65\u00a0mm (as for new parts, p.\u00a05-30)" in gasket
    assert "compression ratio at most 12.30 : 1 (as for new parts, p.\u00a02-3)" in gasket
    assert "Measure and choose again after: rebore" in gasket
    rows = {row.place: row for row in shell_views(source, measured.shells)}
    assert rows["Main journal 1"].note == "Only if replaced."
    assert rows["Crankpin 3"].note == "No clearance: their thickness is not known."
    left = replace(source.a, advice=replace(source.a.advice, work=()))
    assert "Measure and choose again" not in gasket_note(Source(left), measured.gaskets)
