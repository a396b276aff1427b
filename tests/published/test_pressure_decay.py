"""Air lost by a closed vessel: a works' air system, a rule for vacuum tests, and a library's integration."""

from math import pi, sqrt

import pytest
from scipy.integrate import solve_ivp

from inspect_report.mechanics.crankcase import Under, decay_leak_bore, free_air_loss
from inspect_report.mechanics.gasflow import nozzle_mass_flow
from tests.published.figures import PSI, rows

CUBIC_FOOT = 0.3048**3
ATMOSPHERE = 14.7 * PSI
GAS_CONSTANT = 287.05287


def _seconds(written: str) -> float:
    minutes, seconds = written.split(":")
    return 60.0 * float(minutes) + float(seconds)


def test_air_system_that_runs_empty() -> None:
    """
    NAVFAC MO-209 tables 5-3 and 5-4, page 0127 (seen): seven falls of 10 psi and the loss of each in scfm.

    The size of the system is not on the page; the first row gives it, the others must agree. Losses are
    printed to the last scfm, the times behind them to the second: 0.2 % of each loss.
    """
    table, began, volume = rows("leak_decay.csv"), 0.0, 0.0
    for row in table:
        ended, loss = _seconds(row["cumulative_min_sec"]), float(row["loss_scfm"])
        high, low = (float(row[name]) * PSI for name in ("pressure_from_psig", "pressure_to_psig"))
        unit = free_air_loss(high, low, ended - began, volume=1.0, reference_pressure=ATMOSPHERE)
        volume = volume or loss * CUBIC_FOOT / 60.0 / unit
        assert volume * unit * 60.0 / CUBIC_FOOT == pytest.approx(loss, rel=2e-3), row
        began = ended
    assert volume / CUBIC_FOOT == pytest.approx(629, abs=1)


def test_vacuum_test_of_a_regulation() -> None:
    """
    40 CFR 1065.644, the example (inputs seen): 2 l rise from 25.3 to 50.6 kPa absolute in 70 s at 293.15 K.

    Its answer, 0.00030 mol/s, stood in a picture and is from memory; by its formula it is 0.0002966.
    """
    flow = free_air_loss(
        101_325.0 - 25_300.0, 101_325.0 - 50_600.0, 70.0, volume=2e-3, temperature=293.15,
        reference_temperature=273.15, reference_pressure=101_325.0,
    )  # fmt: skip
    moles = flow * 101_325.0 / (8.314472 * 273.15)
    assert moles == pytest.approx(0.0020 / 8.314472 * (50_600 - 25_300) / 293.15 / 70.0, rel=1e-12)
    assert moles == pytest.approx(0.00030, abs=5e-6)


@pytest.mark.parametrize(
    ("under", "start", "seconds"),
    [("pressure", 40e3, 90.0), ("pressure", 3e5, 90.0), ("vacuum", 30e3, 90.0), ("vacuum", 80e3, 60.0)],
)
def test_hole_found_again(under: Under, start: float, seconds: float) -> None:
    """Scipy lets a vessel of 0.6 l run out through a hole of 0.1 mm, choked and not; the hole comes back."""
    bore, volume, air, temperature = 1e-4, 0.6e-3, 98e3, 300.0
    sign = 1.0 if under == "pressure" else -1.0

    def fall(_: float, p: list[float]) -> list[float]:
        inside = air + sign * p[0]
        flow = nozzle_mass_flow(bore, max(inside, air), min(inside, air), temperature=temperature)
        return [-flow * GAS_CONSTANT * temperature / volume]

    end = float(solve_ivp(fall, (0.0, seconds), [start], rtol=1e-10, atol=1e-6).y[0, -1])
    assert 0.0 < end < start
    found = decay_leak_bore(
        start, end, seconds, volume=volume, under=under, temperature=temperature, p_ambient=air
    )
    assert found == pytest.approx(bore, rel=1e-4)


def test_hole_of_a_short_test_by_hand() -> None:
    """
    Over a small fall the flow hardly changes: A = V Δp / (R T t G), with G from one-dimensional flow by hand.

    At 40 kPa over 100 kPa and 293.15 K: r = 1/1.4, G = 140e3 sqrt(7 / (287.05 * 293.15) (r^(2/1.4) -
    r^(2.4/1.4))) = 313.77 kg/(m² s), worked with a pocket calculator.
    """
    ratio = 1.0 / 1.4
    flux = 140e3 * sqrt(7.0 / (GAS_CONSTANT * 293.15) * (ratio ** (2 / 1.4) - ratio ** (2.4 / 1.4)))
    area = 0.6e-3 * 100.0 / (GAS_CONSTANT * 293.15 * 10.0 * flux)
    found = decay_leak_bore(40_050.0, 39_950.0, 10.0, volume=0.6e-3, p_ambient=100e3)
    assert found == pytest.approx(sqrt(4.0 * area / pi), rel=1e-5)
