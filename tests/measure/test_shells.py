"""Checks the shells to fit, and the ways to an oil clearance, of a whole engine by hand."""

from dataclasses import replace
from math import sqrt
from typing import Any

import pytest

from inspect_report.knowledge.case import Case
from inspect_report.measure.derived import ShellChoice
from inspect_report.measure.measuring import measure
from tests.measure.changed import FOUR, changed
from tests.measure.finds import found, u, value

STEP, GAUGE, MICROMETER = 0.001 / (2 * sqrt(3)), 0.003 / sqrt(3), 0.002 / sqrt(3)
JOURNAL_1 = ("left.along", "left.across", "right.along", "right.across")


def _choice(case: Case, place: str, bearing: str = "main") -> ShellChoice:
    (one,) = [c for c in measure(case).shells if (c.bearing, c.position.id) == (bearing, place)]
    return one


def _journal(millimetres: float | None) -> dict[str, float | None]:
    """Main journal 1 of one size everywhere."""
    return {f"main-journal-diameter.1.{at}": millimetres for at in JOURNAL_1}


def test_shells_by_the_makers_table() -> None:
    """Main 1: housing 35.012 is B, journal 31.987 is 2, so brown; main 2: 35.020 is C, so black."""
    case = changed(FOUR)
    one, two = _choice(case, "1"), _choice(case, "2")
    assert (one.housing, one.housing_by, one.journal, one.journal_by) == ("B", "size", "2", "size")
    assert (one.grade, one.fitted, one.note) == ("brown", "brown", "")
    assert (two.housing, two.grade) == ("C", "black")
    assert [c.position.id for c in measure(case).shells if c.bearing == "main"] == ["1", "2", "3", "4", "5"]


def test_clearance_to_expect() -> None:
    """35.012 - 2 x 1.497 - 31.987 is 0.031 mm, by bore gauge and micrometer."""
    one = _choice(changed(FOUR), "1")
    assert one.thickness == pytest.approx(1.497e-3)
    assert one.clearance == pytest.approx(0.031e-3)
    expected = sqrt(2 * STEP**2 + GAUGE**2 + MICROMETER**2) * 1e-3
    assert one.clearance_u == pytest.approx(expected, rel=1e-3)
    assert "main-housing.1" in one.readings


def test_marks_alone_select_too() -> None:
    """Nothing measured: B and 2 give brown by their marks, and no clearance to expect."""
    case = changed(FOUR, _journal(None) | {"main-housing.1": None})
    one = _choice(case, "1")
    assert (one.housing_by, one.journal_by, one.grade) == ("mark", "mark", "brown")
    assert (one.clearance, one.clearance_u, one.readings) == (None, None, ())


def test_mark_that_the_size_contradicts_is_told() -> None:
    """Crankpin 1 is marked A and worn into B: the size counts, brown not green, and the mark is told."""
    one = _choice(changed(FOUR), "1", "big-end")
    assert (one.journal, one.grade, one.fitted) == ("B", "brown", "green")
    assert one.note == "journal is marked A and measures B"


def test_mark_that_is_not_in_the_table() -> None:
    """A mark that the table does not know selects nothing, and says so."""
    case = changed(FOUR, _journal(None), answers={"main-journal-mark.1": ("7",)})
    one = _choice(case, "1")
    assert one.grade == ""
    assert one.note == (
        "journal is marked 7, which is not in the table; no shell of the table takes this up: "
        "grind or replace the crankshaft, or mend the housing"
    )


def test_journal_below_every_class_has_no_shell() -> None:
    """31.980 mm lies 0.004 mm below the last class."""
    one = _choice(changed(FOUR, _journal(31.980)), "1")
    assert (one.journal, one.grade, one.thickness, one.clearance) == ("", "", None, None)
    assert one.note.startswith("journal of 31.980 mm lies 0.004 mm outside every class; no shell")


@pytest.mark.parametrize(("size", "told"), [(31.987, ""), (31.986, "journal may belong to the next class")])
def test_size_near_an_edge_is_told(size: float, told: str) -> None:
    """3 µm from the edge of 31.984 is clear of twice 1.19 µm; 2 µm is not."""
    assert _choice(changed(FOUR, _journal(size)), "1").note.startswith(told) is bool(told) or not told
    assert bool(_choice(changed(FOUR, _journal(size)), "1").note) is bool(told)


