"""Defines the words an inspection may use that stand in books the records do not know."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """
    Words of the shipped books.

    ``damage``: each kind of damage, and whether it is an even change, rated by strength instead of size.
    ``characteristics``: what can be judged. ``parts``: kinds of part that wear. ``steps``: access steps.
    ``jobs``: jobs of the workbook.
    """

    damage: Mapping[str, bool] = field(default_factory=dict)
    characteristics: frozenset[str] = frozenset()
    parts: frozenset[str] = frozenset()
    steps: frozenset[str] = frozenset()
    jobs: frozenset[str] = frozenset()
