"""Turns recommended jobs into the chain behind each: what asks for it, how urgently, and what it costs."""

from collections.abc import Iterable, Iterator
from functools import partial
from typing import Final

from inspect_report.advise.advice import Asking, Diagnosis, WorkItem
from inspect_report.knowledge.catalogue import URGENCIES
from inspect_report.report import explain_sums, view_estimate, view_lines, view_quote
from inspect_report.report.chainlines import Line, Told, once, under
from inspect_report.report.explain_grade import findings_words
from inspect_report.report.figures import joined
from inspect_report.report.source import Source
from inspect_report.report.words import capital, places_words, sentence
from inspect_report.telling.manner import lowered, message, say, say_count, thing, word

_ORDER: Final = message(
    "a job stands in the class of its most urgent reason; within an urgency those come first that answer "
    "a finding for which the engine must not be run, then those beyond a limit, each the dearest first; "
    "checks come last"
)


def job_ids(source: Source) -> tuple[str, ...]:
    """Ids of all work, and of every job."""
    return (view_estimate.WORK, *(view_estimate.job_id(w.job) for w in source.a.advice.work))


def told(source: Source, wanted: str) -> Told | None:
    """Title and chain of a job, or of all work; None where there is none of that id."""
    if wanted == view_estimate.WORK:
        return f"{wanted}: {say('What is to be done')}", tuple(_all(source))
    for item in source.a.advice.work:
        if wanted == view_estimate.job_id(item.job):
            return f"{wanted}: {capital(item.name)}", tuple(_job(source, item))
    return None


def of_finding(source: Source, named: set[str]) -> Iterator[Line]:
    """The work that a finding and its diagnoses ask for, in short."""
    for item in source.a.advice.work:
        if named & set(item.why):
            yield from _in_short(source, item)


def _in_short(source: Source, item: WorkItem) -> Iterator[Line]:
    yield "work", _work(source, item)
    yield from once(source, "money", item.job, partial(_money, source, item))


def _money(source: Source, item: WorkItem) -> Iterator[Line]:
    """What a job costs, what follows without it, what was decided, and what changed."""
    yield from under("price", _prices(source, item))
    yield from under(message("while open"), _while_open(source, item))
    yield from under(message("if left"), [] if item.covered_by else [sentence(item.if_left)])
    yield from under("decided", _decided(source, item))
    yield from under("changed", _changed(source, item))


def _job(source: Source, item: WorkItem) -> Iterator[Line]:
    """Why a job is to be done, why at this time, and what it takes."""
    yield "work", _work(source, item)
    yield from under(message("is for"), [sentence(item.plain)])
    yield from _reasons(source, item)
    yield "urgency", _urgency(item)
    yield "class", _class(source, item)
    yield from under(message("opens"), [joined([thing(s) for s in item.access])])
    yield from under(message("waits for"), _waits(source, item))
    yield from once(source, "money", item.job, partial(_money, source, item))


def _reasons(source: Source, item: WorkItem) -> Iterator[Line]:
    """What asks for a job: rules that fired, then findings by the book's own work for their verdict."""
    rules = {d.id: d for d in source.a.advice.diagnoses}
    asked = item.asked or tuple(Asking(why, item.urgency, item.positions) for why in item.why)
    by_rule = [a for a in asked if a.why in rules]
    yield from under(message("asked by"), (_by_rule(rules[a.why], a) + _instead(a) for a in by_rule))
    yield from under("" if by_rule else message("asked by"), _by_findings(source, asked))


def _by_rule(diagnosis: Diagnosis, asking: Asking) -> str:
    return say(
        "{finding} Rule {rule}: {urgency}",
        finding=sentence(diagnosis.finding),
        rule=diagnosis.id,
        urgency=word(asking.urgency),
    )


def _by_findings(source: Source, asked: Iterable[Asking]) -> Iterator[str]:
    """Findings that ask by themselves, those of one urgency and one kind of reason together."""
    alike: dict[tuple[str, bool, str], list[Asking]] = {}
    for asking in asked:
        if asking.why in source.findings:
            alike.setdefault((asking.urgency, asking.forecast, asking.instead_of), []).append(asking)
    for same in alike.values():
        for found in findings_words(source, (source.findings[a.why] for a in same)):
            yield _by_finding(same[0], found) + _instead(same[0])
    lend = [p for a in asked if not a.why for p in a.positions]
    if lend:
        yield say("{places}: well, and lends its shim to another valve", places=capital(places_words(lend)))


def _by_finding(asking: Asking, found: str) -> str:
    by = (
        message("{finding}: a forecast puts it at its limit before the next inspection; so {urgency}")
        if asking.forecast
        else message("{finding}: the characteristics book asks for it at this verdict, {urgency}")
    )
    return say(by, finding=found, urgency=word(asking.urgency))


