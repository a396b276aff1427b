"""Turns a text into the first piece of HTML in it, so that it can be refused by name."""

import re
from html import unescape
from typing import Final

from inspect_report.records.faults import Faults
from inspect_report.records.letters import odd_letter
from inspect_report.records.yaml import Path

# A tag or comment as browsers see one; <https://…>, a link in Markdown, is none.
_TAG: Final = re.compile(r"<(?:/?[A-Za-z][A-Za-z0-9-]*(?:\s[^<>]*)?/?>|!--|[!?][A-Za-z])")


def html_in(text: str) -> str:
    """The first tag or comment in a text, empty where there is none."""
    match = _TAG.search(text)
    return match.group() if match else ""


def refuse_html(text: str, path: Path, faults: Faults) -> None:
    """Note a fault where a text holds HTML, which is not taken from files."""
    found = html_in(text)
    if found:
        faults.add(
            "V346",
            "HTML in a note",
            path,
            found,
            "plain text, or Markdown in 'notes'",
            "write **bold**, *italic*, lists with '-'; put a blank behind a < that means 'less than'",
        )
    odd = odd_letter(unescape(text))
    if odd:
        mend = "delete the code between & and ; and write the letter itself, if it can be printed"
        faults.add(odd.code, f"{odd.title}, written as a code", path, odd.found, odd.allowed, mend)
