"""
Turns planned shims into where each comes from: the workshop's box, another valve of the engine, or a shop.

A size listed in the workshop file stands for one shim; listed twice, for two. After the box come shims that
the plan itself takes out of other valves, each used once; one that measures within 5 µm of a size counts as
that size (common practice: sizes are 25 µm apart). What is then missing must be bought. Of several valves
that need one size the first in the order of the engine gets it.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from inspect_report.measure.bench import notes
from inspect_report.measure.derived import ShimChoice

FROM_BOX: Final = "from the workshop's box"
TO_BUY: Final = "to buy"
_SAME: Final = 5.0e-6
_NOISE: Final = 1e-9


def supplied(plan: Iterable[ShimChoice], box: Iterable[float]) -> tuple[ShimChoice, ...]:
    """
    A shim plan with the source of each shim that is to be fitted.

    Args:
        plan: What is to be fitted at each valve.
        box: Sizes in the workshop's box, one entry a shim. [m]
    """
    choices, left = tuple(plan), list(box)
    boxed = tuple(_from_box(choice, left) for choice in choices)
    freed = [choice for choice in choices if choice.change and choice.size is not None]
    return tuple(_moved_or_bought(choice, freed) for choice in boxed)


def _from_box(choice: ShimChoice, left: list[float]) -> ShimChoice:
    """From the box while it lasts; shims taken are taken out of ``left``."""
    if not choice.change or choice.size is None:
        return choice
    size = next((s for s in left if abs(s - (choice.size or 0.0)) < _NOISE), None)
    if size is None:
        return choice
    left.remove(size)
    return replace(choice, source="box", note=notes(choice.note, FROM_BOX))


def _moved_or_bought(choice: ShimChoice, freed: list[ShimChoice]) -> ShimChoice:
    """From another valve that frees the size, else from a shop; shims moved are taken out of ``freed``."""
    if not choice.change or choice.size is None or choice.source:
        return choice
    size = choice.size
    other = next((f for f in freed if f.position != choice.position and abs(f.fitted - size) <= _SAME), None)
    if other is None:
        return replace(choice, source="buy", note=notes(choice.note, TO_BUY))
    freed.remove(other)
    return replace(choice, source="moved", note=notes(choice.note, f"moved from {other.position.words}"))
