"""
Turns what program, templates and shipped books say into the message catalogues of every language.

``python -m tests.agreement.messages`` takes new messages into the ``.po`` files, each without a translation
yet, and drops those that nothing says any more; a test fails while they are out of date.
"""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, Final

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po
from jinja2.ext import babel_extract

from inspect_report.knowledge.kept import document_of_book
from inspect_report.measure.formulas import FORMULAS
from inspect_report.places import knowledge_dir, languages_dir, templates_dir

PACKAGE: Final = Path(__file__).resolve().parents[2] / "inspect_report"
TEXT_KEYS: Final = frozenset({
    "asks", "hint", "intro", "name", "title", "plain", "plain-open", "told-as", "if-left", "if-beyond",
    "finding", "seen", "why", "tells-them-apart", "check", "note", "source", "sure", "standard", "steps",
    "text", "throughout",
})  # fmt: skip
"""Keys of the shipped books whose texts are printed."""
WORD_KEYS: Final = frozenset(
    {"could-also-be", "damage", "depths", "instrument", "options", "urgency", "verdict"}
)
"""Keys whose words an inspector types, or that are compared; they are shown in other languages."""
Message = tuple[str, str | tuple[str, str]]
"""Context, and the English text or its two forms."""
Where = dict[Message, str]


def code_messages() -> Where:
    """What the program says: the texts given to ``say``, ``say_as``, ``say_count`` and ``message``."""
    found: Where = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(call, ast.Call):
                for told in _of_call(call):
                    found.setdefault(told, str(path.relative_to(PACKAGE.parent)))
    return found


def _of_call(call: ast.Call) -> Iterator[Message]:
    name = call.func.id if isinstance(call.func, ast.Name) else ""
    texts = [a.value for a in call.args if isinstance(a, ast.Constant) and isinstance(a.value, str)]
    if name in ("say", "message") and texts:
        yield "", texts[0]
    elif name in ("say_as", "message_as") and len(texts) == 2:
        yield texts[0], texts[1]
    elif name == "say_count" and len(texts) == 2:
        yield "", (texts[0], texts[1])


def template_messages() -> Where:
    """What the templates say by ``say``."""
    found: Where = {}
    for path in sorted(templates_dir().rglob("*.html")):
        with path.open("rb") as file:
            for _, _, text, _ in babel_extract(file, ("say",), [], {}):
                said = text[0] if isinstance(text, tuple) else text
                found.setdefault(("", str(said)), f"templates/{path.relative_to(templates_dir())}")
    return found


@cache
def _books() -> tuple[tuple[str, Any], ...]:
    paths = sorted(p for p in knowledge_dir().rglob("*.yaml"))
    return tuple((p.stem, document_of_book(p.read_bytes(), p).data) for p in paths)


def book_messages() -> Where:
    """What the shipped books say: their texts, and the words that inspectors type."""
    found: Where = {}
    for name, data in _books():
        for key, text in _texts(data, ""):
            found.setdefault(("", text), f"{name}: {key}")
    return found


def _texts(data: Any, key: str) -> Iterator[tuple[str, str]]:
    if isinstance(data, dict):
        if key == "options":
            yield from ((key, str(answer)) for answer in data)
        for inner, value in data.items():
            yield from _texts(value, inner if key != "options" else "")
    elif isinstance(data, list):
        for value in data:
            yield from _texts(value, key)
    elif isinstance(data, str) and key in TEXT_KEYS | WORD_KEYS:
        yield key, data


def name_messages() -> Where:
    """Ids that are told as words: items read or counted, quantities, steps of access, formulas, places."""
    said = {text for _, text in (*book_messages(), *code_messages()) if isinstance(text, str)}
    found: Where = {}
    for told, where in sorted(_ids()):
        words = told.replace("-", " ").replace("_", " ")
        if words not in said and words[:1].upper() + words[1:] not in said and not words.isdigit():
            found.setdefault(("", words), where)
    return found


def _ids() -> Iterator[tuple[str, str]]:
    for formulas in FORMULAS.values():
        yield from ((formula.__name__, "formula") for formula in formulas)
    for name, data in _books():
        yield from ((c["id"], "quantity") for c in data.get("characteristics", ()))
        yield from ((s["id"], f"{name}: what must be open") for s in data.get("access", ()))
        for section in data.get("sections", ()):
            yield from ((i["id"], "reading") for i in section["items"] if i["kind"] in ("reading", "count"))
            axes = (axis for i in section["items"] for axis in i.get("axes", ()))
            yield from ((axis, "place in the engine") for axis in axes)
        for axis, labels in data.get("axes", {}).items() if "sections" in data else ():
            yield axis, "place in the engine"
            yield from ((label, "place in the engine") for label in labels if len(label) > 1)


def program_messages() -> Where:
    """All messages of ``program.po``."""
    books = book_messages()
    told = {**name_messages(), **code_messages(), **template_messages()}
    return {m: where for m, where in told.items() if m not in books}


def catalogues() -> dict[str, Where]:
    """Messages by the name of their file."""
    return {"program": program_messages(), "books": book_messages()}


def updated(language: str, name: str, messages: Where) -> Catalog:
    """The catalogue of a language as it should be: every message, and no other."""
    path = languages_dir() / language / f"{name}.po"
    with path.open("rb") as file:
        old = read_po(file)
    made = Catalog(
        locale=language, project="inspect-report", fuzzy=False, charset="utf-8", copyright_holder=""
    )
    setattr(made, "_num_plurals", old.num_plurals)  # noqa: B010 - the library sets them from files only
    setattr(made, "_plural_expr", old.plural_expr)  # noqa: B010
    for (context, text), where in sorted(messages.items(), key=lambda m: (m[1], str(m[0]))):
        before = old.get(text if isinstance(text, str) else text[0], context or None)
        told = _spaced(before.string, language) if before and not before.fuzzy else ""
        made.add(text, told or ("" if isinstance(text, str) else ("",) * made.num_plurals),
                 auto_comments=(where,), context=context or None)  # fmt: skip
    return made


_AMOUNT: Final = re.compile(r"(?<=[\d}]) (?=(?:%|mm|cm|µm|bar|kPa|hPa|N·m|h|min)(?!\w)|°C)")
_FRENCH: Final = re.compile(r"(?<=\S) (?=[:;!?»](?!\w))|(?<=«) |(?<=[^\s\u00a0:;])(?=[:;](?:\s|$))")


def _spaced(told: Any, language: str) -> Any:
    """What is told with no-break spaces: between number and unit, and where French sets them."""
    if not isinstance(told, str):
        return tuple(_spaced(one, language) for one in told)
    text = _AMOUNT.sub("\u00a0", told)
    return _FRENCH.sub("\u00a0", text) if language == "fr" else text


def written(made: Catalog) -> bytes:
    """A catalogue as its file holds it; no day, no line number, so that only words change it."""
    from io import BytesIO

    file = BytesIO()
    write_po(file, made, width=100, no_location=True, omit_header=False, ignore_obsolete=True)
    lines = file.getvalue().decode().splitlines(keepends=True)
    kept = (line for line in lines if not line.startswith(('"POT-Creation', '"PO-Revision', '"Last-Trans',
            '"Language-Team', '"Report-Msgid', '"Generated-By')))  # fmt: skip
    return "".join(kept).encode()


def main() -> None:
    """Bring every catalogue up to date."""
    for name, messages in catalogues().items():
        for folder in sorted(p.parent for p in languages_dir().glob("*/program.po")):
            (folder / f"{name}.po").write_bytes(written(updated(folder.name, name, messages)))


if __name__ == "__main__":
    main()
