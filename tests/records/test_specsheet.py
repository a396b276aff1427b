"""The spec sheet: limits in every form manuals print them, and rows that contradict themselves."""

import pytest

from inspect_report.records.problem import Problem
from inspect_report.records.shape import read_as
from inspect_report.records.specsheet import SpecSheet
from tests.records.made import document

TOP = """spec-sheet: made
version: 1
maker: Corvane
model: 600
layout: {strokes: 4, cylinders: 4, valve-actuation: pushrod, lubrication: dry sump}
characteristics:
"""


def a_row(row: str) -> SpecSheet | Problem:
    """The sheet with one row, or its one fault."""
    read = read_as(SpecSheet, document(f"{TOP}  - {row}\n"))
    return read.value or read.problems[0]


@pytest.mark.parametrize(
    ("row", "ends"),
    [
        ("{id: a, standard: [0.01, 0.02], limit: {high: 0.1}}", (1e-5, 2e-5, None, 1e-4)),
        ("{id: a, standard: {low: 5}, limit: {low: 4.5}}", (5e-3, None, 4.5e-3, None)),
        ("{id: a, standard: [-0.02, 0.01], limit: {low: -0.05, high: 0.03}}", (-2e-5, 1e-5, -5e-5, 3e-5)),
        (
            "{id: a, unit: in, standard: ['0.001', 1 mm], limit: {high: 0.05}}",
            (2.54e-5, 1e-3, None, 0.05 * 0.0254),
        ),
        ("{id: a, limit: [~, 0.1]}", (None, None, None, 1e-4)),
        ("{id: a, nominal: 67}", (None, None, None, None)),
    ],
)
def test_limits_come_out_in_si(row: str, ends: tuple[float | None, ...]) -> None:
    """One- and two-sided limits, interference fits, other units, nominal only."""
    sheet = a_row(row)
    assert isinstance(sheet, SpecSheet)
    (got,) = sheet.characteristics
    bands = [(b.low, b.high) if b else (None, None) for b in (got.standard, got.limit)]
    assert [*bands[0], *bands[1]] == pytest.approx(list(ends))


@pytest.mark.parametrize(
    ("row", "code", "path"),
    [
        ("{id: a, standard: [0.3, 0.2]}", "K302", "characteristics[0].standard"),
        ("{id: a, standard: 0.3}", "K301", "characteristics[0].standard"),
        ("{id: a, standard: [0.1, 0.2, 0.3]}", "K301", "characteristics[0].standard"),
        ("{id: a, standard: [0.1, 0.2], limit: {high: 0.15}, wears: up}", "K307", "characteristics[0].limit"),
        (
            "{id: a, standard: [0.1, 0.2], limit: {low: 0.15}, wears: down}",
            "K307",
            "characteristics[0].limit",
        ),
        ("{id: a, nominal: 0.2, limit: {high: 0.15}}", "K307", "characteristics[0].limit"),
        (
            "{id: a, nominal: 0.2, limit: {high: 0.3}, wear: 0.1, wears: up}",
            "K304",
            "characteristics[0].wear",
        ),
        ("{id: a, nominal: 0.2, wear: -0.1, wears: up}", "K305", "characteristics[0].wear"),
        ("{id: a, wear: 0.1, wears: up}", "K306", "characteristics[0].wear"),
        ("{id: a, nominal: 0.2, wear: 0.1, wears: either}", "K306", "characteristics[0].wear"),
        ("{id: a, nominal: 2, limit: {low: 1}, wears: up}", "K308", "characteristics[0].wears"),
        ("{id: a, nominal: 2, limit: {high: 3}, wears: down}", "K308", "characteristics[0].wears"),
        ("{id: a, unit: mil, nominal: 2}", "V201", "characteristics[0].unit"),
        ("{id: a, nominal: 2 bar}", "V201", "characteristics[0].nominal"),
        ("{id: a, limt: {high: 1}}", "V206", "characteristics[0].limt"),
        ("{id: A_b, nominal: 2}", "V209", "characteristics[0].id"),
        ("{id: a, nominal: 2, watch: 1.2}", "V202", "characteristics[0].watch"),
    ],
)
def test_a_row_that_cannot_be_is_told_at_its_key(row: str, code: str, path: str) -> None:
    """Contradictions inside a row are refused, and the place is the key that holds them."""
    fault = a_row(row)
    assert isinstance(fault, Problem)
    assert (fault.code, fault.place.path) == (code, path)


