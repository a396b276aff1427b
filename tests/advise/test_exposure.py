"""Holds the buyer's view against exact sums over every outcome, and against what must hold of it."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal
from itertools import product
from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_report.advise import advising
from inspect_report.advise.buyer import Buyer
from inspect_report.advise.exposure import buyers_view
from inspect_report.advise.options import Till
from inspect_report.advise.rules import diagnose
from inspect_report.advise.work import plan_work
from inspect_report.judge.finding import Finding, Verdict
from inspect_report.knowledge.case import Case
from inspect_report.knowledge.rulebook import Rule
from inspect_report.measure.derived import Measured
from inspect_report.measure.guard import RAISE
from inspect_report.records.position import ENGINE, Position
from tests.advise.builders import answer, at, case, finding, judged, rule

D = Decimal
COIN: Final = D("0.01")


def doubtful(characteristic: str, place: Position, chance: float, verdict: str = "undecided") -> Finding:
    """A measured finding that is beyond its limit with some chance."""
    return replace(finding(characteristic, place, verdict), inside=1.0 - chance)


def view(*findings: Finding, made: Case | None = None, **changes: Any) -> Buyer:
    """The buyer's view of some findings of the small engine."""
    return buyers_view(made or case(**changes), findings)


def worth(made: Case, findings: Iterable[Finding]) -> Decimal:
    """What the work of some findings costs, planned and billed on its own, tax included."""
    return Till(made).cost(plan_work(made.books, findings, ())).gross.low


ASKING: Final = {
    "leak-down.1": ("leak-down", at(1), 0.3),
    "leak-down.2": ("leak-down", at(2), 0.15),
    "valve-clearance.2.inlet-1": ("valve-clearance", at(2, "inlet-1"), 0.6),
    "valve-clearance.3.exhaust-2": ("valve-clearance", at(3, "exhaust-2"), 0.2),
    "chain-length": ("chain-length", ENGINE, 0.45),
}


def distribution(made: Case, known: tuple[Finding, ...]) -> dict[Decimal, float]:
    """What comes on top of what is known, each sum with its exact probability, over all 32 outcomes."""
    found: dict[Decimal, float] = {}
    for outcome in product((False, True), repeat=len(ASKING)):
        told = list(zip(ASKING.values(), outcome, strict=True))
        beyond = [finding(c, p, "beyond limit") for (c, p, _), true in told if true]
        chance = math.prod(x if true else 1 - x for (_, _, x), true in told)
        added = worth(made, [*known, *beyond]) - worth(made, known)
        found[added] = found.get(added, 0.0) + chance
    return found


KNOWN: Final = ((), (finding("valve-clearance", at(1, "inlet-2"), "beyond limit"),))


@pytest.mark.parametrize("known", KNOWN)
def test_few_chances_come_to_the_exact_sums(known: tuple[Finding, ...]) -> None:
    """Five doubtful findings, every outcome billed alone: mean, points and the chance of nothing."""
    made, drawn = case(), [doubtful(*told) for told in ASKING.values()]
    likely = view(*known, *drawn, made=made).likely
    exact = distribution(made, known)
    assert float(likely.mean) == pytest.approx(sum(float(x) * p for x, p in exact.items()), abs=0.02)
    for point, share in ((likely.p10, 0.1), (likely.p50, 0.5), (likely.p90, 0.9)):
        assert sum(p for x, p in exact.items() if x <= point + COIN) >= share - 1e-9
        assert sum(p for x, p in exact.items() if x < point - COIN) < share
    assert likely.nothing == pytest.approx(exact[D(0)], abs=1e-12)
    assert likely.draws == 0


