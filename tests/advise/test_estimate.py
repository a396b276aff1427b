"""Turns the promises about money into checks; expected amounts are worked out by hand beside each."""

from dataclasses import replace
from decimal import Decimal
from itertools import combinations
from typing import Any

import pytest

from inspect_report.advise.advice import Estimate, WorkItem
from inspect_report.advise.desk import rounded
from inspect_report.advise.estimate import estimate
from inspect_report.advise.priced import EstimateLine
from inspect_report.knowledge.catalogue import Urgency
from inspect_report.measure.derived import ShimChoice, ShimSource
from inspect_report.records.position import Position
from tests.advise.builders import ACCESS, JOBS, PRICES, at, case, item, workbook

D = Decimal


def priced(*work: WorkItem, depth: str = "in the frame", **changes: Any) -> Estimate:
    """An estimate of some work."""
    return estimate(case(depth=depth, **changes), work)


def lines(made: Estimate, total: int = 0) -> dict[str, EstimateLine]:
    """Lines of one total by id."""
    return {line.id: line for line in made.totals[total].lines}


def test_a_job_is_paid_with_its_access_and_parts() -> None:
    """Chain: 1.5 h; cover 1.0 h and camshafts 1.2 h; gasket and chain. All at 72.50 an hour, 19 % tax."""
    made = priced(item("chain", "before running"))
    must = made.totals[0]
    assert {i: line.price for i, line in lines(made).items()} == {
        "chain": D("108.75"),
        "cover-off": D("72.50"),
        "cams-out": D("87.00"),
        "cover-gasket": D("18.40"),
        "cam-chain": D("88.00"),
    }
    assert (must.net, must.tax, must.gross) == (D("374.65"), D("71.18"), D("445.83"))  # 71.1835 of tax
    assert [t.net for t in made.totals[1:]] == [D("0.00")] * 2
    assert (made.currency, made.tax_name, made.tax_rate, made.labour_rate) == (
        "EUR",
        "VAT",
        D("0.19"),
        D("72.50"),
    )


def test_a_later_class_finds_open_what_an_earlier_one_opened() -> None:
    """The head comes off for the seats; the chain behind the same cover pays for itself alone."""
    made = priced(item("reseat", "before running", at(3)), item("chain", "at this opening"))
    assert set(lines(made, 1)) == {"chain", "cam-chain"}
    assert lines(made)["cams-out"].for_jobs == ("reseat", "chain")


def test_the_most_urgent_job_pays_for_the_access() -> None:
    """The other way round the chain pays for cover and camshafts, the seats only for plugs and head."""
    made = priced(item("chain", "before running"), item("reseat", "at this opening", at(3)))
    access = [[line.id for line in t.lines if line.kind == "access"] for t in made.totals]
    assert access == [["cover-off", "cams-out"], ["plugs-out", "head-off"], []]


def test_parts_of_a_step_count_along_their_axis() -> None:
    """A stem seal for each of sixteen valves: 16 × 3.15."""
    seal = lines(priced(item("reseat", "before running", at(3))))["stem-seal"]
    assert (seal.quantity, seal.price) == (D(16), D("50.40"))


def test_machine_shop_work_is_a_line_of_its_own_kind() -> None:
    """Seats cut at two places: 2 × 27.50."""
    seats = lines(priced(item("reseat", "before running", at(1), at(3))))["seat-work"]
    assert (seats.kind, seats.quantity, seats.price) == ("machine shop", D(2), D("55.00"))


def test_equal_parts_of_a_class_share_a_line() -> None:
    """A sump gasket for the step and one for the job: 2 × 12.05."""
    gasket = lines(priced(item("strainer", "before running")))["sump-gasket"]
    assert (gasket.quantity, gasket.price, gasket.for_jobs) == (D(2), D("24.10"), ("strainer",))


def test_a_part_without_a_price_is_on_request_and_never_nought() -> None:
    """Pistons have no price: the line says so, the sum leaves it out and the total counts it."""
    made = priced(item("pistons", "before running"))
    kit = lines(made)["piston-kit"]
    assert (kit.unit_price, kit.price, kit.quantity) == (None, None, D(4))
    assert made.totals[0].on_request == 1
    shown = sum((line.price for line in made.totals[0].lines if line.price is not None), D(0))
    assert shown == made.totals[0].net


def test_a_job_without_a_price_is_on_request_and_its_access_is_not() -> None:
    """What the search for debris costs is not known; the sump still has to come off."""
    made = priced(item("find-source", "before running"))
    assert lines(made)["find-source"].price is None
    assert lines(made)["sump-off"].price == D("94.25")  # 1.3 h
    assert made.totals[0].on_request == 1


