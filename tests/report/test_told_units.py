"""
Reports told imperial or in both units: nothing metric is left but what is meant, and the texts as they stand.

The texts are those of the view, which every page is made of.
"""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from inspect_report import assess, load
from inspect_report.assessment import Assessment
from inspect_report.knowledge.case import Case
from inspect_report.records.specsheet import ShimSeries
from inspect_report.report.chartspec import BoreMap, GasketChart, RangeChart, TrendChart, ValveMap
from inspect_report.report.explain import why
from inspect_report.report.reportview import ReportView
from inspect_report.report.sheets import filled_view
from inspect_report.report.sheetview import SheetView
from inspect_report.report.view import view
from tests.samples import SAMPLES

METRIC = re.compile(
    r"\d[\s\u00a0]?(?:mm|cm|µm|m|km|bar|mbar|kPa|hPa|MPa|°C|N|N·m|kg|l/min|kPa/min)(?![\w·/])"
    r"|(?:, |in |\()(?:mm|µm|bar|kPa|hPa|°C|km|N|N·m)\b"
)
IMPERIAL = re.compile(r"thou|\bin\b|psi|lbf|°F|inHg|\bmi\b|cfm")
MEANT = {
    r"^record\.(readings|instruments)\.": "readings and instruments stay as the file has them",
    r"^(front\.said|.*photos?\.|photos\.)": "what people wrote in the file",
    r"shim_(caption|note)$": "shims are sold in mm, and named so",
    r"^glossary\.": "the gauge length that names a check, over 100 mm",
}
OF_THE_FILE = re.compile(r"\.yaml:\d+\)|, resolution ")
"""A line of a chain that quotes a reading or an instrument."""
STATES = re.compile(r"20 °C and 100 kPa|(?:to|than|\bin at) 20 °C")
"""Reference states of standards, which are defined in these units."""
SOLD = re.compile(r"[Oo]versize that cleans all bores up: 0\.\d\d\u00a0mm$")
"""The size by which pistons are sold, of sheets whose oversizes are in millimetres."""
NAMES = ("used-machine-in-frame", "kart-two-stroke", "inline-four-strip")


def texts(part: object, path: tuple[str, ...] = ()) -> Iterator[tuple[str, str]]:
    """Every text of a view behind the names that lead to it."""
    if isinstance(part, str):
        yield ".".join(path), part
    elif isinstance(part, tuple | list):
        for one in part:
            yield from texts(one, path)
    elif is_dataclass(part):
        for field in fields(part):
            yield from texts(getattr(part, field.name), (*path, field.name))


def left_metric(shown: ReportView | SheetView) -> list[tuple[str, str]]:
    """Texts with a metric unit that nothing in ``MEANT`` explains."""
    return [
        (path, text)
        for path, text in texts(shown)
        if METRIC.search(SOLD.sub("", STATES.sub("", text)))
        and not OF_THE_FILE.search(text)
        and not any(re.search(where, path) for where in MEANT)
    ]


@pytest.fixture(scope="module")
def cases() -> dict[str, Case]:
    """Three samples as read."""
    return {name: load((SAMPLES / f"{name}.yaml").relative_to(Path.cwd())) for name in NAMES}


@pytest.fixture(scope="module")
def imperial(cases: dict[str, Case]) -> dict[str, Assessment]:
    """The same, told imperial."""
    return {name: assess(case, "en", "imperial") for name, case in cases.items()}


@pytest.mark.parametrize("name", NAMES)
def test_no_metric_unit_is_left_but_those_meant(name: str, imperial: dict[str, Assessment]) -> None:
    """On no page, in no chart and in no chain."""
    assert left_metric(view(imperial[name])) == []


def test_what_is_meant_is_there(imperial: dict[str, Assessment]) -> None:
    """Every line of the list of what is meant is needed."""
    told = [path for name in NAMES for path, text in texts(view(imperial[name])) if METRIC.search(text)]
    assert [where for where in MEANT if not any(re.search(where, path) for path in told)] == []
    assert any(SOLD.match(text) for name in NAMES for _, text in texts(view(imperial[name])))


@pytest.mark.parametrize(("units", "gaps"), [("", "mm"), ("imperial", "thou"), ("both", "mm (thou)")])
def test_shims_sold_in_inches_are_listed_in_inches(units: str, gaps: str, cases: dict[str, Case]) -> None:
    """A sheet whose shims are whole thousandths of an inch: the table and its note name them by those."""
    case = cases["inline-four-strip"]
    on_sale = case.books.sheet.on_sale.model_copy(update={"shims": ShimSeries.model_validate(INCH_SHIMS)})
    sheet = case.books.sheet.model_copy(update={"on_sale": on_sale})
    assessment = assess(replace(case, books=replace(case.books, sheet=sheet)), "en", units or None)  # type: ignore[arg-type]
    (part,) = (p for p in view(assessment).assemblies if p.shims)
    assert f"gaps in {gaps}, shims in inches as they are sold" in part.shim_caption
    assert (part.shims[0].fitted, part.shims[0].exact) == ("0.0778", "0.0780\u00a0±\u00a00.0003")
    notes = [f.note for f in assessment.judged.findings if f.characteristic == "shim-range-left"]
    assert notes
    assert all("thinnest on sale 0.050 in" in note for note in notes)


