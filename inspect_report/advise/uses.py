"""
Turns the parts that jobs and steps use into what is really fitted: each place gets a part of one kind once.

A part that some work takes for every label of an axis (a seal for every valve) includes what other work takes
at single places of it. What an earlier class fits, a later one does not fit again.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from inspect_report.knowledge.workbook import SHIM_TO_BUY, PartUse

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

    @property
    def kind(self) -> Kind:
        return self.use.part, self.use.machine_shop

    @property
    def everywhere(self) -> bool:
        """Whether it is taken for every label of an axis."""
        return self.use.per not in _NOT_ALONG_AN_AXIS


def fitted_once(classes: Sequence[Sequence[Use]]) -> tuple[tuple[Use, ...], ...]:
    """
    The uses of each class, most urgent first, without what is fitted to a place already.

    Args:
        classes: Uses by class; quantities of one kind of part are in one unit.
    """
    left = _most(u for uses in classes for u in uses if u.everywhere)
    return tuple(_of_class(uses, left) for uses in classes)


def _most(everywhere: Iterable[Use]) -> dict[Kind, Decimal]:
    """How many of each kind fit into the engine at all, as far as it is known."""
    most: dict[Kind, Decimal] = {}
    for use in everywhere:
        if use.quantity is not None:
            most[use.kind] = max(most.get(use.kind, _NONE), use.quantity)
    return most


def _of_class(uses: Sequence[Use], left: dict[Kind, Decimal]) -> tuple[Use, ...]:
    """Single places first, then the rest of the axis; what is taken is taken off ``left``."""
    taken = {n: _taken(u, left) for n, u in sorted(enumerate(uses), key=lambda pair: pair[1].everywhere)}
    return tuple(taken[n] for n in range(len(uses)))


def _taken(use: Use, left: dict[Kind, Decimal]) -> Use:
    limited = use.everywhere or use.use.per == _BY_PLACE
    if use.quantity is None or use.kind not in left or not limited:
        return use
    quantity = min(use.quantity, left[use.kind])
    left[use.kind] -= quantity
    return replace(use, quantity=quantity)