def test_watched_and_needless_jobs_cost_nothing() -> None:
    """They are told, and not priced."""
    needless = replace(item("set-gaps", "before running", at(1)), covered_by="reseat")
    assert [t.lines for t in priced(item("chain", "watch"), needless).totals] == [(), (), ()]


def test_an_engine_left_open_is_closed_before_anything_else() -> None:
    """Head off at the inspection, no work: 2.6 h of strip-down, 3.6 h of closing, and all one-use parts."""
    made = priced(depth="top end off")
    hours = {
        kind: sum((line.quantity for line in made.totals[0].lines if line.kind == kind), D(0))
        for kind in ("strip-down", "access")
    }
    # plugs 0.2 and 0.3, cover 0.5 and 0.5, camshafts 0.4 and 0.8, head 1.5 and 2.0
    assert hours == {"strip-down": D("2.6"), "access": D("3.6")}
    assert made.totals[0].net == D("449.50") + D("18.40") + D("64.95") + D("50.40")


def test_a_figure_of_the_workshop_is_shared_as_the_workbook_shares_its_own() -> None:
    """Head on and off in 3.0 h, by the book 1.5 of 3.5 h to take it off: 1.29 h and 1.71 h."""
    made = priced(depth="top end off", shop={"hours": {"head-off": 3}})
    head = {line.kind: line.quantity for line in made.totals[0].lines if line.id == "head-off"}
    assert head == {"strip-down": D("1.29"), "access": D("1.71")}


def test_an_inspection_in_the_frame_charges_nothing_for_itself() -> None:
    """The cover was off for the valve gaps and is back on: nothing to pay, and a later job opens it anew."""
    assert priced(depth="in the frame").totals[0].net == D("0.00")
    assert lines(priced(item("chain", "next opening"), depth="in the frame"), 2)["cover-off"].price == D(
        "72.50"
    )


def test_a_step_open_at_the_inspection_is_not_paid_again_for_a_job() -> None:
    """With the head off already, seats cost only themselves on top."""
    without, seats = (
        priced(depth="top end off"),
        priced(item("reseat", "before running", at(3)), depth="top end off"),
    )
    assert seats.totals[0].net - without.totals[0].net == D("87.00") + D("27.50")


def test_the_workshops_own_hours_open_and_close_a_step() -> None:
    """One figure for both ways: 3 h instead of 3.5 h."""
    made = priced(item("reseat", "before running", at(3)), shop={"hours": {"head-off": 3}})
    assert lines(made)["head-off"].price == D("217.50")


@pytest.mark.parametrize(
    ("amount", "currency", "expected"),
    [
        ("18.125", "EUR", "18.13"),
        ("18.124", "EUR", "18.12"),
        ("0.005", "USD", "0.01"),
        ("1234.5", "JPY", "1235"),
        ("1.0005", "KWD", "1.001"),
    ],
)
def test_rounding_is_half_up_to_the_smallest_coin(amount: str, currency: str, expected: str) -> None:
    """ISO 4217, from memory: two decimals for euro and dollar, none for yen, three for the Kuwaiti dinar."""
    assert D(expected) == rounded(D(amount), currency)
    assert D(expected).as_tuple().exponent == rounded(D(amount), currency).as_tuple().exponent


def test_money_without_a_tax_is_net() -> None:
    """No tax in the workshop file: no name, rate nought, gross is net."""
    made = priced(
        item("chain", "before running"), shop={"tax": None, "currency": "JPY", "labour-rate": "7000"}
    )
    must = made.totals[0]
    assert (made.tax_name, made.tax_rate, must.tax, must.gross) == ("", D(0), D(0), must.net)
    assert must.net.as_tuple().exponent == 0


def test_a_tax_rate_with_decimals_is_exact() -> None:
    """7.7 % is 0.077, though as a float it is a trifle more."""
    assert priced(shop={"tax": {"name": "VAT", "rate": "7.7 %"}}).tax_rate == D("0.077")


def test_a_part_of_unknown_count_is_on_request() -> None:
    """A part for each crankpin of an engine whose crankpins nobody counted."""
    jobs = [
        {
            "id": "shells",
            "name": "Shells",
            "hours": 1,
            "parts": [{"part": "shell", "name": "Shell", "per": "crankpin"}],
        }
    ]
    made = priced(
        item("shells", "before running", of=workbook(jobs=jobs)),
        work=workbook(jobs=jobs),
        shop={"prices": {"shell": 9}},
    )
    assert lines(made)["shell"].price is None


