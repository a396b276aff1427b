"""Turns the HTML of a page into the same with no-break spaces at units and where a language wants them."""

import re
from typing import Final

from inspect_report.report.figures import NBSP
from inspect_report.telling.manner import message_as, say_as

_RULE: Final = "before a colon or semicolon stands"
_NOTHING: Final = message_as("before a colon or semicolon stands", "nothing")
"""French sets a space, which it says by translating this as ``a no-break space``."""
_PIECE: Final = re.compile(
    r"<(?P<kept>style|script|code|pre)\b.*?</(?P=kept)>|<[^>]*>|&#?\w+;|(?P<sign>[:;])(?=[\s<]|$)", re.DOTALL
)
"""What is never touched, or a sign behind which a word ends."""
_UNITS: Final = "%|mm|cm|µm|km|bar|mbar|[khM]Pa|kN|N|N·m|°C|l/min|kPa/min|rpm|thou|psi"
"""Signs that are no word of a language, as ``in`` and ``l`` may be."""
_AMOUNT: Final = re.compile(rf"(?<=\d) (?=(?:{_UNITS})(?![\w·/]))")
_SPACES: Final = " \t\n\u00a0\u202f"


def spaced(html: str) -> str:
    """
    A page that parts no number from its unit, and no colon or semicolon from its word where a space stands.

    Most such signs join texts that are told apart from each other, and no catalogue sees them.
    """
    html = _AMOUNT.sub(NBSP, html)
    if say_as(_RULE, _NOTHING) == _NOTHING:
        return html
    return _PIECE.sub(_with_space, html)


def _with_space(found: re.Match[str]) -> str:
    piece, start = found[0], found.start()
    if found["sign"] is None or (start and found.string[start - 1] in _SPACES):
        return piece
    return NBSP + piece
