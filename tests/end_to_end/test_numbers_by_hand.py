"""
Turns the JSON of sample reports into checks against numbers worked out by hand.

Every number below was worked out from the readings outside the program, by the formulas written beside it.
Standard uncertainty: a step d of a scale gives d/(2√3), a permissible error ±a gives a/√3 (rectangular
distributions, JCGM 100:2008 4.3.7, from memory); the permissible error is common to all readings of one
gauge. Geometry and the flow of a perfect gas through a nozzle are textbook; all else is common practice.
"""

import json
import subprocess
import sys
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

import pytest

from tests.samples import SAMPLES

FOUR: Final = "inline-four-strip.yaml"
KART: Final = "kart-two-stroke.yaml"
RACER: Final = "race-team/c-5.yaml"


@cache
def report(name: str) -> Mapping[str, Any]:
    """The report of a sample as the command writes it."""
    with TemporaryDirectory() as out:
        command = [sys.executable, "-m", "inspect_report", "report", str(SAMPLES / name)]
        subprocess.run([*command, "--out", out, "--only", "json"], check=True, capture_output=True)
        (written,) = Path(out).glob("*.json")
        found: Mapping[str, Any] = json.loads(written.read_text(encoding="utf-8"))
        return found


def at(entries: list[dict[str, Any]], characteristic: str, *labels: str) -> Mapping[str, Any]:
    """The one entry of a characteristic at a place."""
    here = [e for e in entries if e["characteristic"] == characteristic]
    (entry,) = (e for e in here if e["position"]["labels"] == list(labels))
    return entry


def measured(name: str, characteristic: str, *labels: str, scale: float = 1.0) -> list[float]:
    """Value and standard uncertainty of a quantity: SI times ``scale``."""
    found = at(report(name)["measured"]["quantities"], characteristic, *labels)["quantity"]
    return [scale * found["value"], scale * found["u"]]


def value(name: str, characteristic: str, *labels: str, scale: float = 1.0) -> float:
    """Value of a quantity: SI times ``scale``."""
    return measured(name, characteristic, *labels, scale=scale)[0]


def finding(name: str, characteristic: str, *labels: str) -> Mapping[str, Any]:
    """A finding of a report."""
    return at(report(name)["judged"]["findings"], characteristic, *labels)


def test_leak_down_and_its_spread() -> None:
    """
    Cylinder 3 loses 27.33 %, 21.67 % more than cylinder 1.

    100 (6.00 - 4.36)/6.00 = 27.333; u of either gauge of the tester √((0.06/√3)² + (0.02/2√3)²) = 0.03512;
    two gauges, so u = 100 √((0.03512/6)² + (4.36 · 0.03512/36)²) = 0.7235.
    Spread 100 (5.66 - 4.36)/6.00 = 21.667: the cylinder gauge's own error is in both and drops out, its step
    is in both: 100 √(2 (0.005774/6)² + (1.30 · 0.03512/36)²) = 0.1862.
    """
    assert measured(FOUR, "leak-down", "3", scale=100) == pytest.approx([27.333, 0.7235], rel=1e-3)
    assert measured(FOUR, "leak-down-spread", scale=100) == pytest.approx([21.667, 0.1862], rel=1e-3)


def test_leak_as_a_hole_and_its_flow() -> None:
    """
    The leak of cylinder 3 is a hole of 1.063 mm and loses 57.0 l/min of free air.

    Absolute: 7.004, 5.364, air 1.004 bar. Tester: ratio r = 0.76585, above 0.5283, so the flow by area is
    √(2γ/(γ-1)) · √(r^(2/γ) - r^((γ+1)/γ)) = 2.64575 · 0.22390 = 0.59239 of p/√(RT), times 7.004: 4.1491.
    Leak: ratio 0.187, choked: √γ · 0.57870 = 0.68473, times 5.364: 3.6729. Bore √(4.1491/3.6729) = 1.0628.
    At 290.15 K √(RT) = 288.60 m/s; flow 0.68473 · 536400/288.60 · π/4 · (1.0628e-3)² = 1.1291e-3 kg/s; by
    1.1884 kg/m³ at 20 °C and 100 kPa: 0.9501e-3 m³/s.
    """
    assert value(FOUR, "leak-bore", "3", scale=1e3) == pytest.approx(1.0628, rel=1e-4)
    assert value(FOUR, "leak-flow", "3", scale=60_000) == pytest.approx(57.0, abs=0.05)


