"""Turns text into the first letter of it that would not come out on paper, with what to do about it."""

import re
from dataclasses import dataclass
from functools import cache
from typing import Final

from inspect_report.places import fonts_dir

# Marks that turn the direction of text, private letters, and the stand-in for a letter lost on the way.
_HIDDEN: Final = re.compile("[\u202a-\u202e\u2066-\u2069\ue000-\uf8ff\ufffd\U000e0000-\U0010ffff]")
_DROPPED: Final = "\0-\x1f\x7f-\x9f\ud800-\udfff"
"""Line ends and tabs, which stay, and control characters, which the reader leaves out."""


@dataclass(frozen=True, slots=True)
class OddLetter:
    """A letter that cannot stand in a report, told as problems are."""

    code: str
    title: str
    found: str
    allowed: str
    mend: str


def odd_letter(text: str) -> OddLetter | None:
    """The first letter of a text that nobody can read or no font of ours can print, or None."""
    odd = _odd().search(text)
    if odd is None:
        return None
    where = f"U+{ord(odd.group()):04X} as character {odd.start() + 1} of the text"
    if _HIDDEN.match(odd.group()):
        return OddLetter(
            "Y113",
            "character that nobody can read",
            where,
            "letters, figures and signs as they are printed",
            "type the text anew; copying brings such characters in, and they hide or turn the text",
        )
    return OddLetter(
        "Y114",
        "letter that cannot be printed",
        f"{odd.group()} ({where})",
        "letters of the Latin, Greek and Cyrillic alphabets, figures and the usual signs",
        "write it in words, or a name in Latin letters; the report's fonts have no picture of it",
    )


@cache
def _odd() -> re.Pattern[str]:
    """Everything but the letters listed beside the fonts."""
    listed = (fonts_dir() / "letters.txt").read_text(encoding="ascii").split()
    ends = (line.partition("-") for line in listed)
    ranges = "".join(f"\\U{first:0>8}-\\U{last or first:0>8}" for first, _, last in ends)
    return re.compile(f"[^{_DROPPED}{ranges}]|{_HIDDEN.pattern}")
