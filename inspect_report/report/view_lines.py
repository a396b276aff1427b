"""Turns priced lines into what the customer reads of them: how many, at what price, on what it depends."""

from collections.abc import Sequence, Set
from dataclasses import replace
from decimal import Decimal
from typing import Final

from inspect_report.advise.priced import EstimateLine, Span
from inspect_report.report.figures import joined
from inspect_report.report.reportparts import LineView
from inspect_report.report.source import Source
from inspect_report.report.words import capital
from inspect_report.telling.manner import lowered, message, say, thing

_OF_STEPS: Final = ("strip-down", "access")
_OF_HOURS: Final = ("work", *_OF_STEPS)
_FITTED_EARLIER: Final = message(
    " (the lower figure if {names}, not inspected, is beyond its limit: "
    "it is then fitted with more urgent work)"
)
KINDS: Final = {
    "work": message("Work"),
    "strip-down": message("Strip-down"),
    "access": message("Opening"),
    "part": message("Part"),
    "machine shop": message("Machine shop"),
}


def money_text(source: Source, span: Span, *, priced: bool = True) -> str:
    """An amount at least and at most; of what has no price at all, that it is on request."""
    return source.figures.money_range(span.low, span.high) if priced else say("on request")


def hours_text(source: Source, span: Span) -> str:
    """Hours at least and at most."""
    low, high = (source.figures.quantity(h) for h in (span.low, span.high))
    return f"{low if low == high else say('{low} to {high}', low=low, high=high)}\u00a0h"


def grouped(lines: Sequence[EstimateLine]) -> tuple[EstimateLine, ...]:
    """
    Strip-down, opening and closing in one line for each kind of it: all steps named, hours and prices summed.

    The steps that the line of the strip-down names are not named again by that of their closing.
    """
    steps: dict[tuple[str, Decimal | None], list[EstimateLine]] = {}
    shown: list[EstimateLine] = []
    for line in lines:
        if line.kind not in _OF_STEPS:
            shown.append(line)
            continue
        same = steps.setdefault((_parted(line)[1], line.unit_price), [])
        shown += [] if same else [line]
        same.append(line)
    firsts = {id(same[0]): same for same in steps.values()}
    done = {line.id for line in lines if line.kind == "strip-down"}
    return tuple(_together(firsts[id(line)], done) if id(line) in firsts else line for line in shown)


def _parted(line: EstimateLine) -> tuple[str, str]:
    """The step of a line, and what is done: languages write the colon between them in their own way."""
    step, _, done = line.name.partition(":")
    return step.strip(), done.strip()


def _together(same: Sequence[EstimateLine], done: Set[str]) -> EstimateLine:
    if len(same) == 1:
        return same[0]
    first = same[0]
    names = ", ".join(lowered(_parted(line)[0]) for line in same)
    told = f"{_parted(first)[1] or say('opening and closing')}: {names}"
    if first.kind == "access" and done >= {line.id for line in same}:
        told = say("Closing all of it again")
    priced = [line.price for line in same if line.price is not None]
    return replace(
        first,
        name=told,
        quantity=sum((line.quantity for line in same), Decimal(0)),
        price=sum(priced, Decimal(0)) if len(priced) == len(same) else None,
    )


def line(source: Source, line: EstimateLine) -> LineView:
    """A priced line, what it depends on behind its name."""
    figures = source.figures
    hours = "\u00a0h" if line.kind in _OF_HOURS else ""
    low, high = (figures.quantity(q) for q in (line.quantities.low, line.quantities.high))
    unit, most = line.unit_price, line.unit_high
    return LineView(
        kind=say(KINDS.get(line.kind, capital(line.kind))),
        name=capital(line.name) + depends(source, line),
        quantity=(low if low == high else say("{low} to {high}", low=low, high=high)) + hours,
        unit_price="–" if unit is None else figures.money_range(unit, unit if most is None else most),
        price=say("on request") if line.price is None else money_text(source, line.prices),
    )


def depends(source: Source, line: EstimateLine) -> str:
    """What decides how much of it is needed, as long as nobody has looked."""
    if not line.depends_on:
        return ""
    names = [known_as(source, c) for c in line.depends_on]
    if line.quantities.high < line.quantities.low:
        pattern = _FITTED_EARLIER
    elif line.quantity:
        pattern = message(" (the higher figure only if {names}, not inspected, is beyond its limit)")
    else:
        pattern = message(" (only if {names}, not inspected, is beyond its limit)")
    return say(pattern, names=joined(names, "or"))


def known_as(source: Source, characteristic: str) -> str:
    """The name of a characteristic, within a sentence."""
    found = next((f.name for f in source.of(characteristic)), thing(characteristic))
    return lowered(found)
