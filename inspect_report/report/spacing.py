"""Turns the HTML of a page into the same with the spaces a language sets before colons and semicolons."""

import re
from typing import Final

from inspect_report.telling.manner import message_as, say_as

NBSP: Final = "\u00a0"
_RULE: Final = "before a colon or semicolon stands"
_NOTHING: Final = message_as("before a colon or semicolon stands", "nothing")
"""French sets a space, which it says by translating this as ``a no-break space``."""
_PIECE: Final = re.compile(
    r"<(?P<kept>style|script|code|pre)\b.*?</(?P=kept)>|<[^>]*>|&#?\w+;|(?P<sign>[:;])(?=[\s<]|$)", re.DOTALL
)
"""What is never touched, or a sign behind which a word ends."""
_SPACES: Final = " \t\n\u00a0\u202f"


def spaced(html: str) -> str:
    """
    A page with a no-break space before each colon and semicolon of its text, where the language sets one.

    Most such signs join texts that are told apart from each other, and no catalogue sees them.
    """
    if say_as(_RULE, _NOTHING) == _NOTHING:
        return html
    return _PIECE.sub(_with_space, html)


def _with_space(found: re.Match[str]) -> str:
    piece, start = found[0], found.start()
    if found["sign"] is None or (start and found.string[start - 1] in _SPACES):
        return piece
    return NBSP + piece