def _instead(asking: Asking) -> str:
    """Said where the engine does not admit the job that was asked for."""
    if not asking.instead_of:
        return ""
    return say("; in place of “{job}”, which this engine does not admit", job=thing(asking.instead_of))


def _urgency(item: WorkItem) -> str:
    """How urgent, and that the most urgent reason counts."""
    asked = sorted({a.urgency for a in item.asked if a.why}, key=URGENCIES.index)
    if len(asked) < 2:
        return word(item.urgency)
    others = joined([word(u) for u in asked[1:]])
    return say(
        "{urgency}, the most urgent reason; by others {others}", urgency=word(item.urgency), others=others
    )


def _class(source: Source, item: WorkItem) -> str:
    """The class of the estimate it stands in, and what that means."""
    class_id = view_estimate.CLASS_OF[item.urgency]
    told = f"{say(view_estimate.TITLES[class_id])}: {view_estimate.explains(source, class_id)}"
    return told + (say("; watched, and not priced") if item.urgency == "watch" else "")


def _waits(source: Source, item: WorkItem) -> Iterator[str]:
    names = [view_lines.known_as(source, c) for c in item.awaits]
    if names:
        yield say("dearer if {names}, not inspected, is beyond its limit", names=joined(names, "or"))


def _work(source: Source, item: WorkItem) -> str:
    where = places_words(item.positions)
    at = "" if where == "engine" or item.name_says_where else f" ({where})"
    names = {w.job: w.name for w in source.a.advice.work}
    covering = names.get(item.covered_by) or thing(item.covered_by)
    covered = say("; already done by “{job}” and not charged", job=covering) if item.covered_by else ""
    return f"{capital(item.name)}{at}, {word(item.urgency)}{covered}"


def _prices(source: Source, item: WorkItem) -> Iterator[str]:
    for total in source.a.advice.estimate.totals:
        title = lowered(say(view_estimate.TITLES.get(total.id, total.title)))
        for line in total.lines:
            if item.job in line.for_jobs:
                yield f"{explain_sums.line_words(source, line)} ({title})"


def _while_open(source: Source, item: WorkItem) -> Iterator[str]:
    for one in (w for w in view_quote.while_open(source) if w.id == item.job):
        yield say(
            "{added} on top of more urgent work; {alone} alone at another time, with tax",
            added=one.added,
            alone=one.alone,
        )


def _decided(source: Source, item: WorkItem) -> Iterator[str]:
    """The customer's choice, and that it lifts nothing where the job must be done before running."""
    for made in (c for c in source.a.advice.choices if c.job == item.job):
        note = f"; {made.note}" if made.note else ""
        holds = say("; it must still be done before the engine runs") if made.leaves_unsafe else ""
        yield f"{view_estimate.said_of(source, item.job)}{note}{holds}"


def _changed(source: Source, item: WorkItem) -> Iterator[str]:
    changes = source.a.advice.changes
    for job in (c for c in (changes.jobs if changes else ()) if c.job == item.job):
        before = job.was or say("not asked for")
        yield say(
            "since issue {issue}, before: {before}; {reasons}",
            issue=changes.since if changes else 0,
            before=before,
            reasons="; ".join(job.because),
        )


def _all(source: Source) -> Iterator[Line]:
    """Every job by its class, in the order it is told, with the id to ask for it and its first reason."""
    for total in source.a.advice.estimate.totals:
        items = view_estimate.jobs_of(source, total.id)
        title, explains = say(view_estimate.TITLES[total.id]), view_estimate.explains(source, total.id)
        yield "class", f"{title}, {explains}: {_count(source, total.id)}"
        yield from under("", (_listed(source, w) for w in items))
        if total.id == "must" and not items:
            yield "", view_estimate.nothing_to_do(source)
    yield "order", sentence(say(_ORDER))


def _count(source: Source, class_id: str) -> str:
    """How many jobs of a class are charged, and how many of them the first page only counts."""
    jobs = len(view_estimate.charged(source, class_id))
    count = say_count("{count} job", "{count} jobs", jobs)
    most = view_estimate.most_named(source, class_id)
    if jobs <= most:
        return count
    return count + say(
        ", {named} of them named on the first page, {count} more", named=most, count=jobs - most
    )


def _listed(source: Source, item: WorkItem) -> str:
    reason = view_estimate.because(source, item.why)
    told = f"{_work(source, item)} ({view_estimate.job_id(item.job)})" + (f": {reason}" if reason else "")
    risk = (sentence(c.risk) for c in source.a.advice.choices if c.job == item.job and c.leaves_unsafe)
    return " ".join((told, *(sentence(one) for one in _decided(source, item)), *risk))
