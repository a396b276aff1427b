"""Turns orders, choices and changes of a quote into what a customer reads of them."""

from collections.abc import Iterator
from typing import Final

from inspect_report.advise.advice import (
    Changes,
    Chosen,
    LineChange,
    Option,
    SumChange,
    WhileOpen,
    WorkItem,
)
from inspect_report.advise.chosen import undecided
from inspect_report.advise.priced import Span
from inspect_report.knowledge.catalogue import URGENCIES
from inspect_report.report import view_changed
from inspect_report.report.chartspec import Segment, Stack, StackChart, scale
from inspect_report.report.figures import joined
from inspect_report.report.quoteparts import (
    ChangesView,
    ChangeView,
    ChoiceView,
    LeftView,
    OrderRow,
    OrderSum,
    OrdersView,
    WhileOpenView,
)
from inspect_report.report.source import Source
from inspect_report.report.view_estimate import (
    DECISIONS,
    NOT_DECIDED,
    TITLES,
    URGENT,
    on_request,
    said_of,
    tax_name,
)
from inspect_report.report.view_lines import KINDS, hours_text, money_text
from inspect_report.report.words import capital, sentence
from inspect_report.telling.manner import lowered, message, say

_NOTE: Final = message(
    "Each order holds all that the one before it holds, the closing of what was opened, and each "
    "cost once. What was not inspected is made neither safe nor sound by any of them."
)
_NO_CHANGE: Final = message("Neither the work nor any price changed.")


def orders(source: Source) -> OrdersView | None:
    """The orders side by side; None where the assessment knows none, or none of them has a job."""
    known = shown_orders(source)
    if not any(o.jobs for o in known):
        return None
    return OrdersView(
        titles=tuple(o.title for o in known),
        rows=sums(source, known),
        sums=tuple(OrderSum(o.title, total(source, o), o.id) for o in known),
        left=tuple(_left(known)),
        chart=_chart(source, known),
        note=say(_NOTE),
    )


def _chart(source: Source, known: tuple[Option, ...]) -> StackChart | None:
    """The orders as bars made of labour, parts, machine shop and tax; nothing where there is one sum only."""
    priced = [o for o in known if o.priced and o.gross.high > 0]
    if len(priced) < 2:
        return None
    tax = tax_name(source)
    kinds = (say("Labour"), say("Parts"), say("Machine shop"), *((tax,) if tax else ()))
    stacks = tuple(_stack(source, o, len(kinds)) for o in priced)
    told = joined([f"{s.label} {s.text}" for s in stacks])
    currency = source.a.workshop.currency
    more = any(o.on_request for o in priced)
    return StackChart(
        title=say("What the orders cost"),
        alt=say("Stacked bars of the orders: {sums}.", sums=told),
        caption=say("Each order made of its kinds of cost.")
        + (say(" The line shows how far a sum may run.") if any(map(_runs, priced)) else "")
        + (say(" What has no price yet is not in them.") if more else ""),
        axis=scale(0.0, max(s.reaches for s in stacks), currency, source.figures.number),
        kinds=kinds,
        stacks=stacks,
    )


def _runs(option: Option) -> bool:
    return option.gross.low != option.gross.high


def _stack(source: Source, option: Option, kinds: int) -> Stack:
    spans = (option.labour, option.parts, option.machine_shop, option.tax)[:kinds]
    segments = tuple(
        Segment(kind, float(span.low), source.figures.number(float(span.low), 0))
        for kind, span in enumerate(spans)
        if span.low
    )
    return Stack(option.title, segments, money_text(source, option.gross), float(option.gross.high))


def known_orders(source: Source) -> tuple[Option, ...]:
    """Every order with a price: those a customer can give, no job at all, and what was given so far."""
    advice = source.a.advice
    given = (o for o in (advice.ordered, advice.ordered_and_open) if o)
    return (*advice.options, *advice.without_work, *given)


def shown_orders(source: Source) -> tuple[Option, ...]:
    """The orders a customer can give that differ from those before them, then the one given so far."""
    advice = source.a.advice
    offered = advice.options
    differ = (o for n, o in enumerate(offered) if not n or o.jobs != offered[n - 1].jobs)
    return (*differ, *((advice.ordered,) if advice.ordered else ()))


