"""The table of decisions at its borders: one- and two-sided, with and without uncertainty, by either rule."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm
from scipy.stats import t as student

from inspect_report.judge.decision import allowance_used, decide, repeats_to_decide
from inspect_report.judge.finding import Limit, Verdict
from inspect_report.judge.visual import WORSENING
from inspect_report.records.quantity import Quantity
from inspect_report.records.workshop import DecisionRule
from tests.judge.made import RULE, SIMPLE, a_limit, mm

NEW, OK, WATCH, OPEN, BEYOND, NO_LIMIT = (
    Verdict.AS_NEW,
    Verdict.SERVICEABLE,
    Verdict.MARGINAL,
    Verdict.UNDECIDED,
    Verdict.BEYOND_LIMIT,
    Verdict.NO_LIMIT,
)
GROWS = a_limit(standard_low=0.10, standard_high=0.20, high=0.40)
SHRINKS = a_limit(standard_low=2.90, standard_high=3.10, low=2.50)
EITHER = a_limit(standard_low=0.15, standard_high=0.20, low=0.10, high=0.30)
BARE = a_limit(high=0.05)
RANGE = a_limit(standard_low=0.025, standard_high=0.045)


@pytest.mark.parametrize(
    ("limit", "value", "verdict"),
    [
        (GROWS, 0.15, NEW), (GROWS, 0.20, NEW), (GROWS, 0.201, OK), (GROWS, 0.349, OK), (GROWS, 0.35, WATCH),
        (GROWS, 0.40, WATCH), (GROWS, 0.4001, BEYOND), (GROWS, 0.05, OK), (GROWS, -0.10, OK),
        (SHRINKS, 3.00, NEW), (SHRINKS, 2.90, NEW), (SHRINKS, 2.61, OK), (SHRINKS, 2.60, WATCH),
        (SHRINKS, 2.50, WATCH), (SHRINKS, 2.4999, BEYOND), (SHRINKS, 3.20, OK),
        (EITHER, 0.10, WATCH), (EITHER, 0.0999, BEYOND), (EITHER, 0.13, OK), (EITHER, 0.15, NEW),
        (EITHER, 0.20, NEW), (EITHER, 0.26, OK), (EITHER, 0.30, WATCH), (EITHER, 0.3001, BEYOND),
        (BARE, 0.0, OK), (BARE, 0.05, OK), (BARE, 0.0501, BEYOND),
        (RANGE, 0.025, NEW), (RANGE, 0.045, NEW), (RANGE, 0.046, NO_LIMIT), (RANGE, 0.024, NO_LIMIT),
    ],
)  # fmt: skip
@pytest.mark.parametrize("rule", [RULE, SIMPLE])
def test_without_uncertainty(limit: Limit, value: float, verdict: Verdict, rule: DecisionRule) -> None:
    """An exact value is inside at the limit and beyond past it, whatever the rule."""
    assert decide(mm(value), limit, rule).verdict is verdict


FACTOR = float(norm.ppf(0.95))


@pytest.mark.parametrize(
    ("factor", "verdict"),
    [
        (-FACTOR - 1e-6, WATCH), (-FACTOR + 1e-6, OPEN), (-1.0, OPEN), (0.0, OPEN), (1.0, OPEN),
        (FACTOR - 1e-6, OPEN), (FACTOR + 1e-6, BEYOND),
    ],
)  # fmt: skip
def test_one_sided_borders(factor: float, verdict: Verdict) -> None:
    """At 95 % the undecided zone ends 1.6449 standard uncertainties from the limit (scipy)."""
    assert decide(mm(0.40 + factor * 0.01, 0.01), GROWS, RULE).verdict is verdict


@pytest.mark.parametrize(
    ("factor", "verdict"), [(-FACTOR - 1e-6, BEYOND), (0.0, OPEN), (FACTOR + 1e-6, WATCH)]
)
def test_lower_limit_is_the_mirror(factor: float, verdict: Verdict) -> None:
    """What shrinks is decided like what grows, the other way round."""
    assert decide(mm(2.50 + factor * 0.01, 0.01), SHRINKS, RULE).verdict is verdict


def test_two_sided_counts_both_tails() -> None:
    """In the middle of a range 0.2 wide, 95 % takes a half-width of 1.96 standard uncertainties."""
    two_sided = float(norm.ppf(0.975))
    assert decide(mm(0.20, 0.1 / (two_sided + 1e-6)), EITHER, RULE).verdict is NEW
    assert decide(mm(0.20, 0.1 / (two_sided - 1e-6)), EITHER, RULE).verdict is OPEN


def test_an_uncertainty_wider_than_the_range_decides_nothing() -> None:
    """A value in the middle is never called beyond, though little probability lies inside."""
    decision = decide(mm(0.20, 10.0), EITHER, RULE)
    assert decision.verdict is OPEN
    assert decision.inside == pytest.approx(0.00798, abs=1e-5)


def test_a_stricter_confidence_leaves_more_open() -> None:
    """A value 2 uncertainties inside is shown at 95 % and not at 99 %."""
    value = mm(0.38, 0.01)
    assert decide(value, GROWS, RULE).verdict is WATCH
    assert decide(value, GROWS, DecisionRule(confidence=99)).verdict is OPEN


def test_confidence_is_read_in_per_cent() -> None:
    """The workshop file's 99 means 99 %."""
    assert DecisionRule.model_validate({"confidence": 99}).confidence == pytest.approx(0.99)


