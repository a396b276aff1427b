"""Sizes and limits told in inches against a government manual that prints every one in both."""

import pytest

from inspect_report.records.quantity import from_si, si
from inspect_report.telling.manner import Manner, telling
from inspect_report.telling.units import Among, ways
from tests.published.figures import rows

COLUMNS = (
    ("new_min_in", "printed_min_mm"),
    ("new_max_in", "printed_max_mm"),
    ("wear_limit_in", "printed_limit_mm"),
)
PRINTED = [
    (row, row[inch], row[mm])
    for row in rows("wear_limits_tm9_6115_604_34.csv")
    for inch, mm in COLUMNS
    if row["unit_in"] == "in" and row[inch] and row[mm] and "disagrees" not in row["note"]
]
MISPRINT = {("56", "2.399"): 0.0001}
"""Printed 60.938 mm, which is 2.3991 in."""


def in_inches(mm: str) -> tuple[float, float]:
    """A size printed in mm as the report tells it, in inches, and half of its last place."""
    value = si(float(mm), "mm")
    with telling(Manner(units="imperial")):
        (way,) = ways("mm", len(mm.partition(".")[2]), Among((value,)))
    inch = 1e-3 if way.unit == "thou" else 1.0
    return float(f"{from_si(value, way.unit):.{way.decimals}f}") * inch, 0.5 * 10.0**-way.decimals * inch


def test_the_table_is_whole() -> None:
    """150 sizes in both units, less the nine of the five rows whose columns contradict each other."""
    assert len(PRINTED) == 141


@pytest.mark.parametrize(("row", "inch", "mm"), PRINTED, ids=lambda x: x if isinstance(x, str) else x["row"])
def test_millimetres_told_in_inches_are_those_printed(row: dict[str, str], inch: str, mm: str) -> None:
    """TM 9-6115-604-34 table 1-4; half the last place of the mm printed and half of what is told."""
    told, half = in_inches(mm)
    last = 0.5 * 10.0 ** -len(mm.partition(".")[2]) / 25.4
    assert told == pytest.approx(float(inch), abs=(last + half) * 1.001 + MISPRINT.get((row["row"], inch), 0))