@pytest.mark.parametrize("known", KNOWN)
def test_simulation_comes_to_the_exact_sums(
    known: tuple[Finding, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """
    Five doubtful findings, every outcome billed alone: mean within five standard errors, points in place.

    A point lies right where the exact distribution reaches its share within five standard errors of a share.
    """
    monkeypatch.setattr("inspect_report.advise.likely.MOST_COUNTED", 0)
    made, drawn = case(), [doubtful(*told) for told in ASKING.values()]
    likely = view(*known, *drawn, made=made).likely
    assert likely.draws
    exact = distribution(made, known)
    mean = sum(float(x) * p for x, p in exact.items())
    spread = math.sqrt(sum((float(x) - mean) ** 2 * p for x, p in exact.items()))
    assert abs(float(likely.mean) - mean) <= 5 * spread / math.sqrt(likely.draws) + 0.01
    for point, share in ((likely.p10, 0.1), (likely.p50, 0.5), (likely.p90, 0.9)):
        slack = 5 * math.sqrt(share * (1 - share) / likely.draws)
        assert any(abs(point - x) <= COIN for x in exact)
        assert sum(p for x, p in exact.items() if x <= point + COIN) >= share - slack
        assert sum(p for x, p in exact.items() if x < point - COIN) <= share + slack
    assert likely.nothing == pytest.approx(exact[D(0)], abs=5 / math.sqrt(likely.draws))


def test_each_chance_is_told_with_what_it_adds_alone() -> None:
    """Chance, jobs and sum of every doubtful finding, the sum as billed on its own."""
    made, known = case(), (finding("valve-clearance", at(1, "inlet-2"), "beyond limit"),)
    likely = view(*known, *(doubtful(*told) for told in ASKING.values()), made=made).likely
    assert {c.id for c in likely.chances} == set(ASKING)
    for told in likely.chances:
        characteristic, place, chance = ASKING[told.id]
        alone = finding(characteristic, place, "beyond limit")
        assert told.chance == pytest.approx(chance)
        assert abs(told.added - (worth(made, [*known, alone]) - worth(made, known))) <= COIN
    assert {c.jobs for c in likely.chances} == {("pistons",), ("set-gaps",), ("chain",)}


def test_what_is_certain_is_what_is_known() -> None:
    """Chances of 1 cost in every draw what the same findings cost once shown beyond their limits."""
    made = case()
    doubted = view(*(doubtful(c, p, 1.0) for c, p, _ in ASKING.values()), made=made)
    known = view(*(finding(c, p, "beyond limit") for c, p, _ in ASKING.values()), made=made)
    told = doubted.likely
    assert told.mean == told.p10 == told.p50 == told.p90
    assert abs(told.mean - known.known_low) <= COIN
    assert (told.nothing, known.likely.nothing) == (0.0, 1.0)
    assert doubted.known_low == 0
    shown = [finding(c, p, "beyond limit") for c, p, _ in ASKING.values()]
    assert known.known_low == known.known_high == worth(made, shown)


CHANCES = st.lists(st.floats(0, 1), min_size=5, max_size=5)


@settings(max_examples=30, deadline=None)
@given(CHANCES, CHANCES)
def test_higher_chances_never_cost_less(some: list[float], more: list[float]) -> None:
    """Points are ordered, and none falls when chances rise; here no job makes another needless."""
    places = [(c, p) for c, p, _ in ASKING.values()]
    raised = [max(pair) for pair in zip(some, more, strict=True)]
    # The same five are drawn both times, so that each has its own row of draws.
    low, high = (
        view(*(doubtful(c, p, max(x, 1e-6)) for (c, p), x in zip(places, chances, strict=True))).likely
        for chances in (some, raised)
    )
    for likely in (low, high):
        assert 0 <= likely.p10 <= likely.p50 <= likely.p90
    assert low.mean <= high.mean
    assert low.p10 <= high.p10
    assert low.p50 <= high.p50
    assert low.p90 <= high.p90
    assert low.nothing >= high.nothing


def test_two_looks_give_the_same_view() -> None:
    """The seed is fixed, and the order of the findings plays no part."""
    drawn = [doubtful(*told) for told in ASKING.values()]
    assert view(*drawn).likely == view(*reversed(drawn)).likely


def test_one_job_is_paid_once_whatever_asks_for_it() -> None:
    """Pistons are renewed all at once: two leaking cylinders cost what one does."""
    one = view(doubtful("leak-down", at(1), 1.0)).likely.mean
    both = view(doubtful("leak-down", at(1), 1.0), doubtful("leak-down", at(2), 1.0)).likely.mean
    assert both == one > 0


def test_what_is_needed_already_adds_nothing() -> None:
    """A second leaking cylinder asks for the pistons that the first one needs."""
    made = view(finding("leak-down", at(1), "beyond limit"), doubtful("leak-down", at(2), 0.9))
    assert made.known_low > 0
    assert made.likely.mean == made.likely.p90 == 0
    assert made.likely.nothing == 1.0
    assert made.likely.chances[0].jobs == ("pistons",)


def test_access_is_paid_once_in_each_draw() -> None:
    """The chain alone: cams out 2.2 h, 1.5 h of work, gasket 18.40, chain 88; with gaps set, no access."""
    alone = view(doubtful("chain-length", ENGINE, 1.0)).likely.mean
    shared = view(
        finding("valve-clearance", at(1, "inlet-1"), "beyond limit"), doubtful("chain-length", ENGINE, 1.0)
    ).likely.mean
    assert alone == ((D("3.7") * D("72.50") + D("18.40") + 88) * D("1.19")).quantize(COIN)
    assert shared == ((D("1.5") * D("72.50") + 88) * D("1.19")).quantize(COIN)


def test_a_value_well_inside_is_not_drawn() -> None:
    """A chance below one in a million, and a value without a limit, are left out."""
    inside = doubtful("leak-down", at(1), 1e-9, "serviceable")
    assert view(inside, finding("chain-length", ENGINE, "no limit known")).likely.chances == ()


def test_a_value_that_keeps_its_limit_may_still_be_beyond() -> None:
    """Serviceable with a chance of one in fifty: drawn, not known."""
    made = view(doubtful("leak-down", at(1), 0.02, "serviceable"))
    (chance,) = made.likely.chances
    assert made.known_low == 0
    assert chance.id == "leak-down.1"
    assert chance.chance == pytest.approx(0.02)
    assert 0.96 < made.likely.nothing < 0.995


UNSURE: Final[Mapping[str, Any]] = {
    "when": {
        "all": [
            {"quantity": "leak-down", "verdict": ["undecided", "beyond limit"]},
            {"choice": "leak-heard", "answer": ["exhaust"]},
        ]
    },
    "cases": [
        {"given": {"leak-down": {3: "beyond limit"}, "leak-heard": {3: ["exhaust"]}}, "fires": [3]},
        {"given": {"leak-down": {3: "as new"}, "leak-heard": {3: ["exhaust"]}}, "fires": []},
    ],
}


def read(made: Case, *findings: Finding) -> Buyer:
    """The view with the patterns that the rules see."""
    diagnoses, _ = diagnose(made, judged(*findings), (), [])
    assert diagnoses
    return buyers_view(made, findings, diagnoses)


def test_a_pattern_that_rests_on_doubt_comes_true_with_it() -> None:
    """Reseating is asked for where leak-down, undecided, is really beyond; in its place no pistons are."""
    heard = answer("leak-heard", at(3), "exhaust")
    made = case(rule(**UNSURE), answers=[heard])
    doubted = read(made, doubtful("leak-down", at(3), 0.4))
    shown = read(made, finding("leak-down", at(3), "beyond limit"))
    assert doubted.known_low == 0
    assert shown.likely.nothing == 1.0
    assert abs(doubted.likely.p90 - shown.known_low) <= COIN
    assert doubted.likely.nothing == pytest.approx(0.6, abs=0.03)


def test_a_pattern_that_stands_anyway_is_known() -> None:
    """A rule that an undecided value does not carry alone counts as needed."""
    told = dict(UNSURE) | {"when": {"all": [{"choice": "leak-heard", "answer": ["exhaust"]}]}}
    cases = [
        {"given": {"leak-heard": {3: ["exhaust"]}}, "fires": [3]},
        {"given": {"leak-heard": {3: ["none"]}}, "fires": []},
    ]
    sure: Rule = rule(**told | {"cases": cases})
    made = read(
        case(sure, answers=[answer("leak-heard", at(3), "exhaust")]), doubtful("leak-down", at(3), 0.4)
    )
    assert made.known_low > 0


def missed(characteristic: str, place: Position = ENGINE, *, deeper: bool = True) -> Finding:
    """Something nobody looked at."""
    return replace(finding(characteristic, place, "not inspected"), reason="not opened", outside_depth=deeper)


def test_what_nobody_looked_at_is_priced_and_never_drawn() -> None:
    """Chain and gaps unseen: each with what a fault adds, at one place and at all, and no chance made up."""
    made = case()
    seen = view(missed("chain-length"), missed("valve-clearance"), made=made)
    chain, gaps = seen.hidden_at("chain-length"), seen.hidden_at("valve-clearance")
    assert chain is not None
    assert gaps is not None
    assert seen.likely.chances == ()
    one = finding("valve-clearance", at(1, "inlet-1"), "beyond limit")
    sides = ("inlet-1", "inlet-2", "exhaust-1", "exhaust-2")
    every = [finding("valve-clearance", at(c, v), "beyond limit") for c in (1, 2, 3, 4) for v in sides]
    assert abs(gaps.low - worth(made, [one])) <= COIN
    assert abs(gaps.high - worth(made, every)) <= COIN
    assert chain.low == chain.high
    assert (
        abs(seen.hidden_high - worth(made, [*every, finding("chain-length", ENGINE, "beyond limit")])) <= COIN
    )
    assert chain.jobs == ("chain",)
    assert chain.share is None


def test_a_hidden_fault_costs_only_what_is_not_known_already() -> None:
    """With the cams out for the gaps, a chain adds its own work and part; a second gap its quarter hour."""
    gap = finding("valve-clearance", at(1, "inlet-1"), "beyond limit")
    seen = view(gap, missed("chain-length"), missed("valve-clearance", at(2, "inlet-1")))
    chain, gaps = seen.hidden_at("chain-length"), seen.hidden_at("valve-clearance")
    assert chain is not None
    assert gaps is not None
    assert chain.high == ((D("1.5") * D("72.50") + 88) * D("1.19")).quantize(COIN)
    assert gaps.low == gaps.high == ((D("0.25") * D("72.50") + D("6.90")) * D("1.19")).quantize(COIN)


def test_a_share_of_the_workshop_makes_a_chance() -> None:
    """What nobody looked at is drawn with the share of the workshop file, and stays among the hidden."""
    made = case(shop={"shares-beyond": {"chain-length": "25 %"}})
    seen = view(missed("chain-length"), made=made)
    (chance,) = seen.likely.chances
    assert (chance.id, chance.ground, chance.chance) == ("chain-length", "share of the workshop", 0.25)
    assert pytest.approx(1 - seen.likely.nothing, abs=0.02) == 0.25
    assert [h.share for h in seen.hidden] == [0.25]
    assert seen.likely.p90 == seen.hidden[0].high


def test_what_has_no_price_is_counted_and_not_free() -> None:
    """Piston kits have no price in the small workshop: one on request, known, likely and hidden alike."""
    seen = view(finding("leak-down", at(1), "beyond limit"))
    assert (
        seen.known_on_request,
        view(doubtful("leak-down", at(1), 0.5)).likely.chances[0].on_request,
        view(missed("leak-down")).hidden[0].on_request,
    ) == (1, 1, 1)


def test_a_check_of_ours_that_failed_counts_as_hidden() -> None:
    """Nobody knows more of it than of what was not looked at."""
    seen = view(finding("chain-length", ENGINE, Verdict.CHECK_FAILED))
    assert [h.characteristic for h in seen.hidden] == ["chain-length"]


def test_coverage_is_by_weight() -> None:
    """Weights 1 each; of four leak-downs three were read, the chain was not: (0.75 + 0) of 2."""
    seen = view(
        *(finding("leak-down", at(n), "as new") for n in (1, 2, 3)),
        missed("leak-down", at(4)),
        missed("chain-length"),
        finding("coolant-pressure", ENGINE, "not applicable"),
    )
    assert [(p.assembly, p.seen, p.weight) for p in seen.looked] == [("engine", 0.75, 2.0)]
    assert seen.engine.share == 0.375


def test_an_engine_nobody_looked_at_is_covered_by_nothing() -> None:
    """Without any finding there is no share, which is not the same as none."""
    assert view().engine.share is None


def test_a_fault_of_ours_in_the_view_leaves_the_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    """The advice comes out without a buyer's view, and says that it failed."""
    monkeypatch.delenv(RAISE, raising=False)
    monkeypatch.setattr(advising, "buyers_view", lambda *_: 1 // 0)
    advice = advising.advise(case(), Measured(()), judged(finding("leak-down", at(1), "beyond limit")), ())
    assert advice.buyer is None
    assert [w.job for w in advice.work] == ["pistons"]
    assert [(f.characteristic, "ZeroDivisionError" in f.message) for f in advice.failed] == [
        ("buyer's view", True)
    ]
