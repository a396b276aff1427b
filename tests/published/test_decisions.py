"""Decisions against the examples of JCGM 106:2012 and the rule of ISO 14253-1, at 95 per cent."""

from dataclasses import replace

import pytest
from scipy.stats import norm

from inspect_report.judge.decision import Decision, decide
from inspect_report.judge.finding import Limit, Verdict
from inspect_report.records.quantity import Quantity
from inspect_report.records.workshop import DecisionRule

OPEN_ENDED = Limit(None, None, None, None, "either", 0.75, "1", "JCGM 106:2012", "from memory", "spec sheet")
AT_95 = DecisionRule.model_validate({"kind": "shown at confidence", "confidence": 95})
SIMPLE = DecisionRule.model_validate({"kind": "simple acceptance"})


def decided(
    value: float, u: float, *, low: float | None = None, high: float | None = None, rule: DecisionRule = AT_95
) -> Decision:
    """The decision on a value between limits."""
    return decide(Quantity(value, u, "ratio"), replace(OPEN_ENDED, low=low, high=high), rule)


def test_two_sided_example() -> None:
    """JCGM 106:2012 7.4 (inputs seen at metrologyrules.com): 13.6, u 1.8 in 12.5 to 16.3: 66 %, open."""
    decision = decided(13.6, 1.8, low=12.5, high=16.3)
    assert decision.inside == pytest.approx(0.66263, abs=1e-5)
    assert decision.verdict is Verdict.UNDECIDED


def test_upper_limit_example() -> None:
    """JCGM 106:2012 7.3.3 example 1 (from memory): -5.47, u 0.05 below -5.40: 92 %, not shown at 95 %."""
    assert decided(-5.47, 0.05, high=-5.40).inside == pytest.approx(0.92, abs=0.005)
    assert decided(-5.47, 0.05, high=-5.40).verdict is Verdict.UNDECIDED
    assert decided(-5.47, 0.05, high=-5.40, rule=SIMPLE).verdict is Verdict.SERVICEABLE


def test_lower_limit_example() -> None:
    """JCGM 106:2012 7.3.3 example 2 (from memory): 509.7 kPa, u 8.6 above 490 kPa: 98.9 %, shown inside."""
    decision = decided(509.7, 8.6, low=490.0)
    assert decision.inside == pytest.approx(0.989, abs=0.0005)
    assert decision.verdict is Verdict.SERVICEABLE


def test_piston_clearance_example() -> None:
    """Worked: 0.060 with u 0.00361 under 0.065 mm: 91.7 %; at 95 % accepted up to 0.0591 mm."""
    u = (0.003**2 + 0.002**2) ** 0.5
    assert decided(0.060, u, high=0.065).inside == pytest.approx(0.9172, abs=1e-4)
    assert decided(0.060, u, high=0.065).verdict is Verdict.UNDECIDED
    assert decided(0.0590, u, high=0.065).verdict is Verdict.SERVICEABLE
    assert decided(0.0592, u, high=0.065).verdict is Verdict.UNDECIDED


@pytest.mark.parametrize(
    ("offset", "verdict"),
    [
        (-1.001, Verdict.SERVICEABLE),
        (-0.999, Verdict.UNDECIDED),
        (0.999, Verdict.UNDECIDED),
        (1.001, Verdict.BEYOND_LIMIT),
    ],
)
def test_zone_of_uncertainty(offset: float, verdict: Verdict) -> None:
    """ISO 14253-1 (from memory): in below limit less U, out above limit plus U, else open; U = 1.6449 u."""
    width = float(norm.ppf(0.95)) * 0.02
    assert decided(10.0 + offset * width, 0.02, high=10.0).verdict is verdict
    assert decided(-10.0 - offset * width, 0.02, low=-10.0).verdict is verdict
