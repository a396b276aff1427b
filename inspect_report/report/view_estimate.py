"""Turns work and the estimate into what the customer reads of them."""

from collections.abc import Sequence
from typing import Final

from inspect_report.advise.advice import WorkItem
from inspect_report.advise.priced import NOTHING, Span, Total
from inspect_report.judge.finding import Verdict
from inspect_report.knowledge.catalogue import Urgency
from inspect_report.report.figures import joined
from inspect_report.report.reportparts import (
    ClassView,
    CostView,
    JobView,
    TodoView,
)
from inspect_report.report.source import Source
from inspect_report.report.view_lines import grouped, line, money_text
from inspect_report.report.words import capital, finding_name, places_words, sentence
from inspect_report.telling.manner import lowered, message, say, say_count, thing, word

CLASS_OF: Final[dict[Urgency, str]] = {
    "before running": "must",
    "at this opening": "advised",
    "next opening": "can wait",
    "watch": "can wait",
}
WORK: Final = "work"
"""The id by which all work, and what decides its order, is asked for."""
ALL: Final = "sum-all"
"""The id by which the chain behind all three sums together is asked for."""
TITLES: Final = {
    "must": message("Must be done"),
    "advised": message("Advised now"),
    "can wait": message("Can wait"),
}
EXPLAINS: Final = {
    "must": message("before the engine runs again"),
    "advised": message("while the engine is open anyway"),
    "can wait": message("at the next opening, or watch it"),
}
MOST_NAMED: Final = {"must": 6, "advised": 4}
"""How many jobs of a class the first page names; the rest is counted."""
MOST_BELOW_HALT: Final = 4
"""How many that must be done it names where it forbids running, which takes room of its own."""
ADVISED_CLOSED: Final = message("soon; the engine is to be opened for it")
"""What the second class means after an inspection that leaves the engine closed."""
ADVISED_FURTHER: Final = message("while the engine is open; for some of it more has to be opened")
"""What it means where its jobs take the engine further apart."""
URGENT: Final[dict[Urgency, str]] = {
    "before running": TITLES["must"],
    "at this opening": TITLES["advised"],
    "next opening": TITLES["can wait"],
    "watch": message("Watch"),
}
"""How urgent something is, by the names of the classes."""
DECISIONS: Final = {
    "ordered": message("Ordered"),
    "declined": message("Declined"),
    "later": message("Put off"),
}
NOT_DECIDED: Final = message("Not decided yet")
LATER: Final = message("Put off, it costs the opening of the engine once more")
_OPEN_ENDS: Final = message(
    "Where a sum runs from one amount to another, part of it depends on what is not known yet; "
    "its line says on what."
)
_FALLING: Final = message(
    "Where it runs from a higher to a lower one, the lower holds if all that may be needed is: a part of "
    "it is then fitted and paid with more urgent work."
)


def classes(source: Source) -> tuple[ClassView, ...]:
    """The urgency classes with their jobs, lines and sums."""
    before = NOTHING
    views = []
    for total in source.a.advice.estimate.totals:
        before += total.sums[2]
        views.append(_class(source, total, before))
    return tuple(views)


def jobs_of(source: Source, class_id: str) -> list[WorkItem]:
    """The jobs of an urgency class."""
    return [w for w in source.a.advice.work if CLASS_OF[w.urgency] == class_id]


def _class(source: Source, total: Total, with_before: Span) -> ClassView:
    net, tax, gross = total.sums
    return ClassView(
        title=say(TITLES.get(total.id, total.title)),
        anchor=f"work-{total.id.replace(' ', '-')}",
        explains=explains(source, total.id),
        note=_later(source, total.id),
        jobs=tuple(_job(source, w) for w in jobs_of(source, total.id)),
        included=_included(source, total.id),
        lines=tuple(line(source, one) for one in grouped(total.lines)),
        net=money_text(source, net),
        tax_name=tax_words(source),
        tax=money_text(source, tax),
        gross=money_text(source, gross, priced=_is_priced(total)),
        with_before=money_text(source, with_before),
        on_request=on_request(total.on_request),
        chain=class_id(total),
    )


def job_id(job: str) -> str:
    """The id by which the chain behind a job is asked for."""
    return f"job.{job}"


def class_id(total: Total) -> str:
    """The id by which the chain behind the sum of a class is asked for."""
    return f"sum-{total.id.replace(' ', '-')}"


def _is_priced(total: Total) -> bool:
    """Whether a sum says anything: not where all its lines are on request."""
    return not total.lines or any(line.price is not None for line in total.lines)


def tax_name(source: Source) -> str:
    """The tax by the name its workshop gives it, told in the report's language where that has one for it."""
    return word(source.a.advice.estimate.tax_name)


