"""Turns the valves of an engine and all shims there are for them into the shim to fit at each, and why."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from inspect_report.measure.bench import Bench, name_of, notes
from inspect_report.measure.budget import as_it_stands, expanded
from inspect_report.measure.derived import ShimChoice, ShimSource
from inspect_report.measure.shim_supply import Offer, Shim, supplied
from inspect_report.measure.uncertainty import Input, reading_id
from inspect_report.measure.valve_gaps import NONE_ON_SALE, Valve, sizes_on_sale, valves
from inspect_report.mechanics import metrology, valvetrain
from inspect_report.records.inspection import Reading
from inspect_report.records.quantity import Quantity
from inspect_report.records.workshop import DecisionRule
from inspect_report.telling.manner import message, say
from inspect_report.telling.positions import at_words

SHIMMED: Final = frozenset({"shim under bucket", "shim over bucket", "finger follower"})
TOLERANCE: Final = 5.0e-6
"""By how much a shim that nobody measured may differ from the size printed on it; common practice. [m]"""

HELD_OPEN: Final = message(
    "no gap at all: the valve may be held open; fit the thinner shim and measure again"
)
NEAR_EDGE: Final = message("in range, but too near its edge to be sure")
NO_BETTER: Final = message("in range, but too near its edge to be sure; no shim there is would make it sure")
PARTS: Final = message("in range; its shim serves another valve, which saves buying one")
UNSURE: Final = message("expected in range, but too near its edge to be sure")
TOO_THICK: Final = message(
    "no size brings the gap into its range, even the thinnest is too thick; likely the seat has "
    "sunk or the valve's face is worn: seat, valve or stem tip need work"
)
TOO_THIN: Final = message(
    "no size brings the gap into its range, even the thickest is too thin; likely cam lobe, "
    "bucket, follower or stem tip are worn, or a part is not seated: look before ordering"
)
BETWEEN: Final = message("no size brings the gap into its range: sizes on sale step over it")
GONE: Final = message("the shims that would fit serve other valves, and none that fits is on sale")
FROM_BOX: Final = message("from the workshop's box")
TO_BUY: Final = message("to buy")
_SOURCES: Final[dict[str, ShimSource]] = {"box": "box", "shop": "buy", "engine": "moved"}
_NOISE: Final = 1e-12


@dataclass(frozen=True, slots=True)
class _Shop:
    """The valves of an engine, every shim there is for them, and how the workshop decides."""

    valves: tuple[Valve, ...]
    shims: tuple[Shim, ...]
    rule: DecisionRule

    def is_sure(self, valve: Valve, gap: Quantity) -> bool:
        """Whether the workshop's decision rule calls a gap inside its range."""
        if self.rule.kind == "simple acceptance":
            return valve.holds(gap.value)
        if self.rule.kind == "guard band":
            width = self.rule.guard * expanded(gap)
            return valve.holds(gap.value - width) and valve.holds(gap.value + width)
        return valve.chance(gap) >= float(self.rule.confidence) - _NOISE

    def can_stay(self, valve: Valve) -> bool:
        """Whether a valve's gap needs no other shim."""
        return valve.holds(valve.gap.value) and self.is_sure(valve, _as_read(valve))


def shim_plan(bench: Bench) -> tuple[ShimChoice, ...]:
    """
    The shim to fit at every valve whose gap, shim and range are known, and where it comes from.

    All valves are decided together, see `shim_supply`. A gap counts as in its range where the workshop's
    decision rule says so: under "shown at confidence", one near an edge does not.
    """
    if bench.layout.valve_actuation not in SHIMMED:
        return ()
    known, workshop = tuple(valves(bench)), bench.case.books.workshop
    bought = sizes_on_sale(bench.case.books.sheet)
    shop = _Shop(
        known, (*_in_engine(known), *_listed(workshop.shims_in_stock, bought)), workshop.decision_rule
    )
    offers = [tuple(_offers(shop, n)) for n in range(len(known))]
    chosen = supplied(_parted_with(offers))
    return tuple(
        _told(shop, n, offer) if offer else _without(valve, bool(offers[n]), bought)
        for n, (valve, offer) in enumerate(zip(known, chosen, strict=True))
    )


def _in_engine(known: Sequence[Valve]) -> Iterator[Shim]:
    for number, valve in enumerate(known):
        yield Shim("engine", number, valve.shim)