def order(source: Source, wanted: str) -> Option | None:
    """The order of an id; None where there is none."""
    return next((o for o in known_orders(source) if o.id == wanted), None)


def sums(source: Source, known: tuple[Option, ...]) -> tuple[OrderRow, ...]:
    """What some orders take and cost, row by row."""
    return tuple(_rows(source, known))


def _rows(source: Source, known: tuple[Option, ...]) -> Iterator[OrderRow]:
    def row(some_id: str, name: str, *cells: str) -> OrderRow:
        return OrderRow(name, cells, some_id == "total", some_id)

    def money(span: Span) -> str:
        return money_text(source, span)

    yield row("jobs", say("Jobs"), *(str(len(o.jobs)) for o in known))
    yield row("hours", say("Hours"), *(hours_text(source, o.hours) for o in known))
    yield row("labour", say("Labour"), *(money(o.labour) for o in known))
    yield row("parts", say("Parts"), *(money(o.parts) for o in known))
    if any(o.machine_shop.high for o in known):
        shop = (money(o.machine_shop) if o.machine_shop.high else "–" for o in known)
        yield row("machining", say("Machine shop"), *shop)
    tax = tax_name(source)
    if tax:
        yield row("tax", tax, *(money(o.tax) for o in known))
    yield row("total", say("Total"), *(total(source, o) for o in known))
    if any(o.on_request for o in known):
        yield row("besides", say("Besides"), *(on_request(o.on_request) or "–" for o in known))


def total(source: Source, order: Option) -> str:
    """What an order comes to, with tax."""
    return money_text(source, order.gross, priced=order.priced)


def _left(known: tuple[Option, ...]) -> Iterator[LeftView]:
    """Jobs that an order leaves undone, each once, with the orders that do."""
    jobs = {left.job: left for option in known for left in option.leaves}
    for job, left in jobs.items():
        by = [o.title for o in known if any(x.job == job for x in o.leaves)]
        yield LeftView(capital(left.name), sentence(left.risk), capital("; ".join(lowered(t) for t in by)))


def beside_id(one: WhileOpen) -> str:
    """The id by which the chain behind its sums is asked for."""
    return f"while-open.{one.job}"


def changed_id(change: SumChange) -> str:
    """The id by which the chain behind a sum that changed is asked for."""
    return f"changed.{change.id.replace(' ', '-')}"


def while_open(source: Source) -> tuple[WhileOpenView, ...]:
    """Jobs that are cheap while the engine is open."""
    return tuple(_beside(source, one) for one in source.a.advice.while_open)


def _beside(source: Source, one: WhileOpen) -> WhileOpenView:
    added = _and_on_request(money_text(source, one.added), one.on_request)
    alone = _and_on_request(money_text(source, one.alone), sum(t.on_request for t in one.totals))
    return WhileOpenView(one.job, capital(one.name), say(URGENT[one.urgency]), added, alone, beside_id(one))


def _and_on_request(money: str, count: int) -> str:
    return f"{money}, {on_request(count)}" if count else money


def choices(source: Source) -> tuple[ChoiceView, ...]:
    """What is not decided yet, then what the customer decided, job by job; nothing where nothing was."""
    made = source.a.advice.choices
    open_ = (
        ChoiceView(capital(w.name), say(NOT_DECIDED), "–", "", sentence(w.if_left)) for w in _open(source)
    )
    return (*open_, *(_choice(source, c) for c in made))


def _open(source: Source) -> tuple[WorkItem, ...]:
    advice = source.a.advice
    return undecided(advice.choices, advice.work)


def _choice(source: Source, made: Chosen) -> ChoiceView:
    gone = "" if made.urgency else say("this issue asks for it no more")
    notes = [n for n in (made.note, gone) if n]
    return ChoiceView(
        job=capital(made.name),
        decision=say(DECISIONS[made.decision]),
        when=f"{source.figures.day(made.day)}, {made.by}",
        note=sentence("; ".join(notes)),
        risk="" if made.decision == "ordered" else sentence(made.risk),
    )


def unsafe_choices(source: Source) -> tuple[str, ...]:
    """Jobs that must be done before the engine runs and are not ordered where others are, with the risk."""
    open_ = [(w.name, say(NOT_DECIDED), w.if_left) for w in _open(source) if w.urgency == URGENCIES[0]]
    left = [(c.name, said_of(source, c.job), c.risk) for c in source.a.advice.choices if c.leaves_unsafe]
    told = (f"{capital(name)}: {lowered(said)}. {sentence(risk)}" for name, said, risk in (*open_, *left))
    return tuple(text.strip() for text in told)


