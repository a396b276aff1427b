"""Turns a checklist, one file per kind of engine, into ordered items that say what each of them asks for."""

from typing import Annotated, Any, Final, Literal, Self, get_args, get_origin

from pydantic import AfterValidator, Field, model_validator

from inspect_report.records.complaints import kebab
from inspect_report.records.position import Position
from inspect_report.records.problem import nearest, some
from inspect_report.records.quantity import QuantityFault, read_amount
from inspect_report.records.shape import Id, Record, Text, refusal
from inspect_report.records.specsheet import Layout, SpecSheet

Depth = Literal["in the frame", "top end off", "fully stripped", "after assembly"]
DEPTHS: Final[tuple[Depth, ...]] = ("in the frame", "top end off", "fully stripped", "after assembly")

CYLINDER: Final = "cylinder"
BETWEEN: Final = {"inner-seal": 1, "inner-bearing": 2}
"""How many of a part stand between two cylinders of a two-stroke where the layout does not count them."""
LAYOUT_AXES: Final = (CYLINDER, "valve", "cam", "ring", *BETWEEN)
"""Axes whose labels every engine's layout gives."""

Kind = Literal["reading", "rating", "choice", "count", "text", "tick", "photo"]


def _of_a_layout(conditions: dict[str, Any]) -> dict[str, Any]:
    """Refuse what no layout can meet: it would put a thing out of use without a word."""
    fields = {kebab(name): field for name, field in Layout.model_fields.items()}
    for key, wanted in conditions.items():
        if key not in fields:
            near = nearest(key, tuple(fields))
            mend = f"write {near!r} if that is meant" if near else "take one of those listed"
            raise refusal("K323", f"no layout has {key!r}", some(fields, 20), mend, key=key)
        allowed = [str(a) for a in get_args(fields[key].annotation)]
        odd = [str(w) for w in (wanted if isinstance(wanted, tuple) else (wanted,)) if str(w) not in allowed]
        if get_origin(fields[key].annotation) is Literal and odd:
            near = nearest(odd[0], allowed)
            mend = f"write {near!r} if that is meant" if near else "take one of those listed"
            raise refusal("K323", f"no layout has {key}: {odd[0]}", some(allowed, 20), mend, key=key)
    return conditions


Applies = Annotated[dict[Text, Text | int | tuple[Text | int, ...]], AfterValidator(_of_a_layout)]
"""Conditions on the layout: ``{strokes: 4, timing-drive: [chain, belt]}``; all must hold."""


class Item(Record):
    """One line of a checklist: what is read or looked at, where, with what, and what to mind."""

    id: Id
    asks: Text
    told_as: Text = ""
    """What its answer is called where it is told: ``air heard``; the words of its id when left out."""
    kind: Kind
    axes: tuple[Text, ...] = ()
    unit: Text = ""
    range: tuple[Text | float, Text | float] | None = None
    """Smallest and largest believable value, in ``unit``; outside it a decimal point has slipped."""
    instrument: Text = ""
    """Kind of instrument expected; empty where the eye is enough."""
    options: dict[Text, Text] = {}
    """For a choice: each answer and the verdict it stands for, or '-' where it is evidence only."""
    several: bool = False
    """Whether a choice may hold more than one answer."""
    amounts: bool = False
    """Whether each answer may say how much of it was found: ``{grey film: 2}``, steps 1 to 5."""
    damage: tuple[Text, ...] = ()
    """For a rating: the kinds of damage looked for, words of the scale book."""
    shared: bool = False
    """Whether ``all:`` may give one value for every place."""
    optional: bool = False
    """Whether leaving it out costs no coverage."""
    front: bool = False
    """For a photo: whether it shows the whole engine, and may go on the first page of the report."""
    depths: tuple[Depth, ...] = ()
    applies: Applies = {}
    access: Text = ""
    caution: tuple[Text, ...] = ()
    hint: Text = ""

    @model_validator(mode="after")
    def _asks_whole(self) -> Self:
        needs = {"reading": self.unit, "choice": self.options, "rating": self.damage}
        if self.kind in needs and not needs[self.kind]:
            missing = {"reading": "unit", "choice": "options", "rating": "damage"}[self.kind]
            raise refusal(
                "K320",
                f"item of kind {self.kind!r} without {missing!r}",
                f"a value for {missing!r}",
                "add it",
            )
        if self.front and self.kind != "photo":
            raise refusal(
                "K324",
                f"item of kind {self.kind!r} as the picture of the first page",
                "'front' at an item of kind photo",
                "leave out 'front', or ask for a photo",
                key="front",
            )
        self.bounds()
        return self

    def bounds(self) -> tuple[float, float] | None:
        """
        Smallest and largest believable value in SI; None where none are given.

        Raises:
            PydanticCustomError: unit or range cannot be read; never for an item that was loaded.
        """
        unit = self.unit or ("pcs" if self.kind == "count" else "")
        if not unit:
            return None
        ends = tuple(_end(end, unit) for end in self.range or (0, 0))
        if ends[0] > ends[1]:
            raise refusal(
                "K322", "range upside down", "the smaller value first", "exchange the two", key="range"
            )
        return (ends[0], ends[1]) if self.range else None


