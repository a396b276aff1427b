"""Charts are the same on every run, legible without colour, and hold what their text says."""

import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest

from inspect_report.assessment import Assessment
from inspect_report.report import view_charts
from inspect_report.report.charts import svg
from inspect_report.report.charts.ink import fill_of
from inspect_report.report.chartspec import BarChart, ChartSpec, scale
from inspect_report.report.pictures import Pictures
from inspect_report.report.reportview import ReportView
from inspect_report.report.source import Source
from inspect_report.report.theme import theme
from tests.samples import ROOT

TONES = ("as-new", "serviceable", "marginal", "undecided", "beyond-limit")


def charts_of(shown: ReportView) -> list[ChartSpec]:
    """Every chart of a report."""
    own = [c for a in shown.assemblies for c in a.charts]
    whole = [shown.overview, shown.front.plan, shown.orders.chart if shown.orders else None]
    return [*own, *(t.chart for t in shown.trends if t.chart), *(c for c in whole if c)]


def letters(text: str) -> str:
    """All text in an SVG."""
    return " ".join(ElementTree.fromstring(text).itertext())  # noqa: S314 - our own drawing


def test_every_kind_is_drawn(shown: ReportView) -> None:
    """The sample holds a plan, leak-down, valves, gaskets, bores, bearings, wear allowance and a trend."""
    kinds = sorted(type(c).__name__ for c in charts_of(shown))
    assert set(kinds) == {
        "BarChart",
        "BoreMap",
        "EnginePlan",
        "GasketChart",
        "RangeChart",
        "TrendChart",
        "ValveMap",
    }


def test_same_bytes_and_no_date(shown: ReportView) -> None:
    """Two drawings are equal, and neither date nor program is noted."""
    for chart in charts_of(shown):
        first, second = (svg(chart, theme()) for _ in range(2))
        assert first == second
        assert not re.search(r"<metadata|matplotlib v|rdf:|<!DOCTYPE", first)


def test_letters_stay_text(shown: ReportView) -> None:
    """Words in a chart can be searched, copied and read aloud, in the family of the page."""
    for chart in charts_of(shown):
        assert "<text" in svg(chart, theme())
        assert f"'{theme().family}'" in svg(chart, theme())


def test_two_charts_in_one_page_share_no_name(shown: ReportView) -> None:
    """Every id carries the name given, references point to one, and no style reaches out of the chart."""
    for chart in charts_of(shown):
        drawn = svg(chart, theme(), "c7-")
        ids = re.findall(r'\bid="([^"]*)"', drawn)
        assert all(name.startswith("c7-") for name in ids)
        assert set(re.findall(r'(?:url\(#|href="#)([^")]*)', drawn)) <= set(ids)
        assert "<style" not in drawn


def test_charts_in_a_page_follow_the_screen(shown: ReportView) -> None:
    """No colour in a page's chart is fixed: on a dark screen each turns to its dark sister."""
    for chart in charts_of(shown):
        drawn = Pictures(Path(), Path(), theme()).drawing(chart)
        assert re.findall(r"[^\"(]#[0-9a-f]{3,8}\b", drawn) == []
        assert "var(--ink)" in drawn
        letters_of = re.findall(r'<text style="[^"]*fill: ([^;"]*)', drawn)
        assert set(letters_of) <= {"var(--ink)", "var(--soft)"}, "what the theme's tests hold to stand out"


def test_a_theme_by_names_and_short_colours_follows_the_screen_too(shown: ReportView) -> None:
    """A colour is recognised however the theme writes it."""
    ours = theme()
    named = replace(ours, light=replace(ours.light, ink="black", paper="#fff", tint="WhiteSmoke"))
    drawn = Pictures(Path(), Path(), named).drawing(charts_of(shown)[0])
    assert re.findall(r"[^\"(]#[0-9a-f]{3,8}\b", drawn) == []


def test_leak_down_names_value_and_where_air_was_heard(assessment: Assessment) -> None:
    """Each bar carries its value; where air was heard stands behind it."""
    chart = view_charts.leak_down(Source(assessment))
    assert isinstance(chart, BarChart)
    drawn = letters(svg(chart, theme()))
    assert "35.0\u00a0%, heard: crankcase" in drawn
    assert "Cylinder 1" in drawn
    assert "limit 20.0\u00a0%" in drawn


def test_every_chart_has_a_text_alternative(shown: ReportView) -> None:
    """What a chart shows can be read without seeing it."""
    for chart in charts_of(shown):
        assert len(chart.alt) > 40
        assert chart.title


def test_money_signs_are_no_formula(assessment: Assessment) -> None:
    """Two dollar signs in a label stay two dollar signs."""
    spec = view_charts.leak_down(Source(assessment))
    assert spec is not None
    from dataclasses import replace

    odd = replace(spec, rows=tuple(replace(r, label="$a$") for r in spec.rows))
    assert "$a$" in letters(svg(odd, theme()))


def test_verdicts_differ_without_colour() -> None:
    """In shades of grey no two verdicts share face, edge and pattern."""

    def grey(colour: str) -> int:
        red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
        return round((0.299 * red + 0.587 * green + 0.114 * blue) / 16)

    looks = {t: fill_of(t, theme().light) for t in TONES}
    assert len({(grey(f.face), f.hatch, f.dashed) for f in looks.values()}) == len(TONES)


def test_no_chart_where_there_is_nothing_to_draw(assessment: Assessment) -> None:
    """One cylinder alone is no comparison; without readings there is no map."""
    from dataclasses import replace

    bare = Source(
        replace(
            assessment,
            judged=replace(assessment.judged, findings=()),
            measured=replace(assessment.measured, gaskets=()),
            inspection=replace(assessment.inspection, readings=()),
        )
    )
    made = (
        view_charts.leak_down,
        view_charts.valve_map,
        view_charts.bore_map,
        view_charts.gasket_chart,
        view_charts.allowance,
    )
    assert [make(bare) for make in made] == [None] * 5


@pytest.mark.parametrize(
    ("low", "high"), [(0.0, 1.0), (0.11, 0.30), (5.0, 5.0), (-3.2, 120.0), (0.0, 0.0), (-1e-5, 2e-5)]
)
def test_scales_hold_their_ends_with_round_steps(low: float, high: float) -> None:
    """An axis covers what is drawn, in steps of 1, 2 or 5, none too many."""
    axis = scale(low, high, "x", lambda v, d: f"{v:.{d}f}")
    assert axis.low <= low <= high <= axis.high
    assert 3 <= len(axis.ticks) <= 12
    steps = {round(b[0] - a[0], 12) for a, b in zip(axis.ticks, axis.ticks[1:], strict=False)}
    assert len(steps) == 1
    assert f"{steps.pop():e}"[0] in "125"


def test_charts_take_their_colours_from_the_theme_alone() -> None:
    """No colour is written in the drawing code."""
    for file in Path(ROOT / "inspect_report/report/charts").glob("*.py"):
        assert not re.search(
            r"#[0-9a-fA-F]{6}|\"(red|green|orange|blue|grey|black|white)\"", file.read_text()
        )
