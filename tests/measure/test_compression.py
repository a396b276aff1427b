"""Checks the compression quantities of a case against sums done by hand."""

from math import cos, log, pi, radians, sin, sqrt

import pytest

from inspect_report.measure.compression import AN_ESTIMATE
from inspect_report.measure.measuring import measure
from tests.cases import a_case, read, read_each
from tests.measure.changed import FOUR, KART, changed
from tests.measure.finds import found, lacking, u, value

DRY = read_each("compression-dry", {1: 12.0, 2: 9.0, 3: 12.6, 4: 11.4})


def test_spread_is_below_the_best() -> None:
    """Best 12.6 bar: 9.0 lies 3.6/12.6 below it, the best 0."""
    case = a_case(*DRY)
    assert value(case, "compression-spread.2") == pytest.approx(3.6 / 12.6)
    assert value(case, "compression-spread.3") == 0.0


def test_spread_carries_the_gauges_error_only_in_proportion() -> None:
    """The common ±0.4 bar moves 9.0 and 12.6 alike: (p - b)/b changes by (b - p)/b² of it."""
    step, error = 0.2 / (2 * sqrt(3)), 0.4 / sqrt(3)
    own = step * sqrt((1 / 12.6) ** 2 + (9.0 / 12.6**2) ** 2)
    shared = error * 3.6 / 12.6**2
    assert u(a_case(*DRY), "compression-spread.2") == pytest.approx(sqrt(own**2 + shared**2), rel=1e-3)


def test_spread_of_part_of_the_cylinders_is_told_for_those() -> None:
    """A cylinder that was not read has no spread; the others are held against the best read."""
    case = a_case(*DRY[:2])
    assert value(case, "compression-spread.2") == pytest.approx(0.25)
    reasons = [r.why for r in lacking(case, "compression-spread")]
    assert reasons == [f"compression dry not read on cylinder {n}" for n in (3, 4)]


def test_wet_gain_is_the_rise_over_dry() -> None:
    """From 9.0 to 11.7 bar: 30 per cent more."""
    case = a_case(*DRY, read("compression-wet.2", 11.7))
    assert value(case, "wet-gain.2") == pytest.approx(0.3)
    assert found(case, "wet-gain.2").readings == ("compression-dry.2", "compression-wet.2")


def test_missing_wet_reading_is_named_with_its_cylinder() -> None:
    """Where one cylinder's wet reading is missing, the reason says which."""
    wet = read_each("compression-wet", {1: 12, 3: 13, 4: 12})
    assert [r.why for r in lacking(a_case(*DRY, *wet), "wet-gain")] == [
        "compression wet not read on cylinder 2"
    ]


def test_corrected_reading_names_its_method() -> None:
    """At 5000 ft the pressure ratio is 0.832 (trade handbooks): 10.4 bar there is 12.5 bar at sea level."""
    case = a_case(*read_each("compression-dry", {1: 10.4}), conditions={"altitude": "5000 ft"})
    assert value(case, "compression-corrected.1") == pytest.approx(10.4e5 / 0.832, rel=1e-3)
    assert "pressure ratio" in found(case, "compression-corrected.1").note


def test_reading_of_nothing_has_no_gain() -> None:
    """A dry reading of 0 gives a reason in words instead of a division by zero."""
    case = a_case(*read_each("compression-dry", {1: 0}), read("compression-wet.1", 3))
    (reason, *_) = lacking(case, "wet-gain")
    assert reason.why == "dry: found 0 Pa, allowed above 0 Pa, so no value can be stated"


def test_corrected_reading_carries_gauge_and_barometer() -> None:
    """Relative doubts of gauge (±0.4 bar, 0.2 bar steps) and barometer (±1 hPa) add in squares."""
    case = a_case(*read_each("compression-dry", {1: 10.0}), conditions={"ambient-pressure": 900})
    gauge = sqrt((0.2 / (2 * sqrt(3))) ** 2 + (0.4 / sqrt(3)) ** 2) / 10
    relative = sqrt(gauge**2 + (1 / sqrt(3) / 900) ** 2)
    corrected = found(case, "compression-corrected.1").quantity
    assert corrected.value == pytest.approx(10e5 * 1013.25 / 900)
    assert corrected.u / corrected.value == pytest.approx(relative, rel=1e-3)


