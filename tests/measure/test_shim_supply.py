"""Checks which shim goes to which valve, all valves decided together; sizes and places are made up."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_report.measure.shim_supply import Offer, Shim, Source, supplied
from inspect_report.measure.uncertainty import Input
from inspect_report.records.quantity import Quantity

MM = 1e-3


def offer(
    source: Source,
    number: int,
    *,
    size: float = 2.0,
    miss: float = 0.01,
    sure: bool = True,
    parts: bool = False,
) -> Offer:
    """A shim [mm] that would leave the gap of a valve off its aim by a miss [mm]."""
    shim = Shim(source, number, Input(size * MM))
    return Offer(shim, Quantity(0.15 * MM, 0.0, "length"), sure, parts, miss * MM)


def taken(*offers: list[Offer]) -> list[str]:
    """Where each valve's shim comes from, and its number there."""
    chosen = supplied(offers)
    return ["none" if o is None else f"{o.shim.source} {o.shim.number}" for o in chosen]


def test_a_shim_in_the_box_goes_to_the_valve_that_nothing_else_fits() -> None:
    """Valve by valve the first would take it, and the second would go without."""
    first = [offer("box", 0, miss=0.0), offer("engine", 5, miss=0.03)]
    assert taken(first, [offer("box", 0)]) == ["engine 5", "box 0"]


def test_fewest_are_bought_before_gaps_are_near() -> None:
    """A gap a little further from its aim costs nothing; a shim does."""
    assert taken([offer("shop", 3, miss=0.0), offer("box", 0, miss=0.02)]) == ["box 0"]


def test_a_chain_of_exchanges_saves_a_shim() -> None:
    """The first gives up the shim it would like best, so that the last need not buy."""
    first = [offer("box", 0, miss=0.0), offer("box", 1, miss=0.02)]
    second = [offer("box", 1, miss=0.0), offer("box", 2, miss=0.02)]
    third = [offer("box", 0, miss=0.0), offer("shop", 9, miss=0.0)]
    assert taken(first, second, third) == ["box 1", "box 2", "box 0"]


def test_a_sure_gap_goes_before_a_saving() -> None:
    """A gap near its edge would have to be done again: the shim is bought."""
    assert taken([offer("box", 0, sure=False), offer("shop", 3)]) == ["shop 3"]


def test_a_good_valve_parts_with_its_shim_only_to_save_one() -> None:
    """Where the box serves as well it keeps its own, even if its gap would come nearer to its aim."""
    stays = [offer("engine", 0, miss=0.02), offer("box", 0, miss=0.0, parts=True)]
    assert taken(stays, [offer("shop", 1), offer("box", 1)]) == ["engine 0", "box 1"]
    assert taken(stays, [offer("shop", 1), offer("engine", 0)]) == ["box 0", "engine 0"]


def test_gaps_come_nearest_in_the_sum_of_squares() -> None:
    """0.02 at both is better than 0.03 at one: 8 against 9 parts."""
    first = [offer("box", 0, miss=0.0), offer("box", 1, miss=0.02)]
    second = [offer("box", 1, miss=0.03), offer("box", 0, miss=0.02)]
    assert taken(first, second) == ["box 1", "box 0"]


def test_one_gap_a_little_further_off_may_be_nearer_in_all() -> None:
    """0.03 at one, 9 parts, is better than 0.022 at both, 9.7."""
    first = [offer("box", 0, miss=0.0), offer("box", 1, miss=0.022)]
    second = [offer("box", 1, miss=0.03), offer("box", 0, miss=0.022)]
    assert taken(first, second) == ["box 0", "box 1"]


def test_of_two_as_good_the_thinner() -> None:
    """Gaps close in use."""
    assert taken([offer("box", 0, size=2.05), offer("box", 1, size=2.0)]) == ["box 1"]


def test_a_size_on_sale_serves_any_number_of_valves() -> None:
    """Three valves buy one size each; the box serves but one."""
    shop = offer("shop", 4)
    assert taken([shop], [shop], [shop]) == ["shop 4"] * 3
    assert sorted(taken([offer("box", 0)], [offer("box", 0)])) == ["box 0", "none"]


def test_of_several_sizes_on_sale_a_valve_takes_the_nearest() -> None:
    """Each valve chooses among all that are on sale."""
    sizes = [offer("shop", n, miss=miss) for n, miss in enumerate((0.03, 0.01, 0.02))]
    assert taken(sizes, sizes) == ["shop 1", "shop 1"]


def test_no_valve_no_shim() -> None:
    """An engine without valves to set, and a valve that nothing fits."""
    assert supplied([]) == ()
    assert supplied([[]]) == (None,)


@st.composite
def some_offers(draw: st.DrawFn) -> list[list[Offer]]:
    """Up to four valves with up to four shims each."""
    one = st.builds(
        offer,
        st.sampled_from(["engine", "box", "shop"]),
        st.integers(0, 3),
        size=st.sampled_from([1.9, 2.0, 2.1]),
        miss=st.sampled_from([0.0, 0.01, 0.02, 0.025]),
        sure=st.booleans(),
        parts=st.booleans(),
    )
    return draw(st.lists(st.lists(one, max_size=4), max_size=4))


def worth(chosen: tuple[Offer | None, ...]) -> tuple[float, ...]:
    """What the module's docstring counts, in its order, by sums of its own."""
    there = [o for o in chosen if o is not None]
    return (
        len(chosen) - len(there),
        sum(not o.sure for o in there),
        sum(o.shim.source == "shop" for o in there),
        sum(o.parts for o in there),
        round(sum((o.miss / MM) ** 2 for o in there), 9),
        round(sum(o.shim.thickness.value / MM for o in there), 9),
    )


def is_possible(chosen: tuple[Offer | None, ...]) -> bool:
    """Whether no shim at hand is used twice."""
    used = [(o.shim.source, o.shim.number) for o in chosen if o is not None and o.shim.source != "shop"]
    return len(used) == len(set(used))


@given(some_offers())
@settings(max_examples=150, deadline=None)
def test_no_other_way_is_better(offers: list[list[Offer]]) -> None:
    """Against every way there is, tried out one by one."""
    ways = [way for way in product(*([*offered, None] for offered in offers)) if is_possible(way)]
    chosen = supplied(offers)
    assert is_possible(chosen)
    assert worth(chosen) == pytest.approx(min(worth(way) for way in ways))
