"""Clutch limits and oil pump clearances of manuals, every row judged on both sides of its limit."""

from collections.abc import Callable
from pathlib import Path

import pytest

from inspect_report.judge.judging import judge
from inspect_report.knowledge.shelf import load
from inspect_report.measure.measuring import measure
from inspect_report.mechanics.clutch import pack_thickness
from tests.published.limit_tables import Printed, clutches, expected, oil_pumps, specimens, write_case

Table = Callable[[], list[Printed]]


@pytest.mark.parametrize(("table", "count"), [(clutches, 22), (oil_pumps, 19)])
def test_the_tables_are_whole(table: Table, count: int) -> None:
    """Rows as collected from the manuals' pages: none lost on the way."""
    assert len(table()) == count


@pytest.mark.parametrize("table", [clutches, oil_pumps])
def test_every_limit_from_both_sides(table: Table, tmp_path: Path) -> None:
    """Sizes without uncertainty, from a hundred steps inside to a hundred beyond each limit."""
    case = load(write_case(tmp_path, table()))
    findings = {f.id: f for f in judge(case, measure(case), ()).findings}
    for row in table():
        for n, size in enumerate(specimens(row), start=1):
            finding = findings[f"{row.id}.{n}"]
            assert str(finding.verdict) == expected(row, size), (row, size, finding.reason)


def test_pack_of_a_maker() -> None:
    """KX252 owner manual p. 91 (seen): pack 31.9 to 32.5 new, 31.2 limit; eight plates of 4.025 are 32.2."""
    (pack,) = (row for row in clutches() if row.name == "plate pack length")
    assert (str(pack.low), str(pack.high), str(pack.limit)) == ("31.9", "32.5", "31.2")
    assert pack_thickness([4.025e-3] * 8) == pytest.approx(32.2e-3, rel=1e-12)
    assert pack_thickness([3.9e-3] * 8) == pytest.approx(float(pack.limit or 0) * 1e-3, rel=1e-12)


def test_clearance_by_two_depths() -> None:
    """TM 9-2320-272-24-4 p. 5-376 (seen): pack clearance is one depth less another, 0.073 to 0.141 in."""
    (pack,) = (row for row in clutches() if row.name == "low clutch pack clearance")
    assert (str(pack.low), str(pack.high)) == ("0.073", "0.141")
    assert [expected(pack, size) for size in specimens(pack)][4:6] == ["as new", "beyond limit"]