@pytest.mark.parametrize(("value", "verdict"), [(0.3999, WATCH), (0.40, WATCH), (0.4001, BEYOND)])
def test_simple_acceptance_takes_the_value_as_it_is(value: float, verdict: Verdict) -> None:
    """Simple acceptance looks at the value alone, however unsure it is, and still tells the probability."""
    decision = decide(mm(value, 0.02), GROWS, SIMPLE)
    assert decision.verdict is verdict
    assert decision.inside == pytest.approx(0.5, abs=0.01)


@pytest.mark.parametrize(
    ("fit", "verdict"), [(-0.0003, NEW), (0.00005, OK), (0.0002, WATCH), (0.0003, BEYOND), (-0.0008, OK)]
)
def test_interference_fit(fit: float, verdict: Verdict) -> None:
    """A fit that is negative when new and may open to 0.0002 in is judged across zero."""
    limit = a_limit(standard_low=-0.0005, standard_high=-0.0001, high=0.0002)
    assert decide(mm(fit), limit, RULE).verdict is verdict


def test_limit_at_the_edge_of_new() -> None:
    """Where new parts may lie at the limit itself there is no allowance: as new up to it, beyond past it."""
    limit = a_limit(standard_low=0.10, standard_high=0.20, low=0.10, high=0.20)
    assert [decide(mm(v), limit, RULE).verdict for v in (0.10, 0.15, 0.20)] == [NEW, NEW, NEW]
    assert [decide(mm(v), limit, RULE).verdict for v in (0.0999, 0.2001)] == [BEYOND, BEYOND]
    assert decide(mm(0.2001), limit, RULE).used is None


@pytest.mark.parametrize(
    "limit",
    [
        None,
        a_limit(),
        a_limit(standard_low=22.013, standard_high=22.013),
        a_limit(standard_low=0.010, standard_high=0.066, high=0.03, disputed="printed so"),
    ],
)
def test_nothing_to_judge_by(limit: Limit | None) -> None:
    """No row, an empty row, a nominal size and a disputed row give no verdict, whatever the value."""
    for value in (0.0, 0.02, 22.013, 50.0):
        assert decide(mm(value, 0.001), limit, RULE).verdict is NO_LIMIT


@pytest.mark.parametrize(
    ("limit", "value", "used"),
    [
        (GROWS, 0.15, 0.0), (GROWS, 0.30, 0.5), (GROWS, 0.40, 1.0), (GROWS, 0.50, 1.5), (GROWS, 0.05, 0.0),
        (SHRINKS, 2.70, 0.5), (SHRINKS, 2.30, 1.5), (EITHER, 0.12, 0.6), (EITHER, 0.25, 0.5),
        (BARE, 0.04, None),
        (a_limit(standard_low=10, standard_high=10, high=10.1), 10.05, 0.5),
        (a_limit(standard_high=0.01, high=0.03), 0.02, 0.5),
    ],
)  # fmt: skip
def test_allowance_used(limit: Limit, value: float, used: float | None) -> None:
    """Counted from the nearest edge of the new range on the side of wear to the limit."""
    assert allowance_used(value * 1e-3, limit) == (None if used is None else pytest.approx(used))


