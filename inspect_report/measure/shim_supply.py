"""
Turns the shims that would fit each valve into which shim goes to which valve, all valves decided together.

A shim is in the engine, in the workshop's box, or on sale. One in the engine or in the box goes to one valve
only; a size on sale can be bought any number of times. What is best is decided in this order: as many valves
as can be get a shim; as many gaps as can be are surely in their range; as few shims as can be are bought; as
few valves as can be lose a shim they could have kept; the gaps come as near to their aims as can be, by the
sum of squares; and of two shims as good, the thinner, since gaps close in use (common practice).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics.assignment import cheapest_assignment
from inspect_report.records.quantity import Quantity

Source = Literal["engine", "box", "shop"]
Cost = tuple[int, ...]
_NANO: Final = 1e9


@dataclass(frozen=True, slots=True)
class Shim:
    """One shim, or a size on sale: where it is, its number there, and its thickness."""

    source: Source
    number: int
    thickness: Input


@dataclass(frozen=True, slots=True)
class Offer:
    """
    A shim that would bring the gap of a valve into its range.

    Attributes:
        shim: The shim.
        gap: Gap to expect with it.
        sure: Whether the gap is surely in its range.
        parts: Whether the valve would lose a shim that it could have kept.
        miss: How far the gap would be from its aim. [m]
    """

    shim: Shim
    gap: Quantity
    sure: bool
    parts: bool
    miss: float


def supplied(offers: Sequence[Sequence[Offer]]) -> tuple[Offer | None, ...]:
    """
    The offer that each valve takes, no shim twice; None where what would fit has gone to other valves.

    Args:
        offers: The shims that would fit each valve.
    """
    places = [[_place(offer, n) for offer in offered] for n, offered in enumerate(offers)]
    column = {place: i for i, place in enumerate(dict.fromkeys(p for row in places for p in row))}
    choices: list[dict[int, Offer]] = []
    for offered, row in zip(offers, places, strict=True):
        choices.append({})
        for offer, place in sorted(zip(offered, row, strict=True), key=lambda pair: _cost(pair[0])):
            choices[-1].setdefault(column[place], offer)
    chosen = cheapest_assignment(_costs(choices, len(column)))
    return tuple(mine.get(taken) for mine, taken in zip(choices, chosen, strict=True))


def _place(offer: Offer, valve: int) -> tuple[Source, int]:
    """What no two valves can have; of the sizes on sale each valve has a choice of its own."""
    return (offer.shim.source, valve if offer.shim.source == "shop" else offer.shim.number)


def _cost(offer: Offer | None) -> Cost:
    """What counts against an offer, weightiest first; None is no shim at all."""
    if offer is None:
        return (1, 0, 0, 0, 0, 0)
    bought, miss = offer.shim.source == "shop", round(offer.miss * _NANO)
    thickness = round(offer.shim.thickness.value * _NANO)
    return (0, int(not offer.sure), int(bought), int(offer.parts), miss**2, thickness)


def _costs(choices: Sequence[dict[int, Offer]], columns: int) -> list[list[int]]:
    """Costs in single whole numbers: every valve at every shim, then at a column of its own for no shim."""
    told = [_cost(offer) for mine in choices for offer in mine.values()]
    greatest = [max(parts) for parts in zip(*told, _cost(None), strict=True)]
    radices = [len(choices) * top + 1 for top in greatest]
    nothing = _in_one(_cost(None), radices)
    never = nothing + 1  # dearer than the column of its own that every valve can fall back on
    rows = [[never] * (columns + len(choices)) for _ in choices]
    for n, (row, mine) in enumerate(zip(rows, choices, strict=True)):
        row[columns + n] = nothing
        for taken, offer in mine.items():
            row[taken] = _in_one(_cost(offer), radices)
    return rows


def _in_one(cost: Cost, radices: Sequence[int]) -> int:
    """Parts of a cost as one number in which no sum of lighter parts outweighs a heavier one."""
    whole = 0
    for part, radix in zip(cost, radices, strict=True):
        whole = whole * radix + part
    return whole
