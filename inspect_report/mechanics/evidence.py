r"""
Turns how often a sign is seen with and without a cause into the weight it has as evidence, and into odds.

Weights are in decibans, ten times the common logarithm of a ratio of odds: 10 is ten to one, 3 about two to
one, 0 says nothing. Weights of signs that do not hang together add up, in any order.
"""

import math
from collections.abc import Sequence
from itertools import product
from typing import Final

from inspect_report.mechanics.errors import require

MOST_SIGNS: Final = 12
"""How many signs one check may show: every way they can turn out is gone through."""


def weight_of_evidence(with_cause: float, without_cause: float, chance: float = 1.0) -> float:
    r"""
    Weight of a sign as evidence for a cause, in decibans.

    .. math:: w = 10 \lg \frac{c s + (1 - c)(1 - s)}{c t + (1 - c)(1 - t)}

    Args:
        with_cause: Share of engines with the cause that show the sign. [1]
        without_cause: Share of engines without it that show the sign. [1]
        chance: Probability that the sign is there: 1 seen, 0 not there, 0.5 a reading that cannot tell. [1]

    Returns:
        Weight; above 0 it speaks for the cause, below 0 against it. [1]

    Raises:
        OutOfRange: a share not between 0 and 1, or ``chance`` outside 0 … 1.

    Shapes: scalars. Holds for: signs that, with the cause known, do not hang together; ``chance`` reckoned
    from the reading alone, without thought of the cause.
    Source: weight of evidence as in Good, Michie and Timms, General Report on Tunny, 1945, 21; an uncertain
    sign as virtual evidence after Pearl 1988, from memory.
    Checked in: tests/published/test_weight_of_evidence.py.

    >>> round(weight_of_evidence(0.8, 0.1), 3)
    9.031
    >>> round(weight_of_evidence(0.8, 0.1, 0.5), 9)
    0.0
    """
    _require_share("with_cause", with_cause)
    _require_share("without_cause", without_cause)
    require("chance", chance, "1", at_least=0.0, at_most=1.0)
    seen, unseen = chance, 1.0 - chance
    likely = seen * with_cause + unseen * (1.0 - with_cause)
    unlikely = seen * without_cause + unseen * (1.0 - without_cause)
    return 10.0 * math.log10(likely / unlikely)


def decibans_of(probability: float) -> float:
    r"""
    Odds of a probability, in decibans.

    .. math:: o = 10 \lg \frac{p}{1 - p}

    Args:
        probability: Probability. [1]

    Returns:
        Odds; 0 is one to one, below 0 against. [1]

    Raises:
        OutOfRange: ``probability`` not between 0 and 1.

    Shapes: scalars. Holds for: a thing that either is or is not.
    Source: definition, as in Good, Michie and Timms, General Report on Tunny, 1945, 21.
    Checked in: tests/published/test_weight_of_evidence.py.

    >>> round(decibans_of(0.1), 3)
    -9.542
    """
    _require_share("probability", probability)
    return 10.0 * math.log10(probability / (1.0 - probability))


def probability_of(decibans: float) -> float:
    r"""
    Probability of some odds in decibans.

    .. math:: p = \frac{1}{1 + 10^{-o/10}}

    Args:
        decibans: Odds. [1]

    Returns:
        Probability. [1]

    Raises:
        OutOfRange: ``decibans`` beyond 300 either way, where a probability cannot be told from 0 or 1.

    Shapes: scalars. Holds for: a thing that either is or is not.
    Source: definition, as in Good, Michie and Timms, General Report on Tunny, 1945, 21.
    Checked in: tests/published/test_weight_of_evidence.py.

    >>> probability_of(0.0)
    0.5
    """
    require("decibans", decibans, "1", at_least=-300.0, at_most=300.0)
    return 1.0 / (1.0 + math.pow(10.0, -decibans / 10.0))


def entropy(probability: float) -> float:
    r"""
    How open a question of yes or no is, in bits.

    .. math:: H = -p \log_2 p - (1 - p) \log_2 (1 - p)

    Args:
        probability: Probability of yes. [1]

    Returns:
        Entropy: 1 wide open, 0 settled. [1]

    Raises:
        OutOfRange: ``probability`` outside 0 … 1.

    Shapes: scalars. Holds for: a thing that either is or is not.
    Source: C. E. Shannon 1948, from memory. Checked in: tests/published/test_weight_of_evidence.py.

    >>> entropy(0.5)
    1.0
    """
    require("probability", probability, "1", at_least=0.0, at_most=1.0)
    return -sum(p * math.log2(p) for p in (probability, 1.0 - probability) if p > 0.0)


def expected_information(probability: float, signs: Sequence[tuple[float, float]]) -> float:
    r"""
    How much a check is expected to settle about a cause, in bits.

    .. math:: I = H(p) - \sum_r P(r) \, H(p_r)

    Args:
        probability: Probability of the cause before the check. [1]
        signs: For each sign the check would show, its share with the cause and its share without. [1]

    Returns:
        Expected fall of the entropy; never below 0. [1]

    Raises:
        OutOfRange: a probability or share not between 0 and 1, or more than 12 signs.

    Shapes: ``(n, 2)``. Holds for: signs that, with the cause known, do not hang together; every way they can
    turn out is gone through.
    Source: information gain as in Poole and Mackworth, Artificial Intelligence, 2nd edition, 8.1.4.
    Checked in: tests/published/test_weight_of_evidence.py.

    >>> round(expected_information(0.5, [(0.9, 0.1)]), 4)
    0.531
    """
    _require_share("probability", probability)
    require("number of signs", len(signs), "1", at_most=MOST_SIGNS)
    for with_cause, without_cause in signs:
        _require_share("with_cause", with_cause)
        _require_share("without_cause", without_cause)
    left = 0.0
    for seen in product((True, False), repeat=len(signs)):
        with_it = probability * _likelihood(seen, [s for s, _ in signs])
        without_it = (1.0 - probability) * _likelihood(seen, [t for _, t in signs])
        left += (with_it + without_it) * entropy(with_it / (with_it + without_it))
    return max(0.0, entropy(probability) - left)


def _likelihood(seen: Sequence[bool], shares: Sequence[float]) -> float:
    return math.prod(s if there else 1.0 - s for there, s in zip(seen, shares, strict=True))


def _require_share(name: str, value: float) -> None:
    require(name, value, "1", above=0.0, below=1.0)
