"""
Defines whole reports and histories as page templates see them.

``templates/CONTEXT.md`` is made from this, the parts and the sheet.
"""
# ruff: noqa: RUF009 - shown() only builds a field()

from dataclasses import dataclass

from markupsafe import Markup

from inspect_report.report.buyerparts import BuyerView
from inspect_report.report.chainparts import ChainView
from inspect_report.report.chartspec import ChartSpec
from inspect_report.report.diagnosisparts import DiagnosisView
from inspect_report.report.quoteparts import ChangesView, ChoiceView, OrderFormView, OrdersView, WhileOpenView
from inspect_report.report.reportparts import (
    AssemblyView,
    BookView,
    Chip,
    ClassView,
    CostView,
    Fact,
    GradeView,
    InstrumentView,
    LetterView,
    MissingGroup,
    MissingView,
    NumberView,
    PhotoView,
    Picture,
    ProofView,
    ReadingsView,
    TodoView,
    TrendView,
    VerdictView,
    WordView,
    WorkshopView,
)
from inspect_report.report.shown import shown


@dataclass(frozen=True, slots=True)
class FrontView:
    """The first page: what a customer must know in half a minute."""

    replaces: str = shown("which issue it replaces and why, or nothing")
    engine_facts: tuple[Fact, ...] = shown("serial number, running time, machine …")
    people: tuple[tuple[Fact, ...], ...] = shown(
        "customer, inspector, place, days, depth, reason; in one column beside a photo, in two without"
    )
    said: str = shown("history as told by owner or seller, or nothing")
    photo: PhotoView | None = shown("the engine as a whole, or nothing")
    plan: ChartSpec | None = shown("the engine from above with values at their places, or nothing")
    answer: str = shown("the inspector's answer to what was asked, an opinion, or nothing")
    next_limits: str = shown("limits that come first by forecast, in a condition history, or nothing")
    verdict: VerdictView = shown("statement of condition")
    failed: tuple[str, ...] = shown("checks of ours that went wrong")
    declined: tuple[str, ...] = shown(
        "jobs that must be done and are not ordered where others are, with the risk"
    )
    todo: tuple[TodoView, ...] = shown("jobs that must be done before running")
    nothing_to_do: str = shown("what is said where no job must be done, or nothing")
    todo_more: str = shown("how many more there are, or nothing")
    advised: str = shown("jobs advised now in a line, or nothing")
    costs: tuple[CostView, ...] = shown("the sums of the classes that hold something")
    cost_total: str = shown("all of them together, with tax")
    cost_total_request: str = shown("what has no price yet and is not in them, in words, or nothing")
    cost_total_chain: str = shown("id of the chain behind it, in 'chains'")
    cost_note: str = shown("tax, currency and what is not priced, in words")
    missing_groups: tuple[MissingGroup, ...] = shown("what was not looked at, by reason")
    work_chain: str = shown("id of the chain behind which jobs are told and in which order, in 'chains'")
    coverage_chain: str = shown("id of the chain behind what was not looked at, in 'chains'")
    given_chain: str = shown("id of the chain behind facts that stand in the inspection file, in 'chains'")


@dataclass(frozen=True, slots=True)
class ClosingView:
    """Notes, cautions, and what is stated and signed."""

    notes: Markup | None = shown("the inspector's notes, or nothing")
    cautions: tuple[str, ...] = shown("cautions")
    scope: tuple[str, ...] = shown("what the report states and what it does not")
    signer: str = shown("who signs, with qualification")
    signature: Picture | None = shown("picture of a signature, or nothing: then a line to sign on")


@dataclass(frozen=True, slots=True)
class RecordView:
    """The record behind the verdicts."""

    readings: tuple[ReadingsView, ...] = shown("readings as taken")
    numbers: tuple[NumberView, ...] = shown("quantities with uncertainty and limits")
    instruments: tuple[InstrumentView, ...] = shown("instruments")
    some_due: bool = shown("whether of any instrument it is known when its next calibration is due")
    decision_rule: tuple[str, ...] = shown("how a verdict is reached, in sentences")
    conditions: tuple[Fact, ...] = shown("conditions that bear on the results")
    references: tuple[PhotoView, ...] = shown("the workshop's own pictures of the steps that were rated")
    books: tuple[BookView, ...] = shown("books the verdicts rest on")


