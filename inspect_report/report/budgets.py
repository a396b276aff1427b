"""Turns the uncertainty budget of a quantity into a table for a terminal: each cause and what it adds."""

import math
import textwrap
from collections.abc import Iterator, Sequence
from typing import Final

from inspect_report.measure.budget import coverage, expanded
from inspect_report.measure.derived import BudgetLine, Derived
from inspect_report.records.quantity import difference_from_si, from_si, unit_named, usual_units
from inspect_report.report.figures import Figures, shown_unit, with_unit
from inspect_report.report.source import Source
from inspect_report.telling.manner import message, say
from inspect_report.telling.units import Among, one_way

HEADS: Final = (
    message("what makes it unsure"),
    message("value"),
    message("u"),
    message("sensitivity"),
    message("adds"),
    message("dof"),
)
EXACT: Final = message("Taken as exact: whatever has no line here, such as sizes in the spec sheet.")
WIDEST: Final = 34
_FIGURES: Final = 3
_MOST_DECIMALS: Final = 9

Row = tuple[str, ...]


def budget_table(source: Source, derived: Derived, unit: str) -> Iterator[str]:
    """
    The budget of a quantity, line by line.

    Args:
        source: The assessment it stands in.
        derived: The quantity.
        unit: Unit it is told in.
    """
    unit = one_way(unit, 0, Among((derived.quantity.value,))).unit
    rows = [tuple(map(say, HEADS)), *(_row(source, line, unit) for line in derived.budget)]
    yield from _laid_out(rows)
    yield from _sum(source.figures, derived, unit)
    yield say(EXACT)


def _row(source: Source, line: BudgetLine, unit: str) -> Row:
    written, figures = _unit_of(source, line), source.figures
    own, large = (one_way(written, 0, Among((v,))).unit for v in (line.u, line.value or 0.0))
    per = line.sensitivity * unit_named(own).factor
    return (
        f"{line.name}, {line.cause}",
        "–" if line.value is None else with_unit(f"{from_si(line.value, large):.7g}", large),
        _with(figures, difference_from_si(line.u, own), own),
        _with(figures, _in(unit, per), _quotient(unit, own)),
        _with(figures, abs(_in(unit, line.contribution)), unit),
        "∞" if line.dof is None else f"{line.dof:.0f}",
    )


def _unit_of(source: Source, line: BudgetLine) -> str:
    """The unit an input is written in: its item's, its instrument's, else the usual one."""
    item = source.a.checklist.item(line.name.partition(".")[0].partition(",")[0])
    tool = source.a.inspection.head.instruments.get(line.name.partition(" ")[0])
    named = item.unit if item else tool.unit if tool else ""
    return named or next(iter(usual_units(line.dimension)), "1")


def _in(unit: str, value: float) -> float:
    return difference_from_si(value, unit) if unit else value


def _quotient(unit: str, per: str) -> str:
    """The unit of a sensitivity; nothing where both are the same."""
    if unit == per:
        return ""
    above, below = shown_unit(unit) or "1", shown_unit(per)
    return f"{above}/{below}" if below else shown_unit(unit)


def _with(figures: Figures, value: float, unit: str) -> str:
    return with_unit(figures.number(value, _decimals(value)), unit)


def _decimals(value: float) -> int:
    """Decimals that show three figures of a value."""
    if value == 0.0:
        return 0
    return min(max(0, _FIGURES - 1 - math.floor(math.log10(abs(value)))), _MOST_DECIMALS)


def _sum(figures: Figures, derived: Derived, unit: str) -> Iterator[str]:
    quantity = derived.quantity
    freedom = "∞" if quantity.dof is None else figures.number(quantity.dof, 1)
    yield (
        say(
            "Root sum of squares: standard uncertainty {standard}, effective degrees of freedom {freedom}.",
            standard=_with(figures, _in(unit, quantity.u), unit),
            freedom=freedom,
        )
    )
    wide = _with(figures, _in(unit, expanded(quantity)), unit)
    yield say(
        "Coverage factor k = {factor}: expanded uncertainty ±{wide}.",
        factor=factor_words(coverage(quantity)),
        wide=wide,
    )


def factor_words(k: float) -> str:
    """A coverage factor as text: ``2``, ``2.21``."""
    return f"{k:.2f}".rstrip("0").rstrip(".")


def _laid_out(rows: Sequence[Row]) -> Iterator[str]:
    """Rows below each other, the first column to the left and folded where it is wide."""
    widths = [max(len(row[n]) for row in rows) for n in range(len(HEADS))]
    first = min(widths[0], WIDEST)
    for row in rows:
        name, *more = textwrap.wrap(row[0], first, break_long_words=False, break_on_hyphens=False)
        cells = (cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True))
        yield "  ".join((name.ljust(first), *cells)).rstrip()
        yield from (f"  {piece}" for piece in more)
