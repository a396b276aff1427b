"""Checks squish, ratios and gaskets of a whole engine, second ways and spreads included, by hand."""

from math import pi, sqrt

import pytest

from inspect_report.measure.measuring import measure
from tests.measure.changed import FOUR, changed
from tests.measure.finds import found, lacking, u, value

MICROMETER = sqrt((0.001 / (2 * sqrt(3))) ** 2 + 0.002**2 / 3)
DECKS = {f"deck-height.{c}.{p}": None for c in (1, 2, 3, 4) for p in (1, 2, 3, 4)}


def _gasket(millimetres: float) -> dict[str, float | None]:
    return {f"gasket-thickness.{point}": millimetres for point in (1, 2, 3, 4)}


def test_solder_that_agrees_is_told_and_not_averaged() -> None:
    """Cylinder 3: 0.70825 by gasket and deck, 0.710 by solder; the value stays the first."""
    gap = found(changed(FOUR), "squish-gap.3")
    assert gap.quantity.value == pytest.approx(0.70825e-3)
    assert "solder shows 0.710 mm, which agrees" in gap.note
    assert gap.doubt == ""
    assert "squish-by-solder.3" in gap.readings


def test_solder_that_contradicts_raises_a_doubt() -> None:
    """0.74 by solder against 0.708: measure again before a gasket is chosen."""
    gap = found(changed(FOUR, {"squish-by-solder.3": 0.74}), "squish-gap.3")
    assert gap.quantity.value == pytest.approx(0.70825e-3)
    assert gap.doubt == (
        "0.708 mm by gasket and deck, 0.740 mm by solder: the two differ by more than their joint "
        "uncertainty. Measure again before a gasket is chosen."
    )


def test_solder_alone_is_the_gap() -> None:
    """Where gasket and deck were not read solder is the reading, with the micrometer's uncertainty."""
    case = changed(FOUR, DECKS)
    gap = found(case, "squish-gap.3")
    assert gap.formula == "reading"
    assert gap.quantity.value == pytest.approx(0.71e-3)
    assert gap.quantity.u == pytest.approx(MICROMETER * 1e-3)
    assert "squish-two-ways.3" not in {q.id for q in measure(case).quantities}


def test_difference_of_the_two_ways() -> None:
    """0.710 less 0.70825 is 0.00175 mm; one micrometer read solder and gasket, so its error falls out."""
    step = 0.001e-3 / (2 * sqrt(3))
    dial = sqrt((0.002e-3 / (2 * sqrt(3))) ** 2 / 4 + (0.004e-3) ** 2 / 3)
    case = changed(FOUR)
    assert value(case, "squish-two-ways.3") == pytest.approx(0.00175e-3)
    assert u(case, "squish-two-ways.3") == pytest.approx(sqrt(step**2 + step**2 / 4 + dial**2), rel=1e-3)


def test_deck_from_several_points() -> None:
    """Cylinder 3: 0.156, 0.162, 0.158 and 0.164 have a mean of 0.160 and lie 0.008 mm apart."""
    case = changed(FOUR)
    scatter = sqrt((0.004**2 + 0.002**2 + 0.002**2 + 0.004**2) / 3 / 4) * 1e-3
    gauge = sqrt((0.002e-3 / (2 * sqrt(3))) ** 2 / 4 + (0.004e-3) ** 2 / 3)
    assert value(case, "deck-mean.3") == pytest.approx(0.160e-3)
    assert u(case, "deck-mean.3") == pytest.approx(sqrt(scatter**2 + gauge**2), rel=1e-3)
    assert found(case, "deck-mean.3").note == "mean of 4 points"
    assert value(case, "deck-spread.3") == pytest.approx(0.008e-3)
    assert u(case, "deck-spread.3") == pytest.approx(sqrt(2) * 0.002e-3 / (2 * sqrt(3)), rel=1e-3)


def test_one_point_of_a_deck_has_no_spread() -> None:
    """A single point differs from nothing, and says so at its cylinder."""
    case = changed(FOUR, {f"deck-height.3.{point}": None for point in (2, 3, 4)})
    assert [(r.position.id, r.why) for r in lacking(case, "deck-spread")] == [
        ("3", "deck height read at one point only")
    ]
    assert found(case, "deck-mean.3").note == ""


def test_chambers_differ_by_their_largest_less_smallest() -> None:
    """12.6, 12.5, 12.6 and 12.7 cm³ on one burette: 0.2 cm³, its permissible error common to both."""
    case = changed(FOUR)
    assert value(case, "chamber-spread") == pytest.approx(0.2e-6)
    assert u(case, "chamber-spread") == pytest.approx(sqrt(2) * 0.1e-6 / (2 * sqrt(3)), rel=1e-3)
    assert found(case, "chamber-spread").note == "over 4 chambers"


