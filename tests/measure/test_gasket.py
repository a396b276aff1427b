"""Checks squish, ratio and the table of gaskets of a case against sums done by hand."""

from math import pi, sqrt

import pytest

from inspect_report.knowledge.case import Case
from inspect_report.measure.derived import GasketChoice
from inspect_report.measure.measuring import measure
from inspect_report.records.inspection import Reading
from tests.cases import a_case, a_sheet, answered, read, read_each, some_books
from tests.measure.finds import found, lacking, u, value

THICKNESS = read_each("gasket-thickness", {1: 0.62, 2: 0.60})
DECK = {
    "1.1": 0.20,
    "1.2": 0.24,
    "2.1": 0.15,
    "2.2": 0.17,
    "3.1": 0.20,
    "3.2": 0.20,
    "4.1": 0.25,
    "4.2": 0.25,
}
SWEPT = pi / 4 * 67.0**2 * 42.5


def _decks() -> tuple[Reading, ...]:
    return read_each("deck-height", DECK)


def _table(case: Case) -> tuple[GasketChoice, ...]:
    return measure(case).gaskets


def _ratio(thickness: float, deck: float, chamber: float = 11_000.0) -> float:
    clearance = chamber + pi / 4 * 68.0**2 * thickness + pi / 4 * 67.0**2 * deck
    return (SWEPT + clearance) / clearance


def test_squish_is_mean_gasket_and_mean_deck() -> None:
    """0.61 of gasket and 0.22 of deck: 0.83 mm; each error once, the scatter of the deck counted."""
    case = a_case(*THICKNESS, *_decks())
    micrometer = (0.001 / (2 * sqrt(3))) ** 2 / 2 + 0.002**2 / 3
    dial = (0.01 / (2 * sqrt(3))) ** 2 / 2 + 0.01**2 / 3
    assert value(case, "squish-gap.1") == pytest.approx(0.83e-3)
    points = (0.04 / sqrt(2)) ** 2 / 2
    assert u(case, "squish-gap.1") == pytest.approx(sqrt(micrometer + dial + points) * 1e-3)


def test_gasket_that_was_not_measured_counts_as_its_grade_is_sold() -> None:
    """Grade 3 is sold as 0.70: with 0.22 of deck 0.92 mm, and the note says so."""
    case = a_case(*_decks(), answers=[answered("gasket-grade-fitted", "3")])
    assert value(case, "squish-gap.1") == pytest.approx(0.92e-3)
    assert found(case, "squish-gap.1").note == "gasket as its grade 3 is sold"


def test_unknown_gasket_has_a_reason() -> None:
    """Neither thickness nor a grade that is on sale: no squish gap."""
    case = a_case(*_decks(), answers=[answered("gasket-grade-fitted", "9")])
    assert [r.why for r in lacking(case, "squish-gap")] == ["gasket thickness not read"]


def test_ratio_takes_what_was_not_read_from_the_spec_sheet() -> None:
    """Cylinder 2: deck 0.16 read, chamber nominal 11 cm³, gasket 0.61 read."""
    case = a_case(*THICKNESS, *_decks())
    assert value(case, "compression-ratio.2") == pytest.approx(_ratio(0.61, 0.16))
    assert found(case, "compression-ratio.2").note == "nominal chamber volume"


def test_ratio_takes_the_chamber_that_was_read() -> None:
    """A chamber of 10.6 cm³ raises the ratio of its own cylinder only."""
    case = a_case(*THICKNESS, *_decks(), read("chamber-volume.2", 10.6))
    assert value(case, "compression-ratio.2") == pytest.approx(_ratio(0.61, 0.16, 10_600.0))
    assert value(case, "compression-ratio.3") == pytest.approx(_ratio(0.61, 0.20))


def test_ratio_of_nominal_numbers_only_is_no_measurement() -> None:
    """Without a reading of chamber or deck there is no ratio to state."""
    case = a_case(*THICKNESS)
    assert [r.why for r in lacking(case, "compression-ratio")] == ["chamber volume not read"]


def test_table_shows_every_grade_with_its_worst_cylinder() -> None:
    """Least deck is 0.16 at cylinder 2, which sets every grade's squish and ratio; thinnest first."""
    table = _table(a_case(*THICKNESS, *_decks()))
    assert [row.grade for row in table] == ["1", "2", "3"]
    assert [row.squish for row in table] == pytest.approx([0.66e-3, 0.76e-3, 0.86e-3])
    assert [row.ratio for row in table] == pytest.approx([_ratio(t, 0.16) for t in (0.5, 0.6, 0.7)])
    assert [row.squish_floor for row in table] == pytest.approx([0.8e-3] * 3)
    assert [row.ratio_ceiling for row in table] == [11.7] * 3


def test_chosen_is_the_thinnest_that_keeps_floor_and_ceiling() -> None:
    """With a floor of 0.80 mm only grade 3, 0.86 mm, will do."""
    table = _table(a_case(*_decks(), answers=[answered("gasket-grade-fitted", "2")]))
    assert [row.squish_ok for row in table] == [False, False, True]
    assert [row.chosen for row in table] == [False, False, True]
    assert [row.fitted for row in table] == [False, True, False]


def test_ratio_ceiling_can_forbid_a_grade() -> None:
    """A ceiling below every ratio leaves no gasket to fit, and the table says which bound failed."""
    rows = [
        {"id": "squish-gap", "limit": {"low": 0.7}},
        {"id": "compression-ratio", "unit": "1", "limit": {"high": 10.0}},
    ]
    table = _table(a_case(*_decks(), books=some_books(a_sheet(characteristics=rows))))
    assert [row.squish_ok for row in table] == [False, True, True]
    assert not any(row.ratio_ok or row.chosen for row in table)


def test_gap_at_the_floor_is_allowed() -> None:
    """0.60 of gasket and 0.16 of deck at a floor of 0.76 mm: the floor itself keeps the floor."""
    rows = [{"id": "squish-gap", "limit": {"low": 0.76}}]
    table = _table(a_case(*_decks(), books=some_books(a_sheet(characteristics=rows))))
    assert [row.chosen for row in table] == [False, True, False]
    assert {row.ratio_ceiling for row in table} == {None}


def test_a_new_gasket_is_chosen_by_the_standard_range() -> None:
    """Floor 0.70 of the standard range, not the limit's 0.60: 0.66 mm is a gap to live with, not to build."""
    rows = [{"id": "squish-gap", "standard": [0.7, 0.9], "limit": {"low": 0.6, "high": 1.0}}]
    table = _table(a_case(*_decks(), books=some_books(a_sheet(characteristics=rows))))
    assert [row.squish_floor for row in table] == pytest.approx([0.7e-3] * 3)
    assert [row.chosen for row in table] == [False, True, False]


def test_without_a_floor_none_is_chosen() -> None:
    """No floor known: the table is shown and the choice is left to the builder."""
    table = _table(a_case(*_decks(), books=some_books(a_sheet(characteristics=[]))))
    assert len(table) == 3
    assert not any(row.chosen for row in table)


def test_geometry_that_is_not_given_leaves_the_ratio_open() -> None:
    """Without the gasket's bore there is no ratio, but still a squish gap for each grade."""
    table = _table(a_case(*_decks(), books=some_books(a_sheet(geometry={"gasket-bore": None}))))
    assert [row.ratio for row in table] == [None, None, None]
    assert table[0].squish == pytest.approx(0.66e-3)
    assert not any(row.ratio_ok for row in table)


def test_no_deck_no_table() -> None:
    """Grades cannot be weighed before a deck height was read."""
    assert _table(a_case(*THICKNESS)) == ()
