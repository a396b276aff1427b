"""
Turns two findings of one place into the causes that made their verdicts differ.

A measured verdict follows from value, uncertainty, limit and decision rule, and nothing else. So the causes
are not guessed: each set of what changed is put into the earlier finding and judged again, and the smallest
that give the later verdict are told.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from inspect_report.assessment import Assessment
from inspect_report.comparison.difference import Cause
from inspect_report.judge.decision import decide
from inspect_report.judge.finding import Finding, Limit, Verdict
from inspect_report.judge.limits import NOISE
from inspect_report.records.position import finding_id
from inspect_report.records.quantity import Quantity
from inspect_report.records.workshop import DecisionRule

ABSENT = frozenset({Verdict.NOT_INSPECTED, Verdict.NOT_APPLICABLE})
By = tuple[tuple[Cause, ...], ...]


@dataclass(frozen=True, slots=True)
class Judged:
    """A finding, or none, with the assessment it stands in."""

    of: Assessment
    finding: Finding | None

    @property
    def is_absent(self) -> bool:
        """Whether nothing is known of the place."""
        return self.finding is None or self.finding.verdict in ABSENT


@dataclass(frozen=True, slots=True)
class _Held:
    """What a measured verdict follows from."""

    value: float
    u: float
    dof: float | None
    dimension: str
    limit: Limit | None
    rule: DecisionRule

    @property
    def verdict(self) -> Verdict:
        quantity = Quantity(self.value, self.u, self.dimension, self.dof)
        return decide(quantity, self.limit, self.rule).verdict


def causes(before: Judged, after: Judged) -> tuple[By, tuple[Cause, ...]]:
    """
    The smallest sets of causes that turn one verdict into the other, and everything that changed.

    Args:
        before: The earlier finding.
        after: The later one.
    """
    plain = _of_presence(before, after)
    if plain:
        return ((plain,),), (plain,)
    old, new = _held(before), _held(after)
    if old is None or new is None:
        seen = tuple(_seen(before, after))
        return (seen,) if seen else (), seen
    changed = dict(_changed(before, after, old, new))
    return _smallest(before, after, old, changed), tuple(dict.fromkeys(c for c, _ in changed.values()))


def _of_presence(before: Judged, after: Judged) -> Cause | None:
    """The cause where one of the two knows nothing of the place."""
    if before.finding is None and not after.is_absent:
        return "newly asked" if _is_silent(before, after) else "newly inspected"
    if after.finding is None and not before.is_absent:
        return "no longer asked" if _is_silent(after, before) else "no longer inspected"
    if before.is_absent != after.is_absent:
        return "newly inspected" if before.is_absent else "no longer inspected"
    failed = Verdict.CHECK_FAILED in (f.verdict for f in (before.finding, after.finding) if f)
    return "check of ours" if failed else None


def _is_silent(quiet: Judged, other: Judged) -> bool:
    """Whether an assessment says nothing at all of a characteristic."""
    name = other.finding.characteristic if other.finding else ""
    return all(f.characteristic != name for f in quiet.of.judged.findings)


def _held(judged: Judged) -> _Held | None:
    finding = judged.finding
    if finding is None or finding.quantity is None:
        return None
    q = finding.quantity
    return _Held(q.value, q.u, q.dof, q.dimension, finding.limit, judged.of.workshop.decision_rule)


def _seen(before: Judged, after: Judged) -> Iterator[Cause]:
    """Causes where the eye judged, or the inspector answered."""
    old, new = before.finding, after.finding
    if old is None or new is None:
        return
    if [(s.damage, s.amount, s.size, s.strength) for s in old.seen] != [
        (s.damage, s.amount, s.size, s.strength) for s in new.seen
    ]:
        yield "what was seen"
    elif old.chosen != new.chosen:
        yield "answer"
    elif (old.quantity is None) != (new.quantity is None):
        yield "reading"
    elif old.verdict is not new.verdict:
        yield "books"


Changed = Mapping[str, tuple[Cause, object]]
"""What changed, by field of what a verdict follows from: its cause, and its later value."""


def _changed(
    before: Judged, after: Judged, old: _Held, new: _Held
) -> Iterator[tuple[str, tuple[Cause, object]]]:
    read = _readings(before) != _readings(after)
    if not same(old.value, new.value):
        yield "value", ("reading" if read else "computation", new.value)
    if not same(old.u, new.u) or old.dof != new.dof:
        yield "u", (_of_uncertainty(before, after, read=read), (new.u, new.dof))
    if not _same_limit(old.limit, new.limit):
        yield "limit", ("limit", new.limit)
    if old.rule != new.rule:
        yield "rule", ("decision rule", new.rule)


def same(one: float, other: float) -> bool:
    """Whether two amounts differ by no more than the noise of writing them in other units."""
    return abs(one - other) <= NOISE * max(abs(one), abs(other))


def _readings(judged: Judged) -> dict[str, tuple[float, ...]]:
    """The readings behind a finding."""
    finding = judged.finding
    wanted = set(finding.readings if finding else ())
    readings = ((finding_id(r.item, r.position), r.values) for r in judged.of.inspection.readings)
    return {name: values for name, values in readings if name in wanted}


def _of_uncertainty(before: Judged, after: Judged, *, read: bool) -> Cause:
    if _instruments(before) != _instruments(after):
        return "instrument"
    return "reading" if read else "computation"


def _instruments(judged: Judged) -> list[object]:
    """The instruments behind a finding, with all that is declared of them."""
    names = set(judged.finding.instruments if judged.finding else ())
    return [i for i in judged.of.inspection.instruments if i.id in names]


def _same_limit(one: Limit | None, other: Limit | None) -> bool:
    """Whether two limits judge alike, wherever they are printed."""
    if one is None or other is None:
        return one is other
    bare = {"source": "", "sure": "", "condition": "", "origin": "spec sheet"}
    return replace(one, **bare) == replace(other, **bare)  # type: ignore[arg-type]


def _smallest(before: Judged, after: Judged, old: _Held, changed: Changed) -> By:
    """The smallest sets of changes after which the earlier finding is judged as the later one."""
    if before.finding is None or after.finding is None or old.verdict is not before.finding.verdict:
        return ()
    for size in range(1, len(changed) + 1):
        found = [
            tuple(dict.fromkeys(changed[name][0] for name in some))
            for some in combinations(changed, size)
            if _with(old, changed, some).verdict is after.finding.verdict
        ]
        if found:
            return tuple(dict.fromkeys(found))
    return ()


def _with(old: _Held, changed: Changed, some: Sequence[str]) -> _Held:
    fields: dict[str, object] = {}
    for name in some:
        value = changed[name][1]
        if name == "u" and isinstance(value, tuple):
            fields |= {"u": value[0], "dof": value[1]}
        else:
            fields[name] = value
    return replace(old, **fields)  # type: ignore[arg-type]
