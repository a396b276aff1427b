"""Checks the timing chain's quantities against sums done by hand."""

from math import degrees, pi, sin, sqrt

import pytest

from inspect_report.knowledge.case import Case
from tests.cases import a_case, a_sheet, answered, read_each, some_books
from tests.measure.finds import found, lacking, u, value

# 20 pitches of 6.35 mm are 127 mm; three lengths with a mean of 128.27 mm are 1 per cent long.
LENGTHS = {"a": 128.25, "b": 128.27, "c": 128.29}


def _case() -> Case:
    return a_case(*read_each("chain-length", LENGTHS), answers=[answered("chain-pitches-measured", "20")])


def test_elongation_is_the_mean_over_the_nominal_length() -> None:
    """
    Mean 128.27 of 127 mm: 1 per cent.

    The caliper's error is common and does not average out; the lengths scatter by s = 0.02, s/√3.
    """
    case = _case()
    step, error = 0.01 / (2 * sqrt(3)), 0.02 / sqrt(3)
    assert value(case, "chain-elongation") == pytest.approx(0.01)
    assert u(case, "chain-elongation") == pytest.approx(
        sqrt(step**2 / 3 + error**2 + 0.02**2 / 3) / 127, rel=1e-3
    )


def test_elongation_names_the_count_of_pitches() -> None:
    """The number of pitches is a reading too."""
    long = found(_case(), "chain-elongation")
    assert long.readings[-1] == "chain-pitches-measured"
    assert long.note == "mean of 3 lengths, pitch 6.35 mm"


def test_each_cam_is_late_by_its_strand() -> None:
    """One per cent of 30 and 22 pitches over the sprocket's radius, twice in crank degrees."""
    radius = 6.35 / (2 * sin(pi / 34))
    case = _case()
    assert value(case, "cam-retard.inlet") == pytest.approx(2 * degrees(0.01 * 30 * 6.35 / radius))
    assert value(case, "cam-retard.exhaust") == pytest.approx(2 * degrees(0.01 * 22 * 6.35 / radius))


def test_length_without_pitches_has_a_reason() -> None:
    """A length over an unknown number of pitches says nothing."""
    case = a_case(*read_each("chain-length", LENGTHS))
    assert [r.why for r in lacking(case, "chain-elongation")] == ["chain pitches measured not read"]


def test_one_length_is_enough() -> None:
    """Places that were not measured do not stop the mean of those that were."""
    lengths = read_each("chain-length", {"a": 128.27})
    case = a_case(*lengths, answers=[answered("chain-pitches-measured", "20")])
    assert value(case, "chain-elongation") == pytest.approx(0.01)


def test_engine_without_a_chain_has_no_chain_quantities() -> None:
    """A gear-driven engine gives neither a value nor a reason."""
    case = a_case(books=some_books(a_sheet(layout={"timing-drive": "gear"})))
    assert lacking(case, "chain-elongation") == ()


def test_drive_that_is_not_in_the_spec_sheet_is_told() -> None:
    """Without the chain's pitch nothing can be computed, and the reason says what is missing."""
    books = some_books(a_sheet(geometry={"cam-drive": None}))
    case = a_case(*read_each("chain-length", LENGTHS), books=books)
    assert [r.why for r in lacking(case, "cam-retard")] == [
        "pitch of the timing chain is not in the spec sheet"
    ]


def test_a_retard_carries_the_scatter_of_the_lengths() -> None:
    """It is proportional to the elongation, and so is its uncertainty."""
    case = _case()
    shares = [u(case, name) / value(case, name) for name in ("chain-elongation", "cam-retard.inlet")]
    assert shares[0] == pytest.approx(shares[1], rel=1e-6)
