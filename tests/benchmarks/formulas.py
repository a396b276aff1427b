"""Turns formulas over arrays into timings against a scalar loop: ``python -m tests.benchmarks.formulas``."""

import numpy as np

from inspect_report.mechanics.gasflow import equivalent_leak_bore
from tests.benchmarks.timing import ratio, seconds

PAIRS = 100_000


def leak_bores() -> None:
    """A hundred thousand leak-down pairs to equivalent bores in one call, against one pair after another."""
    dice = np.random.default_rng(2026)
    supply = dice.uniform(3e5, 9e5, PAIRS)
    cylinder = supply * dice.uniform(0.05, 0.99, PAIRS)
    pairs = list(zip(supply.tolist(), cylinder.tolist(), strict=True))
    ours = seconds(lambda: equivalent_leak_bore(supply, cylinder, tester_bore=1e-3), 5)
    theirs = seconds(lambda: [equivalent_leak_bore(s, c, tester_bore=1e-3) for s, c in pairs], 1)
    ratio(f"{PAIRS:,} leak-down pairs to bores, one core", ours, theirs, "a loop over pairs")


if __name__ == "__main__":
    leak_bores()