def test_compression_below_the_best_and_wet_gain() -> None:
    """
    Cylinder 3 lies 20.34 % below cylinder 4 and gains 22.34 % from oil.

    1 - 9.4/11.8 = 0.20339; 11.5/9.4 - 1 = 0.22340. Steps u = 0.1/2√3 = 0.02887, gauge error 0.2/√3 = 0.11547
    common to both. Gain: steps √((1/9.4)² + (11.5/9.4²)²) · 0.02887 = 0.004853; common
    (1/9.4 - 11.5/9.4²) · 0.11547 = -0.002744; together 0.005575.
    """
    assert value(FOUR, "compression-spread", "3") == pytest.approx(0.20339, abs=1e-5)
    assert measured(FOUR, "wet-gain", "3") == pytest.approx([0.22340, 0.005575], rel=1e-3)


def test_chain_elongation_and_what_it_does_to_the_inlet_camshaft() -> None:
    """
    The chain is 1.018 % long, so the inlet camshaft runs 7.11 crank degrees late.

    Mean of 128.28, 128.34, 128.26 = 128.2933; 20 · 6.35 = 127.00: 0.010184. Scatter
    √((0.01333² + 0.04667² + 0.03333²)/2) = 0.04163, over √3: 0.02404; u of the mean
    √((0.03/√3)² + (0.02/2√3)²/3 + 0.02404²) = 0.02981 mm, over 127: 0.0002348.
    Pitch radius 6.35/(2 sin(180°/34)) = 6.35/0.184537 = 34.410 mm; strand 33 · 6.35 = 209.55 mm;
    2 · 0.010184 · 209.55/34.410 = 0.124036 rad = 7.107°.
    """
    assert measured(FOUR, "chain-elongation") == pytest.approx([0.010184, 0.0002348], rel=1e-3)
    assert value(FOUR, "cam-retard", "inlet") == pytest.approx(7.107, abs=2e-3)


def test_exhaust_lobe_centre_is_too_near_its_limit_to_say() -> None:
    """
    Centre 104.5°, limit 105°: beyond it with a probability of 94.9 % only, short of the 95 % asked for.

    (180 + 38.5 + 9.5)/2 - 9.5 = 104.5. A disc set wrong moves both edges of the lobe the same way round, and
    the centre with them: u = √((0.5/√3)² + (0.5/2√3)²/2) = √(0.08333 + 0.01042) = 0.3062. The limit is
    0.5/0.3062 = 1.633 away; the normal table has 0.9488 there.
    """
    assert measured(FOUR, "cam-lobe-centre", "exhaust") == pytest.approx([104.5, 0.3062], rel=1e-3)
    found = finding(FOUR, "cam-lobe-centre", "exhaust")
    assert found["verdict"] == "undecided"
    assert found["inside"] == pytest.approx(1 - 0.9488, abs=2e-4)


def test_squish_ratio_and_gasket() -> None:
    """
    Cylinder 3: squish gap 0.70825 mm, ratio 11.973; to fit on all: the grade with two notches.

    Gasket (0.547 + 0.552 + 0.549 + 0.545)/4 = 0.54825, deck (0.156 + 0.162 + 0.158 + 0.164)/4 = 0.160 mm.
    Swept π/4 · 6.7² · 4.25 = 149.840 cm³; clearance 12.6 + π/4 · 6.8² · 0.054825 + π/4 · 6.7² · 0.0160 - 1.5
    = 12.6 + 1.9911 + 0.5641 - 1.5 = 13.6552; 1 + 149.840/13.6552 = 11.9731.
    Least deck 0.145 (cylinder 2): gaps 0.645, 0.695, 0.795; thinnest at or above 0.65 is the second.
    """
    assert value(FOUR, "squish-gap", "3", scale=1e3) == pytest.approx(0.70825, abs=1e-6)
    assert value(FOUR, "compression-ratio", "3") == pytest.approx(11.973, abs=1e-3)
    rows = report(FOUR)["measured"]["gaskets"]
    assert [1e3 * row["squish"] for row in rows] == pytest.approx([0.645, 0.695, 0.795])
    assert [row["grade"] for row in rows if row["chosen"]] == ["two notches"]


