"""
Turns a page for paper into parts that begin on a fresh sheet, and shares them out over processes.

A part is printed by itself, so two can be printed at once; a page holds the same parts however many
processes there are, so its bytes are the same.
"""

import re
from collections.abc import Iterator, Sequence
from typing import Final

MARK: Final = '<hr class="fresh-sheet">'
"""What a template writes between two parts, right inside ``main``."""
FEW: Final = 60_000
"""Letters up to which parts stay together, about fifteen pages: a short report has no half-empty sheets."""
_PICTURE: Final = re.compile(r'"data:[^"]*"')


def parted(html: str) -> tuple[str, ...]:
    """
    The parts of a page, each a page of its own with the head of the whole; empty ones are left out.

    Short ones that follow each other are one part, and run on without a fresh sheet.

    Args:
        html: The page; one without a mark, or without ``main``, is a single part.
    """
    head, begun, rest = html.partition("<main>")
    body, ended, foot = rest.rpartition("</main>")
    if not (begun and ended):
        return (html,)
    parts = [part for part in body.split(MARK) if part.strip()] or [""]
    return tuple(f"{head}{begun}{part}{ended}{foot}" for part in _run_on(parts))


def _run_on(parts: Sequence[str]) -> Iterator[str]:
    """Parts with what follows them, as long as both together are short."""
    begun = parts[0]
    for part in parts[1:]:
        if letters(begun) + letters(part) > FEW:
            yield begun
            begun = part
        else:
            begun += part
    yield begun


def letters(html: str) -> int:
    """How long a page is, pictures in it left out: about what its printing takes."""
    return len(html) - sum(len(picture) for picture in _PICTURE.findall(html))


def shares(lengths: Sequence[int], behind: int = 0) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """
    Numbers of the parts that the first and the second of two processes take, the longest given out first.

    Args:
        lengths: Length of each part.
        behind: How much of other work the second has before it begins, in the same measure.

    Returns:
        Both shares, each in the order of the parts.
    """
    taken: tuple[list[int], list[int]] = ([], [])
    loads = [0, behind]
    for number in sorted(range(len(lengths)), key=lambda n: -lengths[n]):
        one = loads.index(min(loads))
        taken[one].append(number)
        loads[one] += lengths[number]
    return tuple(sorted(taken[0])), tuple(sorted(taken[1]))
