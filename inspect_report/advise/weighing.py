"""
Turns the signs of a cause and the facts into how strongly the evidence speaks for it.

The odds of a cause begin with how often it is met, and each sign that was looked at adds its weight. A sign
that was not looked at adds nothing; one that a reading cannot tell adds next to nothing. Where a sign is the
fault itself, which nobody sees without it but by mistake, what else is missing speaks no more against it.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from inspect_report.advise.clauses import evaluate
from inspect_report.advise.explanation import MOST, Explanation, Weighed
from inspect_report.advise.facts import Fact
from inspect_report.advise.looking import View, look
from inspect_report.advise.saying import looked_for, told_together
from inspect_report.advise.sureness import chance_of
from inspect_report.knowledge.clause import Clause, Leaf, leaves
from inspect_report.knowledge.rulebook import LEAST_SHARE, Cause, Rulebook
from inspect_report.mechanics.evidence import decibans_of, weight_of_evidence
from inspect_report.telling.manner import say


def weigh(cause: Cause, rulebook: Rulebook, view: View) -> Explanation:
    """
    A cause with the weight of its evidence.

    Args:
        cause: The cause.
        rulebook: The book that tells its signs and what the words for shares stand for.
        view: The facts, and where they are looked at from.
    """
    signs = _spared(cause, rulebook, tuple(_weighed(cause, rulebook, view)))
    before = decibans_of(rulebook.share(cause.before))
    evidence = math.fsum(s.decibans for s in signs)
    odds = min(MOST, max(-MOST, math.fsum((before, *(s.decibans for s in signs)))))
    return Explanation(cause.id, cause.name, before, evidence, odds, signs)


def _spared(cause: Cause, rulebook: Rulebook, signs: tuple[Weighed, ...]) -> tuple[Weighed, ...]:
    """The signs of a cause, those against it weighing the less the surer the fault itself is seen."""
    plain = {s for s, (_, without) in cause.signs.items() if rulebook.share(without) <= LEAST_SHARE}
    sure = max((s.chance for s in signs if s.sign in plain), default=0.0)
    left = min(1.0, 2.0 * (1.0 - sure))
    return tuple(replace(s, decibans=s.decibans * left) if s.decibans < 0.0 else s for s in signs)


def _weighed(cause: Cause, rulebook: Rulebook, view: View) -> Iterator[Weighed]:
    for sign in rulebook.signs:
        if sign.id not in cause.signs:
            continue
        chance = chance_of(sign.see, view)
        if chance is not None:
            with_cause, without = map(rulebook.share, cause.signs[sign.id])
            text, findings = _found(sign.see, view)
            yield Weighed(sign.id, text, findings, chance, weight_of_evidence(with_cause, without, chance))


def _found(clause: Clause, view: View) -> tuple[str, tuple[str, ...]]:
    """What was found where a sign was looked for, in words, with the findings it is known from."""
    deciding = {f for e in evaluate(clause, view).evidence for f in e.findings}
    seen = [(f, leaf) for leaf in leaves(clause) for f in look(leaf, view).seen or () if f.known]
    shown = [(f, leaf) for f, leaf in seen if f.id in deciding] or seen
    told = dict.fromkeys(_shortly(fact, leaf, shown) for fact, leaf in shown)
    return told_together(list(told)), tuple(dict.fromkeys(f.id for f, _ in shown))


def _shortly(fact: Fact, leaf: Leaf, shown: Sequence[tuple[Fact, Leaf]]) -> str:
    """A fact in words; several places at which the same was found are told once, with their number."""
    found = _what(fact, leaf)
    alike = [f for f, other in shown if f.subject == fact.subject and _what(f, other) == found]
    if len(alike) == 1:
        return looked_for(fact, leaf)
    return say("{name}: {found} ({count} places)", name=fact.name, found=found, count=len(alike))


def _what(fact: Fact, leaf: Leaf) -> str:
    return looked_for(fact, leaf).partition(": ")[2]
