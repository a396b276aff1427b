"""Turns two assessments of one engine into what the later says otherwise, and by which cause."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from inspect_report.advise.advice import Diagnosis
from inspect_report.advise.changes import Issue, changes
from inspect_report.advise.counting import holds
from inspect_report.assessment import Assessment
from inspect_report.comparison.causes import Judged, causes, same
from inspect_report.comparison.difference import (
    BookChange,
    Comparison,
    GradeChange,
    Ground,
    PatternChange,
    Side,
    Told,
    Turn,
    VerdictChange,
)
from inspect_report.judge.finding import Finding
from inspect_report.judge.visual import WORSENING
from inspect_report.records.problem import InspectReportError

NOT_ASKED = "not asked"
"""What stands for the verdict of a place that an assessment does not speak of."""


class OtherEngine(InspectReportError):
    """Two assessments are of two engines; ``before`` and ``after`` name them."""

    def __init__(self, before: str, after: str) -> None:
        self.before, self.after = before, after
        super().__init__(f"two engines: {before}, and {after}")


def compare(before: Assessment, after: Assessment) -> Comparison:
    """
    What two assessments of one engine say otherwise.

    They may be two inspections, or one judged by other books or another version of this program.

    Args:
        before: What is compared with.
        after: What is told.

    Raises:
        OtherEngine: they are of two engines.
    """
    _refuse_other(before, after)
    pairs = tuple(_pairs(before, after))
    found = tuple(_verdicts(pairs))
    work = changes(_issue(before), _issue(after))
    engine = after.inspection.head.engine
    return Comparison(
        maker=engine.maker,
        model=engine.model,
        serial=engine.serial,
        before=_side(before),
        after=_side(after),
        books=tuple(_books(before, after)),
        compared=len(pairs),
        verdicts=found,
        moved=tuple(_moved(pairs)),
        grades=tuple(_grades(before, after)),
        patterns=tuple(_patterns(before, after, {v.id for v in found})),
        jobs=work.jobs,
        sums=work.sums,
        currencies=work.currencies,
    )


def _refuse_other(before: Assessment, after: Assessment) -> None:
    engines = [a.inspection.head.engine for a in (before, after)]
    if engines[0].serial.strip().casefold() != engines[1].serial.strip().casefold():
        raise OtherEngine(*(f"{e.maker} {e.model}, serial {e.serial}" for e in engines))


def _side(a: Assessment) -> Side:
    head = a.inspection.head
    return Side(
        inspection=head.inspection,
        issue=head.issue,
        day=head.dates.inspected,
        depth=head.depth,
        running_time=head.engine.running_time,
        distance=head.engine.distance,
        program=a.program,
        grade=a.judged.engine.word,
        score=a.judged.engine.score,
    )


def _issue(a: Assessment) -> Issue:
    return Issue(a.inspection.head.issue, a.advice, a.judged)


def _books(before: Assessment, after: Assessment) -> Iterator[BookChange]:
    old, new = ({b.kind: b for b in a.books} for a in (before, after))
    for kind in dict.fromkeys((*new, *old)):
        was, is_ = old.get(kind), new.get(kind)
        if was is None or is_ is None or was.digest != is_.digest:
            told = [f"{b.id} {b.version}" if b else "" for b in (was, is_)]
            yield BookChange(kind, *told)


Pair = tuple[Judged, Judged]
ByName = Mapping[str, Sequence[Finding]]
"""Findings of an assessment by their characteristic."""


def _pairs(before: Assessment, after: Assessment) -> Iterator[Pair]:
    """Findings of one place side by side, in the order of the later assessment."""
    old, new = ({f.id: f for f in a.judged.findings} for a in (before, after))
    olds, news = _by_name(before), _by_name(after)
    for name in dict.fromkeys((*new, *old)):
        first, then = old.get(name), new.get(name)
        if _is_split(first, news) or _is_split(then, olds):
            continue
        first, then = first or _whole(then, olds), then or _whole(first, news)
        yield Judged(before, first), Judged(after, then)


def _by_name(assessment: Assessment) -> ByName:
    found: dict[str, list[Finding]] = {}
    for finding in assessment.judged.findings:
        found.setdefault(finding.characteristic, []).append(finding)
    return found


def _is_split(finding: Finding | None, others: ByName) -> bool:
    """Whether a finding that stands for all places is told place by place in the other assessment."""
    if finding is None or finding.position.labels:
        return False
    alike = others.get(finding.characteristic, ())
    return bool(alike) and all(f.position.labels for f in alike)


def _whole(finding: Finding | None, others: ByName) -> Finding | None:
    """The finding of another assessment that stands for all places of a characteristic, for this one too."""
    alike = others.get(finding.characteristic, ()) if finding else ()
    return next((f for f in alike if finding and holds(f.position, finding.position)), None)


def _verdicts(pairs: Iterable[Pair]) -> Iterator[VerdictChange]:
    for old, new in pairs:
        verdicts = [_verdict(j.finding) for j in (old, new)]
        if verdicts[0] != verdicts[1] and not (old.is_absent and new.is_absent):
            yield _change(old, new)


def _verdict(finding: Finding | None) -> str:
    return str(finding.verdict) if finding else NOT_ASKED


def _change(old: Judged, new: Judged) -> VerdictChange:
    known = _finest(old.finding, new.finding)
    by, changed = causes(old, new)
    return VerdictChange(
        id=known.id,
        name=known.name,
        position=known.position,
        unit=known.unit,
        decimals=known.decimals,
        before=_told(old.finding),
        after=_told(new.finding),
        turn=_turn(old, new),
        by=by,
        changed=changed,
    )


def _finest(old: Finding | None, new: Finding | None) -> Finding:
    """The one that names its place most exactly; the later of two alike."""
    known = [f for f in (new, old) if f is not None]
    return max(known, key=lambda f: len(f.position.axes))


def _told(finding: Finding | None) -> Told:
    if finding is None:
        return Told(NOT_ASKED)
    seen = "; ".join(f"{s.damage}, amount {s.amount}" for s in finding.seen) or ", ".join(finding.chosen)
    return Told(str(finding.verdict), finding.quantity, finding.limit, seen, finding.instruments)


def _turn(old: Judged, new: Judged) -> Turn:
    if old.is_absent or old.finding is None:
        return "known now"
    if new.is_absent or new.finding is None:
        return "no longer known"
    worse = WORSENING.index(new.finding.verdict) > WORSENING.index(old.finding.verdict)
    return "worse" if worse else "better"


def _moved(pairs: Iterable[Pair]) -> Iterator[str]:
    for old, new in pairs:
        if old.finding and new.finding and old.finding.verdict is new.finding.verdict:
            first, then = old.finding.quantity, new.finding.quantity
            if first and then and not same(first.value, then.value):
                yield new.finding.id


def _grades(before: Assessment, after: Assessment) -> Iterator[GradeChange]:
    old, new = ({g.assembly: g for g in (a.judged.engine, *a.judged.grades)} for a in (before, after))
    for assembly in dict.fromkeys((*new, *old)):
        was, is_ = (side.get(assembly) for side in (old, new))
        words = [g.word if g else NOT_ASKED for g in (was, is_)]
        if words[0] != words[1]:
            yield GradeChange(assembly, (is_ or was or after.judged.engine).name, *words)


def _patterns(before: Assessment, after: Assessment, judged: set[str]) -> Iterator[PatternChange]:
    old, new = ({d.id: d for d in a.advice.diagnoses} for a in (before, after))
    books = [next((b.digest for b in a.books if b.kind == "rulebook"), "") for a in (before, after)]
    for name in dict.fromkeys((*new, *old)):
        if (name in old) != (name in new):
            known = new.get(name) or old[name]
            yield PatternChange(
                name,
                known.finding,
                "after" if name in new else "before",
                _because(known, judged, rules_differ=books[0] != books[1]),
            )


def _because(diagnosis: Diagnosis, judged: set[str], *, rules_differ: bool) -> Ground:
    if not rules_differ:
        return "findings"
    touched = any(f in judged for e in diagnosis.evidence for f in e.findings)
    return "findings or rulebook" if touched else "rulebook"
