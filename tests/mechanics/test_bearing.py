"""Bearings: two ways to one clearance, and journals as seen from outside."""

import math

import pytest

from inspect_report.mechanics.bearing import (
    difference_of_ways,
    disagreement,
    journal_out_of_round,
    journal_taper,
    oil_clearance,
    oil_clearance_from_shells,
)
from inspect_report.mechanics.errors import OutOfRange

MM = 1e-3
JOURNAL = [[35.992 * MM, 35.990 * MM], [35.989 * MM, 35.988 * MM]]


def test_two_ways_agree_for_shells_without_crush() -> None:
    """Housing less two walls is the fitted bore."""
    housing, wall, journal = 39.016 * MM, 1.490 * MM, 35.992 * MM
    fitted = oil_clearance(housing - 2 * wall, journal)
    assert oil_clearance_from_shells(housing, wall, journal) == pytest.approx(fitted, abs=1e-12)
    assert fitted == pytest.approx(0.044 * MM, abs=1e-12)


def test_form_of_a_journal() -> None:
    """Taper 0.003 along the first axis, out-of-round 0.002 at the first end."""
    assert journal_taper(JOURNAL) == pytest.approx(0.003 * MM, abs=1e-12)
    assert journal_out_of_round(JOURNAL) == pytest.approx(0.002 * MM, abs=1e-12)


def test_seized_fit_is_negative() -> None:
    """A journal larger than its bearing is an interference, and told as one."""
    assert oil_clearance(35.98 * MM, 35.99 * MM) == pytest.approx(-0.01 * MM, abs=1e-12)


@pytest.mark.parametrize("field", ["housing", "shell_thickness", "journal"])
def test_no_part_has_no_size(field: str) -> None:
    """Every size is above 0."""
    sizes = {"housing": 39 * MM, "shell_thickness": 1.5 * MM, "journal": 36 * MM}
    with pytest.raises(OutOfRange, match=field):
        oil_clearance_from_shells(**sizes | {field: 0.0})


def test_difference_has_the_sign_of_the_second_way() -> None:
    """A second way that shows more is above 0."""
    assert difference_of_ways(51e-6, 44e-6) == pytest.approx(7e-6) == -difference_of_ways(44e-6, 51e-6)


def test_disagreement_counts_in_uncertainties_of_the_difference() -> None:
    """7 µm apart with 4 µm of doubt disagree by 1.75, whichever is the greater."""
    assert disagreement(7e-6, 4e-6) == disagreement(-7e-6, 4e-6) == pytest.approx(1.75)


def test_exact_ways_agree_or_do_not() -> None:
    """Without any uncertainty a difference of nothing is none, and any other is beyond all doubt."""
    assert (disagreement(0.0, 0.0), disagreement(1e-9, 0.0)) == (0.0, math.inf)
    with pytest.raises(OutOfRange, match="u: found"):
        disagreement(0.0, -1e-9)
