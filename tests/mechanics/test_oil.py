"""Metal in the oil, by the time it took to gather."""

import pytest

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.oil import wear_metal_rate

HOUR, PPM = 3600.0, 1e-6


def test_rate_is_what_gathered_over_the_time() -> None:
    """84 ppm in 40 h are 2.1 ppm/h; with 4 ppm in the fresh oil 2.0 ppm/h."""
    assert wear_metal_rate(84 * PPM, 40 * HOUR) == pytest.approx(2.1 * PPM / HOUR)
    assert wear_metal_rate(84 * PPM, 40 * HOUR, 4 * PPM) == pytest.approx(2.0 * PPM / HOUR)


def test_less_than_in_the_fresh_oil_is_told() -> None:
    """An additive that is used up gathers at a rate below 0."""
    assert wear_metal_rate(2 * PPM, 2 * HOUR, 6 * PPM) == pytest.approx(-2.0 * PPM / HOUR)


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"found": -1e-9}, "found"),
        ({"found": 1.1}, "found"),
        ({"fresh": -1e-9}, "fresh"),
        ({"fresh": 1.1}, "fresh"),
        ({"running_time": 0.0}, "running_time"),
    ],
)
def test_shares_and_times_that_cannot_be(change: dict[str, float], name: str) -> None:
    """A share outside 0 to 1, or oil that has not run, has no rate."""
    with pytest.raises(OutOfRange, match=name):
        wear_metal_rate(**{"found": 1e-6, "running_time": 3600.0} | change)


def test_nothing_and_all_are_shares() -> None:
    """0 and 1 are the ends of a share and taken."""
    assert wear_metal_rate(1.0, 1.0, 0.0) == 1.0
    assert wear_metal_rate(0.0, 1.0, 1.0) == -1.0
