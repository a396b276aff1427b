"""Shim choice against the worked examples and size lists of repair manuals."""

import pytest

from inspect_report.measure.derived import ShimChoice
from inspect_report.measure.measuring import measure
from inspect_report.mechanics.valvetrain import (
    predicted_gap,
    shim_needed,
    shim_range_left,
    shim_sizes,
)
from tests.cases import a_case, a_sheet, read, some_books
from tests.published.figures import rows

MM = 1e-3


def planned(gap: float, shim: float, gaps: tuple[float, float], *, aim: float) -> ShimChoice:
    """The whole program's choice for one valve: gap, shim and range in mm, sizes from 1.3 to 2.0 by 0.05."""
    row = {"id": "valve-clearance", "unit": "mm", "standard": list(gaps), "limit": list(gaps), "page": "1"}
    sizes = {"shims": {"first": 1.3, "last": 2.0, "step": 0.05}}
    case = a_case(
        read("valve-clearance.1.exhaust", gap),
        read("shim-fitted.1.exhaust", shim),
        books=some_books(
            a_sheet(characteristics=[row], on_sale=sizes),
            **{"valve-gap-aim": aim, "decision-rule": {"kind": "simple acceptance"}},
        ),
    )
    (choice,) = measure(case).shims
    return choice


@pytest.mark.parametrize("row", rows("shim_rules.csv"), ids=lambda row: f"{row['first_mm']}-{row['last_mm']}")
def test_sizes_on_sale(row: dict[str, str]) -> None:
    """Six makers' ranges; one prints 25 sizes where its range and step give 21, a misprint."""
    first, last, step = (float(row[name]) * MM for name in ("first_mm", "last_mm", "step_mm"))
    sizes = shim_sizes(first, last, step)
    assert len(sizes) == int(row["count"])
    assert sizes[-1] == pytest.approx(float(row["last_mm"]) * MM, rel=1e-12)
    assert all(size == float(f"{size:.9f}") for size in sizes)


def test_diesel_manual() -> None:
    """Car maker's manual RM1046E p. 14-19 (seen): N = T + (A - 0.25); 2.80 with 0.45 found takes 3.00."""
    assert shim_needed(2.80 * MM, 0.45 * MM, 0.25 * MM) == pytest.approx(3.00 * MM, rel=1e-12)


def test_service_table_of_a_twin() -> None:
    """Motorcycle maker's table (seen): 2.95 with 0.47 found takes 3.15, which leaves 0.27."""
    assert predicted_gap(2.95 * MM, 0.47 * MM, 3.15 * MM) == pytest.approx(0.27 * MM, rel=1e-9)


def test_tuning_maker_aims_at_the_upper_limit() -> None:
    """Fitting manual 5919140 p. 10 (seen): 0.15 to 0.22, found 0.30, shim 1.55: 1.63 wanted, 1.65 fitted."""
    choice = planned(0.30, 1.55, (0.15, 0.22), aim=99.9999)
    assert choice.exact == pytest.approx(1.63 * MM, rel=1e-7)
    assert choice.size == pytest.approx(1.65 * MM, rel=1e-12)


def test_hand_example_of_a_rider() -> None:
    """A thread (dirtrider.net 160036, seen): 0.0762 found, 0.16 wanted, 1.75 fitted: 1.6662."""
    assert shim_needed(1.75 * MM, 0.0762 * MM, 0.16 * MM) == pytest.approx(1.6662 * MM, abs=1e-7)


def test_follower_measured_at_the_cam() -> None:
    """Lever geometry, no publication found: lever 1.5, gap 0.20 too wide takes 0.30 more shim."""
    assert shim_needed(2.0 * MM, 0.40 * MM, 0.20 * MM, lever=1.5) == pytest.approx(2.30 * MM, rel=1e-12)
    step = predicted_gap(2.0 * MM, 0.2 * MM, 2.0 * MM, lever=1.5) - predicted_gap(
        2.0 * MM, 0.2 * MM, 2.025 * MM, lever=1.5
    )
    assert step == pytest.approx(0.025 * MM / 1.5, rel=1e-9)


def test_range_left_in_the_diesel_manuals_series() -> None:
    """Manual RM1046E p. 14-19 (seen): 3.00 wanted, 2.50 the thinnest of 17: ten steps of 0.05 are left."""
    left = shim_range_left(2.80 * MM, 0.45 * MM, aim=0.25 * MM, thinnest=2.50 * MM)
    assert left == pytest.approx(10 * 0.05 * MM, rel=1e-9)


def test_formula_of_a_scooter_manual() -> None:
    """Honda SH300i p. 4-10 (seen): A = (B - C) + D, new from recorded, specified and old."""
    recorded, specified, old = 0.31, 0.16, 1.875
    assert shim_needed(old * MM, recorded * MM, specified * MM) == pytest.approx(
        ((recorded - specified) + old) * MM, rel=1e-12
    )


def test_thrust_shim_of_a_car() -> None:
    """Honda shop manual (seen): 1.93 read with a middle of the standard range of 0.14: 1.79, choose 1.80."""
    assert pytest.approx(shim_needed(1.93 * MM, 0.0, 0.14 * MM), rel=1e-12) == (1.93 - 0.14) * MM
    choice = planned(0.0, 1.93, (0.05, 0.23), aim=50)
    assert choice.aim == pytest.approx(0.14 * MM)
    assert choice.size == pytest.approx(1.80 * MM, rel=1e-12)
