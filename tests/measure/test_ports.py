"""Checks the port angles of a kart engine against the crank turned by hand."""

from math import cos, radians, sin, sqrt

import pytest

from inspect_report.measure.measuring import measure
from inspect_report.measure.ports import LEVEL
from tests.measure.changed import KART, changed
from tests.measure.finds import found, lacking, u, value

MM, DECK = 1e-3, (0.212 + 0.216 + 0.206 + 0.204) / 4
LEVEL_DECK = {f"deck-height.1.{point}": None for point in ("front", "rear", "left", "right")}


def _height(angle: float, deck: float = DECK) -> float:
    """Where the piston's edge stands below the face [mm], 54.4 mm stroke and 110 mm rod."""
    turn = radians(angle)
    return 27.2 * (1 - cos(turn)) + 110 - sqrt(110**2 - (27.2 * sin(turn)) ** 2) + deck


@pytest.mark.parametrize("angle", [60.0, 82.0, 114.0, 150.0])
def test_port_opens_where_the_crank_puts_the_piston(angle: float) -> None:
    """A height worked out from an angle leads back to it; open twice from there to the bottom."""
    case = changed(KART, {"port-height.1.exhaust": _height(angle)})
    assert value(case, "port-opens.1.exhaust") == pytest.approx(angle, abs=1e-6)
    assert value(case, "port-duration.1.exhaust") == pytest.approx(2 * (180 - angle), abs=1e-6)
    assert found(case, "port-opens.1.exhaust").readings[:2] == (
        "port-height.1.exhaust",
        "deck-height.1.front",
    )


def test_uncertainty_of_an_angle() -> None:
    """
    At 82° the piston moves 0.448 mm a degree: caliper 0.02 mm steps and ±0.03, dial gauge 0.002 and ±0.004.

    dx/dθ = r sin θ + r² sin θ cos θ / sqrt(l² - r² sin² θ), per radian, by hand; four dial readings.
    """
    case = changed(KART, {"port-height.1.exhaust": _height(82.0)})
    slope = 27.2 * sin(radians(82)) + 27.2**2 * sin(radians(82)) * cos(radians(82)) / 106.651
    caliper = sqrt((0.02 / (2 * sqrt(3))) ** 2 + (0.03 / sqrt(3)) ** 2)
    dial = sqrt((0.002 / (2 * sqrt(3))) ** 2 / 4 + (0.004 / sqrt(3)) ** 2)
    by_hand = sqrt(caliper**2 + dial**2) / radians(slope)
    assert u(case, "port-opens.1.exhaust") == pytest.approx(by_hand, rel=2e-3)
    assert u(case, "port-duration.1.exhaust") == pytest.approx(2 * by_hand, rel=2e-3)


def test_blowdown_is_to_the_first_transfer() -> None:
    """Exhaust at 82°, transfers at 114 and 113: 31°; a boost port that opens sooner is no transfer."""
    heights = {"exhaust": 82.0, "transfer-left": 114.0, "transfer-right": 113.0, "boost": 110.0}
    case = changed(KART, {f"port-height.1.{port}": _height(a) for port, a in heights.items()})
    blowdown = found(case, "port-blowdown.1")
    assert blowdown.quantity.value == pytest.approx(31.0, abs=1e-6)
    assert blowdown.formula == "mechanics.ports.blowdown"
    assert blowdown.readings[:3] == (
        "port-height.1.exhaust", "port-height.1.transfer-left", "port-height.1.transfer-right",
    )  # fmt: skip


def test_caliper_error_falls_out_of_the_blowdown() -> None:
    """Exhaust and transfers are read with one caliper: what moves both alike moves the difference little."""
    case = changed(KART)
    assert u(case, "port-blowdown.1") < 0.6 * u(case, "port-opens.1.exhaust")


def test_deck_that_was_not_read() -> None:
    """Without readings the sheet's deck height is taken, without that a level piston; both within 0.3 mm."""
    printed = changed(KART, LEVEL_DECK, geometry={"deck_height": 0.5 * MM})
    level = changed(KART, LEVEL_DECK)
    height = 26.98
    assert value(printed, "port-opens.1.exhaust") == pytest.approx(_angle_of(height - 0.5), abs=1e-3)
    assert value(level, "port-opens.1.exhaust") == pytest.approx(_angle_of(height), abs=1e-3)
    assert "nominal deck height" in found(printed, "port-opens.1.exhaust").note
    assert LEVEL in found(level, "port-opens.1.exhaust").note
    slope = value(level, "port-duration.1.exhaust") - value(printed, "port-duration.1.exhaust")
    caliper = sqrt((0.02 / (2 * sqrt(3))) ** 2 + (0.03 / sqrt(3)) ** 2)
    by_hand = abs(slope) / 2 / 0.5 * sqrt(caliper**2 + (0.3 / sqrt(3)) ** 2)
    assert u(level, "port-opens.1.exhaust") == pytest.approx(by_hand, rel=5e-3)


def _angle_of(travel: float) -> float:
    low, high = 0.0, 180.0
    while high - low > 1e-9:
        middle = (low + high) / 2
        low, high = (middle, high) if _height(middle, 0.0) < travel else (low, middle)
    return low


def test_port_beyond_the_stroke_is_told_in_words() -> None:
    """A height larger than the stroke is a slip; the reason names what is allowed."""
    case = changed(KART, {"port-height.1.boost": 60.0})
    (reason,) = lacking(case, "port-opens")
    assert reason.position.id == "1.boost"
    assert reason.why.startswith("travel: found 0.0597905 m, allowed at least 0 m and at most 0.0544 m")


@pytest.mark.parametrize("port", ["exhaust", "transfer-left"])
def test_blowdown_needs_both_kinds_of_port(port: str) -> None:
    """Without the exhaust, or any transfer, there is none; one transfer is enough."""
    gone = {"port-height.1.exhaust": None} if port == "exhaust" else {
        "port-height.1.transfer-left": None, "port-height.1.transfer-right": None,
    }  # fmt: skip
    assert not [q for q in measure(changed(KART, gone)).quantities if q.characteristic == "port-blowdown"]
    one = changed(KART, {"port-height.1.transfer-left": None})
    assert value(one, "port-blowdown.1") == pytest.approx(
        value(one, "port-opens.1.transfer-right") - value(one, "port-opens.1.exhaust")
    )


def test_sheet_without_a_rod() -> None:
    """No rod length, no angle, and the reason says what is missing."""
    case = changed(KART, geometry={"rod_length": None})
    assert {r.why for r in lacking(case, "port-opens")} == {"rod length is not in the spec sheet"}
