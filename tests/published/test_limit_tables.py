"""The main job with the limits of two government manuals, every row judged on both sides of its limit."""

from collections import Counter
from collections.abc import Callable
from decimal import Decimal
from math import sqrt
from pathlib import Path
from typing import Any

import pytest

from inspect_report.judge.finding import Finding, Judged
from inspect_report.judge.judging import judge
from inspect_report.knowledge.shelf import load
from inspect_report.measure.measuring import measure
from inspect_report.records.problem import Problem
from inspect_report.records.shape import read_as
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.yaml import read_yaml
from tests.published.limit_tables import (
    DISPUTED,
    Printed,
    diesel_engine,
    expected,
    expected_with_doubt,
    faulty_scan,
    petrol_engine,
    sheet_text,
    specimens,
    write_case,
)

Table = Callable[[], list[Printed]]
BOTH = pytest.mark.parametrize("table", [petrol_engine, diesel_engine], ids=["petrol", "diesel"])


def judged(path: Path) -> Judged:
    """An inspection file judged, from the file on."""
    case = load(path)
    return judge(case, measure(case), ())


def by_place(result: Judged) -> dict[str, Finding]:
    """Findings by id."""
    return {f.id: f for f in result.findings}


def problems_of(table: list[Printed]) -> tuple[Problem, ...]:
    """What the reader of spec sheets says of a table taken as printed."""
    return read_as(SpecSheet, read_yaml(sheet_text(table, disputed=False), "sheet.yaml")).problems


@pytest.mark.parametrize(("table", "count"), [(petrol_engine, 41), (diesel_engine, 63), (faulty_scan, 16)])
def test_the_tables_are_whole(table: Table, count: int) -> None:
    """Rows as counted in the manuals' pages: none lost on the way."""
    assert len(table()) == count


@BOTH
def test_every_limit_from_both_sides(table: Table, tmp_path: Path) -> None:
    """Sizes without uncertainty, from a hundred steps inside to a hundred beyond each limit of the manual."""
    findings = by_place(judged(write_case(tmp_path, table())))
    for row in table():
        for n, size in enumerate(specimens(row), start=1):
            finding = findings[f"{row.id}.{n}"]
            assert str(finding.verdict) == expected(row, size), (row, size, finding.reason)


def test_inch_limits_read_in_millimetres(tmp_path: Path) -> None:
    """The same sizes typed in mm get the same verdicts, at the limit itself too: no noise of conversion."""
    findings = by_place(judged(write_case(tmp_path, diesel_engine(), metric=True)))
    for row in diesel_engine():
        for n, size in enumerate(specimens(row), start=1):
            assert str(findings[f"{row.id}.{n}"].verdict) == expected(row, size), (row, size)


@BOTH
def test_every_limit_with_a_gauge(table: Table, tmp_path: Path) -> None:
    """With a gauge's step and error, sizes near a limit are undecided as far as the normal law says."""
    rows = table()
    unit = rows[0].unit
    step = float(rows[0].step)
    gauge: dict[str, Any] = {"unit": unit, "resolution": step, "permissible-error": 2 * step}
    u = sqrt(step**2 / 12 + (2 * step) ** 2 / 3)
    findings = by_place(judged(write_case(tmp_path, rows, gauge=gauge)))
    told = Counter[str]()
    for row in rows:
        for n, size in enumerate(specimens(row), start=1):
            wanted = expected_with_doubt(row, size, u) if row.unit == unit else expected(row, size)
            assert str(findings[f"{row.id}.{n}"].verdict) == wanted, (row, size)
            told[wanted] += 1
    assert set(told) == {"as new", "serviceable", "marginal", "undecided", "beyond limit", "no limit known"}


@BOTH
def test_every_finding_names_its_source(table: Table, tmp_path: Path) -> None:
    """Each verdict can say which page of which manual it rests on."""
    findings = by_place(judged(write_case(tmp_path, table())))
    for row in table():
        limit = findings[f"{row.id}.1"].limit
        assert limit is not None
        assert limit.source == f"{row.source}, p. {row.page}"


def test_rows_that_contradict_themselves_are_reported() -> None:
    """Petrol row 23: limit 0.03 inside the new range 0.010 to 0.066; one problem, with its place."""
    (problem,) = problems_of(petrol_engine())
    assert (problem.code, problem.weight) == ("K307", "error")
    assert problem.place.path.startswith("characteristics[22]")
    assert problems_of(diesel_engine()) == ()


def test_the_scanned_table_is_refused_in_both_its_faulty_rows() -> None:
    """Row 6 has its limit inside the new range, row 12 its least new size above the greatest."""
    found = [(p.code, p.place.path.split(".")[0]) for p in problems_of(faulty_scan())]
    assert found == [("K307", "characteristics[5]"), ("K302", "characteristics[11]")]


@pytest.mark.parametrize("table", [petrol_engine, faulty_scan], ids=["petrol", "scan"])
def test_disputed_rows_are_shown_and_not_judged(table: Table, tmp_path: Path) -> None:
    """Marked as disputed they are read, and no size of theirs gets a verdict."""
    findings = by_place(judged(write_case(tmp_path, table())))
    disputed = [row for row in table() if row.contradicts_itself]
    assert disputed
    for row in disputed:
        for n, _ in enumerate(specimens(row), start=1):
            finding = findings[f"{row.id}.{n}"]
            assert str(finding.verdict) == "no limit known"
            assert DISPUTED in finding.reason


@pytest.mark.parametrize(
    ("row", "size", "verdict"),
    [
        ("12", "6.4965", "beyond limit"),
        ("12", "6.4975", "serviceable"),
        ("31", "6.2555", "beyond limit"),
    ],
)
def test_worked_judgements(row: str, size: str, verdict: str) -> None:
    """Table 1-4: main journal below 6.497 and liner above 6.255 in are out, 6.4975 is worn but in."""
    printed = next(r for r in diesel_engine() if r.number == row)
    assert expected(printed, Decimal(size)) == verdict


def test_worked_judgements_by_the_program(tmp_path: Path) -> None:
    """The same three by the whole program: 6.4965 out, 6.4975 worn half way but in, 6.2555 out."""
    sizes = {"row-12": [Decimal("6.4965"), Decimal("6.4975")], "row-31": [Decimal("6.2555")]}
    findings = by_place(judged(write_case(tmp_path, diesel_engine(), sizes=sizes)))
    told = [str(findings[i].verdict) for i in ("row-12.1", "row-12.2", "row-31.1")]
    assert told == ["beyond limit", "serviceable", "beyond limit"]
    assert findings["row-12.2"].used == pytest.approx(0.5)
    assert findings["row-12.2"].reason == (
        "6.4975 in, limit at least 6.4970 in: inside, 50 % of the wear allowance used"
    )


def test_an_amount_of_wear_beside_dimensions(tmp_path: Path) -> None:
    """Petrol row 36 prints 0.2 as wear of bores of 87.20 to 87.25 mm: 87.45 is the limit, not 0.2."""
    limit = by_place(judged(write_case(tmp_path, petrol_engine())))["row-36.1"].limit
    assert limit is not None
    assert limit.high == pytest.approx(0.08745)