@pytest.mark.parametrize("name", NAMES)
def test_verdicts_and_numbers_of_the_data_are_the_same(
    name: str, cases: dict[str, Case], imperial: dict[str, Assessment]
) -> None:
    """Units are told: no value, verdict, grade, diagnosis or sum hangs on them."""
    metric, told = assess(cases[name], "en"), imperial[name]
    pairs = zip(metric.judged.findings, told.judged.findings, strict=True)
    for one, other in pairs:
        assert (one.id, one.verdict, one.unit, one.decimals) == (
            other.id, other.verdict, other.unit, other.decimals,
        )  # fmt: skip
        assert (one.quantity, one.used, one.inside) == (other.quantity, other.used, other.inside)
    assert [d.id for d in metric.advice.diagnoses] == [d.id for d in told.advice.diagnoses]
    assert metric.advice.estimate == told.advice.estimate


def test_a_chain_and_its_budget_are_told_imperial(imperial: dict[str, Assessment]) -> None:
    """The command ``why`` with ``--budget``; its readings stand as typed."""
    told = why(imperial["inline-four-strip"], "piston-clearance.3", budget=True)
    plain = told.replace("\u00a0", " ")
    assert "3.86 ± 0.20 thou" in plain
    assert re.search(r"skirt-diameter.3, resolution +2\.635197 in +0\.0114 thou +−1\.00 +0\.0114 thou", plain)
    rest = [line for line in told.splitlines() if " = " not in line or "k = " in line]
    lines = " ".join(rest).replace("\u00a0", " ")
    assert not METRIC.search(re.sub(r"resolution .*?calibrated", "", lines)), lines


@pytest.mark.parametrize(("units", "unit"), [("imperial", "thou"), ("both", "mm"), ("metric", "mm")])
def test_every_box_of_a_sheet_names_its_unit(units: str, unit: str, cases: dict[str, Case]) -> None:
    """Empty boxes by what is printed in them, filled ones behind the number; limits stand beside them."""
    page = filled_view(cases["inline-four-strip"], "en", units)  # type: ignore[arg-type]
    assert "unit printed in its box" in page.units_note
    items = [i for s in page.sections for i in s.items if i.unit and i.grid]
    assert all(i.grid is not None and i.grid.unit == i.unit for i in items)
    (gap,) = (i for i in items if i.id == "valve-clearance")
    assert gap.grid is not None
    assert gap.grid.unit == unit
    (shim,) = (i for i in items if i.id == "shim-fitted")
    assert shim.unit == "mm", "shims are marked in mm"
    assert gap.grid.rows[0].boxes[0] == "0.16\u00a0mm", "as typed, with its unit"
    inlet = gap.limits[0].replace("\u00a0", " ")
    assert {
        "imperial": "Inlet: new 4.3 to 7.9 thou",
        "both": "Inlet: new 0.11 to 0.20 mm (4.3 to 7.9 thou)",
        "metric": "Inlet: new 0.11 to 0.20 mm,",
    }[units] in inlet


def test_a_sheet_of_a_workshop_that_names_no_units_stays(cases: dict[str, Case]) -> None:
    """Boxes have one unit, the checklist's, told above them."""
    page = filled_view(cases["inline-four-strip"], "en")
    grids = [i.grid for s in page.sections for i in s.items if i.grid]
    assert page.units_note == ""
    assert {g.unit for g in grids} == {""}


INCH_SHIMS = {"first": "0.050 in", "last": "0.120 in", "step": "0.001 in"}
CHARTS = (BoreMap, GasketChart, RangeChart, TrendChart, ValveMap)


def joined(part: object) -> str:
    """All texts of a part of a view in one line."""
    return " | ".join(text for _, text in texts(part) if text)


def as_lines(shown: ReportView) -> str:
    """What of a view is told in units: facts, rows, tables, charts, results with uncertainty."""
    lines = [joined(shown.front.engine_facts), joined(shown.record.conditions)]
    for part in shown.assemblies:
        rows = ((r.name, r.where, r.found, r.short, r.standard, r.limit, r.means) for r in part.results)
        lines += [*map(joined, rows), *part.unlimited, part.shim_caption]
        lines += map(joined, (*part.shims, *part.gaskets, *part.shells))
        lines += [joined(chart) for chart in part.charts if isinstance(chart, CHARTS)]
    lines += map(joined, shown.record.numbers)
    return "\n".join(line for line in lines if line).replace("\u00a0", " ") + "\n"


@pytest.mark.parametrize(
    ("name", "language", "units"),
    [
        ("inline-four-strip", "en", "imperial"),
        ("inline-four-strip", "en", "both"),
        ("used-machine-in-frame", "de", "both"),
    ],
)
def test_texts(
    name: str, language: str, units: str, cases: dict[str, Case], snapshot: SnapshotAssertion
) -> None:
    """Everything told in units, in English and in a language of commas and inches."""
    case = cases[name]
    if language == "de":
        shop = case.books.workshop.model_copy(update={"locale": "de_DE"})
        case = replace(case, books=replace(case.books, workshop=shop))
    assert as_lines(view(assess(case, language, units))) == snapshot  # type: ignore[arg-type]
