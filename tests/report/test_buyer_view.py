"""What a buyer reads of known, likely and hidden cost, on the page, behind why and as a table."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from inspect_report.advise.buyer import Buyer, Chance, Hidden, Likely, Looked
from inspect_report.assessment import Assessment, from_json, to_json
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from inspect_report.records.position import ENGINE
from inspect_report.report.buyer_table import EXPOSURE_COLUMNS, exposures
from inspect_report.report.explain import why
from inspect_report.report.source import Source
from inspect_report.report.view import view
from inspect_report.report.view_buyer import buyer
from tests.report.an_inspection import at
from tests.samples import SAMPLES

D = Decimal
CHAIN = Chance(
    id="chain-elongation",
    name="Chain elongation",
    position=ENGINE,
    ground="share of the workshop",
    chance=0.2,
    jobs=("chain",),
    work=("Renew chain",),
    added=D("497.64"),
    on_request=0,
)
GAP = Chance(
    id="valve-clearance.2.inlet-1",
    name="Valve clearance",
    position=at(cylinder=2),
    ground="measured",
    chance=0.0004,
    jobs=("gaps",),
    work=("Set gaps",),
    added=D("17.04"),
    on_request=1,
)
FREE = replace(
    GAP, id="bore-wear.1", name="Bore wear", chance=0.5, jobs=(), work=(), added=D(0), on_request=0
)
GEARS = Hidden(
    characteristic="gear-state",
    name="Gear teeth",
    assembly="gearbox",
    positions=(ENGINE,),
    reason="not opened",
    outside_depth=True,
    jobs=("gears",),
    work=("Replace a pair of gears",),
    low=D("1454.40"),
    high=D("1640.40"),
    on_request=1,
)
FORK = replace(
    GEARS,
    characteristic="fork-state",
    name="Forks",
    jobs=("forks",),
    work=("Replace forks",),
    low=D(40),
    high=D(40),
    on_request=0,
)
DRUM = replace(FORK, characteristic="drum-state", name="Selector drum")
BORE = replace(
    GEARS,
    characteristic="bore-state",
    name="Bore",
    positions=(at(cylinder=4),),
    jobs=(),
    work=(),
    low=D(0),
    high=D(0),
    on_request=0,
)


def a_buyer(**changes: Any) -> Buyer:
    """A buyer's view with something of everything."""
    likely = Likely((CHAIN, GAP, FREE), D("197.15"), D(0), D(0), D("497.64"), 0.639, 10_000, 7)
    gearbox = Looked("gearbox", "Gearbox", 8.0, 47.0)
    made = Buyer(
        D("930.72"), D("1071.84"), 2, likely, (GEARS, FORK, DRUM, BORE), D("10730.16"),
        (Looked("whole", "Whole engine", 26.0, 26.0), gearbox), Looked("", "Engine", 21.0, 70.0),
    )  # fmt: skip
    return replace(made, **changes)


def with_buyer(assessment: Assessment, made: Buyer | None) -> Source:
    """The assessment with a buyer's view."""
    return Source(replace(assessment, advice=replace(assessment.advice, buyer=made)))


def test_three_kinds_of_cost_are_told_apart(assessment: Assessment) -> None:
    """Known to the coin, likely by points and mean, hidden from the smallest to the dearest fault."""
    shown = buyer(with_buyer(assessment, a_buyer()))
    assert shown is not None
    known, likely, hidden = shown.sums
    assert (known.title, likely.title, hidden.title) == ("Known now", "Likely on top", "Could be hidden")
    assert known.amount == "£930.72 to £1,071.84, plus 2 items priced on request"
    assert likely.amount == "nine in ten: £498 or less; on average £197"
    assert "nothing comes on top with a chance of about 64\u00a0%, nine in ten to £498 or less" in likely.says
    assert hidden.amount == "£40 to £1,640 a fault, or more where priced on request"
    assert "is not known, unless a share above says it" in hidden.says
    assert "come to £10,700, besides what is priced on request" in hidden.says
    assert shown.coverage.startswith("30\u00a0% of the engine was looked at")


def test_parts_looked_at_in_full_are_left_out(assessment: Assessment) -> None:
    """Of the gearbox 17 %: one fault from the forks to the gears, the dearest named."""
    shown = buyer(with_buyer(assessment, a_buyer()))
    assert shown is not None
    (part,) = shown.parts
    assert (part.name, part.looked) == ("Gearbox", "17\u00a0%")
    assert part.fault == "£40 to £1,640, or more where priced on request"
    assert part.dearest == "Replace forks; priced on request: replace a pair of gears"
    assert part.bar is not None
    assert part.bar.width == "17.0"


def test_chances_that_cost_nothing_are_left_out(assessment: Assessment) -> None:
    """The weightiest first, each with its chance and what that rests on."""
    shown = buyer(with_buyer(assessment, a_buyer()))
    assert shown is not None
    assert [(c.name, c.chance, c.added) for c in shown.chances] == [
        ("Chain elongation", "20\u00a0%, this workshop's share of such engines", "£498"),
        ("Valve clearance, cylinder 2", "less than 0.1\u00a0%", "£17, plus 1 item priced on request"),
    ]
    assert shown.chances_more == ""


