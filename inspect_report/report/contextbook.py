"""Turns the view dataclasses into ``templates/CONTEXT.md``, the list of everything a template may use."""

import sys
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Any, get_args, get_type_hints

from inspect_report.places import templates_dir
from inspect_report.report.reportview import HistoryView, ReportView
from inspect_report.report.sheetview import SheetView

PAGES = (
    (
        ReportView,
        "`page` in `rebuild-quote.html`, `pre-purchase-assessment.html` and `condition-history.html`",
    ),
    (HistoryView, "`page` in `history.html`"),
    (SheetView, "`page` in `sheet.html`"),
)
INTRODUCTION = """# What templates may use

Made by `python -m inspect_report.report.contextbook`; do not edit. These names are a promise: one is taken
away only with a new major version.

Every page has `page` (below), `css` (its style sheets) and `medium` (`screen` or `paper`). The filter
`picture` turns a chart or a picture into the address for `src`, `stacked` sets an amount that is told in two
units on two lines, for a narrow cell. Text is ready to print: templates loop, ask
whether something is there, and include; they do no sums. A template's own words stand in `say("…")`, which
gives them in the language of the page: `{{ say("Needs open: {access}.", access=job.access) }}`.
"""


def context_book() -> str:
    """The text of ``templates/CONTEXT.md``."""
    parts = [INTRODUCTION]
    seen: set[type] = set()
    for view, where in PAGES:
        parts += [f"## {view.__name__}: {where}\n", *_described(view, seen)]
    return "\n".join(parts)


def _described(view: type, seen: set[type]) -> Iterator[str]:
    """A view as a table, then the views it holds that were not told yet."""
    seen.add(view)
    yield f"{(view.__doc__ or '').strip()}\n"
    yield "| name | kind | what it is |\n|---|---|---|"
    hints = get_type_hints(view)
    for field in fields(view):
        yield f"| `{field.name}` | {_kind(hints[field.name])} | {field.metadata['help']} |"
    yield ""
    for inner in _held(view):
        if inner not in seen:
            yield f"### {inner.__name__}\n"
            yield from _described(inner, seen)


def _held(view: type) -> Iterator[type]:
    for hint in get_type_hints(view).values():
        for kind in _flat(hint):
            if (
                isinstance(kind, type)
                and hasattr(kind, "__dataclass_fields__")
                and kind.__module__.endswith(("view", "parts"))
            ):
                yield kind


def _flat(hint: Any) -> Iterator[Any]:
    inner = get_args(hint)
    if not inner:
        yield hint
    for part in inner:
        yield from _flat(part)


def _kind(hint: Any) -> str:
    """A type in plain words."""
    origin = getattr(hint, "__origin__", None)
    flat = [k for k in _flat(get_args(hint)[1] if origin is dict else hint) if k is not Ellipsis]
    names = {str: "text", bool: "yes or no", int: "number", type(None): "nothing"}
    charts = [k for k in flat if getattr(k, "__module__", "").endswith("chartspec")]
    words = ["chart"] if charts else []
    words += [names.get(k, getattr(k, "__name__", str(k))) for k in flat if k not in charts]
    listed = "list of " if origin is tuple else "by id, a " if origin is dict else ""
    return listed + " or ".join(words).replace("Markup", "markup")


def main(arguments: list[str]) -> int:
    """Write the book, or with ``--check`` only say whether it is up to date."""
    path = Path(templates_dir()) / "CONTEXT.md"
    text = context_book()
    if "--check" in arguments:
        return 0 if path.read_text(encoding="utf-8") == text else 1
    path.write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
