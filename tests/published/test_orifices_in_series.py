"""The leak behind a tester's orifice against solutions by general libraries of numbers and of fluids."""

import math

import numpy as np
import pytest
from fluids.safety_valve import API520_A_g
from scipy.optimize import brentq

from inspect_report.mechanics.gasflow import (
    cylinder_pressure,
    equivalent_leak_bore,
    leak_area,
    nozzle_mass_flow,
    reference_tester_percent,
)
from inspect_report.mechanics.metrology import contributions
from tests.published.figures import INCH, PSI, rows

BAR = 1e5


def test_leaks_computed_in_psi() -> None:
    """Readings from 1 to 94 %, choked and not, solved by scipy's brentq; six figures given: 1e-5."""
    table = rows("orifices_in_series_psi.csv")
    for row in table:
        bore = equivalent_leak_bore(
            float(row["supply_psig"]) * PSI,
            float(row["cyl_psig"]) * PSI,
            tester_bore=float(row["master_d_in"]) * INCH,
            p_ambient=float(row["atm_psia"]) * PSI,
        )
        assert bore * 1e3 == pytest.approx(float(row["leak_d_mm"]), rel=1e-5), row
    assert len(table) == 28


def test_leaks_computed_in_bar() -> None:
    """Sixteen readings in metric units, two of them at 1000 m; six figures given: 1e-5."""
    table = rows("orifices_in_series_bar.csv")
    for row in table:
        supply, cylinder, ambient = (
            float(row[name]) * BAR for name in ("supply_barg", "cyl_barg", "atm_bara")
        )
        tester = float(row["master_d_mm"]) * 1e-3
        area = leak_area(supply, cylinder, tester_bore=tester, p_ambient=ambient)
        assert area / (np.pi / 4 * tester**2) == pytest.approx(float(row["area_ratio"]), rel=1e-5), row
    assert len(table) == 16


def test_bore_over_arrays_is_bore_one_by_one() -> None:
    """The whole table in one call gives what each row gives alone."""
    table = [row for row in rows("orifices_in_series_bar.csv") if row["atm_bara"] == "1.01325"]
    supply, cylinder, expected = (
        np.array([float(row[name]) for row in table]) for name in ("supply_barg", "cyl_barg", "leak_d_mm")
    )
    bores = equivalent_leak_bore(supply * BAR, cylinder * BAR, tester_bore=1e-3)
    np.testing.assert_allclose(bores * 1e3, expected, rtol=1e-5)


@pytest.mark.parametrize("cylinder", [0.05, 0.8, 3.0, 5.4, 5.95])
def test_leak_by_a_relief_valve_standard(cylinder: float) -> None:
    """API 520 gas sizing in `fluids`, all factors 1: its printed constants are rounded, so 5e-4 in bore."""
    hot, ambient, tester = 293.15, 101_325.0, 1e-3
    behind = cylinder * BAR + ambient
    flow = nozzle_mass_flow(tester, 6 * BAR + ambient, behind, temperature=hot)
    # The standard's method for gas takes the flow in kg/s and the molar mass in g/mol.
    area = API520_A_g(
        m=flow, T=hot, Z=1.0, MW=8314.462618 / 287.05287, k=1.4, P1=behind, P2=ambient, Kd=1, Kb=1, Kc=1
    )
    bore = equivalent_leak_bore(6 * BAR, cylinder * BAR, tester_bore=tester)
    assert bore == pytest.approx((4 * area / np.pi) ** 0.5, rel=5e-4)


@pytest.mark.parametrize(("leak", "psig"), [(0.25, 79.919), (0.5, 78.714), (1.0, 62.699), (2.0, 9.988)])
def test_reading_of_a_known_leak(leak: float, psig: float) -> None:
    """Computed with scipy: 80 psig supply, 1.016 mm tester orifice, 14.6959 psia; printed to 0.001 psi."""
    found = cylinder_pressure(leak * 1e-3, p_supply=80 * PSI, tester_bore=1.016e-3, p_ambient=14.6959 * PSI)
    assert found / PSI == pytest.approx(psig, abs=0.0006)