def test_bore_of_cylinder_three() -> None:
    """
    Wear 0.096 mm, taper 0.080 mm, 0.044 mm out of round; wear has used 124.6 % of its allowance.

    Largest (67.096 + 67.097 + 67.095)/3 = 67.096 over 67.000; top less bottom across 67.096 - 67.016; top
    across less along 67.096 - 67.052. u of the wear √((0.003/√3)² + (0.001/2√3)² + (0.001/√3)²) = 0.001848;
    of the taper, free of the gauge's error, √(2 · 0.0002887² + 0.000577²) = 0.000707.
    Standard up to 0.015, limit 0.080: (0.096 - 0.015)/(0.080 - 0.015) = 1.2462.
    """
    assert measured(FOUR, "bore-wear", "3", scale=1e3) == pytest.approx([0.096, 0.001848], rel=1e-3)
    assert measured(FOUR, "bore-taper", "3", scale=1e3) == pytest.approx([0.080, 0.000707], rel=1e-3)
    assert value(FOUR, "bore-out-of-round", "3", scale=1e3) == pytest.approx(0.044)
    assert finding(FOUR, "bore-wear", "3")["used"] == pytest.approx(1.2462, abs=1e-4)


def test_piston_clearance_of_cylinder_three_is_not_decided() -> None:
    """
    0.098 mm with a limit of 0.100 mm is inside with 79 % probability: not decided at 95 %.

    67.032 - 66.934; u of either gauge √(0.003²/3 + 0.001²/12) = 0.001756, of both 0.002483;
    0.002/0.002483 = 0.8055; the normal table has 0.7897 there.
    """
    assert measured(FOUR, "piston-clearance", "3", scale=1e3) == pytest.approx([0.098, 0.002483], rel=1e-3)
    found = finding(FOUR, "piston-clearance", "3")
    assert found["verdict"] == "undecided"
    assert found["inside"] == pytest.approx(0.7897, abs=2e-4)


def test_shims_of_the_two_valves_to_set() -> None:
    """
    Exhaust 1 of cylinder 2 gets 1.950, exhaust 2 of cylinder 4 gets 2.175; gaps 0.255 and 0.248 mm.

    Aim (0.20 + 0.29)/2 = 0.245. 2.175 + 0.03 - 0.245 = 1.960, nearest sold 1.950: gap 0.03 + 2.175 - 1.950.
    The other 2.223 + 0.20 - 0.245 = 2.178, nearest 2.175, the one just taken out: gap 0.20 + 2.223 - 2.175.
    The workshop's box has 1.950 and not 2.175.
    """
    changed = [s for s in report(FOUR)["measured"]["shims"] if s["change"]]
    assert [s["position"]["labels"] for s in changed] == [["2", "exhaust-1"], ["4", "exhaust-2"]]
    assert [1e3 * s["size"] for s in changed] == pytest.approx([1.950, 2.175])
    assert [s["source"] for s in changed] == ["box", "moved"]
    assert [1e3 * s["predicted"] for s in changed] == pytest.approx([0.255, 0.248])


def test_crankcase_of_the_kart() -> None:
    """
    The crankcase loses 9.75 kPa a minute, with a standard uncertainty of 0.105.

    (40.0 - 20.5)/2. The gauge's error drops out of the difference; steps √2 · 0.5/2√3 = 0.20412 over 2 min
    give 0.10206; the watch √((0.5/√3)² + (0.2/2√3)²) = 0.29439 s = 0.0049065 min gives 9.75 · 0.0049065/2 =
    0.02392; together 0.10483.
    """
    found = measured(KART, "crankcase-pressure-loss", "1", scale=60 / 1000)
    assert found == pytest.approx([9.75, 0.10483], rel=1e-3)


def test_vacuum_test_of_the_kart() -> None:
    """
    Under vacuum the crankcase takes in 88.5 cm³ of free air a minute, through a hole of 0.108 mm.

    480 cm³ · (30.0 - 11.5) kPa / 1 min / 100 kPa · 293.15/294.15 = 88.498. Hole: V Δp / (R T t) = 480e-6 ·
    18500 / (287.05 · 294.15 · 60) = 1.7528e-6 kg/s. Flow G = 100900 √(7/(R T) (r^1.42857 - r^1.71429)) under
    30.0, 20.75 and 11.5 kPa of vacuum: 221.12, 196.65 and 155.34 kg/(m² s); mean of 1/G by Simpson's rule
    1/191.69; area 9.1440e-9 m², bore 0.1079 mm. The rule of three points is good to 0.2 %.
    """
    assert value(KART, "crankcase-vacuum-flow", "1", scale=60e6) == pytest.approx(88.498, rel=1e-4)
    assert value(KART, "crankcase-vacuum-bore", "1", scale=1e3) == pytest.approx(0.1079, rel=2e-3)


