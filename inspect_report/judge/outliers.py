"""Turns the readings of like places, such as an engine's cylinders, into those that stand out."""

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from inspect_report.judge.finding import SIGNIFICANCE, Compared, Finding, Outlying
from inspect_report.judge.order import place_key
from inspect_report.knowledge.case import Books
from inspect_report.mechanics.outliers import GrubbsTest, grubbs_test, scatter_seen_through
from inspect_report.records.position import Position
from inspect_report.records.quantity import Quantity
from inspect_report.telling.manner import figure, say

FEWEST: Final = 3
_FEW: Final = 6
_COVERAGE: Final = 2.0
"""Uncertainties by which a place must differ from the rest before the difference is called real."""

Like = tuple[str, tuple[str, ...], tuple[str, ...]]


def outliers(findings: Iterable[Finding], books: Books) -> tuple[Outlying, ...]:
    """
    Places that stand out from their like: Grubbs' test at 5 per cent, both sides, three places or more.

    A place that differs by less than the readings' own uncertainty does not stand out, however alike the
    others are: three equal readings and one a step of the gauge away prove nothing. A characteristic without
    weight, another way to tell one that counts already, is left out.
    """
    return tuple(out for group in _groups(findings, books) for out in _standing_out(group))


def compared(findings: Iterable[Finding], books: Books) -> tuple[Compared, ...]:
    """Every set of two or more like places: tested, with or without one that stands out, or too small."""
    groups = (group for group in _groups(findings, books) if len(group) > 1)
    return tuple(_compared(group) for group in groups)


def _groups(findings: Iterable[Finding], books: Books) -> Iterator[list[Finding]]:
    """Findings with a value, those of like places together, each set in the order of its places."""
    groups: dict[Like, list[Finding]] = {}
    told_twice = {k.id for k in books.catalogue.characteristics if k.weight == 0}
    for finding in findings:
        if finding.quantity is not None and finding.characteristic not in told_twice:
            groups.setdefault(_like(finding), []).append(finding)
    return (sorted(group, key=lambda f: place_key(f.position, books)) for group in groups.values())


def _like(finding: Finding) -> Like:
    """What makes places alike: one characteristic, and labels that differ in their number alone."""
    position = finding.position
    return finding.characteristic, position.axes, tuple(_kind(label) for label in position.labels)


def _kind(label: str) -> str:
    word, _, number = label.rpartition("-")
    return word if number.isdigit() else label


def _tested(group: Sequence[Finding]) -> tuple[GrubbsTest | None, bool]:
    """The test of a set of like places, and whether the place it names really stands out."""
    quantities = [f.quantity for f in group if f.quantity is not None]
    test = grubbs_test([q.value for q in quantities], alpha=SIGNIFICANCE)
    return test, test is not None and test.is_outlier and _is_real(quantities, test.index)


def _standing_out(group: Sequence[Finding]) -> Iterator[Outlying]:
    test, stands_out = _tested(group)
    if test is not None and stands_out:
        yield _outlying(group[test.index].characteristic, group[test.index].position, test, len(group))


def _outlying(characteristic: str, position: Position, test: GrubbsTest, count: int) -> Outlying:
    return Outlying(characteristic, position, test.statistic, test.critical, count, what_few_tell(count))


def _compared(group: Sequence[Finding]) -> Compared:
    test, stands_out = _tested(group)
    statistic, critical = (test.statistic, test.critical) if test else (None, None)
    first, count = group[0], len(group)
    axes = first.position.axes
    return Compared(first.characteristic, axes, count, statistic, critical, stands_out, what_few_tell(count))


def what_few_tell(count: int) -> str:
    """What a test of a few values can find and what not; empty where there are enough."""
    if count < FEWEST:
        return say("{count} values are too few for an outlier test", count=count)
    if count >= _FEW:
        return ""
    share = 100.0 * scatter_seen_through(count, alpha=SIGNIFICANCE)
    return say(
        "{count} values decide little: one stands out only where the others scatter by less than "
        "{share} % of its distance from them",
        count=count,
        share=figure(f"{share:.2g}"),
    )


def _is_real(quantities: Sequence[Quantity], index: int) -> bool:
    """Whether a value differs from the mean of the others by more than the uncertainty of both."""
    others = [q for n, q in enumerate(quantities) if n != index]
    mean = math.fsum(q.value for q in others) / len(others)
    u_mean = math.hypot(*(q.u for q in others)) / len(others)
    one = quantities[index]
    return abs(one.value - mean) > _COVERAGE * math.hypot(one.u, u_mean)
