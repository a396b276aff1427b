"""Turns the findings of two issues of one inspection into those that are told otherwise, and why."""

from collections.abc import Iterator

from inspect_report.advise.advice import FindingChange
from inspect_report.advise.counting import holds
from inspect_report.judge.finding import Finding, Judged, Verdict
from inspect_report.judge.limits import NOISE
from inspect_report.telling.manner import say

_ABSENT = (Verdict.NOT_INSPECTED, Verdict.NOT_APPLICABLE)


def findings_changed(before: Judged, now: Judged) -> Iterator[FindingChange]:
    """Findings whose verdict, value or appearance is another, in the order of the later issue."""
    old, new = ({f.id: f for f in judged.findings} for judged in (before, now))
    for id_ in dict.fromkeys((*new, *old)):
        first, then = old.get(id_), new.get(id_)
        if _is_split(first, now) or _is_split(then, before):
            continue
        pair = first or wider(then, before), then or wider(first, now)
        if _differ(*pair):
            yield FindingChange(*pair, _why(*pair))


def wider(finding: Finding | None, judged: Judged) -> Finding | None:
    """What stands for a place where nothing is said of it alone: a whole item that was not inspected."""
    if finding is None:
        return None
    alike = (f for f in judged.findings if f.characteristic == finding.characteristic)
    return next((f for f in alike if holds(f.position, finding.position)), None)


def _is_split(finding: Finding | None, other: Judged) -> bool:
    """Whether a finding that stands for all places is told place by place in the other issue."""
    if finding is None or finding.position.labels:
        return False
    alike = [f for f in other.findings if f.characteristic == finding.characteristic]
    return bool(alike) and all(f.position.labels for f in alike)


def _differ(old: Finding | None, new: Finding | None) -> bool:
    if _is_absent(old) and _is_absent(new):
        return False
    if old is None or new is None or old.verdict is not new.verdict:
        return True
    return _value_differs(old, new) or _look(old) != _look(new)


def _is_absent(finding: Finding | None) -> bool:
    return finding is None or finding.verdict in _ABSENT


def _value_differs(old: Finding, new: Finding) -> bool:
    if old.quantity is None or new.quantity is None:
        return old.quantity is not new.quantity
    one, other = old.quantity.value, new.quantity.value
    return abs(one - other) > NOISE * max(abs(one), abs(other))


def _look(finding: Finding) -> object:
    return [(s.damage, s.amount, s.size, s.strength) for s in finding.seen], finding.chosen


def _why(old: Finding | None, new: Finding | None) -> str:
    if old is None or new is None or _is_absent(old) or _is_absent(new):
        return say("looked at since") if _is_absent(old) else say("no longer looked at")
    if _look(old) != _look(new):
        return say("seen otherwise")
    if _value_differs(old, new):
        if old.instruments != new.instruments:
            return say("read with another instrument")
        return say("other readings, or sizes they are held against")
    return say("another limit") if old.limit != new.limit else say("judged otherwise")
