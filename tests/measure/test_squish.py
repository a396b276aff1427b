"""Checks the unevenness of a kart's squish gap against sums done by hand."""

from math import sqrt

import pytest

from tests.measure.changed import KART, changed
from tests.measure.finds import found, lacking, u, value


def test_greatest_less_least() -> None:
    """Solder of 0.874, 0.892, 0.906 and 0.901 mm: 0.032 mm, on one micrometer whose error falls out."""
    assert value(changed(KART), "squish-spread.1") == pytest.approx(0.032e-3)
    assert u(changed(KART), "squish-spread.1") == pytest.approx(sqrt(2) * 0.001e-3 / (2 * sqrt(3)), rel=1e-3)
    spread = found(changed(KART), "squish-spread.1")
    assert spread.formula == "mechanics.squish.spread"
    assert "greatest less least of 4 places" in spread.note


def test_even_gap_is_0_with_the_uncertainty_of_a_difference() -> None:
    """Four equal pieces of solder tell an even gap, as well as the micrometer can."""
    case = changed(KART, {f"squish-solder.1.{p}": 0.9 for p in ("front", "rear", "left", "right")})
    assert value(case, "squish-spread.1") == 0.0
    assert u(case, "squish-spread.1") > 0.0


def test_one_place_has_no_spread() -> None:
    """A single piece of solder differs from nothing."""
    case = changed(KART, {f"squish-solder.1.{p}": None for p in ("rear", "left", "right")})
    assert [r.why for r in lacking(case, "squish-spread")] == ["squish read at one place only"]


def test_two_places_are_enough() -> None:
    """Front and left alone: 0.906 less 0.874 mm."""
    case = changed(KART, {f"squish-solder.1.{p}": None for p in ("rear", "right")})
    assert value(case, "squish-spread.1") == pytest.approx(0.032e-3)
