"""Weights of evidence and expected information against published worked examples, and against scipy."""

import math
from itertools import product

import pytest
from scipy import stats

from inspect_report.mechanics.evidence import (
    decibans_of,
    entropy,
    expected_information,
    probability_of,
    weight_of_evidence,
)

TUNNY = (
    "Good, Michie and Timms, General Report on Tunny (1945), seen at ellsbury.com and codesandciphers.org.uk"
)
SURE = 1.0 - 1e-12  # a double-headed penny shows heads; a share of exactly one is refused


def test_double_headed_penny() -> None:
    """General Report on Tunny p. 39 (seen): heads weigh 3 decibans; 20 on odds 40 down give 100 : 1 on."""
    heads = weight_of_evidence(SURE, 0.5)
    assert heads == pytest.approx(3.0, abs=0.011), TUNNY
    prior = decibans_of(1.0 / (1.0 + 1e4))
    assert prior == pytest.approx(-40.0, abs=1e-9)
    odds = prior + 20.0 * heads
    assert odds == pytest.approx(20.0, abs=0.21)  # they round one toss to 3
    posterior = probability_of(odds)
    assert posterior / (1.0 - posterior) == pytest.approx(100.0, rel=0.05)


@pytest.mark.parametrize(("factor", "total", "on"), [(15.0, 13.0, 20.0), (6.0, 4.0, 2.5)])
def test_odds_add_up_in_decibans(factor: float, total: float, on: float) -> None:
    """General Report on Tunny, WFAX7103 (seen): 8 to 13 is 2 down; 15 make 20 to 1 on, 6 make 5 to 2 on."""
    before = decibans_of(8.0 / 21.0)
    assert before == pytest.approx(-2.0, abs=0.15), TUNNY
    assert round(before) + factor == total
    posterior = probability_of(total)
    assert posterior / (1.0 - posterior) == pytest.approx(on, rel=0.01)


def test_sensor_over_a_wheel() -> None:
    """Poole and Mackworth, 2nd ed., example 8.11 (seen): a sensor true for 2 of 8 tells 0.81 bits."""
    assert entropy(2.0 / 8.0) == pytest.approx(0.81, abs=0.005)
    told = expected_information(2.0 / 8.0, [(SURE, 1.0 - SURE)])
    assert told == pytest.approx(0.81, abs=0.005)


@pytest.mark.parametrize("p", [0.03, 0.25, 0.5, 0.9])
def test_information_is_that_of_the_whole_table(p: float) -> None:
    """Scipy's entropies of the joint table of cause and two signs: H(cause) + H(signs) - H(both), in bits."""
    signs = [(0.8, 0.1), (0.5, 0.25)]
    both = [
        weight * math.prod(s[side] if seen else 1 - s[side] for s, seen in zip(signs, way, strict=True))
        for side, weight in ((0, p), (1, 1 - p))
        for way in product((True, False), repeat=2)
    ]
    ways = [both[n] + both[n + 4] for n in range(4)]
    expected = stats.entropy([p, 1 - p], base=2) + stats.entropy(ways, base=2) - stats.entropy(both, base=2)
    assert expected_information(p, signs) == pytest.approx(expected, rel=1e-9)
