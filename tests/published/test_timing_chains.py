"""Chain elongation against makers' limits, and cam retard against geometry worked by hand."""

import math

import pytest

from inspect_report.mechanics.chain import cam_retard, elongation, pitch_radius, tensioner_used
from tests.published.figures import rows

MM = 1e-3


@pytest.mark.parametrize("row", rows("chain_wear.csv"), ids=lambda row: row["pitch_mm"])
def test_limits_as_elongation(row: dict[str, str]) -> None:
    """Makers' length limits over a number of pitches, as the percentage their texts name or round."""
    found = elongation(
        float(row["length_mm"]) * MM, pitch=float(row["pitch_mm"]) * MM, pitches=int(row["pitches"])
    )
    assert 100 * found == pytest.approx(float(row["elongation_pct"]), abs=float(row["printed_to_pct"]))


@pytest.mark.parametrize(
    ("pitch", "span", "teeth", "percent", "degrees"),
    [
        (6.35, 30, 34, 1.0, 6.3439), (6.35, 30, 34, 0.5, 3.1720), (6.35, 30, 34, 1.5, 9.5159),
        (8.0, 24, 38, 1.0, 4.5422), (9.525, 20, 36, 1.0, 3.9949),
    ],
)  # fmt: skip
def test_retard_by_geometry(pitch: float, span: int, teeth: int, percent: float, degrees: float) -> None:
    """Worked by hand from the arc on the pitch circle, twice for the crank; no publication found."""
    found = cam_retard(
        percent / 100, span_length=span * pitch * MM, sprocket_radius=pitch_radius(pitch * MM, teeth)
    )
    assert found == pytest.approx(degrees, abs=1e-4)


def test_rule_of_thumb_by_tooth_count() -> None:
    """Common practice: e n 720 / z crank degrees, the pitch circle taken as z p round: 4.000 for 3.995."""
    exact = cam_retard(0.01, span_length=20 * 9.525 * MM, sprocket_radius=pitch_radius(9.525 * MM, 36))
    assert exact == pytest.approx(0.01 * 20 * 720 / 36, rel=2e-3)


@pytest.mark.parametrize(("printed", "foot_fraction"), [(0.36, 0.03)])
def test_inches_a_foot(printed: float, foot_fraction: float) -> None:
    """A maker (fbchain.com, seen) calls 0.36 in a foot 1.5 %, a misprint: it is 3 %."""
    assert elongation(12 + printed, pitch=1.0, pitches=12) == pytest.approx(foot_fraction, rel=1e-12)


def test_share_of_a_stroke() -> None:
    """Definition, no publication found: three quarters out."""
    assert tensioner_used(12 * MM, 16 * MM) == pytest.approx(0.75)


@pytest.mark.parametrize(("teeth", "percent"), [(66, 3.0), (67, 2.985), (80, 2.5), (100, 2.0)])
def test_limit_on_large_sprockets(teeth: int, percent: float) -> None:
    """
    A chain maker's answers (diamondchain.com, seen): 3 %, on large sprockets 200/N %.

    A long chain rides up by half its elongation over the sprocket's radius: at 200/N % and N teeth that is
    the same share of a pitch on every sprocket, which is why the rule goes with 1/N. Another maker
    (KA-01616, seen) prints 2.00/N %, a hundredth of it: a misprint.
    """
    assert min(3.0, 200 / teeth) == pytest.approx(percent, abs=1e-3)
    pitch = 12.7 * MM
    rise = pitch_radius(pitch * (1 + 2.0 / teeth), teeth) - pitch_radius(pitch, teeth)
    assert rise / pitch == pytest.approx(1 / math.pi, rel=2e-3)


def test_mean_of_inner_and_outer_length() -> None:
    """jcs-hoisting.com (seen): between rollers inside and outside, L = (L1 + L2)/2, then (L - nP)/(nP)."""
    inner, outer = 119.6 * MM, 137.2 * MM
    found = elongation((inner + outer) / 2, pitch=12.7 * MM, pitches=10)
    assert found == pytest.approx((128.4 - 127.0) / 127.0, rel=1e-9)


def test_length_without_its_pitches_tells_no_percentage() -> None:
    """
    A car maker's repair text (seen): under 140 N, mean of three places, at most 123.2 mm.

    The copy leaves out over how many pitches: 19 of 6.35 mm make it 2.1 %, 15 of 8 mm 2.7 %. The number of
    pitches is therefore a reading of its own.
    """
    found = [elongation(123.2 * MM, pitch=p * MM, pitches=n) for p, n in ((6.35, 19), (8.0, 15))]
    assert found == pytest.approx([0.0211, 0.0267], abs=5e-5)


@pytest.mark.parametrize(
    ("number", "millimetres", "inches"),
    [
        ("04C", 6.35, 1 / 4),
        ("06C, 06B", 9.525, 3 / 8),
        ("08A, 08B", 12.70, 1 / 2),
        ("10A", 15.875, 5 / 8),
        ("SC3", 9.525, 0.375),
        ("SC4", 12.70, 0.500),
        ("SC0.1875", 4.7625, 0.1875),
    ],
)
def test_standard_pitches(number: str, millimetres: float, inches: float) -> None:
    """ISO 606 (12.70 seen, others from memory); ANSI B29.2M in Machinery's Handbook 27, p. 2955 (seen)."""
    assert inches * 25.4 == pytest.approx(millimetres, abs=1e-9), number
    assert elongation(24 * millimetres * MM, pitch=inches * 0.0254, pitches=24) == pytest.approx(
        0.0, abs=1e-12
    )


def test_long_chain_runs_late() -> None:
    """marinediesels.info on timing chains (seen): running ahead with a worn chain retards the cam."""
    assert cam_retard(0.01, span_length=0.2, sprocket_radius=0.03) > 0.0