@pytest.mark.parametrize(
    ("limit", "value", "side"),
    [
        (GROWS, 0.15, ""),
        (GROWS, 0.21, "above"),
        (GROWS, 0.09, "below"),
        (BARE, 0.04, ""),
        (BARE, 0.06, "above"),
    ],
)
def test_side(limit: Limit, value: float, side: str) -> None:
    """The side is that of the new range, of the limits where there is no range."""
    assert decide(mm(value), limit, RULE).side == side


def test_watch_band_of_the_row() -> None:
    """A row may start its watch band elsewhere than at three quarters."""
    limit = replace(GROWS, watch=0.5)
    assert [decide(mm(v), limit, RULE).verdict for v in (0.299, 0.30)] == [OK, WATCH]


@pytest.mark.parametrize(("value", "u"), [(0.39, 0.01), (0.41, 0.01), (0.3999, 0.0004)])
def test_the_uncertainty_that_would_decide(value: float, u: float) -> None:
    """With a hair less than it the same value is decided, with a hair more it is not."""
    deciding = decide(mm(value, u), GROWS, RULE).deciding
    assert deciding is not None
    assert deciding == pytest.approx(abs(value - 0.40) * 1e-3 / FACTOR, rel=1e-6)
    assert decide(Quantity(value * 1e-3, deciding * 0.999, "length"), GROWS, RULE).verdict is not OPEN
    assert decide(Quantity(value * 1e-3, deciding * 1.001, "length"), GROWS, RULE).verdict is OPEN


def test_nothing_decides_a_value_on_the_limit() -> None:
    """Right on the limit half the probability lies on either side with any gauge."""
    assert decide(mm(0.40, 0.01), GROWS, RULE).deciding is None


values = st.floats(-1.0, 1.0)
uncertainties = st.one_of(st.just(0.0), st.floats(1e-6, 0.5))


@given(value=values, u=uncertainties)
def test_mirror_image(value: float, u: float) -> None:
    """Turning value and limits over their sign changes neither verdict, share, nor probability."""
    there = decide(mm(value, u), EITHER, RULE)
    back = decide(
        mm(-value, u), a_limit(standard_low=-0.20, standard_high=-0.15, low=-0.30, high=-0.10), RULE
    )
    assert back.verdict is there.verdict
    assert back.used == pytest.approx(there.used)
    assert back.inside == pytest.approx(there.inside, abs=1e-12)
    assert {there.side, back.side} in ({""}, {"above", "below"})


@given(one=values, other=values, u=uncertainties)
def test_more_wear_is_never_a_better_verdict(one: float, other: float, u: float) -> None:
    """Past the new range a larger value of what grows is judged as badly or worse."""
    less, more = sorted((abs(one) + 0.10, abs(other) + 0.10))
    verdicts = [decide(mm(v, u), GROWS, RULE).verdict for v in (less, more)]
    if NEW in verdicts[1:] or verdicts[0] is OPEN:
        return
    assert WORSENING.index(verdicts[0]) <= WORSENING.index(verdicts[1])


@given(value=values, u=uncertainties, unit=st.sampled_from([25.4, 1e-3, 1e3, 6894.757]))
def test_units_do_not_matter(value: float, u: float, unit: float) -> None:
    """Value and limits written in another unit give the same verdict and share."""
    scaled = a_limit(standard_low=0.10 * unit, standard_high=0.20 * unit, high=0.40 * unit)
    here, there = decide(mm(value, u), GROWS, RULE), decide(mm(value * unit, u * unit), scaled, RULE)
    assert here.verdict is there.verdict
    assert here.used == pytest.approx(there.used, rel=1e-9, abs=1e-9)


@given(value=values, u=uncertainties)
def test_outcomes_exclude_each_other(value: float, u: float) -> None:
    """Inside is said at 95 % or more, beyond at 5 % or less and only of values that lie beyond."""
    decision = decide(mm(value, u), EITHER, RULE)
    assert decision.inside is not None
    kept = decision.verdict in (NEW, OK, WATCH)
    assert kept == (decision.inside >= 0.95 - 1e-9)
    if decision.verdict is BEYOND:
        assert decision.inside <= 0.05 + 1e-9
        assert not 0.10 <= value <= 0.30


GUARDED = DecisionRule(kind="guard band")


