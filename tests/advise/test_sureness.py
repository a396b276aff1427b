"""Turns how sure a clause is into checks: the law of a measured value, and places and clauses joined."""

from dataclasses import replace
from typing import Any

import pytest

from inspect_report.advise.facts import Fact, Facts, gathered
from inspect_report.advise.looking import View
from inspect_report.advise.sureness import chance_of
from inspect_report.judge.finding import Limit
from inspect_report.records.position import Position
from inspect_report.records.quantity import Quantity
from tests.advise.builders import at
from tests.advise.test_clauses import CLAUSE, facts

LIMIT = Limit(0.0, 0.10, None, 0.20, "up", 0.5, "%", "", "seen", "spec sheet")
"""New up to 10 %, to be watched from 15, not beyond 20."""


def measured(value: float, u: float, place: Position, **changes: Any) -> Fact:
    """A leak-down in per cent with its limit."""
    fact = Fact("leak-down", "Leak-down", place, verdict="undecided", value=value / 100, unit="%")
    return replace(fact, quantity=Quantity(value / 100, u / 100, "ratio"), limit=LIMIT, **changes)


def chance(clause: dict[str, Any], seen: Facts, label: str = "3") -> float | None:
    """The chance of a clause from a cylinder."""
    return chance_of(CLAUSE.validate_python(clause), View(seen, "cylinder" if label else "", label))


def of(*found: Fact) -> Facts:
    """Quantities at cylinders."""
    return Facts(quantities=gathered(found), labels={"cylinder": ("1", "2", "3", "4")})


@pytest.mark.parametrize(
    ("verdicts", "expected"),
    [
        # By hand, standard normal: value 20, u 5: beyond 20 one half; 15 to 20 is Φ(0) - Φ(-1) = 0.3413;
        # 10 to 15 is Φ(-1) - Φ(-2) = 0.1359; below 10 is Φ(-2) = 0.0228, of which 0 to 10 is new.
        (["beyond limit"], 0.5),
        (["marginal"], 0.3413),
        (["marginal", "undecided", "beyond limit"], 0.8413),
        (["serviceable"], 0.1359),
        (["as new"], 0.0227),
    ],
)
def test_a_measured_value_counts_by_its_law(verdicts: list[str], expected: float) -> None:
    """The share of values it may truly have whose verdict is asked for."""
    seen = of(measured(20.0, 5.0, at(3)))
    assert chance({"quantity": "leak-down", "verdict": verdicts}, seen) == pytest.approx(expected, abs=1e-4)


def test_side_and_bounds_count_by_the_law_too() -> None:
    """Above the range: Φ(2) = 0.9772; at least 25: 1 - Φ(1) = 0.1587; between 10 and 15: 0.1359."""
    seen = of(measured(20.0, 5.0, at(3)))
    clause = {"quantity": "leak-down", "side": "above"}
    assert chance(clause, seen) == pytest.approx(0.9772, abs=1e-4)
    assert chance({"quantity": "leak-down", "at-least": 25}, seen) == pytest.approx(0.1587, abs=1e-4)
    assert chance(clause | {"at-most": 15}, seen) == pytest.approx(0.1359, abs=1e-4)


def test_without_uncertainty_it_is_yes_or_no() -> None:
    """A value without doubt, or a bare verdict, is there or not."""
    sure = of(measured(25.0, 0.0, at(3), verdict="beyond limit"))
    assert chance({"quantity": "leak-down", "verdict": ["beyond limit"]}, sure) == 1.0
    assert chance({"quantity": "leak-down", "verdict": ["as new"]}, facts(leak_down={3: "marginal"})) == 0.0


def test_a_change_counts_by_the_doubt_of_both_readings() -> None:
    """Up by 6 with u 2, 4 asked for: Φ(1) = 0.8413."""
    seen = of(measured(20.0, 5.0, at(3), moved=0.06, u_moved=0.02), measured(5.0, 1.0, at(1), moved=0.0))
    clause = {"change": "leak-down", "direction": "up", "by-at-least": "4 %"}
    assert chance(clause, seen) == pytest.approx(0.8413, abs=1e-4)
    assert chance(clause | {"others": "steady"}, seen) == pytest.approx(0.8413, abs=1e-4)
    assert chance({**clause, "direction": "down"}, seen) == pytest.approx(0.0, abs=1e-4)


def test_doubtful_places_are_no_surer_together() -> None:
    """Any of two halves is one half, and so is every of them; one sure place settles any."""
    halves = of(measured(20.0, 5.0, at(1)), measured(20.0, 5.0, at(2)))
    clause = {"quantity": "leak-down", "verdict": ["beyond limit"], "near": "anywhere"}
    assert chance(clause, halves) == 0.5
    assert chance(clause | {"every": True}, halves) == 0.5
    mixed = of(measured(20.0, 5.0, at(1)), measured(40.0, 0.0, at(2), verdict="beyond limit"))
    assert chance(clause, mixed) == 1.0
    assert chance(clause | {"in-places": 2}, mixed) == 0.5
    assert chance(clause | {"in-places": 3}, mixed) == 0.0


HEARD = {"choice": "leak-heard", "answer": ["exhaust"]}
BEYOND = {"quantity": "leak-down", "verdict": ["beyond limit"]}
AS_NEW = {"quantity": "leak-down", "verdict": ["as new"]}


@pytest.mark.parametrize(
    ("clause", "expected"),
    [
        ({"any": [BEYOND, HEARD]}, 1.0),
        ({"all": [BEYOND, HEARD]}, None),
        ({"all": [AS_NEW, HEARD]}, 0.0),
        ({"any": [AS_NEW, HEARD]}, None),
        ({"not": BEYOND}, 0.0),
    ],
)
def test_what_was_not_looked_at_takes_no_side(clause: dict[str, Any], expected: float | None) -> None:
    """What is known settles where it can; else nothing is said."""
    assert chance(clause, facts(leak_down={3: "beyond limit"})) == expected


def test_what_does_not_apply_is_left_out() -> None:
    """A place that has no such thing is no evidence against."""
    assert chance(BEYOND, facts(leak_down={3: "not applicable"})) is None
    gone = Facts(absent=frozenset({"leak-heard"}))
    assert chance(HEARD, gone) is None
