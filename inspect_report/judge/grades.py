"""Turns findings into the grade of each assembly and of the engine, by the scoring book and nothing else."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from inspect_report.judge.asked import places_along
from inspect_report.judge.finding import Counted, Finding, Grade, HeldCap, Seen, Verdict
from inspect_report.judge.visual import WORSENING
from inspect_report.knowledge.case import Books, known_or_row
from inspect_report.knowledge.catalogue import Assembly, Cap, Known, judged_along
from inspect_report.telling.manner import lowered

NOT_GRADED: Final = "not graded"
WORDS: Final = ("as new", "serviceable", "marginal", "unserviceable")
"""Grade words from best to worst."""
_AT_MOST_BY_BOOK: Final = (Verdict.UNDECIDED, Verdict.BEYOND_LIMIT)


@dataclass(frozen=True, slots=True)
class _Weighed:
    """A finding with what the books say of its characteristic."""

    finding: Finding
    known: Known | None
    word: str | None
    """Grade word its verdict stands for; None where the verdict weighs nothing."""
    left: float | None
    """Share of wear allowance left; None where the verdict weighs nothing."""

    @property
    def weight(self) -> int:
        return 1 if self.known is None else self.known.weight

    @property
    def matters(self) -> bool:
        return self.known is None or self.known.matters_for_function


def assembly_grades(findings: Sequence[Finding], books: Books) -> tuple[Grade, ...]:
    """A grade for every assembly that this engine has findings of, in the order of the catalogue."""
    weighed = [_weighed(finding, books) for finding in findings]
    grades = (
        _assembly_grade(assembly, [w for w in weighed if w.finding.assembly == assembly.id], books)
        for assembly in books.catalogue.assemblies
    )
    return tuple(grade for grade in grades if grade is not None)


def _weighed(finding: Finding, books: Books) -> _Weighed:
    scoring = books.scoring
    word = scoring.grade_of.get(finding.verdict)
    left = None if word is None else _left(finding, float(scoring.left_of.get(finding.verdict, 0)))
    return _Weighed(finding, known_or_row(books, finding.characteristic), word, left)


def _left(finding: Finding, otherwise: float) -> float:
    """Share of allowance left; an undecided or failed one is never worth more than the book says."""
    if finding.used is None:
        return otherwise
    left = 1.0 - min(1.0, max(0.0, finding.used))
    return min(left, otherwise) if finding.verdict in _AT_MOST_BY_BOOK else left


def _assembly_grade(assembly: Assembly, weighed: Sequence[_Weighed], books: Books) -> Grade | None:
    if not weighed:
        return None
    held = tuple(_caps_that_hold(weighed, books.scoring.caps))
    counted = tuple(_counted(same, books) for same in _alike(weighed))
    setting = _setting(weighed)
    word = _worse([word for _, word in setting], [cap.at_most for cap in held])
    return Grade(
        assembly=assembly.id,
        name=assembly.name,
        word=word,
        score=None if word == NOT_GRADED else _capped(_score(counted), held),
        used=sum(c.used for c in counted),
        planned=sum(c.planned for c in counted),
        beyond_depth=sum(c.beyond_depth for c in counted),
        worst=_worst(weighed, setting, word, {id_ for cap in held for id_ in cap.findings}),
        caps=_told(held),
        do_not_run=any(cap.do_not_run for cap in held),
        counted=counted,
        held=held,
    )


def _alike(weighed: Iterable[_Weighed]) -> Iterable[list[_Weighed]]:
    """Findings of one characteristic together, in their order, without what the engine does not have."""
    gathered: dict[str, list[_Weighed]] = {}
    for one in (w for w in weighed if w.finding.verdict is not Verdict.NOT_APPLICABLE):
        gathered.setdefault(one.finding.characteristic, []).append(one)
    return gathered.values()


def _counted(same: Sequence[_Weighed], books: Books) -> Counted:
    """What one characteristic adds to the grade of its assembly."""
    first, words = same[0], [w.word for w in same if w.word is not None]
    shares = [w.left for w in same if w.left is not None]
    return Counted(
        id=first.finding.characteristic,
        name=first.finding.name,
        weight=first.weight,
        matters=first.matters,
        word=max(words, key=WORDS.index, default=""),
        left=_share(shares) if shares else None,
        used=sum(_is_used(w) for w in same),
        planned=sum(_checks(w, books) for w in same if _is_planned(w.finding)),
        beyond_depth=sum(_checks(w, books) for w in same if w.finding.outside_depth),
    )


def _told(held: Iterable[HeldCap]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(f"{cap.name}: {lowered(cap.why)}" for cap in held))


def _setting(weighed: Sequence[_Weighed]) -> list[tuple[_Weighed, str]]:
    """
    The findings that set the word, each with the word it gives: those that matter for function.

    Where none of these was judged, the others speak, but they alone make nothing unserviceable.
    """
    graded = [(w, w.word) for w in weighed if w.word is not None]
    mattering = [(w, word) for w, word in graded if w.matters]
    worst = WORDS.index("marginal")
    return mattering or [(w, WORDS[min(worst, WORDS.index(word))]) for w, word in graded if w.weight]


def _worse(words: Iterable[str], limits: Iterable[str]) -> str:
    return max((*words, *limits), key=WORDS.index, default=NOT_GRADED)


def _score(counted: Iterable[Counted]) -> float | None:
    """Mean of allowance left by weight, 0 to 100."""
    graded = [(one.left, one.weight) for one in counted if one.left is not None]
    total = sum(weight for _, weight in graded)
    return sum(left * weight for left, weight in graded) / total if total else None


def _share(left: Sequence[float]) -> float:
    """Allowance left as the mean over some places, 0 to 100."""
    return sum(left) / len(left) * 100.0


def _capped(score: float | None, caps: Iterable[HeldCap]) -> float | None:
    if score is None:
        return None
    return min((score, *(float(cap.score_at_most) for cap in caps)))


def _is_used(weighed: _Weighed) -> bool:
    """Whether a finding is one of the checks that a grade rests on."""
    return bool(weighed.weight) and weighed.word is not None


def _is_planned(finding: Finding) -> bool:
    """Whether a finding could have been graded: it applies, lies within the depth and is no mere evidence."""
    evidence = bool(finding.chosen) and finding.verdict is Verdict.NO_LIMIT
    return finding.verdict is not Verdict.NOT_APPLICABLE and not finding.outside_depth and not evidence


def _checks(weighed: _Weighed, books: Books) -> int:
    """
    How many checks a finding stands for: a whole item not inspected stands for all its places.

    What has no weight is another way to tell a check that counts already, and is none of its own.
    """
    finding, known = weighed.finding, weighed.known
    if weighed.weight == 0:
        return 0
    if finding.verdict is not Verdict.NOT_INSPECTED or finding.position.labels:
        return 1
    item = books.checklist.item(finding.characteristic)
    axes = (judged_along(known, item) if known else ()) or (item.axes if item else ())
    return max(1, len(places_along(axes, books)))


def _worst(
    weighed: Sequence[_Weighed], setting: Sequence[tuple[_Weighed, str]], word: str, capped: set[str]
) -> tuple[str, ...]:
    """Ids of the findings that set the word, worst first; none for an assembly that is as new."""
    if word in (NOT_GRADED, "as new"):
        return ()
    named = capped | {w.finding.id for w, given in setting if given == word}
    found = [w.finding for w in weighed if w.finding.id in named]
    ranked = sorted(found, key=lambda f: (-WORSENING.index(f.verdict), -(f.used or 0.0)))
    return tuple(finding.id for finding in ranked)


def _caps_that_hold(weighed: Sequence[_Weighed], caps: Iterable[Cap]) -> Iterator[HeldCap]:
    """The caps that hold for an assembly, each with the findings that call for it."""
    for cap in caps:
        ids = tuple(w.finding.id for w in weighed if calls_for(w.finding, cap))
        if ids:
            allowed = cap.at_most, cap.score_at_most, cap.do_not_run
            yield HeldCap(cap.id, cap.name, cap.why, *allowed, ids)


def calls_for(finding: Finding, cap: Cap) -> bool:
    """Whether a finding makes a cap hold."""
    named = finding.characteristic in cap.characteristics and finding.verdict in cap.verdicts
    return named or any(s.damage in cap.damage and _grade_seen(s) >= cap.grade for s in finding.seen)


def _grade_seen(seen: Seen) -> int:
    return max(seen.amount, seen.size or 0, seen.strength or 0)


def engine_grade(grades: Sequence[Grade], books: Books) -> Grade:
    """The engine's grade: the worst assembly's word, the weighted mean score, coverage summed, every cap."""
    graded = [g for g in grades if g.word != NOT_GRADED]
    weights = {a.id: a.weight for a in books.catalogue.assemblies}
    held = _every_cap(grades)
    counted = tuple(_of_engine(g, weights[g.assembly]) for g in grades)
    word = _worse([g.word for g in graded], [])
    return Grade(
        assembly="",
        name="Engine",
        word=word,
        score=_capped(_score(counted), held),
        used=sum(g.used for g in grades),
        planned=sum(g.planned for g in grades),
        beyond_depth=sum(g.beyond_depth for g in grades),
        worst=tuple(id_ for g in graded if g.word == word for id_ in g.worst),
        caps=_told(held),
        do_not_run=any(cap.do_not_run for cap in held),
        counted=counted,
        held=held,
    )


def _of_engine(grade: Grade, weight: int) -> Counted:
    """What one assembly adds to the grade of the engine; each can set its word."""
    word = "" if grade.word == NOT_GRADED else grade.word
    counts = grade.used, grade.planned, grade.beyond_depth
    return Counted(grade.assembly, grade.name, weight, True, word, grade.score, *counts)


def _every_cap(grades: Iterable[Grade]) -> tuple[HeldCap, ...]:
    """The caps of all assemblies, each once with all that calls for it."""
    held: dict[str, HeldCap] = {}
    for cap in (cap for grade in grades for cap in grade.held):
        before = held.get(cap.id)
        held[cap.id] = replace(cap, findings=(*before.findings, *cap.findings)) if before else cap
    return tuple(held.values())
