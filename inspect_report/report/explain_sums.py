"""Turns every sum of a report into the lines it is made of: what times what, tax, who pays for opening."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from inspect_report.advise.advice import Option, SumChange, WhileOpen, WorkItem
from inspect_report.advise.priced import NOTHING, EstimateLine, Span, Total
from inspect_report.report import view_estimate, view_lines, view_quote
from inspect_report.report.chainlines import Line, Told, under
from inspect_report.report.figures import joined
from inspect_report.report.source import Source
from inspect_report.report.words import capital, sentence
from inspect_report.telling.manner import lowered, message, say
from inspect_report.telling.positions import plain_name

"""The title of a sum, and the lines it is made of."""

_LABELS: Final = {
    "work": "work",
    "strip-down": "strip-down",
    "access": "opening",
    "part": "part",
    "machine shop": "machining",
}
_ROUNDED: Final = message("each line, and the tax on their sum, to the smallest coin, halves up")


def sum_of(source: Source, wanted: str) -> Told | None:
    """
    Title and lines of a sum by its id; None where there is none of that id.

    Ids: ``sum-must``, ``sum-advised``, ``sum-can-wait``, ``sum-all``, an order, ``while-open.JOB``,
    ``changed.SUM``.
    """
    advice = source.a.advice
    order = view_quote.order(source, wanted)
    if order is not None:
        return f"{order.id}: {order.title}", tuple(_order(source, order))
    if wanted == view_estimate.ALL:
        return f"{wanted}: {say('All together')}", tuple(_all(source))
    for total in advice.estimate.totals:
        if wanted == view_estimate.class_id(total):
            return f"{wanted}: {_title(total)}", tuple(_class(source, total))
    for one in advice.while_open:
        if wanted == view_quote.beside_id(one):
            return f"{wanted}: {capital(one.name)}", tuple(_beside(source, one))
    for change in advice.changes.sums if advice.changes else ():
        if wanted == view_quote.changed_id(change):
            return f"{wanted}: {_changed_title(change)}", tuple(_changed(source, change))
    return None


def sum_ids(source: Source) -> tuple[str, ...]:
    """Every id that ``sum_of`` knows, for offers."""
    advice = source.a.advice
    changed = advice.changes.sums if advice.changes else ()
    return (
        *(o.id for o in view_quote.known_orders(source)),
        *(view_estimate.class_id(t) for t in view_estimate.filled(source)),
        view_estimate.ALL,
        *(view_quote.beside_id(one) for one in advice.while_open),
        *(view_quote.changed_id(c) for c in changed),
    )


def _title(total: Total) -> str:
    return say(view_estimate.TITLES.get(total.id, total.title))


def _money(source: Source, span: Span) -> str:
    return view_lines.money_text(source, span)


def _class(source: Source, total: Total) -> Iterator[Line]:
    """The sum of a class, and what it is together with those before it."""
    totals = source.a.advice.estimate.totals
    before = totals[: totals.index(total)]
    yield from _lines(source, total.lines)
    yield from _found_open(source, total, before)
    yield from _covered(source, view_estimate.jobs_of(source, total.id))
    yield from _foot(source, total)
    share = view_estimate.inspection_share(source, total)
    if share:
        yield "opening", share
    yield "rounding", say(_ROUNDED)
    if before:
        parts = [*(t.sums[2] for t in before), total.sums[2]]
        yield "with above", _added(source, parts)


def _lines(source: Source, lines: Iterable[EstimateLine]) -> Iterator[Line]:
    """Each line with what it is reckoned from; the label of a kind stands at its first."""
    told = tuple(lines)
    for kind, label in _LABELS.items():
        same = [line for line in told if line.kind == kind]
        yield from under(label, (line_words(source, line) for line in same))
        if kind in ("strip-down", "access"):
            yield from _opening_sums(source, same)


def _opening_sums(source: Source, lines: Sequence[EstimateLine]) -> Iterator[Line]:
    """What opening and closing comes to, as the estimate tells it: in one line for each kind of it."""
    sums = view_lines.grouped(lines)
    for one in (s for s in sums if s not in lines):
        name = capital(one.name.partition(":")[0])
        yield "", say("{name}, together {sum}", name=name, sum=_money(source, one.prices))
    if len(sums) > 1:
        whole = sum((line.prices for line in lines), NOTHING)
        yield "", say("All opening and closing together {sum}", sum=_money(source, whole))


def line_words(source: Source, line: EstimateLine) -> str:
    """A line: how much times what is what; who shares it, and what it depends on."""
    shown = view_lines.line(source, line)
    shared = f"; {_shared(source, line)}" if len(line.for_jobs) > 1 else ""
    if line.unit_price is None:
        unpriced = say("price on request, in no sum")
        return f"{shown.name}: {shown.quantity}, {unpriced}{shared}"
    return f"{shown.name}: {shown.quantity} × {shown.unit_price} = {shown.price}{shared}"


def _shared(source: Source, line: EstimateLine, most: int = 3) -> str:
    """Who shares a line: of opening some are named, since who needs it is what makes it dear."""
    count = len(line.for_jobs)
    if line.kind != "access":
        return say("for {count} jobs", count=count)
    names = {w.job: w.name for w in source.a.advice.work}
    told = [lowered(names.get(j, plain_name(j))).partition(" (")[0] for j in line.for_jobs[:most]]
    names_told = (
        say("{list} and {count} more", list=", ".join(told), count=count - most)
        if count > most
        else joined(told)
    )
    return say("charged once for {count} jobs: {jobs}", count=count, jobs=names_told)


def _found_open(source: Source, total: Total, before: Iterable[Total]) -> Iterator[Line]:
    """Opening that this class needs and an earlier one pays."""
    here = {w.job for w in view_estimate.jobs_of(source, total.id)}
    paid = [
        say(
            "{step}: paid in “{class_title}”, so not again here",
            step=capital(line.name.partition(":")[0]),
            class_title=_title(earlier),
        )
        for earlier in before
        for line in earlier.lines
        if line.kind == "access" and here & set(line.for_jobs)
    ]
    yield from under("found open", paid)


def _covered(source: Source, items: Iterable[WorkItem]) -> Iterator[Line]:
    names = {w.job: w.name for w in source.a.advice.work}
    done = (
        say(
            "{name}: already done by “{other}”; no charge",
            name=capital(w.name),
            other=names.get(w.covered_by, plain_name(w.covered_by)),
        )
        for w in items
        if w.covered_by
    )
    yield from under("covered", done)


def _foot(source: Source, total: Total) -> Iterator[Line]:
    """Net, tax and total of one class, as they follow from each other."""
    net, tax, gross = total.sums
    yield "net", say("{sum}, the lines together", sum=_money(source, net))
    if source.a.advice.estimate.tax_name:
        reckoned = {
            "tax": view_estimate.tax_words(source),
            "net": _term(source, net),
            "sum": _money(source, tax),
        }
        yield "tax", say("{tax} of {net} = {sum}", **reckoned)
        yield "total", _added(source, [net, tax])
    else:
        yield "total", say("{sum}, without tax", sum=_money(source, gross))
    if total.on_request:
        yield "besides", view_estimate.on_request(total.on_request)


def _term(source: Source, span: Span) -> str:
    """An amount within a reckoning; one from … to … in brackets."""
    return f"({_money(source, span)})" if span.low != span.high else _money(source, span)


def _added(source: Source, spans: Sequence[Span]) -> str:
    """Sums added up: ``a + b = c``."""
    told = " + ".join(_term(source, s) for s in spans)
    return f"{told} = {_money(source, sum(spans, NOTHING))}"


def _all(source: Source) -> Iterator[Line]:
    totals = source.a.advice.estimate.totals
    for total in totals:
        yield "class", f"{_title(total)}: {_money(source, total.sums[2])}"
    yield "total", _added(source, [t.sums[2] for t in totals])


def classes_of(source: Source, totals: Sequence[Total]) -> Iterator[Line]:
    """Lines and sums of several classes, then all of them together."""
    filled = [t for t in totals if t.lines]
    for total in filled:
        if len(filled) > 1:
            yield "class", _title(total)
        yield from _lines(source, total.lines)
        yield from _foot(source, total)
    if len(filled) > 1:
        yield "together", _added(source, [t.sums[2] for t in filled])
    if filled:
        yield "rounding", say(_ROUNDED)


def _order(source: Source, order: Option) -> Iterator[Line]:
    """What an order takes, the lines it costs, their sums by kind, and what it leaves undone."""
    names = {w.job: w.name for w in source.a.advice.work}
    does = (capital(names.get(j, j)) for j in order.jobs)
    yield from under("does", does if order.jobs else [say("no job")])
    yield from _covered(source, (w for w in source.a.advice.work if w.covered_by in order.jobs))
    yield from classes_of(source, order.totals)
    for row in view_quote.sums(source, (order,)):
        yield row.name if row.id == "tax" else row.id, row.cells[0]
    left = (
        f"{capital(x.name)}, {lowered(say(view_estimate.URGENT[x.urgency]))}. {sentence(x.risk)}"
        for x in order.leaves
    )
    yield from under("leaves", left)


def _beside(source: Source, one: WhileOpen) -> Iterator[Line]:
    """What a job adds while the engine is open, and what it costs alone."""
    if one.totals:
        together, before = (_term(source, s) for s in (one.together, one.before))
        yield (
            "added now",
            say(
                "{together} with it, less {before} without it = {sum}",
                together=together,
                before=before,
                sum=_money(source, one.added),
            ),
        )
    alone = _money(source, one.alone)
    yield "alone", say("{sum}: the engine opened for it at another time", sum=alone)
    yield from classes_of(source, one.totals)


def _changed_title(change: SumChange) -> str:
    return say(view_estimate.TITLES.get(change.id, change.title))


def _changed(source: Source, change: SumChange) -> Iterator[Line]:
    """The lines by which a sum changed, then the sum itself, before tax and with it."""
    found = source.a.advice.changes
    for line in found.lines if found and change.id != "ordered" else ():
        if change.id in ("all", line.total):
            yield "line", f"{capital(line.name)}: {_difference(source, line.now, line.before)}"
    for label, (before, now) in (("net", change.net), ("total", change.gross)):
        yield label, _difference(source, now, before)


def _difference(source: Source, now: Span | None, before: Span | None) -> str:
    later, earlier = now or NOTHING, before or NOTHING
    return say(
        "{now} now, less {before} before = {sum}",
        now=_term(source, later),
        before=_term(source, earlier),
        sum=_money(source, later - earlier),
    )