def test_altitude_alone_leaves_the_weather_in_doubt() -> None:
    """At an altitude nobody read the barometer at, weather is worth ±20 hPa; nothing noted, ±60 hPa."""
    dry = read_each("compression-dry", {1: 10.0})
    read_, high, unknown = (
        u(a_case(*dry, conditions=day), "compression-corrected.1")
        for day in ({"ambient-pressure": 1013.25}, {"altitude": 0}, {})
    )
    assert high**2 - read_**2 == pytest.approx((10e5 / 1013.25) ** 2 * (20**2 - 1) / 3, rel=2e-3)
    assert unknown**2 - read_**2 == pytest.approx((10e5 / 1013.25) ** 2 * (60**2 - 1) / 3, rel=5e-3)


def test_density_is_the_other_way_and_is_named() -> None:
    """1500 m and 30 °C: by density 11 % more than by pressure times 303.15 / 288.15; each says what it is."""
    case = changed(FOUR, altitude=1500, ambient_temperature=30)
    by_pressure, by_density = (found(case, f"compression-{name}.1") for name in ("corrected", "by-density"))
    assert by_density.quantity.value / by_pressure.quantity.value == pytest.approx(303.15 / 288.15)
    assert "by the pressure ratio" in by_pressure.note
    assert "by the density ratio" in by_density.note
    assert "858 hPa by altitude 1500 m and 30 °C" in by_density.note
    assert "air 30 °C as read" in by_density.note
    assert by_density.quantity.u > 0.0


def test_engine_at_the_test_is_kept_with_every_compression_reading() -> None:
    """Answered for the test; the dry gauge as it stands has it too, a bore reading has none."""
    for name in ("compression-dry.1", "compression-corrected.1", "compression-by-density.1"):
        assert found(changed(FOUR), name).engine == "hot"
        assert found(changed(FOUR, answers={"compression-engine": ("cold",)}), name).engine == "cold"
        assert found(changed(FOUR, answers={"compression-engine": None}), name).engine == "cold"
    assert found(changed(FOUR), "valve-clearance.1.inlet-1").engine == ""


def test_against_the_mean() -> None:
    """12.0, 9.0, 12.6 and 11.4 bar have the mean 11.25; the four deviations cancel."""
    case = a_case(*DRY, books=changed(FOUR).books)
    values = [value(case, f"compression-about-mean.{n}") for n in (1, 2, 3, 4)]
    assert values == pytest.approx([0.75 / 11.25, -2.25 / 11.25, 1.35 / 11.25, 0.15 / 11.25])
    assert sum(values) == pytest.approx(0.0, abs=1e-12)
    assert found(case, "compression-about-mean.2").note == "against the mean of 4 cylinders"
    alone = changed(FOUR, {f"compression-dry.{n}": None for n in (2, 3, 4)})
    (reason,) = lacking(alone, "compression-about-mean")
    assert "compression read on one cylinder only" in reason.why


def test_single_has_none_to_differ_from() -> None:
    """A kart's one cylinder has neither mean nor best, and that is no fault of the inspection."""
    (reason,) = lacking(changed(KART), "compression-about-mean")
    assert (reason.why, reason.applies) == (
        "the engine has one cylinder, which has none to differ from",
        False,
    )


def _trapped(ratio: float, closes: float, bore: float, stroke: float, rod: float) -> float:
    """Effective ratio by the crank's geometry, lengths in mm, angle after bottom dead centre."""
    r, turn = stroke / 2, radians(180 + closes)
    down = r * (1 - cos(turn)) + rod - sqrt(rod**2 - (r * sin(turn)) ** 2)
    swept = pi / 4 * bore**2 * stroke
    clearance = swept / (ratio - 1)
    return (pi / 4 * bore**2 * down + clearance) / clearance