def test_more_chances_than_fit_are_counted(assessment: Assessment) -> None:
    """Six are shown, the rest counted."""
    many = tuple(replace(CHAIN, id=f"c-{n}") for n in range(9))
    shown = buyer(with_buyer(assessment, a_buyer(likely=replace(a_buyer().likely, chances=many))))
    assert shown is not None
    assert (len(shown.chances), shown.chances_more) == (6, "and 3 further chances")


def test_hidden_things_with_one_remedy_share_a_row(assessment: Assessment) -> None:
    """Forks and drum ask for the same work at the same cost; what has no work is named apart."""
    shown = buyer(with_buyer(assessment, a_buyer()))
    assert shown is not None
    assert [(i.names, i.work, i.cost) for i in shown.items] == [
        ("Gear teeth", "Replace a pair of gears", "£1,450 to £1,640, plus 1 item priced on request"),
        ("Forks and selector drum", "Replace forks", "£40"),
    ]
    assert shown.unpriced == "bore"


def test_an_engine_seen_whole_hides_nothing(assessment: Assessment) -> None:
    """Without chances and without anything unseen both sums say so in a word."""
    nothing = Likely((), D(0), D(0), D(0), D(0), 1.0, 10_000, 7)
    shown = buyer(with_buyer(assessment, a_buyer(likely=nothing, hidden=(), hidden_high=D(0), looked=())))
    assert shown is not None
    assert [s.amount for s in shown.sums][1:] == ["nothing", "nothing"]
    assert (shown.chances, shown.items, shown.parts, shown.unpriced) == ((), (), (), "")


def test_what_is_mostly_nothing_is_told_so(assessment: Assessment) -> None:
    """A rare small cost: most likely nothing, on average next to nothing."""
    rare = Likely((GAP,), D("0.08"), D(0), D(0), D(0), 0.995, 10_000, 7)
    shown = buyer(with_buyer(assessment, a_buyer(likely=rare)))
    assert shown is not None
    assert shown.sums[1].amount == "most likely nothing; on average next to nothing"
    assert "a chance of about 99.5\u00a0%. Each counts" in shown.sums[1].says


def test_only_what_has_no_price_is_on_request(assessment: Assessment) -> None:
    """A fault without any price is never told as free."""
    unpriced = replace(GEARS, low=D(0), high=D(0))
    shown = buyer(with_buyer(assessment, a_buyer(hidden=(unpriced,))))
    assert shown is not None
    assert (shown.sums[2].amount, shown.items[0].cost) == ("on request a fault", "on request")


def test_only_a_pre_purchase_assessment_shows_it(assessment: Assessment) -> None:
    """A quote for a rebuild and a history do not; an assessment without a view has none either."""
    told = with_buyer(assessment, a_buyer()).a
    assert view(told, "pre-purchase assessment").buyer is not None
    assert view(told, "rebuild quote").buyer is None
    assert view(told, "condition history").buyer is None
    assert view(with_buyer(assessment, None).a, "pre-purchase assessment").buyer is None


def test_it_travels_through_json(assessment: Assessment) -> None:
    """Decimals, places and all come back as they went."""
    told = with_buyer(assessment, a_buyer()).a
    assert from_json(to_json(told)).advice.buyer == a_buyer()


def test_one_row_for_each_chance_and_each_hidden_thing(assessment: Assessment) -> None:
    """Seven rows, money as exact decimals, the chance of a hidden thing empty."""
    table = exposures(with_buyer(assessment, a_buyer()).a)
    assert tuple(table.columns) == EXPOSURE_COLUMNS
    assert list(table.kind) == ["likely"] * 3 + ["hidden"] * 4
    gears = table[table.id == "gear-state"].iloc[0]
    assert (gears.low, gears.high, gears.jobs, gears.reason) == (
        D("1454.40"),
        D("1640.40"),
        "gears",
        "not opened",
    )
    assert table[table.kind == "hidden"].chance.isna().all()
    assert len(exposures(with_buyer(assessment, None).a)) == 0


@pytest.mark.parametrize(
    ("wanted", "told"),
    [
        ("known", "£930.72 to £1,071.84"),
        ("likely", "from seed 7"),
        ("hidden", "(gear-state): a fault would cost £1,450 to £1,640"),
    ],
)
def test_why_tells_each_kind_of_cost(assessment: Assessment, wanted: str, told: str) -> None:
    """Asked by its word, each sum says what it is made of, within a terminal's width."""
    text = why(with_buyer(assessment, a_buyer()).a, wanted)
    assert told in text
    assert max(map(len, text.splitlines())) <= 100


def test_why_of_a_finding_tells_its_chance_and_its_cost() -> None:
    """In the sample for a buyer a gap near its limit has a chance, and gears nobody saw have a price."""
    made = assess(load(SAMPLES / "used-machine-in-frame.yaml"))
    assert "likely      beyond its limit with a chance of 0.1\u00a0%" in why(
        made, "valve-clearance.1.exhaust-2"
    )
    gears = why(made, "gear-state")
    assert "how likely one is, is not known" in " ".join(gears.split())
    chain = " ".join(why(made, "chain-elongation").split())
    assert "a chance of 20 %, this workshop's share" in chain
    assert "told by the workshop" in chain
