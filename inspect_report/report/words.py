"""Turns places, verdicts and ids into the words a customer reads."""

import re
from collections.abc import Iterable, Sequence
from itertools import product
from typing import Final

from inspect_report.judge.finding import Finding, Seen, Verdict
from inspect_report.records.position import Position
from inspect_report.report.figures import NBSP, joined
from inspect_report.telling.manner import message, say, say_as, word
from inspect_report.telling.positions import label_words, nouns, place_words, plural, runs

_PAGE: Final = re.compile(r"\bp\. (?=\S)")
"""How spec sheets cite a page."""

DEEPEST: Final = "fully stripped"
"""The depth at which an engine has nothing left to open."""
GOOD: Final = (Verdict.AS_NEW, Verdict.SERVICEABLE)
NOT_GOOD: Final = (Verdict.BEYOND_LIMIT, Verdict.UNDECIDED, Verdict.MARGINAL)
ABSENT: Final = (Verdict.NOT_INSPECTED, Verdict.NOT_APPLICABLE)
GRAVITY: Final = (
    Verdict.CHECK_FAILED,
    Verdict.BEYOND_LIMIT,
    Verdict.UNDECIDED,
    Verdict.MARGINAL,
    Verdict.NO_LIMIT,
    Verdict.SERVICEABLE,
    Verdict.AS_NEW,
    Verdict.NOT_INSPECTED,
    Verdict.NOT_APPLICABLE,
)
"""Verdicts from the one a reader must see first."""

MEANING: Final = {
    Verdict.AS_NEW: message("within what the maker prints for new parts, or nothing found"),
    Verdict.SERVICEABLE: message("worn, inside its limit, with allowance left"),
    Verdict.MARGINAL: message(
        "inside its limit, and worn as far as the share of its allowance, told beside it, from which it is "
        "watched; or a sign that needs attention"
    ),
    Verdict.UNDECIDED: message("so near the limit that the uncertainty of measurement reaches over it"),
    Verdict.BEYOND_LIMIT: message(
        "shown to be outside its limit, or seen to be damaged beyond what may stay"
    ),
    Verdict.NO_LIMIT: message("measured or seen, but nothing printed to hold it against"),
    Verdict.NOT_INSPECTED: message("not looked at, for the reason given; says nothing about its state"),
    Verdict.NOT_APPLICABLE: message("this engine has no such thing"),
    Verdict.CHECK_FAILED: message("our computation went wrong; treat as not inspected"),
}

_ALL: Final = {
    "cylinders": message("all {count} cylinders"),
    "crankpins": message("all {count} crankpins"),
    "main journals": message("all {count} main journals"),
    "camshafts": message("all {count} camshafts"),
    "rings": message("all {count} rings"),
    "valves": message("all {count} valves"),
    "inlet valves": message("all {count} inlet valves"),
    "exhaust valves": message("all {count} exhaust valves"),
    "points": message("all {count} points"),
    "places": message("all {count} places"),
}
_VALVES: Final = {
    "inlet": message("inlet valves {numbers}"),
    "exhaust": message("exhaust valves {numbers}"),
}
_PREPOSED: Final = frozenset({"cam", "ring", "end"})
"""Axes whose label stands before the noun: the inlet camshaft."""


def capital(text: str) -> str:
    """A sentence's first letter raised."""
    return text[:1].upper() + text[1:]


def sentence(text: str) -> str:
    """Text with a capital and a full stop."""
    text = text.strip()
    if not text:
        return ""
    return capital(text) if text[-1] in ".!?…:" else f"{capital(text)}."


def _along_one(axis: str, labels: Sequence[str]) -> str:
    if len(labels) == 1:
        return label_words(axis, labels[0])
    if axis == "valve":
        return _valves(labels)
    if axis in _PREPOSED:
        return say("{labels} {things}", labels=runs(labels), things=plural(axis))
    return say("{things} {labels}", things=plural(axis), labels=runs(labels))


def _valves(labels: Sequence[str]) -> str:
    """Valves of one cylinder: ``inlet valves 1 and 2``."""
    sides: dict[str, list[str]] = {}
    for label in labels:
        side, _, number = label.partition("-")
        sides.setdefault(side, []).append(number)
    if any(len(numbers) == 1 for numbers in sides.values()):
        return joined([label_words("valve", label) for label in labels])
    return joined(
        [say(_VALVES.get(s, "{side} valves {numbers}"), side=s, numbers=runs(n)) for s, n in sides.items()]
    )


MOST_EXCEPTED: Final = 2


