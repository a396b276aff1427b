"""Turns places in an engine into the words a customer reads, in the language told now."""

from collections.abc import Sequence
from typing import Final

from inspect_report.records.position import Position
from inspect_report.telling.manner import in_english, message, message_as, say, say_as, thing, word

_ONE: Final = {
    "cylinder": message("cylinder {label}"),
    "main-journal": message("main journal {label}"),
    "crankpin": message("crankpin {label}"),
    "cam": message("{label} camshaft"),
    "ring": message("{label} ring"),
    "height": "{label}",
    "axis": message("{label} the crank"),
    "end": message("{label} end"),
    "speed": message("at {label} speed"),
    "span": message("span {label}"),
    "point": message("point {label}"),
}
_OTHER: Final = message("{axis} {label}")
"""How a place along an axis of a workshop's own is told."""
WHOLE: Final = (
    message("inlet camshaft"),
    message("exhaust camshaft"),
    message("top ring"),
    message("second ring"),
    message("oil ring"),
    message("along the crank"),
    message("across the crank"),
    message("left end"),
    message("right end"),
    message("front end"),
    message("rear end"),
    message("upper end"),
    message("lower end"),
    message("at idle speed"),
    message("at high speed"),
)
"""Places whose words stand in the catalogues as a whole, since many languages bend one word by the other."""
_MANY: Final = {
    "cylinder": message("cylinders"),
    "crankpin": message("crankpins"),
    "cam": message("camshafts"),
    "ring": message("rings"),
    "height": message("heights"),
    "axis": message("axes"),
    "valve": message("valves"),
    "end": message("ends"),
    "speed": message("speeds"),
    "point": message("points"),
    "main-journal": message("main journals"),
    "guide": message("guides"),
    "sprocket": message("sprockets"),
    "span": message("spans"),
    "line": message("lines"),
    "mesh": message("meshes"),
    "bolt": message("bolts"),
    "cam-journal": message("cam journals"),
    "clutch-spring": message("clutch springs"),
    "dog-gear": message("dog gears"),
    "fork": message("forks"),
    "friction-plate": message("friction plates"),
    "gear": message("gears"),
    "gearbox-bearing": message("gearbox bearings"),
    "inner-bearing": message("inner bearings"),
    "inner-seal": message("inner seals"),
    "metal": message("metals"),
    "port": message("ports"),
    "reed": message("reeds"),
    "shaft": message("shafts"),
    "side": message("sides"),
    "steel-plate": message("steel plates"),
    "valve-side": message("valve sides"),
}
_VALVE: Final = {
    "inlet": message("inlet valve {number}"),
    "exhaust": message("exhaust valve {number}"),
}
_IN_A_CHART: Final = "valve below its mark in a chart, at most 9 letters"
_VALVE_IN_SHORT: Final = {
    "inlet": message_as("valve below its mark in a chart, at most 9 letters", "Inlet {number}"),
    "exhaust": message_as("valve below its mark in a chart, at most 9 letters", "Exhaust {number}"),
}
_SELF_TELLING: Final = frozenset({"valve", "ring", "height", "axis", "end", "cam"})
"""Axes whose label is understood without their noun."""


def plain_name(kebab: str) -> str:
    """An id as words."""
    return kebab.replace("-", " ").replace("_", " ")


def answer_words(written: str) -> str:
    """An answer or a kind of damage as it is shown; hyphens of English ones are left out."""
    shown = word(written)
    return word(plain_name(written)) if shown == written else shown


def label_words(axis: str, label: str) -> str:
    """One label of an axis: ``cylinder 3``, ``inlet valve 1``, ``top ring``."""
    if axis == "valve":
        side, _, number = label.partition("-")
        return say(_VALVE.get(side, message("{side} valve {number}")), side=side, number=number).strip()
    pattern, written = _ONE.get(axis, _OTHER), plain_name(label)
    whole = pattern.format(label=written, axis=plain_name(axis))
    if in_english() or say(whole) != whole:
        return say(whole)
    return say(pattern, label=word(written), axis=thing(axis))


def valve_in_short(label: str) -> str:
    """A valve where there is little room, below its mark in a chart: ``Inlet 1``."""
    side, _, number = label.partition("-")
    if side not in _VALVE_IN_SHORT:
        words = label_words("valve", label)
        return words[:1].upper() + words[1:]
    return say_as(_IN_A_CHART, _VALVE_IN_SHORT[side], number=number).strip()


def place_words(position: Position) -> str:
    """A place in words; ``engine`` for the whole of it, whatever the language."""
    pairs = zip(position.axes, position.labels, strict=True)
    return ", ".join(label_words(axis, label) for axis, label in pairs) or "engine"


def short_place(position: Position) -> str:
    """A place in a crowded cell: ``inlet 1``, ``top, along``."""
    pairs = zip(position.axes, position.labels, strict=True)
    return ", ".join(_short(n) if a in _SELF_TELLING else label_words(a, n) for a, n in pairs)


def _short(label: str) -> str:
    """A label alone; of a valve its side and number."""
    side, _, number = plain_name(label).rpartition(" ")
    return f"{word(side)} {number}" if side and number.isdigit() else word(plain_name(label))


def at_words(position: Position) -> str:
    """A place within a sentence of a note, ``cylinder 2, exhaust valve 1``; empty for the whole engine."""
    if in_english():
        return position.words
    return place_words(position) if position.labels else ""


def plural(axis: str) -> str:
    """The noun of an axis for several of it."""
    return say(nouns(axis))


def nouns(axis: str) -> str:
    """The noun of an axis for several of it, in English."""
    return _MANY.get(axis, f"{plain_name(axis)}s")


def runs(labels: Sequence[str]) -> str:
    """Labels in words, three or more numbers in a row as ``1 to 4``."""
    if len(labels) > 2 and all(n.isdigit() for n in labels):
        numbers = [int(n) for n in labels]
        if numbers == list(range(numbers[0], numbers[0] + len(numbers))):
            return say("{first} to {last}", first=labels[0], last=labels[-1])
    told = [word(plain_name(n)) for n in labels]
    if len(told) < 2:
        return "".join(told)
    return say("{list} and {last}", list=", ".join(told[:-1]), last=told[-1])