def test_spread_of_the_ratios() -> None:
    """Cylinder 2, smallest chamber and deck, less cylinder 4, largest chamber: 12.097 - 11.924."""

    def ratio(chamber: float, deck: float) -> float:
        swept, gasket = pi / 4 * 67**2 * 42.5, pi / 4 * 68**2 * 0.54825
        clearance = chamber - 1500 + gasket + pi / 4 * 67**2 * deck
        return (swept + clearance) / clearance

    case = changed(FOUR)
    by_hand = ratio(12_500, 0.145) - ratio(12_700, 0.149)
    assert by_hand == pytest.approx(0.1732, abs=1e-4)
    assert value(case, "compression-ratio-spread") == pytest.approx(by_hand, rel=1e-9)
    assert u(case, "compression-ratio-spread") < u(case, "compression-ratio.2")


def test_one_chamber_read_has_no_spread() -> None:
    """Three chambers not read leave nothing to differ from; none read gives the reason for the chamber."""
    one = changed(FOUR, {f"chamber-volume.{c}": None for c in (1, 2, 3)})
    assert [r.why for r in lacking(one, "chamber-spread")] == ["chamber volume read on one cylinder only"]
    none = changed(FOUR, {f"chamber-volume.{c}": None for c in (1, 2, 3, 4)})
    assert [r.why for r in lacking(none, "chamber-spread")] == ["chamber volume not read"]


def test_dished_piston_adds_to_the_clearance_volume() -> None:
    """A crown of -1.5 cm³ is a dish: 3 cm³ more than the dome of the sheet, and a lower ratio."""
    dome, dish = changed(FOUR), changed(FOUR, geometry={"dome_volume": -1.5e-6})
    swept = pi / 4 * 67**2 * 42.5e-9

    def clearance(ratio: float) -> float:
        return swept / (ratio - 1)

    more = clearance(value(dish, "compression-ratio.1")) - clearance(value(dome, "compression-ratio.1"))
    assert more == pytest.approx(3e-6)


def test_gasket_as_thick_as_its_grade() -> None:
    """0.54825 less 0.55 of two notches is -0.00175 mm; the four points scatter by 0.003 and count."""
    case = changed(FOUR)
    scatter = sqrt((0.00125**2 + 0.00375**2 + 0.00075**2 + 0.00325**2) / 3 / 4)
    gauge = sqrt((0.001 / (2 * sqrt(3))) ** 2 / 4 + 0.002**2 / 3)
    assert value(case, "gasket-against-grade") == pytest.approx(-0.00175e-3)
    assert u(case, "gasket-against-grade") == pytest.approx(sqrt(scatter**2 + gauge**2) * 1e-3, rel=1e-3)
    assert found(case, "gasket-against-grade").doubt == ""


@pytest.mark.parametrize(
    ("thickness", "doubted"), [(0.600, False), (0.602, False), (0.604, True), (0.650, True)]
)
def test_gasket_that_measures_as_another_grade_is_doubted(thickness: float, doubted: bool) -> None:
    """Marked 0.55: beyond the middle to 0.65 by more than twice its uncertainty of 1.2 µm it is doubted."""
    doubt = found(changed(FOUR, _gasket(thickness)), "gasket-against-grade").doubt
    assert bool(doubt) == doubted
    if doubted:
        assert doubt.startswith(f"marked two notches, and measures {thickness:.3f} mm as grade three notches")


def test_gasket_of_an_unknown_grade_is_held_against_none() -> None:
    """Without a grade on sale there is nothing to compare with, and nothing is missing."""
    case = changed(FOUR, answers={"gasket-grade-fitted": ("five notches",)})
    assert "gasket-against-grade" not in {q.id for q in measure(case).quantities}
    assert lacking(case, "gasket-against-grade") == ()


def test_every_grade_has_its_uncertainty_and_its_worst_cylinder() -> None:
    """Cylinder 2 has the least deck and the smallest chamber: it sets gap and ratio of every grade."""
    scatter = sqrt((0.005**2 + 0.001**2 + 0.005**2 + 0.001**2) / 3 / 4) * 1e-3
    gauge = sqrt((0.002e-3 / (2 * sqrt(3))) ** 2 / 4 + (0.004e-3) ** 2 / 3)
    rows = measure(changed(FOUR)).gaskets
    assert rows
    for row in rows:
        assert (row.tightest and row.tightest.id, row.highest and row.highest.id) == ("2", "2")
        assert row.squish_u == pytest.approx(sqrt(scatter**2 + gauge**2), rel=1e-3)
        assert row.ratio_u is not None
        assert 0.04 < row.ratio_u < 0.06
