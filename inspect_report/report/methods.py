"""Turns the name of a quantity into its page for a terminal: what it is, how it is measured, its formula."""

import re
import textwrap
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from inspect_report.places import methods_dir
from inspect_report.records.problem import InspectReportError, nearest

WIDTH: Final = 100
_INDEX: Final = "README"
_ENTRY: Final = re.compile(r"^- \[(?P<name>[^\]]+)\]\([^)]*\): (?P<title>.*)$", re.MULTILINE)


class UnknownMethod(InspectReportError):
    """No page has this name; the message offers the nearest one."""


def method_page(name: str) -> str:
    """
    The page of a quantity or method, for a terminal.

    Args:
        name: Its id: ``bore-taper``; a finding's id with its place will do.

    Raises:
        UnknownMethod: there is none; the message names the nearest.
    """
    known = [entry["name"] for entry in _ENTRY.finditer(_read(_INDEX))]
    wanted = name.partition(".")[0]
    if wanted not in known:
        raise UnknownMethod(_not_found(name, known))
    return "\n".join(_for_terminal(_read(wanted))).rstrip()


def method_list() -> str:
    """The names of all pages, one a line."""
    entries = [(entry["name"], entry["title"]) for entry in _ENTRY.finditer(_read(_INDEX))]
    widest = max(len(name) for name, _ in entries)
    return "\n".join(f"{name:<{widest}}  {title}" for name, title in entries)


def _not_found(name: str, known: list[str]) -> str:
    asked_by = [page for page in known if f"`{name}`" in _read(page)]
    if asked_by:
        return f"{name!r} is a reading for: {', '.join(asked_by)}; ask for one of these"
    near = nearest(name, known)
    offer = f"did you mean {near!r}?" if near else "'inspect-report method' without a name lists them all"
    return f"no quantity {name!r}; {offer}"


def _read(name: str) -> str:
    return Path(methods_dir() / f"{name}.md").read_text(encoding="utf-8")


def _for_terminal(text: str) -> Iterator[str]:
    """Markdown as plain text: no marks, no typeset formulas, lines folded."""
    for line in re.sub(r"\$\$.*?\$\$\n\n", "", text).splitlines():
        plain = re.sub(r"\*\*|`", "", line)
        if plain.startswith("    "):
            yield plain
        else:
            yield from _folded(plain.lstrip("# "))


def _folded(line: str) -> Iterator[str]:
    behind = "  " if line.startswith("- ") else ""
    fold = textwrap.wrap(
        line, WIDTH, subsequent_indent=behind, break_long_words=False, break_on_hyphens=False
    )
    yield from fold or [""]