def _listed(box: Sequence[float], on_sale: Sequence[float]) -> Iterator[Shim]:
    """Shims of which only the printed size is known, each as good as its tolerance."""
    u = metrology.u_from_permissible_error(TOLERANCE)
    for number, size in enumerate(box):
        yield Shim("box", number, Input(size, step=u, name=message("shim from the box"), dimension="length"))
    for number, size in enumerate(on_sale):
        yield Shim("shop", number, Input(size, step=u, name=message("shim on sale"), dimension="length"))


def _offers(shop: _Shop, n: int) -> Iterator[Offer]:
    """Every shim that brings the gap of a valve into its range."""
    valve, could_stay = shop.valves[n], shop.can_stay(shop.valves[n])
    for shim in shop.shims:
        own = (shim.source, shim.number) == ("engine", n)
        if valve.holds(valve.gap_with(shim.thickness.value)):
            gap = _as_read(valve) if own else valve.predicted(shim.thickness)
            miss = abs(gap.value - valve.aim)
            yield Offer(shim, gap, shop.is_sure(valve, gap), could_stay and not own, miss)


def _parted_with(offers: Sequence[Sequence[Offer]]) -> list[list[Offer]]:
    """Offers without the shims of valves that no size reaches, which keep theirs until they are worked on."""
    kept = {n for n, offered in enumerate(offers) if not offered}
    return [
        [o for o in some if (o.shim.source, o.shim.number in kept) != ("engine", True)] for some in offers
    ]


def _as_read(valve: Valve) -> Quantity:
    return as_it_stands(valve.gap).quantity("length")


def _told(shop: _Shop, n: int, offer: Offer) -> ShimChoice:
    """The choice at a valve that gets a shim, or keeps its own."""
    valve, shim = shop.valves[n], offer.shim
    change = (shim.source, shim.number) != ("engine", n)
    donor = shop.valves[shim.number] if change and shim.source == "engine" else None
    return _choice(
        valve,
        offer,
        change=change,
        note=notes(_why(shop, valve, offer, change), _from(offer, donor) if change else ""),
        source=_SOURCES[shim.source] if change else "",
        readings=(*valve.readings, *((donor.readings[1],) if donor else ())),
    )


def _why(shop: _Shop, valve: Valve, offer: Offer, change: bool) -> str:
    """What is to be said of the gap, before and after."""
    if offer.parts:
        return say(PARTS)
    held = say(HELD_OPEN) if valve.gap.value == 0.0 else ""
    if valve.holds(valve.gap.value) and not shop.can_stay(valve):
        return say(NEAR_EDGE) if change else say(NO_BETTER)
    return notes(held, "" if offer.sure else say(UNSURE))


def _from(offer: Offer, donor: Valve | None) -> str:
    if donor is not None:
        return say("moved from {place}", place=at_words(donor.at))
    return say(FROM_BOX) if offer.shim.source == "box" else say(TO_BUY)


def _without(valve: Valve, offered: bool, bought: Sequence[float]) -> ShimChoice:
    """The choice at a valve that gets no shim: which way it misses, and what likely is the matter."""
    note = say(GONE) if offered else _beyond_reach(valve, bought)
    return _choice(valve, None, change=True, note=note, source="", readings=valve.readings)


def _beyond_reach(valve: Valve, bought: Sequence[float]) -> str:
    if not bought:
        return NONE_ON_SALE
    if valve.gap_with(bought[0]) < valve.low:
        return say(TOO_THICK)
    return say(TOO_THIN) if valve.gap_with(bought[-1]) > valve.high else say(BETWEEN)


def _choice(
    valve: Valve,
    offer: Offer | None,
    *,
    change: bool,
    note: str,
    source: ShimSource,
    readings: Sequence[Reading],
) -> ShimChoice:
    wanted = valve.wanted()
    return ShimChoice(
        position=valve.at,
        measured=valve.gap.value,
        fitted=valve.shim.value,
        aim=valve.aim,
        low=valve.low,
        high=valve.high,
        exact=wanted.value,
        size=None if offer is None else offer.shim.thickness.value,
        predicted=None if offer is None else offer.gap.value,
        change=change,
        note=note,
        source=source,
        exact_u=wanted.u,
        predicted_u=None if offer is None else offer.gap.u,
        inside=None if offer is None else valve.chance(offer.gap),
        formula=name_of(valvetrain.predicted_gap) if change else "reading",
        readings=tuple(reading_id(reading) for reading in readings),
    )
