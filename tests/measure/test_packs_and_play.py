"""Checks clutch packs, springs, forks and the metals in the oil of the samples by hand."""

from math import sqrt

import pytest

from inspect_report.measure.measuring import measure
from tests.measure.changed import FOUR, KART, changed
from tests.measure.finds import found, lacking, u, value

CALIPER_STEP, CALIPER_ERROR = 0.02 / (2 * sqrt(3)), 0.03 / sqrt(3)
STEP, ERROR = 0.001 / (2 * sqrt(3)), 0.002 / sqrt(3)
PLATES = {f"steel-plate-thickness.{n}": None for n in range(1, 8)}


def test_friction_pack_is_the_sum_and_the_calipers_error_counts_for_every_plate() -> None:
    """Eight plates sum to 22.90 mm; one caliper's error moves them all, its steps do not."""
    case = changed(FOUR)
    assert value(case, "friction-pack-thickness") == pytest.approx(22.90e-3)
    expected = sqrt(8 * CALIPER_STEP**2 + (8 * CALIPER_ERROR) ** 2) * 1e-3
    assert u(case, "friction-pack-thickness") == pytest.approx(expected, rel=1e-6)
    assert found(case, "friction-pack-thickness").formula == "mechanics.clutch.pack_thickness"


def test_friction_pack_wear_is_what_new_plates_would_have_more() -> None:
    """Eight of 3.00, the middle of 2.92 to 3.08, less 22.90: 1.10 mm, in doubt by the new ones' range too."""
    case = changed(FOUR)
    new = 8 * 0.08 / sqrt(3)
    expected = sqrt(8 * CALIPER_STEP**2 + (8 * CALIPER_ERROR) ** 2 + new**2) * 1e-3
    assert value(case, "friction-pack-wear") == pytest.approx(1.10e-3)
    assert u(case, "friction-pack-wear") == pytest.approx(expected, rel=1e-6)
    assert found(case, "friction-pack-wear").note == "8 plates, each new 3.00 mm"


def test_whole_pack_is_held_against_its_height() -> None:
    """22.90 and 11.126 of steel are 34.026; pressed together 34.060 agrees, 34.50 does not."""
    pack = found(changed(FOUR), "clutch-plate-pack")
    assert pack.quantity.value == pytest.approx(34.026e-3)
    assert pack.note == (
        "sum of 8 friction and 7 steel plates; the pack pressed together shows 34.060 mm, which agrees"
    )
    odd = found(changed(FOUR, {"clutch-pack-height": 34.50}), "clutch-plate-pack")
    assert odd.doubt.startswith("34.026 mm by its plates, 34.500 mm pressed together: the two differ")
    assert odd.doubt.endswith("Count the plates and measure again before ordering any.")
    alone = found(changed(FOUR, {"clutch-pack-height": None}), "clutch-plate-pack")
    assert (alone.note, alone.doubt) == ("sum of 8 friction and 7 steel plates", "")


def test_friction_plates_alone_are_no_whole_pack() -> None:
    """Steel plates not read leave no whole pack, without a word, since they are read where there is time."""
    case = changed(FOUR, PLATES)
    assert "clutch-plate-pack" not in {q.id for q in measure(case).quantities}
    assert lacking(case, "clutch-plate-pack") == ()
    assert value(case, "friction-pack-thickness") == pytest.approx(22.90e-3)


def test_springs_lose_length_from_the_middle_of_the_new_range() -> None:
    """45.30 of 45.8: 1.09 % lost; the new one is known to ±0.4."""
    case = changed(FOUR)
    assert value(case, "clutch-spring-loss.1") == pytest.approx(1 - 45.30 / 45.8)
    spring = sqrt(CALIPER_STEP**2 + CALIPER_ERROR**2) / 45.8
    new = 0.4 / sqrt(3) * 45.30 / 45.8**2
    assert u(case, "clutch-spring-loss.1") == pytest.approx(sqrt(spring**2 + new**2), rel=1e-3)
    assert value(case, "relief-spring-loss") == pytest.approx(1 - 40.44 / 40.6)


def test_springs_against_each_other() -> None:
    """45.34 less 45.24 is 0.10 mm, free of the caliper's error; one spring has none to differ from."""
    case = changed(FOUR)
    assert value(case, "clutch-spring-spread") == pytest.approx(0.10e-3)
    assert u(case, "clutch-spring-spread") == pytest.approx(sqrt(2) * CALIPER_STEP * 1e-3, rel=1e-3)
    one = changed(FOUR, {f"clutch-spring-length.{n}": None for n in (2, 3, 4, 5)})
    assert [r.why for r in lacking(one, "clutch-spring-spread")] == [
        "clutch spring length read of one spring only"
    ]


def test_fork_by_both_widths_and_by_blade() -> None:
    """Fork 2: 6.18 less 5.893 is 0.287; the blade of 0.30 agrees, one of 0.40 does not."""
    play = found(changed(FOUR), "fork-groove-play.2")
    assert play.quantity.value == pytest.approx(0.287e-3)
    expected = sqrt(CALIPER_STEP**2 + CALIPER_ERROR**2 + STEP**2 + ERROR**2) * 1e-3
    assert play.quantity.u == pytest.approx(expected, rel=1e-3)
    assert play.note == "the blade shows 0.300 mm, which agrees"
    odd = found(changed(FOUR, {"fork-clearance.2": 0.40}), "fork-groove-play.2")
    assert odd.doubt.startswith("0.287 mm by groove and fork, 0.400 mm by blade")
    assert found(changed(FOUR, {"fork-clearance.2": None}), "fork-groove-play.2").note == ""


def test_pin_of_a_fork_in_the_drum() -> None:
    """Track of 7.14, pin of 6.941: 0.199 mm."""
    assert value(changed(FOUR), "fork-pin-play.2") == pytest.approx(0.199e-3)


def test_metal_by_the_hour() -> None:
    """Iron: 38 - 1 ppm in 42 h are 0.881 ppm/h; the laboratory's error is common and falls out."""
    case = changed(FOUR)
    assert value(case, "wear-metal-rate.iron") * 3600e6 == pytest.approx(37 / 42)
    step = sqrt(2) * 1 / (2 * sqrt(3)) / 42
    assert u(case, "wear-metal-rate.iron") * 3600e6 == pytest.approx(step, rel=1e-3)
    assert found(case, "wear-metal-rate.iron").note == ""


def test_fresh_oil_that_was_not_analysed() -> None:
    """Without the fresh oil the whole amount counts, and the note says so."""
    case = changed(FOUR, {"oil-laboratory-fresh.iron": None})
    assert value(case, "wear-metal-rate.iron") * 3600e6 == pytest.approx(38 / 42)
    assert found(case, "wear-metal-rate.iron").note == "fresh oil not analysed, taken as free of it"


def test_metal_without_hours_has_no_rate() -> None:
    """Amounts alone are told as they are, and no rate is asked for."""
    case = changed(FOUR, {"oil-hours": None})
    assert "wear-metal-rate.iron" not in {q.id for q in measure(case).quantities}
    assert value(case, "oil-laboratory.iron") == pytest.approx(38e-6)


def test_two_stroke_clutch_has_its_pack() -> None:
    """Kart: seven friction plates of 18.64 and six steel ones of 7.143 are 25.783 mm."""
    assert value(changed(KART), "clutch-plate-pack") == pytest.approx(25.783e-3)