@dataclass(frozen=True, slots=True)
class ReportView:
    """A whole report."""

    kind: str = shown("pre-purchase assessment, rebuild quote or condition history")
    title: str = shown("kind with a capital")
    language: str = shown("language tag of the page")
    paper: str = shown("A4 or Letter")
    number: str = shown("unique number of the inspection")
    issue: str = shown("'issue 1'")
    issued: str = shown("day of issue")
    issued_iso: str = shown("day of issue as year-month-day, for the file's own data")
    program: str = shown("program and version that drew the report")
    head_left: str = shown("what stands at the left of every page's head")
    head_right: str = shown("what stands at the right of every page's head")
    workshop: WorkshopView = shown("who issues the report")
    engine: str = shown("maker and model")
    front: FrontView = shown("the first page")
    grades: tuple[GradeView, ...] = shown("grades by assembly")
    overview: ChartSpec | None = shown("wear allowance of the most worn, as a chart")
    words: tuple[WordView, ...] = shown("the verdict words that occur, explained")
    diagnoses: tuple[DiagnosisView, ...] = shown("what the findings mean together")
    open_questions: tuple[str, ...] = shown("what a missing reading, or one in doubt, keeps open")
    limits_note: str = shown("where limits come from, and how the two kinds are told apart")
    assemblies: tuple[AssemblyView, ...] = shown("assemblies in the order of the book")
    classes: tuple[ClassView, ...] = shown("work and estimate by urgency")
    labour: str = shown("labour rate in words")
    orders: OrdersView | None = shown("orders to choose among, side by side, or nothing")
    while_open: tuple[WhileOpenView, ...] = shown("jobs that are cheap while the engine is open")
    choices: tuple[ChoiceView, ...] = shown("what the customer decided, job by job")
    changes: ChangesView | None = shown("what changed since the issue that this one replaces, or nothing")
    trends: tuple[TrendView, ...] = shown("trends over running time")
    charts_note: str = shown("what the charts of trends show, or nothing where there is none")
    past: tuple[Fact, ...] = shown("inspections before this one: number and day")
    missing: tuple[MissingView, ...] = shown("every thing not inspected, with its reason")
    not_applicable: tuple[MissingView, ...] = shown("what the engine does not have")
    photos: tuple[PhotoView, ...] = shown("all photos but the one on the first page")
    closing: ClosingView = shown("notes, cautions, scope and signature")
    glossary: tuple[LetterView, ...] = shown("trade words of this report, explained")
    record: RecordView = shown("the record behind the verdicts")
    chains: dict[str, ChainView] = shown(
        "why, by the id that 'chain' of a sum, a job or a diagnosis gives: how it came about; for screens"
    )
    buyer: BuyerView | None = shown("what it may cost a buyer; nothing but in a pre-purchase assessment")
    order_form: OrderFormView | None = shown(
        "the page of a quote to order by, with the terms, or nothing", default=None
    )
    replaced_by: str = shown("that a later issue holds in place of this one, or nothing", default="")
    proof: ProofView | None = shown(
        "number, digest and signature for whoever checks it, or nothing", default=None
    )


@dataclass(frozen=True, slots=True)
class VisitView:
    """One inspection in a history."""

    number: str = shown("number of the inspection")
    day: str = shown("day of the inspection")
    running_time: str = shown("running time of the engine, or a dash")
    depth: str = shown("depth of the inspection")
    chip: Chip = shown("grade word")
    score: str = shown("score of 100, or a dash")
    coverage: str = shown("checks done of those planned")


@dataclass(frozen=True, slots=True)
class EngineHistory:
    """One engine in a history."""

    short: str = shown("the machine it is in where that tells the engines apart, else its serial number")
    name: str = shown("machine where it tells the engines apart, maker, model and serial number")
    anchor: str = shown("id of its section")
    chip: Chip = shown("grade word of its latest inspection")
    score: str = shown("latest score of 100, or a dash")
    running_time: str = shown("running time at the latest inspection, or a dash")
    sentence: str = shown("its state in a sentence")
    must: tuple[str, ...] = shown("jobs that must be done before it runs again, with places")
    must_cost: str = shown("what they cost with tax, or nothing")
    advised: str = shown("jobs advised now in a line, or nothing")
    answer: str = shown("the inspector's answer to what was asked at its latest inspection, or nothing")
    next_limit: str = shown("what meets its limit first, and when, or why that cannot be said")
    visits: tuple[VisitView, ...] = shown("its inspections, oldest first")
    trends: tuple[TrendView, ...] = shown("its trends, nearest to the limit first")
    charts_note: str = shown("what the charts of its trends show, or nothing where there is none")
    attention: tuple[str, ...] = shown("findings of the latest inspection that are not good")


@dataclass(frozen=True, slots=True)
class PartsRow:
    """The parts that can move between engines of one engine."""

    engine: str = shown("short name of the engine")
    cells: tuple[tuple[str, ...], ...] = shown("for each kind its parts: serial, running time, since when")


@dataclass(frozen=True, slots=True)
class PartsView:
    """Parts that can move between engines: where each is, and for how long it ran."""

    kinds: tuple[str, ...] = shown("kinds of parts, the heads of the columns")
    rows: tuple[PartsRow, ...] = shown("engines")
    gone: str = shown("parts that are in none of these engines any more, with why, or nothing")


@dataclass(frozen=True, slots=True)
class HistoryView:
    """The history of one or more engines over several inspections."""

    title: str = shown("title of the history")
    kind: str = shown("that it is a condition history, and of how many engines")
    language: str = shown("language tag of the page")
    paper: str = shown("A4 or Letter")
    issued: str = shown("day of the latest inspection in it")
    issued_iso: str = shown("the same as year-month-day")
    program: str = shown("program and version that drew it")
    head_left: str = shown("what stands at the left of every page's head")
    head_right: str = shown("what stands at the right of every page's head")
    workshop: WorkshopView = shown("who issues it")
    made_of: str = shown("how many inspections it is made of, of which days, by whom")
    engines: tuple[EngineHistory, ...] = shown("engines, the one that needs most attention first")
    compared: tuple[ChartSpec, ...] = shown("charts that hold engines against each other")
    parts: PartsView | None = shown("parts that can move between engines, or nothing")
    words: tuple[WordView, ...] = shown("the grade words that occur, explained")
    decision_rule: tuple[str, ...] = shown("how a verdict is reached, in sentences")
    scope: tuple[str, ...] = shown("what the history states and what it does not")
