"""Defines explanations with the weight of their evidence, and the check that would settle most."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from inspect_report.telling.manner import say, say_as

STRONG: Final = 10.0
"""Decibans from which evidence is told as strong: ten to one."""
CLEAR: Final = 3.0
"""Decibans from which evidence is told at all: two to one."""
MOST: Final = 20.0
"""Decibans that no odds go beyond, whatever the sum: 99 to 1 is all that shares from memory carry."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """A sign that was looked at: what was found, how likely the sign is there, and its weight in decibans."""

    sign: str
    text: str
    findings: tuple[str, ...]
    chance: float
    decibans: float


@dataclass(frozen=True, slots=True)
class Explanation:
    """
    A cause that could be at work.

    ``before``: its odds before anything was looked at; ``evidence``: the sum of its signs' weights;
    ``odds``: both together, held within ``MOST``; all in decibans.
    """

    cause: str
    name: str
    before: float
    evidence: float
    odds: float
    signs: tuple[Weighed, ...]

    @property
    def word(self) -> str:
        """What the evidence says of it, in words."""
        if not self.signs:
            return say("nothing that tells of it was looked at")
        return word_of(self.evidence)

    @property
    def likelihood(self) -> str:
        """How likely it is by all that is known, in a plain word."""
        return likelihood_of(self.odds) if self.signs else say("not looked into")


def word_of(decibans: float) -> str:
    """A weight of evidence in words, by steps of two to one and ten to one."""
    if abs(decibans) < CLEAR:
        return say("the evidence leaves it open")
    if decibans > 0:
        strong = abs(decibans) >= STRONG
        return say("the evidence points strongly to it") if strong else say("the evidence points to it")
    if abs(decibans) >= STRONG:
        return say("the evidence speaks strongly against it")
    return say("the evidence speaks against it")


def likelihood_of(decibans: float) -> str:
    """Odds in a plain word, by the same steps."""
    if abs(decibans) < CLEAR:
        return say("as likely as not")
    if decibans > 0:
        return say("very likely") if decibans >= STRONG else say_as("a cause", "likely")
    return say("very unlikely") if decibans <= -STRONG else say("unlikely")


@dataclass(frozen=True, slots=True)
class NextCheck:
    """
    A check not yet made, and how much it is expected to settle.

    ``bits``: expected fall of the entropy, summed over the explanations it bears on. ``opens``: names of the
    deepest access steps that must be opened for it; ``hours``: for opening and closing these and all before.
    """

    does: str
    items: tuple[str, ...]
    """Checklist items that are read, looked at or answered."""
    bears_on: tuple[str, ...]
    """Causes it tells of."""
    bits: float
    opens: tuple[str, ...] = ()
    hours: Decimal = Decimal(0)
