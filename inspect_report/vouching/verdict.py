"""Defines what came of checking a file: genuine, altered or unknown, why, and what is shown and not shown."""

from dataclasses import dataclass, field
from typing import Final, Literal

Word = Literal["genuine", "altered", "unknown"]

GENUINE: Final = 0
UNKNOWN: Final = 4
ALTERED: Final = 5
CODES: Final[dict[Word, int]] = {"genuine": GENUINE, "unknown": UNKNOWN, "altered": ALTERED}
"""Exit codes; the gravest is the greatest."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What came of checking one file."""

    file: str
    word: Word
    because: tuple[str, ...]
    """Why, in sentences; what decides comes first."""
    facts: tuple[tuple[str, str], ...] = ()
    """What the file says of itself and of who signed it: name and value."""
    not_shown: tuple[str, ...] = field(default=())
    """What this check does not show, in sentences."""

    @property
    def code(self) -> int:
        return CODES[self.word]
