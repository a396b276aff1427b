"""Whoever has nothing but a page comes to the verdicts that stand on it."""

import re
from dataclasses import replace

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from inspect_report.judge.decision import decide, verdict_on
from inspect_report.judge.digits import agreeing
from inspect_report.judge.finding import Limit, Verdict
from inspect_report.judge.limits import Shown, shown
from inspect_report.knowledge.catalogue import Known
from inspect_report.measure.budget import coverage, expanded
from inspect_report.records.quantity import Quantity
from inspect_report.records.workshop import DecisionRule
from inspect_report.report.figures import Figures
from tests.judge.made import RULE, SIMPLE, a_limit, mm

KNOWN = Known(id="gap", name="Gap", unit="mm", decimals=2, assembly="cylinders", plain="Gap.")
FIGURES = Figures("en_GB", "GBP")
NUMBERS = re.compile(r"(?<![\d.])\d+(?:\.\d+)?")
RULES = (RULE, SIMPLE, DecisionRule(confidence=99), DecisionRule(kind="guard band"))


def writing(quantity: Quantity, limit: Limit, rule: DecisionRule = RULE) -> Shown:
    """How a judged quantity is written."""
    verdict = decide(quantity, limit, rule).verdict
    return agreeing(shown(KNOWN, limit, quantity.value), quantity, limit, verdict, rule)


def printed(quantity: Quantity, limit: Limit, rule: DecisionRule = RULE) -> str:
    """What a page tells of it."""
    how = writing(quantity, limit, rule)
    return FIGURES.measured(quantity, how.unit, how.decimals).replace("\u00a0", " ")


def as_read(quantity: Quantity, text: str) -> Quantity:
    """What a reader makes of that."""
    value, *doubt = map(float, NUMBERS.findall(text))
    return replace(quantity, value=value * 1e-3, u=doubt[0] * 1e-3 / coverage(quantity) if doubt else 0.0)


@pytest.mark.parametrize(
    ("value", "u", "limit", "told"),
    [
        (0.19, 0.0034, a_limit(low=0.20, high=0.29), "0.190 ± 0.007 mm"),
        (0.18, 0.0034, a_limit(low=0.20, high=0.29), "0.18 ± 0.01 mm"),
        (0.39, 0.01, a_limit(standard_low=0.10, standard_high=0.20, high=0.40), "0.390 ± 0.020 mm"),
        (0.3496, 0.0004, a_limit(standard_low=0.1, standard_high=0.2, high=0.4), "0.3496 ± 0.0008 mm"),
    ],
)
def test_a_value_near_its_limit_is_told_finer(value: float, u: float, limit: Limit, told: str) -> None:
    """
    A limit of 0.20 lies inside 0.19 ± 0.01 and outside 0.190 ± 0.007, as it does outside 0.18 ± 0.01.

    75 % of the allowance from 0.20 to 0.40 is 0.35, which would be marginal: 0.3496 is not yet.
    """
    assert printed(mm(value, u), limit) == told


@given(
    limit=st.tuples(st.integers(20, 90), st.integers(0, 60)),
    away=st.floats(-4.0, 4.0),
    u_um=st.floats(0.3, 30.0),
    dof=st.sampled_from([None, 2.0, 9.0]),
    rule=st.sampled_from(RULES),
    lower=st.booleans(),
)
@example(limit=(20, 0), away=-3.0, u_um=3.333, dof=None, rule=RULE, lower=True)
def test_verdict_value_uncertainty_and_limit_agree_on_a_page(
    limit: tuple[int, int], away: float, u_um: float, dof: float | None, rule: DecisionRule, lower: bool
) -> None:
    """From the printed numbers the rule gives the printed verdict, and the range ends on the same side."""
    edge = limit[0] / 100
    new = {"standard_low": edge + 0.1 + limit[1] / 100} if lower else {"standard_high": edge - 0.1}
    held = a_limit(**new, **({"low": edge} if lower else {"high": edge}))
    quantity = replace(mm(edge + away * u_um * 1e-3, u_um * 1e-3), dof=dof)
    if abs(away * u_um) < 0.1 or quantity.value <= 0:
        return  # closer than any gauge of a workshop tells
    verdict = decide(quantity, held, rule).verdict
    read = as_read(quantity, printed(quantity, held, rule))
    assert verdict_on(read, held, rule) is verdict
    decided = rule.kind != "simple acceptance" and verdict is not Verdict.UNDECIDED
    if decided and not _on_the_edge(quantity, edge):
        assert _covers(read, edge) == _covers(quantity, edge)


def _covers(quantity: Quantity, edge: float) -> bool:
    return abs(quantity.value - edge * 1e-3) <= expanded(quantity) + 1e-12


def _on_the_edge(quantity: Quantity, edge: float) -> bool:
    """Whether the uncertainty ends at the limit within a fiftieth of itself, all that three figures tell."""
    return abs(abs(quantity.value - edge * 1e-3) / expanded(quantity) - 1.0) < 0.02
