"""
Turns the parts that jobs and steps use into what is really fitted: each place gets a part of one kind once.

Two jobs at one valve fit one seal there; a part that some work takes for every label of an axis (a seal for
every valve) includes what other work takes at single places of it. What an earlier class fits, a later one
does not fit again. What a class fits never depends on a later one.

What may be needed, as long as a finding is not made, is counted in two outcomes: none of it is needed, and
all of it is. More use never fits less in the end, so that what is fitted up to any class is least in the
first of them and most in the second, and in between in every other. Of one class alone that need not hold:
what an earlier class may fit, a later one that needs it for certain then finds fitted.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Final

from inspect_report.advise.priced import Span
from inspect_report.knowledge.workbook import SHIM_TO_BUY, PartUse
from inspect_report.records.position import Position

_BY_PLACE: Final = "place"
_ADDING: Final = ("job", SHIM_TO_BUY)
_NOT_ALONG_AN_AXIS: Final = (*_ADDING, _BY_PLACE)
_NONE: Final = Decimal(0)

Kind = tuple[str, bool]
Key = tuple[int, int]
"""Which use: the number of its class, and its own in it."""


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


@dataclass(frozen=True, slots=True)
class Fit:
    """
    A use with what it really fits.

    ``pieces``: its low end if nothing that may be needed is, its high end if all of it is; None where the
    engine's count is not known. The high end is the smaller one where it is then fitted earlier.
    """

    use: Use
    pieces: Span | None
    depends_on: tuple[str, ...]
    """Characteristics nobody has looked at that decide between the ends."""


@dataclass(slots=True)
class _Fitted:
    """How many of one kind are in the engine anew: at its places or along an axis, whichever is more."""

    at: dict[Position, Decimal] = field(default_factory=dict)
    whole: Decimal = _NONE
    along: Decimal = _NONE

    @property
    def count(self) -> Decimal:
        return max(sum(self.at.values(), self.whole), self.along)

    def take(self, use: Use) -> Decimal:
        """What of a use is still to be fitted; from then on it is."""
        wanted = use.quantity or _NONE
        if use.use.per in _ADDING:
            return wanted
        before = self.count
        if use.everywhere:
            self.along = max(self.along, wanted)
        else:
            self._at_places(use)
        return self.count - before

    def _at_places(self, use: Use) -> None:
        # What is done to the engine as a whole names no place: nobody knows whether two parts are one.
        self.whole += use.use.quantity * sum(not place.axes for place in use.places)
        for place in (p for p in use.places if p.axes):
            self.at[place] = max(self.at.get(place, _NONE), use.use.quantity)


def fitted_once(classes: Sequence[Sequence[Use]]) -> tuple[tuple[Fit, ...], ...]:
    """
    The uses of each class, most urgent first, with what they fit that is not fitted to a place already.

    Args:
        classes: Uses by class; quantities of one kind of part are in one unit.
    """
    numbered = [tuple(((n, i), use) for i, use in enumerate(uses)) for n, uses in enumerate(classes)]
    none = _counted([[(key, use) for key, use in uses if not use.depends_on] for uses in numbered])
    every = _counted(numbered)
    doubts: dict[Kind, dict[str, None]] = {}
    return tuple(tuple(_fits(uses, none, every, doubts)) for uses in numbered)


def _counted(classes: Iterable[Iterable[tuple[Key, Use]]]) -> dict[Key, Decimal]:
    """What each use fits where all of them are needed: single places first, then the rest of the axis."""
    fitted: dict[Kind, _Fitted] = {}
    counted: dict[Key, Decimal] = {}
    for uses in classes:
        for key, use in sorted(uses, key=lambda pair: (pair[1].everywhere, bool(pair[1].depends_on))):
            counted[key] = fitted.setdefault(use.kind, _Fitted()).take(use)
    return counted


def _fits(
    uses: Sequence[tuple[Key, Use]],
    none: Mapping[Key, Decimal],
    every: Mapping[Key, Decimal],
    doubts: dict[Kind, dict[str, None]],
) -> Iterator[Fit]:
    """The uses of one class; ``doubts`` gathers what decides over each kind, class by class."""
    for _, use in uses:
        doubts.setdefault(use.kind, {}).update(dict.fromkeys(use.depends_on))
    for key, use in uses:
        pieces = None if use.quantity is None else Span(none.get(key, _NONE), every[key])
        decided = pieces is None or pieces.low == pieces.high
        yield Fit(use, pieces, use.depends_on or (() if decided else tuple(doubts[use.kind])))
