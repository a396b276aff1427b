"""Turns verdicts into text for a terminal, which a lawyer can read, and into JSON for another program."""

import json
from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Final

from inspect_report.records.problem import printable
from inspect_report.vouching.verdict import Verdict

WIDTH: Final = 100


def as_text(verdict: Verdict) -> str:
    """A verdict in lines of at most 100 letters, but for long words."""
    return "\n".join(_lines(verdict))


def as_json(verdicts: Sequence[Verdict]) -> str:
    """Verdicts as JSON: a list, in the order of the files."""
    told = [
        {
            "file": one.file,
            "verdict": one.word,
            "because": one.because,
            "facts": [{"name": name, "value": value} for name, value in one.facts],
            "not shown": one.not_shown,
        }
        for one in verdicts
    ]
    return json.dumps(told, indent=1, ensure_ascii=False)


def _lines(verdict: Verdict) -> Iterator[str]:
    yield f"{printable(verdict.file)}: {verdict.word}"
    for sentence in verdict.because:
        yield from _wrapped(sentence, "  ")
    if verdict.facts:
        yield ""
    room = max((len(name) for name, _ in verdict.facts), default=0) + 2
    for name, value in verdict.facts:
        yield from _wrapped(value, f"  {printable(name):<{room}}")
    if verdict.not_shown:
        yield ""
        yield "  not shown:"
    for sentence in verdict.not_shown:
        yield from _wrapped(sentence, "  - ")


def _wrapped(text: str, lead: str) -> list[str]:
    return wrap(
        printable(text), WIDTH, initial_indent=lead, subsequent_indent=" " * len(lead), break_long_words=False
    )