def tax_words(source: Source) -> str:
    """The tax with its rate; empty without one."""
    tax = tax_name(source)
    return f"{tax} {_rate(source)}" if tax else ""


def _rate(source: Source) -> str:
    rate = source.a.advice.estimate.tax_rate
    return source.figures.percent(float(rate), 0 if rate * 100 % 1 == 0 else 1)


def on_request(count: int) -> str:
    """How much has no price yet."""
    return (
        say_count("plus {count} item priced on request", "plus {count} items priced on request", count)
        if count
        else ""
    )


def _job(source: Source, item: WorkItem) -> JobView:
    jobs = {w.job: w.name for w in source.a.advice.work}
    hours = source.figures.quantity(item.hours)
    covered = jobs.get(item.covered_by, thing(item.covered_by)) if item.covered_by else ""
    return JobView(
        name=capital(item.name),
        where=job_places(item),
        plain=sentence(item.plain),
        because=_reasons(source, item.why),
        access=joined([thing(s) for s in item.opens or item.access]),
        hours=f"{hours}\u00a0h" if item.hours else "",
        if_left=sentence(item.if_left),
        covered_by=covered,
        choice=said_of(source, item.job),
        chain=job_id(item.job),
    )


def _included(source: Source, class_id: str) -> str:
    """Jobs of a class that others, or the closing, do anyway, in a line; empty where there is none."""
    done = (w for w in jobs_of(source, class_id) if w.covered_by)
    return "; ".join(f"{lowered(w.name)}{_at(w)}" for w in done)


def _at(item: WorkItem) -> str:
    places = job_places(item)
    return f" ({places})" if places else ""


def said_of(source: Source, job: str) -> str:
    """What the customer decided about a job, in a few words; empty where nothing was decided."""
    made = next((c for c in source.a.advice.choices if c.job == job), None)
    if made is None:
        return ""
    return say(
        "{decision} on {day} by {name}",
        decision=say(DECISIONS[made.decision]),
        day=source.figures.day(made.day),
        name=made.by,
    )


def job_places(item: WorkItem) -> str:
    """Where a job is done; empty where its name says so, or for the engine as a whole."""
    if item.where:
        return item.where
    words = places_words(item.positions)
    return "" if words == "engine" or item.name_says_where else words


def _reasons(source: Source, why: Sequence[str], most: int = 3) -> tuple[str, ...]:
    """Diagnoses first, then findings, cut where there are many."""
    ordered = sorted(why, key=lambda some_id: some_id not in source.diagnoses)
    told = tuple(lowered(source.named(i)) for i in ordered[:most])
    more = len(ordered) - most
    return (*told, say("and {more} more", more=more)) if more > 0 else told


def charged(source: Source, class_id: str) -> list[WorkItem]:
    """Jobs of a class that no other job does anyway."""
    return [w for w in jobs_of(source, class_id) if not w.covered_by]


def most_named(source: Source, class_id: str) -> int:
    """How many jobs of a class the first page names, fewer where it forbids running; the rest is counted."""
    if class_id == "must" and source.a.judged.engine.do_not_run:
        return MOST_BELOW_HALT
    return MOST_NAMED.get(class_id, len(source.a.advice.work))


def advised(source: Source) -> str:
    """The jobs of the second class in a line, for the first page."""
    most = most_named(source, "advised")
    jobs = [w.name for w in charged(source, "advised")]
    more = [say("and {count} more", count=len(jobs) - most)] if len(jobs) > most else []
    return sentence("; ".join([*map(lowered, jobs[:most]), *more]))


def todo(source: Source) -> tuple[tuple[TodoView, ...], str]:
    """Jobs of the first page, and how many more there are."""
    most = most_named(source, "must")
    jobs = charged(source, "must")
    more = len(jobs) - most
    return tuple(_todo(source, w) for w in jobs[:most]), say_count(
        "and {count} further job", "and {count} further jobs", more
    ) if more > 0 else ""


def _todo(source: Source, item: WorkItem) -> TodoView:
    """A job of the first page; what was decided is told where the job is not to be done."""
    made = {c.job: c.decision for c in source.a.advice.choices}
    choice = "" if made.get(item.job) == "ordered" else said_of(source, item.job)
    if made and item.job not in made:
        choice = say(NOT_DECIDED)
    reason = because(source, item.why)
    return TodoView(capital(item.name), job_places(item), reason, choice, job_id(item.job))


def because(source: Source, why: Sequence[str]) -> str:
    """The first reason in a few words."""
    for some_id in why:
        if some_id in source.diagnoses:
            return sentence(source.diagnoses[some_id])
        if some_id in source.findings:
            finding = source.findings[some_id]
            return f"{capital(finding_name(finding))}: {word(finding.verdict)}."
    return ""


