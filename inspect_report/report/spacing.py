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
_PERCENT: Final = re.compile(r"(?<=[0-9]) %")
_SPACES: Final = " \t\n\u00a0\u202f"


def spaced(html: str) -> str:
    """
    A page with a no-break space before each colon and semicolon of its text, where the language sets one.

    No line ends between a number and its sign for per cent, whatever the language.

    Most such signs join texts that are told apart from each other, and no catalogue sees them.
    """
    whole = _PERCENT.sub(f"{NBSP}%", html)
    if say_as(_RULE, _NOTHING) == _NOTHING:
        return whole
    return _PIECE.sub(_with_space, whole)


def _with_space(found: re.Match[str]) -> str:
    piece, start = found[0], found.start()
    if found["sign"] is None or (start and found.string[start - 1] in _SPACES):
        return piece
    return NBSP + piece
