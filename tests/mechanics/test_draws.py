"""Turns what must hold of draws into checks: frequencies, order, one seed, and the bits they rest on."""

import math
from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom, chi2

from inspect_report.mechanics.draws import happenings, outcomes, point_of_order, weighted_point
from inspect_report.mechanics.errors import OutOfRange

CHANCES = st.lists(st.floats(0, 1), min_size=1, max_size=6)


def test_frequencies_scatter_as_the_binomial_law_says() -> None:
    """Two hundred events of ten thousand draws: each count inside its 1e-7 band of scipy's binomial law."""
    chances = [n / 200 for n in range(1, 200)]
    counts = happenings(chances, 10_000, 4).sum(axis=1)
    for chance, count in zip(chances, counts, strict=True):
        low, high = binom.interval(1 - 1e-7, 10_000, chance)
        assert low <= count <= high


def test_events_do_not_hang_together() -> None:
    """All eight outcomes of three events are as frequent as their product says, by a chi-squared test."""
    chances = (0.2, 0.5, 0.7)
    true = happenings(chances, 40_000, 9)
    expected, found = [], []
    for outcome in product((False, True), repeat=3):
        expected.append(40_000 * math.prod(p if o else 1 - p for p, o in zip(chances, outcome, strict=True)))
        found.append(int(np.all(true == np.array(outcome)[:, np.newaxis], axis=0).sum()))
    distance = sum((f - e) ** 2 / e for f, e in zip(found, expected, strict=True))
    assert distance < chi2.ppf(1 - 1e-6, df=7)


def test_bits_are_those_of_the_published_generator() -> None:
    """
    The first words of PCG64 seeded by SeedSequence(1), reckoned here in whole numbers.

    State x' = a x + c modulo 2^128, output rotated XSL-RR; multiplier of O'Neill 2014 (from memory). Each
    word gives two draws, the lower half first.
    """
    generator = np.random.PCG64(1)
    state = generator.state["state"]
    mask, x, c = 2**128 - 1, int(state["state"]), int(state["inc"])
    halves = []
    for _ in range(8):
        x = (x * 47026247687942121848144207491837523525 + c) & mask
        word, turn = (x >> 64) ^ (x & (2**64 - 1)), x >> 122
        word = ((word >> turn) | (word << (64 - turn))) & (2**64 - 1)
        halves += [word & (2**32 - 1), word >> 32]
    for chance in (0.1, 0.35, 0.5, 0.93):
        assert happenings([chance], 16, 1)[0].tolist() == [h < int(chance * 2**32) for h in halves]


@given(CHANCES, st.integers(0, 2**32), st.integers(1, 33))
def test_one_seed_gives_one_answer(chances: list[float], seed: int, draws: int) -> None:
    """The same call twice gives the same draws, in the shape asked for."""
    once = happenings(chances, draws, seed)
    assert once.shape == (len(chances), draws)
    assert np.array_equal(once, happenings(chances, draws, seed))


@given(CHANCES, st.integers(0, 99), st.floats(0, 1))
def test_a_higher_chance_keeps_what_happened(chances: list[float], seed: int, more: float) -> None:
    """No draw loses an event when chances rise."""
    raised = [max(p, more) for p in chances]
    assert not (happenings(chances, 50, seed) & ~happenings(raised, 50, seed)).any()


def test_never_and_always() -> None:
    """Chance 0 never happens, chance 1 always."""
    true = happenings([0.0, 1.0], 5000, 0)
    assert (true[0].sum(), true[1].sum()) == (0, 5000)


@pytest.mark.parametrize(
    ("chances", "draws", "seed", "told"),
    [
        ([], 1, 0, "number of chances"),
        ([0.5, 1.0001], 1, 0, "chances: found 1.0001"),
        ([-0.1], 1, 0, "chances: found -0.1"),
        ([math.nan], 1, 0, "chances: found nan"),
        ([0.5], 0, 0, "draws: found 0"),
        ([0.5], 1, -1, "seed: found -1"),
    ],
)
def test_what_is_no_chance_is_refused(chances: list[float], draws: int, seed: int, told: str) -> None:
    """Each argument outside its range is named with what was found."""
    with pytest.raises(OutOfRange, match=told):
        happenings(chances, draws, seed)


@given(st.lists(st.floats(-1e9, 1e9), min_size=1, max_size=40), st.sampled_from([0.1, 0.5, 0.9, 0.25, 1.0]))
def test_a_point_is_the_inverted_distribution_of_numpy(values: list[float], share: float) -> None:
    """The same library's own ``inverted_cdf`` (definition 1 of Hyndman and Fan) gives the same value."""
    assert point_of_order(values, share) == np.quantile(values, share, method="inverted_cdf")


@pytest.mark.parametrize(
    ("values", "share", "told"),
    [
        ([], 0.5, "number of values"),
        ([1.0, math.inf], 0.5, "values: found inf"),
        ([1.0], 0.0, "share: found 0"),
        ([1.0], 1.01, "share: found 1.01"),
    ],
)
def test_what_has_no_point_is_refused(values: list[float], share: float, told: str) -> None:
    """No values, values that are none, and shares outside their range are named."""
    with pytest.raises(OutOfRange, match=told):
        point_of_order(values, share)


@given(CHANCES)
def test_outcomes_are_all_that_can_happen(chances: list[float]) -> None:
    """Each set once, by the product of its chances, written out with loops; together they are certain."""
    sets, weights = outcomes(chances)
    told = dict(zip(map(tuple, sets.T.tolist()), weights.tolist(), strict=True))
    assert len(told) == weights.size
    for outcome in product((False, True), repeat=len(chances)):
        chance = math.prod(p if true else 1 - p for p, true in zip(chances, outcome, strict=True))
        assert told.get(outcome, 0.0) == pytest.approx(chance, abs=1e-15)
    assert math.fsum(weights.tolist()) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("chances", "told"),
    [([], "number of chances"), ([1.5], "chances: found 1.5"), ([0.5] * 17, "number of chances: found 17")],
)
def test_chances_with_no_outcomes_are_refused(chances: list[float], told: str) -> None:
    """None, one that is none, and more than can be written out."""
    with pytest.raises(OutOfRange, match=told):
        outcomes(chances)


WEIGHED = st.lists(st.tuples(st.floats(-1e9, 1e9), st.integers(1, 1000)), min_size=1, max_size=40)


@given(WEIGHED, st.sampled_from([0.1, 0.5, 0.9, 0.25, 1.0]))
def test_a_weighted_point_is_that_of_values_written_as_often_as_they_weigh(
    told: list[tuple[float, int]], share: float
) -> None:
    """Whole weights: each value so many times, and the unweighted point of numpy's ``inverted_cdf``."""
    values, weights = zip(*told, strict=True)
    often = np.repeat(values, weights)
    assert weighted_point(values, [float(w) for w in weights], share) == np.quantile(
        often, share - 1e-9, method="inverted_cdf"
    )


@pytest.mark.parametrize(
    ("values", "weights", "share", "told"),
    [
        ([], [], 0.5, "number of values"),
        ([1.0], [0.0], 0.5, "weights: found 0"),
        ([1.0], [1.0], 0.0, "share: found 0"),
    ],
)
def test_what_has_no_weighted_point_is_refused(
    values: list[float], weights: list[float], share: float, told: str
) -> None:
    """No values, a weight of nothing, and a share outside its range are named."""
    with pytest.raises(OutOfRange, match=told):
        weighted_point(values, weights, share)
