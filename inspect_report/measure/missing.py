"""Turns a reading that is not there into the reason why, in words for the report."""

from collections.abc import Iterable, Sequence

from inspect_report.measure.derived import Unmeasured
from inspect_report.records.checklist import DEPTHS, Depth, Item, Section, depths_of, in_group
from inspect_report.records.inspection import InspectionHead, LeftOut
from inspect_report.records.position import ENGINE, Position
from inspect_report.telling.manner import say, thing, word
from inspect_report.telling.positions import at_words


class MissingInput(Exception):
    """
    A quantity lacks something it is made from; raised and caught inside ``measure``.

    Attributes:
        why: Reason without the place.
        here: Reason with the place.
        outside_depth: Whether this depth of inspection does not ask for it.
        applies: False where the engine has no such thing.
        optional: Whether the checklist asks for it only where there is time.
    """

    def __init__(
        self,
        why: str,
        here: str = "",
        *,
        outside_depth: bool = False,
        applies: bool = True,
        optional: bool = False,
    ) -> None:
        super().__init__(why)
        self.why, self.here = why, here or why
        self.outside_depth, self.applies, self.optional = outside_depth, applies, optional

    def at(self, characteristic: str, position: Position) -> Unmeasured:
        """The quantity that could not be made at one place."""
        return Unmeasured(characteristic, position, self.here, self.outside_depth, self.applies)

    def in_part(self, item: str) -> "MissingInput":
        """The same where other readings of the item at the place are there."""
        why = say("{what} read only in part", what=in_words(item))
        plain = self.applies and not self.outside_depth and self.here != self.why
        return MissingInput(why, self.here) if plain else self


def nothing_to_differ_from() -> MissingInput:
    """Why a single cylinder has no spread."""
    return MissingInput(say("the engine has one cylinder, which has none to differ from"), applies=False)


def not_read(item: Item, section: Section, position: Position, head: InspectionHead) -> MissingInput:
    """Why an item has no reading at a place: left out, not part of this depth, or not filled in."""
    left_out = _left_out(head.left_out, item.id, position)
    if left_out is not None:
        return MissingInput(_quoted(left_out), applies=left_out.applies)
    depths = depths_of(item, section)
    if head.depth not in depths:
        return MissingInput(_deeper(depths, head.depth), outside_depth=True, optional=item.optional)
    why = unread(item.id)
    here = say("{why} on {place}", why=why, place=at_words(position)) if position.labels else why
    return MissingInput(why, here, optional=item.optional)


def unread(item: str) -> str:
    """Why an item has no value that simply was not filled in."""
    return say("{what} not read", what=in_words(item))


def _left_out(listed: Iterable[LeftOut], item: str, position: Position) -> LeftOut | None:
    return next((one for one in listed if one.item == item and _covers(one, position)), None)


def _covers(left_out: LeftOut, position: Position) -> bool:
    return all(in_group(position.label(axis) or "", group) for axis, group in left_out.at.items())


def _quoted(left_out: LeftOut) -> str:
    return say("left out: {reason}", reason=left_out.reason) if left_out.applies else left_out.reason


def _deeper(depths: Sequence[Depth], depth: Depth) -> str:
    """Words for an item that this depth does not ask for; a build check is no deeper strip-down."""
    deeper = DEPTHS[DEPTHS.index(depth) + 1 : DEPTHS.index("after assembly")]
    further = next((d for d in deeper if d in depths), None)
    if further:
        return say("needs a deeper strip-down: {depth}", depth=word(further))
    return say("belongs to another depth: {depths}", depths=", ".join(map(word, depths)))


def together(characteristic: str, faults: Sequence[MissingInput]) -> Unmeasured:
    """One entry for the engine where nothing at all was read for a quantity: its reasons, each told once."""
    real = [fault for fault in faults if fault.applies] or faults
    why = "; ".join(dict.fromkeys(fault.why for fault in real))
    outside = all(fault.outside_depth for fault in real)
    return Unmeasured(characteristic, ENGINE, why, outside, any(fault.applies for fault in faults))


def in_words(name: str) -> str:
    """An id as words: ``big-end-clearance`` reads "big end clearance"."""
    return thing(name)
