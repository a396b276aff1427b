"""
Turns the parts that jobs and steps use into what is really fitted: each place gets a part of one kind once.

Two jobs at one valve fit one seal there; a part that some work takes for every label of an axis (a seal for
every valve) includes what other work takes at single places of it. What an earlier class fits, a later one
does not fit again. What a class fits never depends on a later one.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Final

from inspect_report.knowledge.workbook import SHIM_TO_BUY, PartUse
from inspect_report.records.position import Position

_BY_PLACE: Final = "place"
_NOT_ALONG_AN_AXIS: Final = ("job", _BY_PLACE, SHIM_TO_BUY)
_NONE: Final = Decimal(0)

Kind = tuple[str, bool]


@dataclass(frozen=True, slots=True)
class Use:
    """A part or machine-shop work in a quantity, None where the engine's count is not known."""

    use: PartUse
    quantity: Decimal | None
    jobs: tuple[str, ...]
    places: tuple[Position, ...] = ()
    depends_on: tuple[str, ...] = ()
    """Characteristics nobody has looked at, one of which beyond its limit calls for it; none: certain."""

    @property
    def kind(self) -> Kind:
        return self.use.part, self.use.machine_shop

    @property
    def everywhere(self) -> bool:
        """Whether it is taken for every label of an axis."""
        return self.use.per not in _NOT_ALONG_AN_AXIS


@dataclass(slots=True)
class _Fitted:
    """How many of one kind are in the engine anew: place by place, and beyond these along the axis."""

    at: dict[Position, Decimal] = field(default_factory=dict)
    rest: Decimal = _NONE
    throughout: bool = False

    def take(self, use: Use) -> Use:
        """What of a use is still to be fitted; from then on it is."""
        if use.quantity is None or use.use.per in ("job", SHIM_TO_BUY):
            return use
        return replace(
            use, quantity=self._along_axis(use.quantity) if use.everywhere else self._by_place(use)
        )

    def _along_axis(self, wanted: Decimal) -> Decimal:
        self.throughout = True
        fresh = max(_NONE, wanted - sum(self.at.values(), self.rest))
        self.rest += fresh
        return fresh

    def _by_place(self, use: Use) -> Decimal:
        if self.throughout:
            return _NONE
        # What is done to the engine as a whole names no place: nobody knows whether two parts are one.
        fresh = use.use.quantity * sum(not place.axes for place in use.places)
        self.rest += fresh
        for place in (p for p in use.places if p.axes):
            there = self.at.get(place, _NONE)
            self.at[place] = max(there, use.use.quantity)
            fresh += self.at[place] - there
        return fresh


def fitted_once(classes: Sequence[Sequence[Use]]) -> tuple[tuple[Use, ...], ...]:
    """
    The uses of each class, most urgent first, without what is fitted to a place already.

    Args:
        classes: Uses by class; quantities of one kind of part are in one unit.
    """
    fitted: dict[Kind, _Fitted] = {}
    return tuple(_of_class(uses, fitted) for uses in classes)


def _of_class(uses: Iterable[Use], fitted: dict[Kind, _Fitted]) -> tuple[Use, ...]:
    """Single places first, then the rest of the axis; what is certain before what may be needed."""
    numbered = sorted(enumerate(uses), key=lambda pair: (bool(pair[1].depends_on), pair[1].everywhere))
    taken = {n: fitted.setdefault(use.kind, _Fitted()).take(use) for n, use in numbered}
    return tuple(taken[n] for n in sorted(taken))