def test_smallest_journal_reading_counts() -> None:
    """One reading of four below the class puts the journal into the next one, as it decides the clearance."""
    case = changed(FOUR, _journal(31.993) | {"main-journal-diameter.1.left.along": 31.990})
    assert _choice(case, "1").journal == "2"
    assert _choice(changed(FOUR, _journal(31.996)), "1").journal == "1"


def test_nothing_known_of_a_bearing_gives_no_row() -> None:
    """Without size and mark of the housing there is no choice for it; the others stand."""
    case = changed(FOUR, {"main-housing.1": None}, answers={"main-housing-mark.1": None})
    assert [c.position.id for c in measure(case).shells if c.bearing == "main"] == ["2", "3", "4", "5"]


def test_without_a_table_there_is_no_choice() -> None:
    """A sheet that does not print the maker's table leaves the shells open."""
    case = changed(FOUR)
    on_sale = case.books.sheet.on_sale.model_copy(update={"shells": ()})
    sheet = case.books.sheet.model_copy(update={"on_sale": on_sale})
    assert measure(replace(case, books=replace(case.books, sheet=sheet))).shells == ()


def test_housing_and_shells_are_a_second_way() -> None:
    """Main 1: 35.012 - 2 x 1.494 - 31.987 is 0.037 against 0.036 mm; journal and gauge errors are common."""
    case = changed(FOUR)
    assert value(case, "main-two-ways.1") == pytest.approx(0.001e-3)
    # Bore and housing by one gauge; two walls by one micrometer, the journal falls out.
    expected = sqrt(2 * STEP**2 + (2 * STEP) ** 2 + (2 * MICROMETER) ** 2) * 1e-3
    assert u(case, "main-two-ways.1") == pytest.approx(expected, rel=1e-3)
    assert found(case, "main-two-ways.1").note == "from housing and shells less by bore gauge and micrometer"
    assert "housing and shells show 0.037 mm, which agrees" in found(case, "main-clearance.1").note
    assert value(case, "main-clearance.1") == pytest.approx(0.036e-3)


def test_strip_is_the_second_way_where_there_is_no_housing() -> None:
    """Big end 1: 0.051 by strip less 0.049 by gauge."""
    case = changed(FOUR)
    assert value(case, "big-end-two-ways.1") == pytest.approx(0.002e-3)
    assert found(case, "big-end-two-ways.1").note == "by plastic strip less by bore gauge and micrometer"


def test_ways_that_contradict_each_other_are_doubted() -> None:
    """Shells of 1.480 would give 0.065 mm: 0.029 apart, far over twice 2.4 µm; both doubts are told."""
    case = changed(FOUR, {"main-shell-thickness.5": 1.480})
    doubt = found(case, "main-clearance.5").doubt
    gauged = "0.035 mm by bore gauge and micrometer"
    assert doubt.startswith(f"{gauged}, 0.064 mm from housing and shells: the two differ")
    assert f"{gauged}, 0.025 mm by plastic strip" in doubt
    assert doubt.count("Measure again before ordering shells.") == 2


def test_housing_and_shells_alone_give_the_clearance() -> None:
    """No fitted bore: housing, walls and journal give it; walls and journal have a micrometer each."""
    case = changed(FOUR, {"main-bore.1": None})
    clearance = found(case, "main-clearance.1")
    assert clearance.quantity.value == pytest.approx(0.037e-3)
    assert clearance.formula == "mechanics.bearing.oil_clearance_from_shells"
    expected = sqrt(STEP**2 + GAUGE**2 + (2 * STEP) ** 2 + STEP**2 + 5 * MICROMETER**2) * 1e-3
    assert clearance.quantity.u == pytest.approx(expected, rel=1e-3)


def test_one_way_has_no_difference() -> None:
    """A strip not used and no housing read: nothing to differ, and nothing that would be missing."""
    changes: dict[str, Any] = {"big-end-strip.1": None}
    case = changed(FOUR, changes)
    assert "big-end-two-ways.1" not in {q.id for q in measure(case).quantities}
    assert "big-end-two-ways" not in {r.characteristic for r in measure(case).unmeasured}
