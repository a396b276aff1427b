"""What a customer reads beside a verdict."""

from dataclasses import replace

import pytest

from inspect_report.judge.decision import decide
from inspect_report.judge.digits import agreeing
from inspect_report.judge.finding import Limit
from inspect_report.judge.limits import Shown, shown
from inspect_report.judge.wording import Told, amount, doubt, percent, reason, span
from inspect_report.knowledge.catalogue import Known
from inspect_report.records.quantity import Quantity
from inspect_report.records.workshop import DecisionRule
from tests.judge.made import RULE, SIMPLE, a_limit, mm

KNOWN = Known(id="gap", name="Gap", unit="mm", decimals=2, assembly="cylinders", plain="Gap.")
GROWS = a_limit(standard_low=0.10, standard_high=0.20, high=0.40)
TWO = Shown("mm", 2)


def said(quantity: Quantity, limit: Limit | None, rule: DecisionRule = RULE, *, direct: bool = True) -> str:
    """The reason for the verdict on a quantity."""
    decision = decide(quantity, limit, rule)
    wording = agreeing(shown(KNOWN, limit, quantity.value), quantity, limit, decision.verdict, rule)
    return reason(Told(quantity, limit, decision, rule, wording, direct))


@pytest.mark.parametrize(
    ("value", "told"),
    [
        (0.15, "0.15 mm, limit at most 0.40 mm: as new (when new 0.10 to 0.20 mm)"),
        (0.30, "0.30 mm, limit at most 0.40 mm: inside, 50 % of the wear allowance used"),
        (0.36, "0.36 mm, limit at most 0.40 mm: inside, but 80 % of the wear allowance is used "
         "(to be watched from 75 %)"),
        (0.46, "0.46 mm, limit at most 0.40 mm: beyond the limit with at least 95 % confidence"),
        (0.05, "0.05 mm, limit at most 0.40 mm: inside; below its range when new (0.10 to 0.20 mm), "
         "which is not the way it wears"),
    ],
)  # fmt: skip
def test_plain_cases(value: float, told: str) -> None:
    """Value, limit, what follows."""
    assert said(mm(value, 0.005), GROWS) == told


def test_undecided_names_the_gauge_that_would_decide() -> None:
    """0.39 under 0.40 with u 0.01: decided at u 0.00608, so by a gauge of 0.0094 mm: 0.005."""
    assert said(mm(0.39, 0.01), GROWS) == (
        "0.390 mm, limit at most 0.400 mm: inside, but the measuring uncertainty of ±0.020 mm reaches over "
        "the limit; a gauge that resolves 0.005 mm and errs by no more than that would decide it"
    )


def test_the_gauge_named_does_decide() -> None:
    """A gauge with that step and that error gives an uncertainty at which the same value is decided."""
    step = 0.005
    u = (step**2 / 12 + step**2 / 3) ** 0.5
    assert "beyond the limit with" in said(mm(0.41, u), GROWS)
    assert "wear allowance is used" in said(mm(0.39, u), GROWS)


def test_undecided_from_several_readings_names_the_uncertainty_needed() -> None:
    """A quantity made from readings has no one gauge to buy."""
    told = said(mm(0.41, 0.01), GROWS, direct=False)
    assert told.endswith(
        "beyond, but the measuring uncertainty of ±0.020 mm reaches back inside; "
        "measured to within ±0.01 mm it would be decided"
    )


def test_undecided_right_at_the_limit() -> None:
    """No gauge is promised where none helps."""
    assert said(mm(0.40, 0.01), GROWS).endswith(
        "right at the limit; with a measuring uncertainty of ±0.020 mm it may lie on either side"
    )


def test_undecided_too_close_for_any_gauge() -> None:
    """A gauge a hundred times finer is no advice."""
    assert "no ordinary gauge" in said(mm(0.3999, 0.01), GROWS)


def test_undecided_at_a_high_confidence() -> None:
    """At 99 % a value may be undecided although twice its uncertainty does not reach the limit."""
    told = said(mm(0.378, 0.01), GROWS, DecisionRule(confidence=99))
    assert "inside, but not with 99 % confidence at a measuring uncertainty of ±0.020 mm" in told


@pytest.mark.parametrize(("quantity", "rule"), [(mm(0.46, 0.005), SIMPLE), (mm(0.46), RULE)])
def test_no_confidence_is_claimed_without_one(quantity: Quantity, rule: DecisionRule) -> None:
    """Simple acceptance, and a value without uncertainty, say nothing of confidence."""
    assert said(quantity, GROWS, rule).endswith(": beyond the limit")


def test_two_sided_limit() -> None:
    """Both ends are told."""
    limit = a_limit(standard_low=0.15, standard_high=0.20, low=0.10, high=0.30)
    assert said(mm(0.05), limit) == "0.05 mm, limit 0.10 to 0.30 mm: below the lower limit"
    assert said(mm(0.35), limit) == "0.35 mm, limit 0.10 to 0.30 mm: above the upper limit"


def test_limit_equal_to_the_range_of_new() -> None:
    """A range that is both is told once."""
    limit = a_limit(standard_low=0.10, standard_high=0.20, low=0.10, high=0.20)
    assert said(mm(0.15), limit) == "0.15 mm, limit 0.10 to 0.20 mm: as when new"


