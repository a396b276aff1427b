"""Chain elongation against makers' limits, and cam retard against geometry worked by hand."""

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