def changes(source: Source) -> ChangesView | None:
    """What changed since the issue before; None where that is not at hand."""
    found = source.a.advice.changes
    if found is None:
        return None
    return ChangesView(
        title=say("What changed since issue {issue}", issue=found.since),
        basis=_basis(found),
        counts=view_changed.counts(found),
        findings=view_changed.findings(source, found.findings),
        jobs=tuple(_job(c.name, c.was, c.now, c.because) for c in found.jobs),
        lines=tuple(_line(source, c) for c in found.lines),
        sums=tuple(_sum(source, c, found) for c in found.sums),
        nothing="" if found.jobs or found.lines or found.sums else say(_NO_CHANGE),
    )


def _basis(found: Changes) -> str:
    if found.currencies[0] != found.currencies[1]:
        return say(
            "Issue {issue} was priced in {currency}; prices are not compared.",
            issue=found.since,
            currency=found.currencies[0],
        )
    if found.as_issued:
        return say("Compared with the report of issue {issue} as it was sent out.", issue=found.since)
    return say(
        "Compared with the inspection of issue {issue}, judged and priced by the books it names as "
        "they stand today: a price that changed in a book since then does not show.",
        issue=found.since,
    )


def _job(name: str, was: str, now: str, because: tuple[str, ...]) -> ChangeView:
    now = now or say("no longer asked for")
    return ChangeView(capital(name), was or say("not asked for"), now, _joined(because), "")


def _joined(reasons: tuple[str, ...], most: int = 3) -> str:
    more = len(reasons) - most
    return "; ".join(capital(r) for r in reasons[:most]) + (
        say("; and {more} more", more=more) if more > 0 else ""
    )


def _line(source: Source, change: LineChange) -> ChangeView:
    where = lowered(say(TITLES.get(change.total, change.total)))
    before, now = (
        _price(source, span, asked)
        for span, asked in zip((change.before, change.now), change.on_request, strict=True)
    )
    name = f"{capital(change.name)} ({lowered(say(KINDS.get(change.kind, change.kind)))}; {where})"
    return ChangeView(name, before, now, _joined(tuple(_line_reasons(source, change))), "")


def _price(source: Source, span: Span | None, asked: bool) -> str:
    if span is None:
        return "–"
    return say("on request") if asked and not span.high else money_text(source, span)


def _line_reasons(source: Source, change: LineChange) -> Iterator[str]:
    units, quantities = change.unit, change.quantity
    if units[0] and units[1] and units[0] != units[1]:
        yield say(
            "price changed: {now} each, before {before}",
            now=money_text(source, units[1]),
            before=money_text(source, units[0]),
        )
    if change.before and change.now and quantities[0] != quantities[1]:
        yield say(
            "{now} instead of {before}",
            now=_count(source, quantities[1]),
            before=_count(source, quantities[0]),
        )
    if change.jobs:
        pattern = message("for {jobs}") if change.now else message("was for {jobs}")
        yield say(pattern, jobs=joined([lowered(j) for j in change.jobs]))
    if change.on_request[0] != change.on_request[1] and change.before and change.now:
        yield say("no price is known any more") if change.on_request[1] else say("a price is known now")


def _count(source: Source, span: Span) -> str:
    low, high = (source.figures.quantity(q) for q in (span.low, span.high))
    return low if low == high else say("{low} to {high}", low=low, high=high)


def _sum(source: Source, change: SumChange, found: Changes) -> ChangeView:
    before, now = ("–" if s is None else money_text(source, s) for s in change.gross)
    why = _why_sum(source, change, found)
    return ChangeView(say(TITLES.get(change.id, change.title)), before, now, why, changed_id(change))


def _why_sum(source: Source, change: SumChange, found: Changes) -> str:
    old, new = found.tax_rates
    if change.id == "ordered":
        return say("By the customer's choices") if found.choices else say("By the work and prices above")
    if old != new:
        rates = [source.figures.percent(float(rate), 1) for rate in (new, old)]
        return say("Tax of {now} instead of {before}, besides the lines above", now=rates[0], before=rates[1])
    return say("By the lines above")
