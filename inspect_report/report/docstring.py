"""Turns the docstring of a formula into its parts: sentence, typeset formula, arguments, range and source."""

import inspect
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

_HEADS: Final = ("Args", "Returns", "Raises")
_ENTRY: Final = re.compile(r"^    (?P<name>\w+): (?P<told>.*(?:\n {8}.*)*)", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class FormulaDoc:
    """What the docstring of a formula says, each part in one line of text."""

    name: str
    """As results name it: ``mechanics.bore.taper``."""
    sentence: str
    typeset: str
    arguments: tuple[tuple[str, str], ...]
    gives: str
    raises: str
    holds_for: str
    source: str
    checked_in: str


def formula_doc(formula: Callable[..., object]) -> FormulaDoc:
    """The parts of a formula's docstring; their order is held by the tests of all formulas."""
    text = inspect.getdoc(formula) or ""
    head, _, rest = text.partition("\n\n")
    sections = {name: _section(rest, name) for name in _HEADS}
    tail = rest.partition("Shapes:")[2].partition("\n>>>")[0]
    return FormulaDoc(
        name=f"{formula.__module__.removeprefix('inspect_report.')}.{formula.__name__}",
        sentence=_line(head),
        typeset=_line(rest.partition(".. math::")[2].partition("\n\n")[0]),
        arguments=tuple(_entries(sections["Args"])),
        gives=_line(sections["Returns"]),
        raises=_line(_ENTRY.sub(r"\g<told>", sections["Raises"])),
        holds_for=_line(tail.partition("Holds for:")[2].partition("Source:")[0]),
        source=_line(tail.partition("Source:")[2].partition("Checked in:")[0]),
        checked_in=_line(tail.partition("Checked in:")[2]).rstrip("."),
    )


def _section(text: str, name: str) -> str:
    """What stands indented below a heading, its paragraphs included."""
    found = re.search(rf"^{name}:\n((?:(?: {{4}}.*)?\n)+)", text, re.MULTILINE)
    return found[1] if found else ""


def _entries(section: str) -> Iterator[tuple[str, str]]:
    for entry in _ENTRY.finditer(section):
        yield entry["name"], _line(entry["told"])


def _line(text: str) -> str:
    return " ".join(text.replace("``", "").replace("`", "").split())