def places_words(positions: Sequence[Position]) -> str:
    """Several places of one characteristic in as few words as tell them all."""
    if not positions or not positions[0].axes:
        return "engine"
    axes = positions[0].axes
    if any(p.axes != axes for p in positions):
        return joined([place_words(p) for p in positions])
    labels = [tuple(dict.fromkeys(p.labels[i] for p in positions)) for i in range(len(axes))]
    here = {p.labels for p in positions}
    excepted = [labelled for labelled in product(*labels) if labelled not in here]
    if len(excepted) > min(MOST_EXCEPTED, len(here) // 3):
        return "; ".join(_by_first(positions))
    whole = ", ".join(_along_one(a, ls) for a, ls in zip(axes, labels, strict=True))
    return (
        say("{places}, except {excepted}", places=whole, excepted=_excepted(axes, excepted))
        if excepted
        else whole
    )


def _excepted(axes: tuple[str, ...], excepted: Sequence[tuple[str, ...]]) -> str:
    return joined([place_words(Position(axes, labels)) for labels in excepted])


def _by_first(positions: Sequence[Position]) -> Iterable[str]:
    """Places told for each label of their first axis."""
    first = positions[0].axes[0]
    for label in dict.fromkeys(p.labels[0] for p in positions):
        inner = [p.without(first) for p in positions if p.labels[0] == label]
        yield f"{label_words(first, label)}: {places_words(inner)}"


def where_words(positions: Sequence[Position], everywhere: Sequence[Position]) -> str:
    """Places in words, ``all`` where none of the characteristic, or of one side of the head, is missing."""
    axes = positions[0].axes if positions else ()
    if len(positions) < 3 or not axes:
        return places_words(positions)
    kind = nouns(axes[0]) if len(axes) == 1 else "valves" if axes[-1] == "valve" else "places"
    if set(positions) == set(everywhere):
        return say(_ALL.get(kind, message("all {count} {things}")), count=len(positions), things=say(kind))
    for side in ("inlet", "exhaust") if kind == "valves" else ():
        if set(positions) == {p for p in everywhere if (p.label("valve") or "").startswith(side)}:
            return say(_ALL[f"{side} valves"], count=len(positions))
    return places_words(positions)


MOST_WORDS: Final = 58
COUNTED_VALVES: Final = {
    "inlet": message("{count} of {all} inlet valves"),
    "exhaust": message("{count} of {all} exhaust valves"),
}


def where_in_short(positions: Sequence[Position], everywhere: Sequence[Position]) -> str:
    """Places in words, or only counted where the words would grow long; for places where all is well."""
    words = where_words(positions, everywhere)
    return words if len(words) <= MOST_WORDS else _counted(positions, everywhere)


def _counted(positions: Sequence[Position], everywhere: Sequence[Position]) -> str:
    """How many places of how many; valves of one side among the valves of that side."""
    for side, pattern in COUNTED_VALVES.items():
        there = [p for p in everywhere if (p.label("valve") or "").startswith(side)]
        if there and set(positions) <= set(there):
            return say(pattern, count=len(positions), all=len(there))
    return say("{count} of {all} places", count=len(positions), all=len(everywhere))


def is_present(finding: Finding) -> bool:
    """Whether something was looked at and can be told."""
    return finding.verdict not in ABSENT


def finding_name(finding: Finding) -> str:
    """A finding's name with its place."""
    place = place_words(finding.position)
    return finding.name if place == "engine" else f"{finding.name}, {place}"


def seen_words(seen: Seen) -> str:
    """What the eye found, with its steps."""
    steps = [say("amount {step}", step=seen.amount)]
    steps += [say("size {step}", step=seen.size)] if seen.size is not None else []
    steps += [say("strength {step}", step=seen.strength)] if seen.strength is not None else []
    note = f" – {seen.note}" if seen.note else ""
    whose = f"; {seen.by}" if seen.by else ""
    return say(
        "{damage} ({steps}\u00a0of\u00a05{whose}){note}",
        damage=word(seen.damage),
        steps=", ".join(step.replace(" ", NBSP) for step in steps),
        whose=whose,
        note=note,
    )


def tone(verdict: Verdict | str) -> str:
    """The style class of a verdict or grade word."""
    return str(verdict).replace(" ", "-")


def cited(source: str) -> str:
    """A source with its page cited as the language told now does it: ``p. 3-14``, ``S. 3-14``."""
    page = say_as("before the number of a page", "p.")
    return _PAGE.sub(f"{page}{NBSP}", source)
