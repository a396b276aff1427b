"""Checks the crankcase tests of a kart engine against sums done by hand."""

from math import pi, sqrt

import pytest

from inspect_report.knowledge.case import Case
from inspect_report.measure.crankcase import EMPTY, NO_HOLE_TOLD, TIGHT
from inspect_report.measure.measuring import measure
from tests.measure.changed import KART, changed
from tests.measure.finds import found, lacking, u, value

# As read: 40.0 to 20.5 kPa in two minutes, 30.0 to 11.5 kPa of vacuum in one; gauge steps 0.5 kPa, ±0.8 kPa.
STEP, CLOCK = 500.0 / (2 * sqrt(3)), sqrt((0.2 / (2 * sqrt(3))) ** 2 + (0.5 / sqrt(3)) ** 2)


def _kart(**values: float | None) -> Case:
    return changed(KART, {f"crankcase-{name.replace('_', '-')}.1": v for name, v in values.items()})


def test_loss_under_pressure_and_vacuum() -> None:
    """19.5 kPa in 120 s, 18.5 kPa in 60 s."""
    assert value(_kart(), "crankcase-pressure-loss.1") == pytest.approx(19.5e3 / 120)
    assert value(_kart(), "crankcase-vacuum-loss.1") == pytest.approx(18.5e3 / 60)
    assert found(_kart(), "crankcase-vacuum-loss.1").formula == "mechanics.crankcase.pressure_loss_rate"


def test_gauge_error_falls_out_of_the_difference() -> None:
    """Both ends are read on one gauge: two steps remain, and the stopwatch."""
    by_hand = sqrt(2 * (STEP / 60) ** 2 + (18.5e3 / 60**2 * CLOCK) ** 2)
    assert u(_kart(), "crankcase-vacuum-loss.1") == pytest.approx(by_hand, rel=1e-3)


def test_free_air_is_decay_over_volume() -> None:
    """480 cm³ at 21 °C: V Δp / t over 100 kPa, at 20 °C; the sheet's volume is good to 5 %."""
    case = _kart()
    expected = 480e-6 * 18.5e3 / 60 / 100e3 * 293.15 / 294.15
    assert value(case, "crankcase-vacuum-flow.1") == pytest.approx(expected)
    relative = sqrt(
        2 * (STEP / 18.5e3) ** 2 + (CLOCK / 60) ** 2 + (0.05 / sqrt(3)) ** 2 + (1 / sqrt(3) / 294.15) ** 2
    )
    assert u(case, "crankcase-vacuum-flow.1") == pytest.approx(expected * relative, rel=1e-3)
    assert "volume 480 cm³ by the spec sheet" in found(case, "crankcase-vacuum-flow.1").note


def test_measured_volume_comes_before_the_sheets() -> None:
    """Twice the volume is twice the air, and a hole of 1.414 times the bore."""
    sheet, own = _kart(), _kart(test_volume=960.0)
    for name in ("crankcase-leak-flow", "crankcase-vacuum-flow"):
        assert value(own, f"{name}.1") == pytest.approx(2 * value(sheet, f"{name}.1"))
        assert "crankcase-test-volume.1" in found(own, f"{name}.1").readings
    for name in ("crankcase-leak-bore", "crankcase-vacuum-bore"):
        assert value(own, f"{name}.1") == pytest.approx(sqrt(2) * value(sheet, f"{name}.1"))
    assert "volume as measured" in found(own, "crankcase-leak-bore.1").note


def test_hole_by_the_mean_pressure() -> None:
    """
    The flow at the mean pressure gives the bore of the whole fall to 1.5 %: A = V Δp / (R T t G).

    Saint-Venant's formula at 294.15 K and 100.9 kPa around: 30.25 kPa above, and 20.75 kPa below it.
    """
    air, warm, gas = 100_900.0, 294.15, 287.05
    for name, fall, time, before, behind in (
        ("crankcase-leak-bore", 19.5e3, 120.0, air + 30.25e3, air),
        ("crankcase-vacuum-bore", 18.5e3, 60.0, air, air - 20.75e3),
    ):
        ratio = behind / before
        flux = before * sqrt(7 / (gas * warm) * (ratio ** (10 / 7) - ratio ** (12 / 7)))
        area = 480e-6 * fall / (gas * warm * time * flux)
        assert value(_kart(), f"{name}.1") == pytest.approx(sqrt(4 * area / pi), rel=0.015), name
    assert value(_kart(), "crankcase-vacuum-bore.1") > value(_kart(), "crankcase-leak-bore.1")


def test_case_that_ran_empty_lost_at_least_so_much() -> None:
    """0 at the end: the loss is a least one and says so, and no hole can be told."""
    case = _kart(pressure_end=0.0, vacuum_end=0.0)
    for test in ("pressure", "vacuum"):
        assert EMPTY in found(case, f"crankcase-{test}-loss.1").note
    for name in ("crankcase-leak-bore", "crankcase-vacuum-bore"):
        assert [r.why for r in lacking(case, name)] == [NO_HOLE_TOLD]
    assert EMPTY in found(case, "crankcase-leak-flow.1").note


def test_tight_case_says_so() -> None:
    """Nothing lost: 0 with the uncertainty of the gauge, a hole of 0, in words."""
    case = _kart(pressure_end=40.0)
    for name in ("crankcase-pressure-loss", "crankcase-leak-flow", "crankcase-leak-bore"):
        assert value(case, f"{name}.1") == 0.0
        assert TIGHT in found(case, f"{name}.1").note
        assert u(case, f"{name}.1") > 0.0
    assert TIGHT not in found(_kart(), "crankcase-pressure-loss.1").note


def test_vacuum_is_asked_for_where_there_is_time() -> None:
    """Vacuum readings are optional: without them nothing is missed, and the pressure test stands alone."""
    case = _kart(vacuum_start=None, vacuum_end=None, vacuum_time=None)
    assert not [q for q in measure(case).quantities if q.characteristic.startswith("crankcase-vacuum")]
    assert lacking(case, "crankcase-vacuum-loss") == ()
    assert value(case, "crankcase-pressure-loss.1") > 0.0


def test_without_a_volume_the_rate_stands_alone() -> None:
    """Neither measured nor printed: no flow and no hole, and nothing held against the inspector."""
    case = changed(KART, geometry={"crankcase_volume": None})
    assert value(case, "crankcase-pressure-loss.1") > 0.0
    for name in ("crankcase-leak-flow", "crankcase-leak-bore"):
        assert lacking(case, name) == ()
        assert not [q for q in measure(case).quantities if q.characteristic == name]