def test_inverse_agrees_with_a_library_root() -> None:
    """Scipy's brentq on our forward formula finds the pressure our own halving finds."""

    def too_small(cylinder: float) -> float:
        return equivalent_leak_bore(6 * BAR, cylinder, tester_bore=1e-3) - 0.8e-3

    ours = cylinder_pressure(0.8e-3, p_supply=6 * BAR, tester_bore=1e-3)
    assert ours == pytest.approx(brentq(too_small, 1.0, 6 * BAR - 1.0, xtol=1e-6), abs=1e-3)


@pytest.mark.parametrize(
    ("supply", "tester", "percent"),
    [
        (6, 0.5, 71.2), (6, 0.8, 22.5), (6, 1.0, 10.31), (6, 1.5, 2.18), (3, 1.0, 11.79), (10, 1.0, 9.71),
    ],
)  # fmt: skip
def test_one_leak_on_many_testers(supply: float, tester: float, percent: float) -> None:
    """Computed with scipy: the same 0.8 mm hole reads 2 to 71 %, by the tester; printed to the last digit."""
    found = reference_tester_percent(0.8e-3, p_supply=supply * BAR, tester_bore=tester * 1e-3)
    assert found == pytest.approx(percent, abs=0.06 if percent > 20 else 0.006)


def test_sensitivities_of_the_bore() -> None:
    """Computed with `uncertainties` at 70/80 psig, 1.016 mm, in mm per psi and per mm, to the last digit."""
    inputs = [80 * PSI, 70 * PSI, 1.016e-3, 14.6959 * PSI]
    units = np.array([PSI, PSI, 1e-3, PSI])

    def bore(supply: float, cylinder: float, tester: float, ambient: float) -> float:
        return equivalent_leak_bore(supply, cylinder, tester_bore=tester, p_ambient=ambient)

    found = contributions(bore, inputs, units, step=1e-4) * 1e3
    np.testing.assert_allclose(found, [0.021172, -0.023672, 0.84065, -0.0025], atol=6e-6, rtol=6e-6)


@pytest.mark.parametrize(
    ("supply", "cylinder", "tester"),
    [(80, 75, 0.040), (80, 60, 0.040), (80, 40, 0.040), (80, 10, 0.040), (100, 90, 0.040), (80, 70, 0.060)],
)
def test_elliptic_curve_of_pneumatics(supply: float, cylinder: float, tester: float) -> None:
    """
    ISO 6358 (form from memory): flow falls on a quarter ellipse from the critical ratio b = 0.528 to 1.

    Such a pair of orifices gives a leak bore within -0.17 and +0.07 % of the exact flow's (computed).
    """

    def conductance(up: float, down: float) -> float:
        ratio = max(down / up, 0.528)
        return up * math.sqrt(1 - ((ratio - 0.528) / (1 - 0.528)) ** 2)

    ambient = 14.6959 * PSI
    up, behind = supply * PSI + ambient, cylinder * PSI + ambient
    elliptic = tester * INCH * (conductance(up, behind) / conductance(behind, ambient)) ** 0.5
    exact = equivalent_leak_bore(supply * PSI, cylinder * PSI, tester_bore=tester * INCH, p_ambient=ambient)
    assert -0.0018 < elliptic / exact - 1 < 0.0008


def test_same_leak_at_a_thousand_metres() -> None:
    """Computed with scipy: the leak that holds 70 psig at sea level holds 70.175 psig at 1000 m."""
    found = cylinder_pressure(0.85410e-3, p_supply=80 * PSI, tester_bore=1.016e-3, p_ambient=0.898746 * BAR)
    assert found / PSI == pytest.approx(70.175, abs=0.002)


@pytest.mark.parametrize(("cylinder", "mass"), [(70.0, 788.24), (10.0, 1247.10)])
def test_air_through_the_master_orifice(cylinder: float, mass: float) -> None:
    """Computed with scipy, 80 psig through 0.040 in at 294.261 K, in mg/s; choked at 10 psig."""
    up, down = 80 * PSI + 14.6959 * PSI, cylinder * PSI + 14.6959 * PSI
    flow = nozzle_mass_flow(1.016e-3, up, down, temperature=294.261)
    assert flow * 1e6 == pytest.approx(mass, rel=1e-5)
