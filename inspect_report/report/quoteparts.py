"""Defines the parts of a quote that a page template may use: orders to choose among, choices, changes."""
# ruff: noqa: RUF009 - shown() only builds a field()

from dataclasses import dataclass

from inspect_report.report.chartspec import ChartSpec
from inspect_report.report.reportparts import Fact
from inspect_report.report.shown import shown


@dataclass(frozen=True, slots=True)
class OrderRow:
    """One row of the table that sets orders side by side."""

    name: str = shown("what is told: 'Hours', 'Parts', 'Total'")
    cells: tuple[str, ...] = shown("its text for each order, in the order of the titles")
    total: bool = shown("whether it is the row of the total")
    id: str = shown("what the row tells, whatever the language: 'hours', 'tax', 'total'")


@dataclass(frozen=True, slots=True)
class OrderSum:
    """What one order comes to."""

    title: str = shown("what the order is called")
    total: str = shown("its sum with tax")
    chain: str = shown("id of the chain behind it, in 'chains'")


@dataclass(frozen=True, slots=True)
class LeftView:
    """A job that at least one order leaves undone."""

    job: str = shown("job")
    risk: str = shown("what follows if it is left")
    left_by: str = shown("orders that leave it undone, in words")


@dataclass(frozen=True, slots=True)
class OrdersView:
    """The orders a customer can give, side by side."""

    titles: tuple[str, ...] = shown("what each order is called")
    rows: tuple[OrderRow, ...] = shown("what each takes and costs")
    sums: tuple[OrderSum, ...] = shown("what each comes to, with the chain behind it")
    left: tuple[LeftView, ...] = shown("what they leave undone")
    chart: ChartSpec | None = shown("the same sums as bars, or nothing where there is one only")
    note: str = shown("what an order holds, in words")


@dataclass(frozen=True, slots=True)
class WhileOpenView:
    """A job that is cheap while the engine is open for others."""

    id: str = shown("its id in the workbook")
    job: str = shown("job")
    urgency: str = shown("how urgent it is")
    added: str = shown("what it adds now, with tax")
    alone: str = shown("what it costs alone, the engine opened for it, with tax")
    chain: str = shown("id of the chain behind it, in 'chains'")


@dataclass(frozen=True, slots=True)
class ChoiceView:
    """What the customer decided about a job."""

    job: str = shown("job")
    decision: str = shown("ordered, declined or later")
    when: str = shown("day, and who decided")
    note: str = shown("what was said with it, or nothing")
    risk: str = shown("what follows if it is not done; empty where it was ordered")


@dataclass(frozen=True, slots=True)
class OrderChoice:
    """What can be ordered as a whole, on the page to order by."""

    title: str = shown("what it is called")
    total: str = shown("its sum with tax")
    besides: str = shown("what has no price yet, in words, or nothing")
    chain: str = shown("id of the chain behind the sum, in 'chains'")


@dataclass(frozen=True, slots=True)
class OrderJob:
    """A job on the page to order by."""

    job: str = shown("job")
    where: str = shown("places, or nothing")
    urgency: str = shown(
        "'Must be done', 'Advised now', 'Can wait'; a dash where nothing asks for it any more"
    )
    decision: str = shown("what was decided, when and by whom, 'Not decided yet', or nothing if nothing was")
    yes: bool = shown("whether it was ordered already")
    no: bool = shown("whether it was declined or put off already")


@dataclass(frozen=True, slots=True)
class OrderFormView:
    """The page by which a customer orders."""

    facts: tuple[Fact, ...] = shown("customer, engine and machine")
    choices: tuple[OrderChoice, ...] = shown("what can be ordered as a whole; one of them is ticked")
    jobs: tuple[OrderJob, ...] = shown("jobs one by one, what is not decided yet first")
    decided: bool = shown("whether the customer decided anything before")
    unsafe: str = shown("what the order so far leaves undone that must be done, in a sentence, or nothing")


@dataclass(frozen=True, slots=True)
class ChangeView:
    """One thing that is otherwise than in the issue before."""

    what: str = shown("finding, job, line or sum")
    before: str = shown("what stood there before, or a dash")
    now: str = shown("what stands there now, or a dash")
    why: str = shown("why")
    chain: str = shown("id of the chain behind a sum, in 'chains'; empty for what is no sum")


@dataclass(frozen=True, slots=True)
class ChangesView:
    """What changed since the issue that this one replaces."""

    title: str = shown("'What changed since issue 1'")
    basis: str = shown("what it is compared with, in a sentence")
    counts: str = shown("findings beyond their limits and checks graded, before and now")
    findings: tuple[ChangeView, ...] = shown("findings that are read, seen or judged otherwise")
    jobs: tuple[ChangeView, ...] = shown("jobs that came, went or changed")
    lines: tuple[ChangeView, ...] = shown("prices that came, went or changed, before tax")
    sums: tuple[ChangeView, ...] = shown("sums that changed, with tax")
    nothing: str = shown("what is said where neither work nor price changed, or nothing")