def test_a_disputed_row_is_kept() -> None:
    """What a manual prints against itself can be shown, with a word that it is not judged by."""
    sheet = a_row("{id: a, standard: [0.1, 0.2], limit: {high: 0.15}, disputed: printed so}")
    assert isinstance(sheet, SpecSheet)
    assert sheet.characteristics[0].disputed == "printed so"


def test_source_of_a_row() -> None:
    """Work and page stand together; a row's own source overrules the sheet's manual."""
    sheet = read_as(
        SpecSheet,
        document(
            f"manual: Handbook\n{TOP}"
            "  - {id: a, page: 4}\n  - {id: b, source: Letter, page: 2}\n  - {id: c}\n"
        ),
    ).value
    assert sheet is not None
    assert [sheet.source_of(r) for r in sheet.characteristics] == [
        "Handbook, p. 4",
        "Letter, p. 2",
        "Handbook",
    ]


@pytest.mark.parametrize(
    ("part", "code", "path"),
    [
        ("geometry: {stroke: 425 mm, rod-length: 91 mm}", "K311", "geometry.rod-length"),
        ("geometry: {inlet-closes: 555 °}", "V202", "geometry.inlet-closes"),
        ("on-sale: {shims: {first: 3.2, last: 3.0, step: 0.025}}", "K313", "on-sale.shims.first"),
        ("on-sale: {shims: {first: 1.2, last: 3.0, step: 0.0000001}}", "K313", "on-sale.shims.step"),
        (
            "on-sale: {head-gaskets: [{grade: A, thickness: 0.5}, {grade: A, thickness: 0.6}]}",
            "K312",
            "on-sale.head-gaskets",
        ),
    ],
)
def test_an_engine_that_cannot_be_is_told_at_its_key(part: str, code: str, path: str) -> None:
    """Dimensions and sizes on sale that contradict each other are refused."""
    (problem,) = read_as(SpecSheet, document(f"{TOP}  []\n{part}\n")).problems
    assert (problem.code, problem.place.path) == (code, path)


@pytest.mark.parametrize("part", ["camshafts: [inlet, inlet]", "rings: [top, top]"])
def test_parts_of_one_name_are_told_apart(part: str) -> None:
    """Two camshafts or rings of one name could not be told apart in a reading."""
    text = f"{TOP}  []\n".replace("lubrication: dry sump", f"lubrication: dry sump, {part}")
    (problem,) = read_as(SpecSheet, document(text)).problems
    assert (problem.code, problem.place.path) == ("K312", f"layout.{part.partition(':')[0]}")


SHELLS = "{bearing: main, housing: [{mark: A}], journal: [{mark: '1'}, {mark: '2'}], grades: [[red, blue]]}"


@pytest.mark.parametrize(
    ("old", "new", "code", "path"),
    [
        ("[[red, blue]]", "[[red]]", "K315", "on-sale.shells[0].grades"),
        ("[[red, blue]]", "[[red, blue], [red, blue]]", "K315", "on-sale.shells[0].grades"),
        ("{mark: A}", "{mark: A, low: 35}", "K314", "on-sale.shells[0].housing[0]"),
        ("{mark: A}", "{mark: A, low: 35, high: 34.99}", "K314", "on-sale.shells[0].housing[0]"),
        ("mark: '2'", "mark: '1'", "K312", "on-sale.shells[0].journal"),
    ],
)
def test_shell_tables_that_are_not_whole(old: str, new: str, code: str, path: str) -> None:
    """A cell too many or too few, half a range, one upside down, or one mark for two classes."""
    read = read_as(SpecSheet, document(f"{TOP}on-sale: {{shells: [{SHELLS.replace(old, new)}]}}\n"))
    (problem,) = read.problems
    assert (problem.code, problem.place.path) == (code, path)


def test_shell_table_comes_out_in_si() -> None:
    """Marks alone are enough; sizes and thicknesses are lengths; one bearing has one table."""
    sized = SHELLS.replace("{mark: A}", "{mark: A, low: 35, high: 35.008}")
    sheet = read_as(SpecSheet, document(f"{TOP}on-sale: {{shells: [{sized}]}}\n")).value
    assert sheet is not None
    (table,) = sheet.on_sale.shells
    assert (table.housing[0].low, table.housing[0].high) == pytest.approx((0.035, 0.035008))
    assert table.grades == (("red", "blue"),)
    twice = read_as(SpecSheet, document(f"{TOP}on-sale: {{shells: [{SHELLS}, {SHELLS}]}}\n"))
    assert [p.code for p in twice.problems] == ["K312"]
