"""Turns the names and words of a report into a short glossary for those who do not work with engines."""

from collections.abc import Iterator
from itertools import groupby
from typing import Final

from inspect_report.report.reportparts import Fact, LetterView
from inspect_report.report.source import Source
from inspect_report.report.words import capital, is_present, sentence
from inspect_report.telling.manner import message, say

TRADE: Final = {
    message("big end"): message("the end of the connecting rod that runs on the crankshaft"),
    message("small end"): message("the end of the connecting rod that carries the piston pin"),
    message("crankpin"): message("the part of the crankshaft on which a connecting rod runs"),
    message("journal"): message("a round part of a shaft that runs in a bearing"),
    message("shim"): message("a small disc of known thickness that sets the gap of a valve"),
    message("hone"): message("a fine cross-hatched pattern cut into a bore, which holds oil"),
    message("rebore"): message("bores cut to the next larger size, to which new pistons are fitted"),
    message("crown"): message("the top of the piston, which the fire meets"),
    message("ring land"): message("the part of the piston between two rings"),
    message("tensioner"): message("the part that keeps a chain tight as it grows longer"),
    message("reed"): message("a thin blade that lets the charge into the crankcase and not back"),
    message("selector fork"): message("the fork that slides a gear sideways when a gear is changed"),
    message("shell"): message("the thin replaceable half-ring on which a shaft runs"),
    message("dog"): message("a square tooth on the side of a gear that locks it to its neighbour"),
    message("basket"): message("the slotted drum that holds the clutch plates"),
    message("strainer"): message("the sieve that keeps coarse dirt from the oil pump"),
    message("valve guide"): message("the tube in the head in which the stem of a valve slides"),
    message("cushion spring"): message("a spring that softens the jerks of the drive"),
    message("bucket"): message("the cap through which a cam presses on its valve"),
    message("thrust side"): message("the side of the bore that the piston is pressed against"),
    message("top dead centre"): message("the moment at which the piston stands highest"),
}
"""Trade words in a customer's words; common practice."""


def glossary(source: Source) -> tuple[LetterView, ...]:
    """What was measured and the trade words met with, in the order of the alphabet."""
    told = {**dict(_measured(source)), **dict(_met(source))}
    words = sorted(told, key=str.casefold)
    return tuple(
        LetterView(letter, tuple(Fact(word, told[word]) for word in same))
        for letter, same in groupby(words, key=lambda word: word[:1].upper())
    )


def _measured(source: Source) -> Iterator[tuple[str, str]]:
    for finding in source.a.judged.findings:
        plain = source.a.plain.get(finding.characteristic, "")
        if (
            plain
            and finding.quantity is not None
            and is_present(finding)
            and not source.says_the_same(finding)
        ):
            yield capital(finding.name), sentence(plain)


def _met(source: Source) -> Iterator[tuple[str, str]]:
    advice = source.a.advice
    names = [f.name for f in source.a.judged.findings if is_present(f)]
    said = [
        *(f"{d.finding} {d.why}" for d in advice.diagnoses),
        *(f"{w.name} {w.plain}" for w in advice.work),
    ]
    text = " ".join((*names, *said)).lower().replace("-", " ")
    for english, meaning in TRADE.items():
        word = say(english)
        if word.lower() in text:
            yield capital(word), sentence(say(meaning))