@pytest.mark.parametrize(
    ("value", "verdict"),
    [(0.379, WATCH), (0.380, WATCH), (0.381, OPEN), (0.40, OPEN), (0.419, OPEN), (0.421, BEYOND)],
)
def test_a_guard_band_is_as_wide_as_the_expanded_uncertainty(value: float, verdict: Verdict) -> None:
    """With u 0.01 and k = 2 the band of 0.40 reaches from 0.38 to 0.42; its inner edge is inside."""
    assert decide(mm(value, 0.01), GROWS, GUARDED).verdict is verdict


@pytest.mark.parametrize(("value", "verdict"), [(0.389, WATCH), (0.391, OPEN), (0.41, OPEN), (0.411, BEYOND)])
def test_a_guard_band_of_half_the_uncertainty(value: float, verdict: Verdict) -> None:
    """The multiple is the workshop's."""
    half = DecisionRule(kind="guard band", guard=0.5)
    assert decide(mm(value, 0.01), GROWS, half).verdict is verdict


def test_guard_bands_of_two_limits() -> None:
    """Between 0.10 and 0.30 with u 0.02 all from 0.14 to 0.26 is inside; a narrower range is not."""
    verdicts = [decide(mm(v, 0.02), EITHER, GUARDED).verdict for v in (0.13, 0.15, 0.25, 0.27)]
    assert verdicts == [OPEN, NEW, OK, OPEN]
    assert decide(mm(0.20, 0.06), EITHER, GUARDED).verdict is OPEN


def test_a_guard_band_widens_with_student() -> None:
    """Five repeats give k = 2.87 (t at 95.45 %, 4 degrees of freedom, scipy): 0.40 less 0.0287 is 0.3713."""
    few = replace(mm(0.372, 0.01), dof=4.0)
    assert decide(few, GROWS, GUARDED).verdict is OPEN
    assert decide(replace(few, value=mm(0.371).value), GROWS, GUARDED).verdict is WATCH


@given(st.floats(0.05, 0.6), st.floats(1e-4, 0.05), st.floats(0.05, 3.0))
def test_a_guard_band_never_contradicts_the_value(value: float, u: float, guard: float) -> None:
    """What is called inside is inside, what is called beyond is beyond, and a wider band decides no more."""
    narrow, wide = (
        decide(mm(value, u), GROWS, DecisionRule(kind="guard band", guard=g)).verdict
        for g in (guard, min(3.0, guard * 1.5))
    )
    assert (narrow is BEYOND) <= (value > 0.40)
    assert (narrow not in (BEYOND, OPEN)) <= (value <= 0.40 + 1e-9)
    assert wide in (narrow, OPEN)


def test_deciding_uncertainty_of_a_guard_band() -> None:
    """0.39 lies 0.01 inside: the band is as narrow at u 0.005 (k = 2)."""
    decision = decide(mm(0.39, 0.01), GROWS, GUARDED)
    assert decision.deciding == pytest.approx(mm(0.005).value, rel=1e-9)


def test_repeats_that_decide() -> None:
    """
    Worked out by hand.

    u 0.010, of it 0.008 scatter of 4 repeats, so 0.006 stays. Deciding 0.0070 leaves room for
    sqrt(0.0070² - 0.006²) = 0.003606 of scatter: 4 · (0.008 / 0.003606)² = 19.7, so 20 repeats.
    """
    quantity = Quantity(0.39, 0.010, "length")
    assert repeats_to_decide(quantity, 0.0070, 0.008, 4) == 20
    assert repeats_to_decide(quantity, 0.0060, 0.008, 4) is None
    assert repeats_to_decide(quantity, 0.0070, 0.0, 4) is None
    assert repeats_to_decide(quantity, None, 0.008, 4) is None
    assert repeats_to_decide(quantity, 0.0070, 0.008, 1) is None


def test_few_repeats_widen_the_chance() -> None:
    """One uncertainty inside: 84.1 % by the normal law, 81.3 % with 4 degrees of freedom (scipy)."""
    value = mm(0.39, 0.01)
    assert decide(value, GROWS, RULE).inside == pytest.approx(float(norm.cdf(1.0)), abs=1e-9)
    few = decide(replace(value, dof=4.0), GROWS, RULE)
    assert few.inside == pytest.approx(float(student.cdf(1.0, 4.0)), abs=1e-9)