def test_estimate_of_a_two_stroke_counts_from_the_exhaust_port() -> None:
    """54 by 54.4 mm, rod 110 mm, 13.9 to 1, exhaust open 82° after the top: closed 98° after the bottom."""
    found_ = found(changed(KART), "compression-estimate.1")
    trapped = _trapped(13.9, 98.0, 54.0, 54.4, 110.0)
    assert found_.quantity.value == pytest.approx(100_900 * (trapped**1.3 - 1))
    assert found_.formula == "mechanics.slidercrank.cranking_pressure_estimate"
    assert AN_ESTIMATE in found_.note
    assert "never a limit" in found_.note
    assert f"effective ratio {trapped:.2f} of 13.90, exhaust port closing 98°" in found_.note
    assert "exponent 1.3" in found_.note


def test_estimate_takes_the_ratio_that_was_measured() -> None:
    """Chamber, gasket and deck were read: each cylinder has its own ratio, closing at 55°, 1004 hPa."""
    case = changed(FOUR)
    for n in (1, 2, 3, 4):
        ratio = value(case, f"compression-ratio.{n}")
        trapped = _trapped(ratio, 55.0, 67.0, 42.5, 91.0)
        estimate = found(case, f"compression-estimate.{n}")
        assert estimate.quantity.value == pytest.approx(100_400 * (trapped**1.3 - 1))
        assert f"chamber-volume.{n}" in estimate.readings
        assert estimate.readings[-1] == f"compression-dry.{n}"


def test_estimate_is_honest_about_itself() -> None:
    """
    Exponent ±0.075, closing ±3°, ratio ±3 %, barometer ±1 hPa: worked out by small differences.

    The exponent alone, p_a r^n ln r times 0.075/√3, makes about a tenth of it.
    """
    quantity = found(changed(KART), "compression-estimate.1").quantity

    def estimate(ratio: float = 13.9, closes: float = 98.0, air: float = 100_900.0, n: float = 1.3) -> float:
        return float(air * (_trapped(ratio, closes, 54.0, 54.4, 110.0) ** n - 1))

    h = 1e-5
    slopes = (
        (estimate(ratio=13.9 + h) - estimate()) / h * 0.03 * 13.9,
        (estimate(closes=98 + h) - estimate()) / h * 3.0,
        (estimate(air=100_900 + 1) - estimate()) * 100.0,
        100_900
        * _trapped(13.9, 98, 54.0, 54.4, 110.0) ** 1.3
        * log(_trapped(13.9, 98, 54, 54.4, 110))
        * 0.075,
    )
    by_hand = sqrt(sum(s * s for s in slopes) / 3)
    assert quantity.u == pytest.approx(by_hand, rel=5e-3)
    assert quantity.u / quantity.value > 0.08
    lines = {line.name: line.u for line in found(changed(KART), "compression-estimate.1").budget}
    assert lines == pytest.approx({
        "nominal compression ratio": 0.03 * 13.9 / sqrt(3), "exhaust port closing": 3.0 / sqrt(3),
        "air pressure": 100.0 / sqrt(3), "exponent": 0.075 / sqrt(3),
    })  # fmt: skip


@pytest.mark.parametrize("missing", ["inlet_closes", "rod_length"])
def test_sheet_that_lacks_a_dimension_gives_no_estimate(missing: str) -> None:
    """What the sheet does not print is not held against the inspector: no estimate, and no gap."""
    case = changed(FOUR, geometry={missing: None})
    assert not [q for q in measure(case).quantities if q.characteristic == "compression-estimate"]
    assert lacking(case, "compression-estimate") == ()


def test_estimate_stands_beside_a_reading() -> None:
    """Where compression was not read there is nothing to compare with."""
    case = changed(KART, {"compression-dry.1": None})
    assert [r.why for r in lacking(case, "compression-estimate")] == ["compression dry not read"]


def test_ratio_by_the_sheet_where_no_volume_was_read() -> None:
    """Without chamber and deck readings the printed ratio counts, and says it is nominal."""
    gone = {f"chamber-volume.{n}": None for n in (1, 2, 3, 4)} | {
        f"deck-height.{n}.{p}": None for n in (1, 2, 3, 4) for p in (1, 2, 3, 4)
    }
    case = changed(FOUR, gone, geometry={"compression_ratio": 11.9})
    estimate = found(case, "compression-estimate.2")
    assert "of 11.90" in estimate.note
    assert estimate.readings == ("compression-dry.2",)
    assert next(line.name for line in estimate.budget) == "nominal compression ratio"