STEP_NEEDS = {
    "set-gaps": "cover cams",
    "reseat": "plugs cover cams head",
    "chain": "cover cams",
    "clean-crowns": "plugs cover cams head",
    "strainer": "sump",
}
JOB_COST = {  # by hand: hours × 72.50, and parts
    "set-gaps": D("18.13") + D("6.90"),
    "reseat": D("87.00") + D("27.50"),
    "chain": D("108.75") + D("88.00"),
    "clean-crowns": D("21.75"),
    "strainer": D("29.00") + D("12.05") + D("40.93"),
}
STEP_COST = {
    "plugs": D("36.25"),
    "cover": D("72.50") + D("18.40"),
    "cams": D("87.00"),
    "head": D("253.75") + D("64.95") + D("50.40"),
    "sump": D("94.25") + D("12.05"),
}


@pytest.mark.parametrize("size", range(1, len(JOB_COST) + 1))
def test_a_set_of_jobs_costs_the_jobs_and_the_union_of_their_steps(size: int) -> None:
    """Brute force over every set of five jobs, in one class and spread over the three."""
    for jobs in combinations(JOB_COST, size):
        steps = {s for job in jobs for s in STEP_NEEDS[job].split()}
        expected = sum((JOB_COST[j] for j in jobs), D(0)) + sum((STEP_COST[s] for s in steps), D(0))
        together = priced(*(item(j, "at this opening", at(1)) for j in jobs))
        assert expected == together.totals[1].net
        classes = ("before running", "at this opening", "next opening")
        spread = priced(*(item(j, classes[n % 3], at(1)) for n, j in enumerate(jobs)))  # type: ignore[arg-type]
        assert expected == sum((t.net for t in spread.totals), D(0))


def test_the_books_of_these_tests_are_whole() -> None:
    """Each job names steps of the tree, so that no step above is missed by a slip of the pen."""
    steps = {s["id"] for s in ACCESS}
    assert all(set(j["access"]) <= steps for j in JOBS)
    assert "piston-kit" not in PRICES


def shim(place: Position, *, change: bool, source: ShimSource) -> ShimChoice:
    """A planned shim."""
    return ShimChoice(
        place, 1e-4, 2e-3, 2e-4, 1.5e-4, 2.5e-4, 1.9e-3, 1.9e-3, 2e-4, change=change, source=source
    )


def test_only_shims_to_buy_are_charged() -> None:
    """Of five gaps one shim is boxed, one moved, one stays; one is bought, one unknown: 2 x 6.90."""
    use = {"part": "shim", "name": "Shim", "per": "shim-to-buy"}
    book = workbook(jobs=[{**j, "parts": (use,)} if j["id"] == "set-gaps" else j for j in JOBS])
    valves = [at(n, "exhaust-1") for n in (1, 2, 3, 4)] + [at(1, "inlet-1")]
    plan = (
        shim(valves[0], change=True, source="box"),
        shim(valves[1], change=True, source="moved"),
        shim(valves[2], change=False, source=""),
        shim(valves[3], change=True, source="buy"),
    )
    made = estimate(case(work=book), [item("set-gaps", "before running", *valves, of=book)], plan)
    assert (lines(made)["shim"].quantity, lines(made)["shim"].price) == (D(2), D("13.80"))
    assert "shim" not in lines(
        estimate(case(work=book), [item("set-gaps", "before running", *valves[:3], of=book)], plan)
    )


SEAL = {"part": "stem-seal", "name": "Stem seal"}
SEALED = workbook(
    access=[{**s, "parts": ()} for s in ACCESS],
    jobs=[
        {"id": "reseat", "name": "Reseat", "hours": "1", "per": "place", "parts": (SEAL,)},
        {"id": "guides", "name": "Guides", "hours": "1", "per": "place", "parts": (SEAL,)},
        {"id": "seals", "name": "Seals", "hours": "1", "parts": ({**SEAL, "per": "valve"},)},
    ],
)


@pytest.mark.parametrize(
    ("reseat", "seals", "expected"),
    [
        ("before running", "before running", [16, 0]),
        ("before running", "at this opening", [2, 14]),
        ("at this opening", "before running", [16, 0]),
    ],
)
def test_a_seal_is_fitted_to_a_valve_once(reseat: Urgency, seals: Urgency, expected: list[int]) -> None:
    """Sixteen valves take sixteen seals, in whichever class, though two of them are reseated as well."""
    spots = (at(1, "inlet-1"), at(2, "inlet-1"))
    work = (item("reseat", reseat, *spots, of=SEALED), item("seals", seals, of=SEALED))
    made = priced(*work, work=SEALED)
    counts = [sum(int(line.quantity) for line in t.lines if line.id == "stem-seal") for t in made.totals]
    assert counts == [*expected, 0]


def test_without_a_whole_set_single_places_add_up() -> None:
    """A valve reseated and one with a new guide take a seal each."""
    work = (
        item("reseat", "before running", at(1, "inlet-1"), of=SEALED),
        item("guides", "before running", at(2, "inlet-1"), of=SEALED),
    )
    assert lines(priced(*work, work=SEALED))["stem-seal"].quantity == 2
