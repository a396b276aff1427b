"""
Turns an earlier issue's advice and this one's into what changed between them, and why.

The differences of the lines of a class add up to the difference of its net sums, exactly: nothing changes
without being told.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from inspect_report.advise.advice import Advice, Changes, JobChange, LineChange, Option, SumChange, WorkItem
from inspect_report.advise.estimate import urgency_words
from inspect_report.advise.findings_changed import findings_changed, wider
from inspect_report.advise.priced import NOTHING, EstimateLine, Span, Total
from inspect_report.judge.finding import Finding, Judged, Verdict
from inspect_report.telling.manner import figure, say, thing, word
from inspect_report.telling.positions import at_words

Key = tuple[str, str, str]
"""Class, kind and id of lines that are compared."""


@dataclass(frozen=True, slots=True)
class Issue:
    """What an issue said."""

    number: int
    advice: Advice
    judged: Judged
    as_issued: bool = True
    """Whether it is the report that was sent out."""


def changes(before: Issue, now: Issue) -> Changes:
    """
    What the later of two issues of one inspection says otherwise.

    Args:
        before: The issue that is replaced.
        now: The one that replaces it.
    """
    old, new = before.advice, now.advice
    currencies = (old.estimate.currency, new.estimate.currency)
    alike = currencies[0] == currencies[1]
    known = {(c.job, c.day, c.decision) for c in old.choices}
    return Changes(
        since=before.number,
        as_issued=before.as_issued,
        jobs=tuple(_jobs(before, now)),
        lines=tuple(_lines(old, new)) if alike else (),
        sums=tuple(_sums(old, new)) if alike else (),
        choices=tuple(c for c in new.choices if (c.job, c.day, c.decision) not in known),
        tax_rates=(old.estimate.tax_rate, new.estimate.tax_rate),
        currencies=currencies,
        findings=tuple(findings_changed(before.judged, now.judged)),
        beyond=(_beyond(before.judged), _beyond(now.judged)),
        graded=(before.judged.engine.used, now.judged.engine.used),
    )


def _beyond(judged: Judged) -> int:
    return sum(f.verdict is Verdict.BEYOND_LIMIT for f in judged.findings)


def _jobs(before: Issue, now: Issue) -> Iterator[JobChange]:
    old = {w.job: w for w in before.advice.work}
    new = {w.job: w for w in now.advice.work}
    for job in (*new, *(j for j in old if j not in new)):
        was, is_ = old.get(job), new.get(job)
        told = (_told(was, before.advice), _told(is_, now.advice))
        if told[0] != told[1]:
            name = (is_ or was or new[job]).name
            yield JobChange(job, name, *told, tuple(_reasons(was, is_, before, now)))


def _told(item: WorkItem | None, advice: Advice) -> str:
    """A job in words: how urgent, where and how long, or what makes it needless."""
    if item is None:
        return ""
    if item.covered_by:
        names = {w.job: w.name for w in advice.work}
        return say("needless, done by {job}", job=names.get(item.covered_by, thing(item.covered_by)))
    where = [at_words(p) for p in item.positions if p.axes]
    return "; ".join([urgency_words(item.urgency), *where, figure(f"{item.hours} h")])


def _reasons(was: WorkItem | None, is_: WorkItem | None, before: Issue, now: Issue) -> Iterator[str]:
    """Findings that are judged otherwise; without any, what else there can be."""
    found = tuple(_findings_changed(was, is_, before, now))
    yield from found
    if found:
        return
    rules = _rules(was, before.advice) ^ _rules(is_, now.advice)
    yield from (say("diagnosis changed: {text}", text=text) for text in sorted(rules))
    if not rules:
        alike = was and is_ and (was.positions, was.urgency) == (is_.positions, is_.urgency)
        yield (
            say("its hours changed") if alike and not _covers_changed(was, is_) else say("other work changed")
        )


def _covers_changed(was: WorkItem | None, is_: WorkItem | None) -> bool:
    return bool(was and is_ and was.covered_by != is_.covered_by)


def _findings_changed(was: WorkItem | None, is_: WorkItem | None, before: Issue, now: Issue) -> Iterator[str]:
    old = {f.id: f for f in before.judged.findings}
    new = {f.id: f for f in now.judged.findings}
    ids = (*_grounds(is_, now.advice), *_grounds(was, before.advice))
    for id_ in dict.fromkeys(ids):
        first, then = old.get(id_), new.get(id_)
        told = _judged_otherwise(first or wider(then, before.judged), then or wider(first, now.judged))
        if told:
            yield told


def _judged_otherwise(old: Finding | None, new: Finding | None) -> str:
    known = max((f for f in (new, old) if f), key=lambda f: len(f.position.axes), default=None)
    if known is None or (old and new and old.verdict == new.verdict):
        return ""
    name = f"{known.name}, {at_words(known.position)}" if known.position.axes else known.name
    before, now = (word(f.verdict) if f else say("not asked") for f in (old, new))
    return say("{name}: {now}, before {before}", name=name, now=now, before=before)


def _grounds(item: WorkItem | None, advice: Advice) -> tuple[str, ...]:
    """Findings that a job rests on, also by way of a diagnosis."""
    behind = {d.id: tuple(f for e in d.evidence for f in e.findings) for d in advice.diagnoses}
    return tuple(f for why in (item.why if item else ()) for f in behind.get(why, (why,)))


def _rules(item: WorkItem | None, advice: Advice) -> set[str]:
    said = {d.id: d.finding for d in advice.diagnoses}
    return {said[why] for why in (item.why if item else ()) if why in said}


def _lines(old: Advice, new: Advice) -> Iterator[LineChange]:
    before, now = _by_key(old), _by_key(new)
    names = {w.job: w.name for w in (*old.work, *new.work)}
    for key in dict.fromkeys((*now, *before)):
        change = _line(key, before.get(key, ()), now.get(key, ()), names)
        if _differs(change):
            yield change


def _differs(change: LineChange) -> bool:
    alike = change.before == change.now and change.on_request[0] == change.on_request[1]
    return not alike or change.quantity[0] != change.quantity[1]


def _by_key(advice: Advice) -> dict[Key, list[EstimateLine]]:
    """Lines by class, kind and id; a part of unknown count stands beside the same part counted."""
    found: dict[Key, list[EstimateLine]] = {}
    for total in advice.estimate.totals:
        for line in total.lines:
            found.setdefault((total.id, line.kind, line.id), []).append(line)
    return found


def _line(
    key: Key, before: Sequence[EstimateLine], now: Sequence[EstimateLine], names: dict[str, str]
) -> LineChange:
    other = _asking(before) ^ _asking(now)
    return LineChange(
        *key,
        name=(*now, *before)[0].name,
        before=_price(before),
        now=_price(now),
        on_request=(_on_request(before), _on_request(now)),
        quantity=(_quantity(before), _quantity(now)),
        unit=(_unit(before), _unit(now)),
        jobs=tuple(names.get(j, j) for j in sorted(other)),
    )


def _asking(lines: Iterable[EstimateLine]) -> set[str]:
    return {job for line in lines for job in line.for_jobs}


def _price(lines: Sequence[EstimateLine]) -> Span | None:
    return sum((line.prices for line in lines), NOTHING) if lines else None


def _on_request(lines: Iterable[EstimateLine]) -> bool:
    return any(line.price is None for line in lines)


def _quantity(lines: Iterable[EstimateLine]) -> Span:
    return sum((line.quantities for line in lines), NOTHING)


def _unit(lines: Iterable[EstimateLine]) -> Span | None:
    """The price of one, where there is one."""
    line = next((one for one in lines if one.unit_price is not None), None)
    if line is None or line.unit_price is None:
        return None
    return Span(line.unit_price, line.unit_price if line.unit_high is None else line.unit_high)


def _sums(old: Advice, new: Advice) -> Iterator[SumChange]:
    """The classes, all of them together, and the order so far, where any of its ends changed."""
    before, now = ({t.id: t for t in a.estimate.totals} for a in (old, new))
    pairs = [(_of_total(before.get(i)), _of_total(t), t.id, t.title) for i, t in now.items()]
    pairs.append((_whole(old), _whole(new), "all", say("All together")))
    pairs.append((_of_option(old.ordered), _of_option(new.ordered), "ordered", say("As ordered")))
    for was, is_, id_, title in pairs:
        if was != is_:
            yield SumChange(id_, title, (was[0], is_[0]), (was[1], is_[1]))


NetAndGross = tuple[Span | None, Span | None]


def _of_total(total: Total | None) -> NetAndGross:
    return (total.sums[0], total.sums[2]) if total else (None, None)


def _whole(advice: Advice) -> NetAndGross:
    sums = [t.sums for t in advice.estimate.totals]
    return sum((s[0] for s in sums), NOTHING), sum((s[2] for s in sums), NOTHING)


def _of_option(option: Option | None) -> NetAndGross:
    return (option.net, option.gross) if option else (None, None)