def test_limit_without_a_range_of_new() -> None:
    """Inside a limit that stands alone, no share of wear is invented."""
    assert said(mm(0.02), a_limit(high=0.05)) == (
        "0.02 mm, limit at most 0.05 mm: inside; "
        "what it measures when new is not published, so the share of wear is not known"
    )


@pytest.mark.parametrize(
    ("limit", "told"),
    [
        (None, "0.30 mm: no limit is published for it"),
        (a_limit(), "0.30 mm: no limit is published for it"),
        (a_limit(standard_low=0.3, standard_high=0.3),
         "0.30 mm, nominal size 0.30 mm: no limit is published for it, so it cannot be judged"),
        (a_limit(standard_low=0.1, standard_high=0.4),
         "0.30 mm, when new 0.10 to 0.40 mm: as new; no service limit is published"),
        (a_limit(standard_low=0.1, standard_high=0.2),
         "0.30 mm, when new 0.10 to 0.20 mm: above that range, and no service limit says how far it may go"),
        (a_limit(standard_low=0.1, high=0.2, disputed="limit inside new range, p. 4-19"),
         "0.30 mm: printed limit disputed: limit inside new range, p. 4-19; not judged"),
    ],
)  # fmt: skip
def test_without_a_limit(limit: Limit | None, told: str) -> None:
    """What is missing is said, and why."""
    assert said(mm(0.30, 0.005), limit) == told


def test_common_practice_is_never_told_as_the_makers() -> None:
    """A limit of common practice says whose it is."""
    assert "limit at most 0.40 mm (common practice, not the maker's):" in said(
        mm(0.3), replace(GROWS, origin="common practice")
    )


@pytest.mark.parametrize(
    ("value", "unit", "decimals", "told"),
    [
        (0.0004, "mm", 2, "0.40 mm"), (-1e-9, "mm", 2, "0.00 mm"), (-0.0001, "mm", 2, "−0.10 mm"),
        (0.125, "%", 1, "12.5 %"),
        (12.5, "°", 1, "12.5°"), (3.0, "pcs", 0, "3"), (3.0, "", 0, "3"), (293.15, "°C", 0, "20 °C"),
    ],
)  # fmt: skip
def test_amounts(value: float, unit: str, decimals: int, told: str) -> None:
    """Figures and unit, a true minus, no negative zero, no unit for counts."""
    assert amount(value, Shown(unit, decimals)) == told


@pytest.mark.parametrize(
    ("u", "unit", "told"),
    [
        (1e-5, "mm", "±0.02 mm"), (2.5e-6, "mm", "±0.005 mm"), (3.4e-6, "mm", "±0.007 mm"),
        (2e-8, "mm", "±0.00004 mm"), (1.0, "°C", "±2.00 °C"),
        (0.00101, "%", "±0.21 %"),
    ],
)  # fmt: skip
def test_doubt_is_twice_the_standard_uncertainty(u: float, unit: str, told: str) -> None:
    """Rounded up, in step with the value, finer where it would vanish; a scale's zero plays no part."""
    assert doubt(u, Shown(unit, 2)) == told


@pytest.mark.parametrize(
    ("low", "high", "told"),
    [
        (1e-4, 2e-4, "0.10 to 0.20 mm"),
        (None, 2e-4, "at most 0.20 mm"),
        (1e-4, None, "at least 0.10 mm"),
        (1e-4, 1e-4, "0.10 mm"),
        (None, None, ""),
    ],
)
def test_spans(low: float | None, high: float | None, told: str) -> None:
    """A range by the ends it has."""
    assert span(low, high, TWO) == told


@pytest.mark.parametrize(
    ("share", "told"), [(0.749999, "74 %"), (0.75, "75 %"), (0.29, "29 %"), (0.999, "99 %"), (1.0, "100 %")]
)
def test_per_cent_never_reads_as_more_than_it_is(share: float, told: str) -> None:
    """Rounded down, float noise aside."""
    assert percent(share) == told


def test_a_value_that_the_verdict_turns_on_is_as_fine_as_its_uncertainty() -> None:
    """0.20 mm read with ±0.0068 mm: 0.200 and ±0.007, so that the places of the two agree."""
    assert said(mm(0.20, 0.0034), a_limit(standard_low=0.20, low=0.20)) == (
        "0.200 mm, limit at least 0.200 mm: right at the limit; "
        "with a measuring uncertainty of ±0.007 mm it may lie on either side"
    )


GUARDED = DecisionRule(kind="guard band")


@pytest.mark.parametrize(
    ("value", "u", "told"),
    [
        (0.46, 0.01, "beyond the limit by more than the guard band of the measuring uncertainty"),
        (0.39, 0.01, "0.390 mm, limit at most 0.400 mm: inside, but by less than the guard band of the "
         "measuring uncertainty, ±0.020 mm; a gauge that resolves 0.005 mm and errs by no more than that "
         "would decide it"),
    ],
)  # fmt: skip
def test_a_guard_band_is_named(value: float, u: float, told: str) -> None:
    """The reason speaks of the band, not of a confidence."""
    assert told in said(mm(value, u), GROWS, GUARDED)


def test_repeats_are_advised_where_they_decide() -> None:
    """Beside the gauge; a number nobody would take is not told."""
    value, limit = mm(0.39, 0.01), GROWS
    told = Told(value, limit, decide(value, limit, RULE), RULE, shown(KNOWN, limit, value.value))
    assert reason(replace(told, repeats=8)).endswith("would decide it, and so would 8 repeats of the reading")
    assert "repeats" not in reason(replace(told, repeats=31))
