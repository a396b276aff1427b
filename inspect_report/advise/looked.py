"""Turns findings into how much of an engine was looked at, by weight of consequence, not by count."""

from collections.abc import Iterable, Sequence
from typing import Final

from inspect_report.advise.buyer import Looked
from inspect_report.judge.finding import Finding, Verdict
from inspect_report.knowledge.case import Books, known_or_row

NOT_LOOKED_AT: Final = frozenset({Verdict.NOT_INSPECTED, Verdict.CHECK_FAILED})


def looked_at(findings: Iterable[Finding], books: Books) -> tuple[tuple[Looked, ...], Looked]:
    """
    Coverage of each assembly that this engine has, in the order of the catalogue, and of the engine.

    What this engine does not have counts nowhere; what needs a deeper strip-down counts as not looked at.
    """
    here: dict[str, dict[str, list[Finding]]] = {}
    for finding in findings:
        if finding.verdict is not Verdict.NOT_APPLICABLE:
            here.setdefault(finding.assembly, {}).setdefault(finding.characteristic, []).append(finding)
    known = [a for a in books.catalogue.assemblies if a.id in here]
    parts = tuple(_assembly(a.id, a.name, here[a.id], books) for a in known)
    return parts, _engine(parts, {a.id: a.weight for a in known})


def _assembly(assembly: str, name: str, found: dict[str, list[Finding]], books: Books) -> Looked:
    weights = {c: _weight(c, books) for c in found}
    seen = sum(weights[c] * _share(findings) for c, findings in found.items())
    return Looked(assembly, name, seen, float(sum(weights.values())))


def _weight(characteristic: str, books: Books) -> int:
    known = known_or_row(books, characteristic)
    return 1 if known is None else known.weight


def _share(findings: Sequence[Finding]) -> float:
    """Share of the places of one characteristic that was looked at."""
    return sum(f.verdict not in NOT_LOOKED_AT for f in findings) / len(findings)


def _engine(parts: Iterable[Looked], weights: dict[str, int]) -> Looked:
    """Assemblies by their own weights, so that many small checks do not outweigh the crankshaft."""
    shares = [(p.share, weights[p.assembly]) for p in parts]
    graded = [(share, weight) for share, weight in shares if share is not None]
    return Looked("", "Engine", sum(s * w for s, w in graded), float(sum(w for _, w in graded)))