def _end(written: str | float, unit: str) -> float:
    try:
        return read_amount(written, unit)
    except QuantityFault as fault:
        title = f"range or unit: {fault.title}"
        raise refusal("K322", title, fault.allowed, fault.mend, key="range") from None


class Section(Record):
    """Items that are done together, behind one access step."""

    id: Id
    title: Text
    assembly: Text = ""
    depths: tuple[Depth, ...] = DEPTHS
    applies: Applies = {}
    access: Text = ""
    caution: tuple[Text, ...] = ()
    intro: Text = ""
    items: tuple[Item, ...]


class Checklist(Record):
    """Sections in the order of the strip-down, for one kind of engine."""

    checklist: Id
    version: Annotated[int, Field(ge=1)]
    title: Text
    applies: Applies = {}
    workbook: Id
    """The book of access steps and jobs for this kind of engine."""
    opened: dict[Depth, tuple[Id, ...]] = {}
    """Access steps that are open at each depth."""
    axes: dict[Text, tuple[Text, ...]] = {}
    """Labels along the axes that do not depend on the engine: height, axis, span, end …"""
    sections: tuple[Section, ...]

    @model_validator(mode="after")
    def _ids_once(self) -> Self:
        seen: set[str] = set()
        for item in (i for s in self.sections for i in s.items):
            if item.id in seen:
                raise refusal(
                    "K321", f"two items with one id {item.id!r}", "each id once", "rename one of them"
                )
            seen.add(item.id)
        return self

    def item(self, item_id: str) -> Item | None:
        """The item of an id."""
        return next((i for s in self.sections for i in s.items if i.id == item_id), None)

    def section_of(self, item_id: str) -> Section | None:
        """The section an item stands in."""
        return next((s for s in self.sections if any(i.id == item_id for i in s.items)), None)


def applies_to(conditions: Applies, layout: Layout) -> bool:
    """Whether a thing with these conditions belongs to an engine of this layout."""
    facts = layout.model_dump(by_alias=True)
    for key, wanted in conditions.items():
        options = wanted if isinstance(wanted, tuple) else (wanted,)
        if str(facts.get(key)) not in [str(o) for o in options]:
            return False
    return True


def depths_of(item: Item, section: Section) -> tuple[Depth, ...]:
    """Depths at which an item is done: its own, else its section's."""
    return item.depths or section.depths


def axis_labels(axis: str, sheet: SpecSheet, checklist: Checklist) -> tuple[str, ...]:
    """
    Labels along an axis, from the engine's layout or the checklist.

    Raises:
        KeyError: neither knows the axis.
    """
    layout = sheet.layout
    if axis == CYLINDER:
        return _numbered(layout.cylinders)
    if axis == "valve":
        return _side("inlet", layout.valves.inlet) + _side("exhaust", layout.valves.exhaust)
    if axis == "cam":
        return layout.camshafts
    if axis == "ring":
        return layout.rings
    if axis in layout.counts:
        return _numbered(layout.counts[axis])
    if axis in BETWEEN:
        return _numbered(BETWEEN[axis] * (layout.cylinders - 1))
    return checklist.axes[axis]


def _numbered(count: int) -> tuple[str, ...]:
    return tuple(str(n) for n in range(1, count + 1))


def _side(side: str, count: int) -> tuple[str, ...]:
    return (side,) if count == 1 else tuple(f"{side}-{n}" for n in range(1, count + 1))


def in_group(label: str, group: str) -> bool:
    """Whether a label is, or belongs to, a group: ``inlet-2`` belongs to ``inlet``."""
    return label == group or label.startswith(f"{group}-")


def positions(axes: tuple[str, ...], sheet: SpecSheet, checklist: Checklist) -> tuple[Position, ...]:
    """Every place along some axes, the last axis running fastest; the engine itself when there are none."""
    found: tuple[Position, ...] = (Position(),)
    for axis in axes:
        found = tuple(p.at(axis, n) for p in found for n in axis_labels(axis, sheet, checklist))
    return found