def costs(source: Source) -> tuple[CostView, ...]:
    """The sums of the first page: of the classes that hold something, each with those before it."""
    views, before, shown = [], NOTHING, filled(source)
    for n, total in enumerate(shown):
        before += total.sums[2]
        between = 0 < n < len(shown) - 1
        views.append(_cost(source, total, money_text(source, before) if between else ""))
    return tuple(views)


def filled(source: Source) -> tuple[Total, ...]:
    """The classes that hold a job or a line."""
    totals = source.a.advice.estimate.totals
    return tuple(t for t in totals if t.lines or charged(source, t.id))


def _cost(source: Source, total: Total, with_before: str) -> CostView:
    jobs = charged(source, total.id)
    return CostView(
        title=say(TITLES.get(total.id, total.title)),
        explains=explains(source, total.id),
        gross=money_text(source, total.sums[2], priced=_is_priced(total)),
        on_request=on_request(total.on_request),
        jobs=_job_count(len(jobs), total),
        note=_later(source, total.id) or inspection_share(source, total),
        with_before=with_before,
        chain=class_id(total),
    )


def whole(source: Source) -> str:
    """All three sums together."""
    estimate = source.a.advice.estimate
    return money_text(source, estimate.span, priced=any(map(_is_priced, estimate.totals)))


def whole_on_request(source: Source) -> str:
    """What all three sums leave out, since it has no price yet."""
    return on_request(sum(t.on_request for t in source.a.advice.estimate.totals))


def explains(source: Source, class_id: str) -> str:
    """What a class means after this inspection."""
    if class_id != "advised":
        return say(EXPLAINS.get(class_id, ""))
    if source.a.inspection.head.depth in ("in the frame", "after assembly"):
        return say(ADVISED_CLOSED)
    totals = source.a.advice.estimate.totals
    further = any(line.kind == "access" for t in totals if t.id == class_id for line in t.lines)
    return say(ADVISED_FURTHER if further else EXPLAINS[class_id])


def inspection_share(source: Source, total: Total) -> str:
    """How much of a sum is the strip-down done and the closing, with parts and tax, whatever is found."""
    without = source.a.advice.without_work
    if not without or not any(line.kind == "strip-down" for line in total.lines):
        return ""
    done, closed = (order.gross for order in without)
    return say(
        "Of this, {done} for the strip-down done, owed in any case, and {closing} for closing it again",
        done=money_text(source, done),
        closing=money_text(source, closed - done),
    )


def _later(source: Source, class_id: str) -> str:
    """Said where work that can wait needs the engine open."""
    opened = (w for w in jobs_of(source, class_id) if w.access and not w.covered_by and w.urgency != "watch")
    return say(LATER) if class_id == "can wait" and any(opened) else ""


def nothing_to_do(source: Source) -> str:
    """What stands in the place of jobs that must be done, without hiding what is beyond its limit."""
    beyond = [f for f in source.a.judged.findings if f.verdict is Verdict.BEYOND_LIMIT]
    if not beyond and filled(source) and filled(source)[0].id == "must":
        return say("No job, by what was inspected; the sum is for the strip-down done and for closing it.")
    if not beyond:
        return say("Nothing, by what was inspected.")
    classes = ("advised", "can wait")
    home = next((say(TITLES[c]) for c in classes if charged(source, c)), "")
    told = say("; work on what is beyond its limit stands under “{home}”", home=home) if home else ""
    return say("No job has to be done before the engine runs{told}.", told=told)


def _job_count(jobs: int, total: Total) -> str:
    if jobs or not total.lines:
        return say_count("{count} job", "{count} jobs", jobs)
    return say("no job but closing what was opened")


def cost_note(source: Source) -> str:
    """What the sums hold and what they leave out."""
    estimate, name = source.a.advice.estimate, tax_name(source)
    tax = (
        say("Sums include {tax} of {rate}.", tax=name, rate=_rate(source))
        if name
        else say("Sums are without tax.")
    )
    ranges = f" {say(_OPEN_ENDS)}" if any(t.high for t in estimate.totals) else ""
    ranges += f" {say(_FALLING)}" if any(t.sums[0].high < t.sums[0].low for t in estimate.totals) else ""
    once = say("Opening and closing the engine is counted once, where it is first needed.")
    return f"{tax} {once}{ranges}"


def labour(source: Source) -> str:
    """The labour rate in words."""
    return say("{sum} an hour, without tax", sum=source.figures.money(source.a.advice.estimate.labour_rate))