def test_ports_of_the_kart() -> None:
    """
    The exhaust opens 82.0° after the top, 31.9° before the first transfer.

    Piston edge (0.212 + 0.216 + 0.206 + 0.204)/4 = 0.2095 below the face. Exhaust: s = 137.2 - 26.7705 =
    110.4295; cos = (s² + 27.2² - 110²)/(54.4 s) = 0.138915: 82.015°. Transfer right: s = 96.1095, cos =
    -0.406079: 113.959°.
    """
    assert value(KART, "port-opens", "1", "exhaust") == pytest.approx(82.015, abs=2e-3)
    assert value(KART, "port-duration", "1", "exhaust") == pytest.approx(195.97, abs=4e-3)
    assert value(KART, "port-blowdown", "1") == pytest.approx(31.944, abs=2e-3)


def test_compression_to_expect_of_the_kart() -> None:
    """
    A sound kart would show some 12.5 bar; the estimate says so of itself.

    From the exhaust port, 98° after the bottom: piston 26.763 mm from the top; 1 + 12.9 · 26.763/54.4 =
    7.3463; 1.009 bar · (7.3463^1.3 - 1) = 12.474.
    """
    found = at(report(KART)["measured"]["quantities"], "compression-estimate", "1")
    assert found["quantity"]["value"] / 1e5 == pytest.approx(12.474, abs=2e-3)
    assert "never a limit" in found["note"]


def test_leak_on_the_reference_tester() -> None:
    """
    The leak of cylinder 3, found at 1004 hPa, reads 27.37 % on the workshop's tester at 1013.25 hPa.

    Both nozzles flow as they do but for 9.25 hPa: the hole of 1.0628 mm chokes, the orifice of 1 mm does not.
    1.0628² · 0.68473 p_c = G(7.01325, p_c) is met at 4.3579 bar over the air: (6 - 4.3579)/6 = 27.37 %.
    """
    assert value(FOUR, "leak-down-reference", "3", scale=100) == pytest.approx(27.37, abs=0.005)
    assert finding(FOUR, "leak-down", "3")["engine"] == "hot"


def test_forecast_of_the_race_engine() -> None:
    """
    Rod side clearance meets 0.70 mm at 69.7 h of the crankshaft, between 64.9 and 75.6 h.

    0.39, 0.47, 0.52, 0.59, 0.64 mm at 32, 40, 48, 55, 63 h: means 47.6 and 0.522, sum of squares 593.2, of
    products 4.774, slope 0.0080479 mm/h; (0.70 - 0.522)/0.0080479 + 47.6 = 69.718. Left over: 0.03868 -
    4.774²/593.2 = 0.00025944 over 3, so s = 0.0092995; Student's t for 3 and 97.5 % is 3.182 (from memory).
    0.522 + 0.0080479 d ± 3.182 s √(1.2 + d²/593.2) = 0.70 at d = 17.32 and 27.95, so at 64.92 and 75.55 h.
    """
    trend = at(report(RACER)["judged"]["trends"], "big-end-side-clearance", "1")
    assert trend["slope"] * 3600 * 1e3 == pytest.approx(0.0080479, rel=1e-4)
    hours = [trend[key] / 3600 for key in ("meets_early", "meets_limit", "meets_late")]
    assert hours == pytest.approx([64.92, 69.718, 75.55], abs=0.02)


def test_score_of_the_race_engine() -> None:
    """
    Crankshaft 41.27, engine 57.6 of 100.

    Left of the allowance: side clearance 1 - (0.64 - 0.35)/(0.70 - 0.35) = 0.17143, weight 4; up and down
    1 - (0.034 - 0.020)/(0.050 - 0.020) = 0.53333, weight 8: (0.68571 + 4.26667)/12 = 0.41270. Engine: sealing
    20.00 (8), valves 100 (6), chain 100 (5), cylinder 55.43 (8), crankshaft 41.27 (9): 2074.8/36 = 57.63.
    """
    grades = {g["assembly"]: g["score"] for g in report(RACER)["judged"]["grades"]}
    assert grades["crankshaft-and-rods"] == pytest.approx(41.270, abs=1e-3)
    assert report(RACER)["judged"]["engine"]["score"] == pytest.approx(57.63, abs=0.01)
