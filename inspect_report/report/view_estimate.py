"""Turns work and the estimate into what the customer reads of them."""

from collections.abc import Sequence
from decimal import Decimal
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
ADVISED_CLOSED: Final = message("soon; the engine is to be opened for it")
"""What the second class means after an inspection that leaves the engine closed."""
ADVISED_FURTHER: Final = message("while the engine is open; for some of it more has to be opened")
"""What it means where its jobs take the engine further apart."""
URGENT: Final[dict[Urgency, str]] = {
    "before running": message("Before running"),
    "at this opening": message("At this opening"),
    "next opening": message("At the next opening"),
    "watch": message("Watch"),
}
DECISIONS: Final = {
    "ordered": message("Ordered"),
    "declined": message("Declined"),
    "later": message("Put off"),
}
LATER: Final = message("Put off, it costs the opening of the engine once more")
_OPEN_ENDS: Final = message(
    "Where a sum runs from one amount to another, part of it depends on what is not known yet; "
    "the estimate says on what."
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
        where=_job_places(item),
        plain=sentence(item.plain),
        because=_reasons(source, item.why),
        access=joined([thing(s) for s in item.access]),
        hours=f"{hours}\u00a0h" if item.hours else "",
        if_left=sentence(item.if_left),
        covered_by=covered,
        choice=said_of(source, item.job),
        chain=job_id(item.job),
    )


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


def _job_places(item: WorkItem) -> str:
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


def advised(source: Source) -> str:
    """The jobs of the second class in a line, for the first page."""
    most = MOST_NAMED["advised"]
    jobs = [w.name for w in charged(source, "advised")]
    more = [say("and {count} more", count=len(jobs) - most)] if len(jobs) > most else []
    return sentence("; ".join([*map(lowered, jobs[:most]), *more]))


def todo(source: Source) -> tuple[tuple[TodoView, ...], str]:
    """Jobs of the first page, and how many more there are."""
    most = MOST_NAMED["must"]
    jobs = charged(source, "must")
    more = len(jobs) - most
    return tuple(_todo(source, w) for w in jobs[:most]), say_count(
        "and {count} further job", "and {count} further jobs", more
    ) if more > 0 else ""


def _todo(source: Source, item: WorkItem) -> TodoView:
    """A job of the first page; what was decided is told where the job is not to be done."""
    wanted = any(c.job == item.job and c.decision == "ordered" for c in source.a.advice.choices)
    choice = "" if wanted else said_of(source, item.job)
    reason = because(source, item.why)
    return TodoView(capital(item.name), _job_places(item), reason, choice, job_id(item.job))


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
    """The sums of the first page: of the classes that hold something."""
    return tuple(_cost(source, t) for t in filled(source))


def filled(source: Source) -> tuple[Total, ...]:
    """The classes that hold a job or a line."""
    totals = source.a.advice.estimate.totals
    return tuple(t for t in totals if t.lines or charged(source, t.id))


def _cost(source: Source, total: Total) -> CostView:
    jobs = charged(source, total.id)
    return CostView(
        title=say(TITLES.get(total.id, total.title)),
        explains=explains(source, total.id),
        gross=money_text(source, total.sums[2], priced=_is_priced(total)),
        on_request=on_request(total.on_request),
        jobs=_job_count(len(jobs), total),
        note=_later(source, total.id) or inspection_share(source, total),
        chain=class_id(total),
    )


def whole(source: Source) -> str:
    """All three sums together."""
    estimate = source.a.advice.estimate
    return money_text(source, estimate.span, priced=any(map(_is_priced, estimate.totals)))


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
    """How much of a sum, with its tax, is opening and closing the engine, whatever is found."""
    priced = [line.price for line in total.lines if line.kind == "access" and line.price is not None]
    if not priced or source.a.inspection.head.depth not in ("top end off", "fully stripped"):
        return ""
    with_tax = sum(priced, Decimal(0)) * (1 + source.a.advice.estimate.tax_rate)
    return say("Of this, opening and closing: {sum}", sum=source.figures.money(with_tax))


def _later(source: Source, class_id: str) -> str:
    """Said where work that can wait needs the engine open."""
    opened = (w for w in jobs_of(source, class_id) if w.access and not w.covered_by and w.urgency != "watch")
    return say(LATER) if class_id == "can wait" and any(opened) else ""


def nothing_to_do(source: Source) -> str:
    """What stands in the place of jobs that must be done, without hiding what is beyond its limit."""
    beyond = [f for f in source.a.judged.findings if f.verdict is Verdict.BEYOND_LIMIT]
    if not beyond and filled(source) and filled(source)[0].id == "must":
        return say("No job, by what was inspected; the sum is for closing what was opened.")
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
    left_out = sum(t.on_request for t in estimate.totals)
    without = say(" What is priced on request is not in them.") if left_out else ""
    ranges = f" {say(_OPEN_ENDS)}" if any(t.high for t in estimate.totals) else ""
    ranges += f" {say(_FALLING)}" if any(t.sums[0].high < t.sums[0].low for t in estimate.totals) else ""
    once = say("Opening and closing the engine is counted once, where it is first needed.")
    return f"{tax} {once}{without}{ranges}"


def labour(source: Source) -> str:
    """The labour rate in words."""
    return say("{sum} an hour, without tax", sum=source.figures.money(source.a.advice.estimate.labour_rate))
