"""Play of a fork in its groove."""

import pytest

from inspect_report.mechanics.errors import OutOfRange
from inspect_report.mechanics.gearbox import groove_clearance

MM = 1e-3


def test_play_is_groove_less_fork() -> None:
    """6.12 less 5.93 is 0.19 mm; a fork wider than its groove has an interference."""
    assert groove_clearance(6.12 * MM, 5.93 * MM) == pytest.approx(0.19 * MM)
    assert groove_clearance(5.90 * MM, 5.93 * MM) == pytest.approx(-0.03 * MM)


@pytest.mark.parametrize("name", ["groove", "part"])
def test_no_groove_and_no_part(name: str) -> None:
    """Widths are above 0."""
    with pytest.raises(OutOfRange, match=name):
        groove_clearance(**{"groove": 6 * MM, "part": 6 * MM} | {name: 0.0})
