"""Turns orders and decisions into the page by which a customer orders: sums, jobs one by one, for whom."""

from collections.abc import Iterator
from typing import Final

from inspect_report.advise.advice import Chosen, Option, WorkItem
from inspect_report.advise.chosen import to_decide, undecided
from inspect_report.knowledge.catalogue import URGENCIES
from inspect_report.records.inspection import Report
from inspect_report.report.figures import joined
from inspect_report.report.quoteparts import OrderChoice, OrderFormView, OrderJob
from inspect_report.report.reportparts import Fact
from inspect_report.report.source import Source
from inspect_report.report.view_estimate import DECISIONS, NOT_DECIDED, URGENT, filled, job_places, on_request
from inspect_report.report.view_front import engine_given
from inspect_report.report.view_quote import shown_orders, total
from inspect_report.report.words import capital, sentence
from inspect_report.telling.manner import lowered, say

FOR_ORDERS: Final = "rebuild quote"


def order_form(source: Source, kind: Report) -> OrderFormView | None:
    """The page to order by; None in other reports than quotes, and where there is nothing to order."""
    advice = source.a.advice
    if kind != FOR_ORDERS or not (filled(source) or advice.choices):
        return None
    return OrderFormView(
        facts=tuple(_facts(source)),
        choices=tuple(
            OrderChoice(o.title, total(source, o), on_request(o.on_request), o.id) for o in _orders(source)
        ),
        jobs=tuple(_jobs(source)),
        decided=bool(advice.choices),
        unsafe=_unsafe(advice.ordered),
    )


def _facts(source: Source) -> Iterator[Fact]:
    """Who orders, for which engine, by which quote."""
    head = source.a.inspection.head
    yield Fact(say("Customer"), ", ".join(p for p in (head.customer.name, head.customer.address) if p))
    yield Fact(say("Engine"), f"{head.engine.maker} {head.engine.model}")
    wanted = ("engine.serial", "engine.machine")
    yield from (Fact(label, text) for label, text, (key, *_) in engine_given(source) if key in wanted)


def _orders(source: Source) -> tuple[Option, ...]:
    """What can be ordered as a whole, from the least to all, then no work; after a decision what is open."""
    advice = source.a.advice
    nothing = tuple(reversed(advice.without_work))
    if advice.ordered is None:
        return (*(o for o in shown_orders(source) if o.jobs), *nothing)
    return (advice.ordered, *((advice.ordered_and_open,) if advice.ordered_and_open else ()))


def _jobs(source: Source) -> Iterator[OrderJob]:
    """Every job that has a price of its own, what is not decided yet first."""
    advice = source.a.advice
    made = {c.job: c for c in advice.choices}
    open_ = {w.job for w in undecided(advice.choices, advice.work)}
    own = {w.job for w in to_decide(advice.work)}
    told = [w for w in advice.work if w.job in own or w.job in made]
    for item in sorted(told, key=lambda w: w.job not in open_):
        yield _job(source, item, made.get(item.job))
    names = {w.job for w in advice.work}
    for choice in (c for c in advice.choices if c.job not in names):
        gone = sentence(say("this issue asks for it no more"))
        yield OrderJob(
            capital(choice.name), "", "–", f"{_decision(source, choice)} {gone}", yes=False, no=False
        )


def _job(source: Source, item: WorkItem, made: Chosen | None) -> OrderJob:
    told = _decision(source, made) if made else say(NOT_DECIDED) if source.a.advice.choices else ""
    return OrderJob(
        job=capital(item.name),
        where=job_places(item),
        urgency=say(URGENT[item.urgency]),
        decision=told,
        yes=made is not None and made.decision == "ordered",
        no=made is not None and made.decision != "ordered",
    )


def _decision(source: Source, made: Chosen) -> str:
    """What was decided, when and by whom, with the remark and what follows if it is not done."""
    when = f"{source.figures.day(made.day)}, {made.by}"
    told = [f"{say(DECISIONS[made.decision])}, {when}.", sentence(made.note)]
    if made.decision != "ordered" and made.risk:
        told += [say("If it is left:"), sentence(made.risk)]
    return " ".join(part for part in told if part)


def _unsafe(ordered: Option | None) -> str:
    """Said where the order so far leaves undone what must be done before the engine runs."""
    left = [x for x in (ordered.leaves if ordered else ()) if x.urgency == URGENCIES[0]]
    if not left:
        return ""
    jobs = joined([lowered(x.name) for x in left])
    return say("“As ordered” leaves undone what must be done before the engine runs: {jobs}.", jobs=jobs)
