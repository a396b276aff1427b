"""Wear, taper and out-of-round of a bore against the methods of three service manuals."""

import math

import pytest

from inspect_report.mechanics.bore import out_of_round, piston_clearance, taper, wear
from inspect_report.mechanics.boreform import bulge, flare, form
from tests.published.figures import rows

MM = 1e-3
BORE = [
    (float(row["dia_thrust_mm"]) * MM, float(row["dia_pin_mm"]) * MM) for row in rows("bore_readings.csv")
]


def test_largest_less_smallest_of_six() -> None:
    """TM 9-6115-670-14&P p. 6-76 (seen) calls largest less smallest of six the wear: worked, 0.024 mm."""
    assert wear(BORE, min(min(row) for row in BORE)) == pytest.approx(0.024 * MM, abs=1e-9)


def test_roundness_by_two_points() -> None:
    """An engine maker's service manual p. 95 (seen): roundness is the greatest A less B: worked, 0.011 mm."""
    assert out_of_round(BORE) == pytest.approx(0.011 * MM, abs=1e-9)


def test_cylindricity_by_two_points() -> None:
    """The same page: the greater of the ranges over the levels in A and in B: worked, 0.022 mm."""
    assert taper(BORE) == pytest.approx(0.022 * MM, abs=1e-9)


def test_worst_level_decides() -> None:
    """TM 9-2815-220-24 WP 0135 (seen) compares the pair of each level: worked, 0.011, 0.004 and 0.002 mm."""
    each = [out_of_round([level]) / MM for level in BORE]
    assert each == pytest.approx([0.011, 0.004, 0.002], abs=1e-6)


def test_piston_square_to_its_pin() -> None:
    """
    Worked from the definition, by the thrust side of the middle level: 82.028 less piston 81.970 mm.

    A car maker's workshop manual, quoted in a public forum (thread 66039, seen), takes the bore at 90° to
    the engine's centre line alone, as it reads the piston at 90° to its pin. A maker of small engines takes
    the mean of the two ways (p. 4-36, seen): of a round bore the same.
    """
    assert piston_clearance([BORE[1][:1]], 81.970 * MM) == pytest.approx(0.058 * MM, abs=1e-9)


def test_taper_from_top_to_bottom() -> None:
    """
    Worked from the same six readings: means 82.0355 and 82.018 mm give a mean taper of 0.0175 mm.

    The middle, 82.026 mm, lies 0.00075 mm below the mean of the two ends: a taper, by our own bounds, and
    with a doubt of 0.005 mm neither barrel, waist nor bell.
    """
    assert flare(BORE) == pytest.approx(0.0175 * MM, abs=1e-9)
    assert bulge(BORE) == pytest.approx(-0.00075 * MM, abs=1e-9)
    assert form(BORE, 0.005 * MM) == "taper, wide at the top"


def test_pair_that_is_out_of_round() -> None:
    """TM 9-2815-220-24 WP 0135 (seen): pairs at five levels more than 0.003 in apart are out of round."""
    inch = 0.0254
    levels = [(5.7530 * inch, 5.7510 * inch), (5.7561 * inch, 5.7530 * inch)]
    assert [out_of_round([level]) / inch > 0.003 for level in levels] == [False, True]


def test_gap_at_the_top_less_the_gap_an_inch_below() -> None:
    """TM 10-3930-659-34 p. 5-16 (seen): taper is the difference of two readings, limit 0.002 in."""
    inch = 0.0254
    assert taper([(4.0025 * inch,), (4.0005 * inch,)]) / inch == pytest.approx(0.002, rel=1e-9)


def test_two_points_tell_twice_the_roundness_of_an_oval() -> None:
    """
    ISO 12181-1:2011 and 12180-1:2011 (catalogue pages seen): roundness is a difference of radii.

    For an oval it is half of the two-point difference: 0.0055 for 0.011 mm. A form of three lobes, whose
    diameters are equal all round, is not seen by two points at all.
    """
    assert out_of_round(BORE) / 2 == pytest.approx(0.0055 * MM, abs=1e-9)
    radius = [41.0 * MM + 0.005 * MM * math.cos(3 * math.radians(angle)) for angle in (0, 90, 180, 270)]
    assert out_of_round([(radius[0] + radius[2], radius[1] + radius[3])]) == pytest.approx(0.0, abs=1e-12)


def test_flare_of_a_honed_port_bore() -> None:
    """TM 9-2815-202-34 p. 4-168 (seen): up to 0.0006 in at the top, flare of 0.0022 in at the port belt."""
    inch = 0.0254
    levels = [(4.2496 * inch,) * 2, (4.2496 * inch,) * 2, (4.2518 * inch,) * 2]
    assert flare(levels) / inch == pytest.approx(-0.0022, rel=1e-6)
