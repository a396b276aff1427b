"""Defines the parts of a report that a page template may use, as text ready to print."""
# ruff: noqa: RUF009 - shown() only builds a field()

from dataclasses import dataclass

from markupsafe import Markup

from inspect_report.records.marks import Mark
from inspect_report.report.chainparts import ChainView
from inspect_report.report.chartspec import ChartSpec
from inspect_report.report.shown import shown


@dataclass(frozen=True, slots=True)
class Fact:
    """A label and what it is for this inspection."""

    label: str = shown("what it is: 'Serial number'")
    text: str = shown("its value as text")


@dataclass(frozen=True, slots=True)
class Chip:
    """A verdict or grade word with its style class."""

    word: str = shown("verdict or grade word: 'beyond limit'")
    tone: str = shown("style class of the word: 'beyond-limit'")


@dataclass(frozen=True, slots=True)
class Bar:
    """How much of the wear allowance is used, as a bar whose frame ends at the limit."""

    width: str = shown("length of the filled part, in per cent of the frame; at most 125")
    tone: str = shown("style class of the verdict")
    text: str = shown("the share in words: '62 %'")
    over: bool = shown("whether the limit is passed")


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture file of the inspection; ``| picture`` gives the address to put into ``src``."""

    file: str = shown("file as the inspection names it")
    alt: str = shown("what it shows, for those who cannot see it")
    kind: str = shown("photo, logo, signature or reference")
    marks: tuple[Mark, ...] = shown("arrows and rings that ``| picture`` draws into a photo", ())


@dataclass(frozen=True, slots=True)
class EarlierView:
    """What the same place looked like before."""

    picture: Picture = shown("the earlier picture; '| picture' gives its address")
    caption: str = shown("its caption, or nothing")
    day: str = shown("day it was taken")


@dataclass(frozen=True, slots=True)
class PhotoView:
    """A photo with its caption."""

    picture: Picture = shown("the picture; '| picture' gives its address")
    caption: str = shown("caption")
    of: str = shown("what it shows, or nothing")
    day: str = shown("day it was taken, where that was written or it has an earlier one beside it", "")
    before: EarlierView | None = shown("an earlier photo of the same place, to stand beside it", None)
    beside: bool = shown("whether it stands with its assembly, beside what it shows", False)


@dataclass(frozen=True, slots=True)
class WorkshopView:
    """Who issues the report."""

    name: str = shown("name of the workshop")
    address: tuple[str, ...] = shown("lines of its address")
    contact: tuple[str, ...] = shown("phone and e-mail, where given")
    logo: Picture | None = shown("its logo, or nothing")
    terms: Markup | None = shown("its terms, or nothing")


@dataclass(frozen=True, slots=True)
class VerdictView:
    """The statement of condition on the first page."""

    chip: Chip = shown("grade word of the engine")
    headline: str = shown("the verdict in a few words")
    sentence: str = shown("the verdict in a sentence")
    basis: str = shown("how much was looked at")
    do_not_run: tuple[str, ...] = shown("why the engine must not be run; empty when nothing forbids it")
    danger: str = shown("what can happen when such an engine is run; empty when nothing forbids it")
    score: str = shown("score of 100, or a dash")
    chain: str = shown("id of the chain behind it, in 'chains'")


@dataclass(frozen=True, slots=True)
class TodoView:
    """A job on the first page."""

    name: str = shown("name of the job")
    where: str = shown("places it is done at")
    because: str = shown("the finding that asks for it, in a few words")
    choice: str = shown("that it was declined, put off or not decided, or nothing")
    chain: str = shown("id of the chain behind it, in 'chains'")


@dataclass(frozen=True, slots=True)
class CostView:
    """One line of cost on the first page."""

    title: str = shown("'Must be done'")
    explains: str = shown("what the class means")
    gross: str = shown("sum with tax")
    on_request: str = shown("what has no price yet, in words; empty when all is priced")
    jobs: str = shown("how many jobs, in words")
    note: str = shown("what putting it off costs, or nothing")
    with_before: str = shown("sum with those before it; empty for the first and for the last")
    chain: str = shown("id of the chain behind it, in 'chains'")


@dataclass(frozen=True, slots=True)
class GradeView:
    """Grade of one assembly."""

    name: str = shown("assembly")
    anchor: str = shown("id of its section on the page")
    chip: Chip = shown("grade word")
    score: str = shown("score of 100, or a dash")
    bar: Bar | None = shown("wear allowance left over all its checks, or nothing")
    coverage: str = shown("'14 of 19 checks'")
    deeper: str = shown("checks that belong to another depth, or a dash")
    why: tuple[str, ...] = shown("findings and caps that set the word")
    chain: str = shown("id of the chain behind it, in 'chains'")


@dataclass(frozen=True, slots=True)
class ResultView:
    """One or several places of a characteristic that share a verdict."""

    name: str = shown("what was looked at")
    plain: str = shown("what that is, in a customer's words, where it is not good; else in the glossary")
    first: bool = shown("whether it is the first row of its characteristic")
    as_above: bool = shown("whether it is held against the same as the row above")
    short: str = shown("standard range and limit in signs, or nothing")
    where: str = shown("places")
    where_within: str = shown("places, for the middle of a line")
    found: str = shown("what was measured or seen")
    standard: str = shown("standard range for new parts, or nothing")
    limit: str = shown("service limit, or nothing")
    source: str = shown("where the limit stands: its page in the manual of the spec sheet, or work and page")
    origin: str = shown("'spec sheet', 'common practice', or nothing")
    origin_tone: str = shown("style class of the origin")
    chip: Chip = shown("verdict")
    bar: Bar | None = shown("wear allowance used, worst of the places, or nothing")
    means: str = shown("what it means for the customer; empty where all is well")
    anchor: str = shown("id of the first finding, for links")
    chains: tuple[ChainView, ...] = shown("why of every place not good, of good ones the most worn")
    photos: tuple[PhotoView, ...] = shown("photos of its places")


@dataclass(frozen=True, slots=True)
class ResultsPart:
    """Results down to the first that has photos, and these photos; then the next part begins."""

    results: tuple[ResultView, ...] = shown("results, the last of which the photos show")
    photos: tuple[PhotoView, ...] = shown("photos to stand below it; none in the last part")


@dataclass(frozen=True, slots=True)
class ShimView:
    """One valve of the shim table: gaps in the units of the report, shims as they are sold."""

    valve: str = shown("valve")
    measured: str = shown("gap measured")
    range: str = shown("gap allowed")
    fitted: str = shown("shim fitted")
    exact: str = shown("shim that would give the aim exactly")
    fit: str = shown("shim to fit; 'keep' where the fitted one stays")
    after: str = shown("gap expected after")
    change: bool = shown("whether the shim is changed")
    note: str = shown("remark")


@dataclass(frozen=True, slots=True)
class GasketView:
    """One head gasket grade on sale."""

    grade: str = shown("mark of the grade")
    thickness: str = shown("thickness when clamped")
    squish: str = shown("smallest squish gap it would give")
    ratio: str = shown("highest compression ratio it would give")
    judged: str = shown("whether it keeps both bounds, in words")
    role: str = shown("'to fit', 'fitted now', or nothing")
    chosen: bool = shown("whether it is the one to fit")


@dataclass(frozen=True, slots=True)
class ShellView:
    """The shells to fit in one bearing."""

    place: str = shown("journal or crankpin")
    housing: str = shown("class of the housing, and whether by size or by mark")
    journal: str = shown("class of the journal, and whether by size or by mark")
    fitted: str = shown("shells found in it")
    fit: str = shown("shells to fit")
    after: str = shown("oil clearance to expect with them")
    change: bool = shown("whether they are others than those found")
    note: str = shown("remark")


@dataclass(frozen=True, slots=True)
class AssemblyView:
    """One assembly: what was looked at, found, and what it means."""

    name: str = shown("assembly")
    anchor: str = shown("id of its section")
    plain: str = shown("what it does, for a customer; may be empty")
    chip: Chip = shown("grade word")
    coverage: str = shown("coverage and score in words")
    results: tuple[ResultView, ...] = shown("results, gravest first within a characteristic")
    parts: tuple[ResultsPart, ...] = shown("the same, cut where photos stand beside what they show")
    photos: tuple[PhotoView, ...] = shown("photos of what was looked at and stands in no row")
    charts: tuple[ChartSpec, ...] = shown("charts that belong here; '| picture' gives their address")
    shims: tuple[ShimView, ...] = shown("shim table, where valves were measured")
    shim_note: str = shown("how shims were chosen")
    shim_caption: str = shown("what the shim table holds, with its units")
    gaskets: tuple[GasketView, ...] = shown("head gasket grades, where they were computed")
    gasket_note: str = shown("how the grade was chosen")
    shells: tuple[ShellView, ...] = shown("bearing shells to fit, where the maker's table is known")
    shell_note: str = shown("how shells were chosen")
    clean: tuple[str, ...] = shown("what was looked at with nothing found, with its places")
    unlimited: tuple[str, ...] = shown("what was read or answered and has no limit, with its places")
    notes: tuple[str, ...] = shown("places that stand out from their like, in words")
    chain: str = shown("id of the chain behind its grade, in 'chains'")


@dataclass(frozen=True, slots=True)
class JobView:
    """A job with its reasons."""

    name: str = shown("job")
    where: str = shown("places")
    plain: str = shown("what is done and why, for a customer")
    because: tuple[str, ...] = shown("findings and diagnoses that ask for it")
    access: str = shown("what must be open for it, the deepest of it")
    hours: str = shown("hours of work, without access")
    if_left: str = shown("what happens if it is left")
    covered_by: str = shown("job that makes this one needless, or nothing")
    choice: str = shown("what the customer decided about it, or nothing")
    chain: str = shown("id of the chain behind it, in 'chains'")


@dataclass(frozen=True, slots=True)
class LineView:
    """A priced line."""

    kind: str = shown("work, opening and closing, part or machine shop")
    name: str = shown("what it is")
    quantity: str = shown("hours or pieces")
    unit_price: str = shown("price of one, or a dash")
    price: str = shown("price, or 'on request'")


@dataclass(frozen=True, slots=True)
class ClassView:
    """One urgency class: its jobs and its sum."""

    title: str = shown("'Must be done'")
    anchor: str = shown("id of its section")
    explains: str = shown("what the class means")
    note: str = shown("what putting it off costs, or nothing")
    jobs: tuple[JobView, ...] = shown("jobs")
    included: str = shown("its jobs that other work does anyway, in a line, or nothing")
    lines: tuple[LineView, ...] = shown("priced lines")
    net: str = shown("sum without tax")
    tax_name: str = shown("name and rate of the tax, or nothing")
    tax: str = shown("tax")
    gross: str = shown("sum with tax")
    with_before: str = shown("sum of this class and those before it")
    on_request: str = shown("what has no price yet, in words, or nothing")
    chain: str = shown("id of the chain behind it, in 'chains'")


@dataclass(frozen=True, slots=True)
class MissingView:
    """Something that was not inspected, or does not apply."""

    name: str = shown("what, or the assembly where a deeper strip-down is needed")
    where: str = shown("places, or what of the assembly")
    reason: str = shown("why")


@dataclass(frozen=True, slots=True)
class MissingGroup:
    """Things not inspected that share a reason, for the first page."""

    reason: str = shown("why")
    names: str = shown("what, in words")


@dataclass(frozen=True, slots=True)
class PlacedText:
    """What was read, seen or found at a place."""

    place: str = shown("place; empty where the row has one only")
    text: str = shown("values, with the rest of their places where there are several")


@dataclass(frozen=True, slots=True)
class ReadingView:
    """Readings of one item, as they were taken."""

    what: str = shown("item of the checklist")
    unit: str = shown("unit of the readings, where it is the same for all; else they carry their own")
    order: str = shown("what stands between strokes in each text: 'along / across'; or nothing")
    read: tuple[PlacedText, ...] = shown("readings")
    instrument: str = shown("instrument, 'eye', or nothing")


@dataclass(frozen=True, slots=True)
class ReadingsView:
    """Readings of one section of the checklist."""

    title: str = shown("section")
    rows: tuple[ReadingView, ...] = shown("readings")
    done: tuple[str, ...] = shown("items answered with 'done' alone")


@dataclass(frozen=True, slots=True)
class NumberView:
    """Results of one characteristic held against one limit, with everything behind their verdicts."""

    name: str = shown("characteristic")
    unit: str = shown("unit of the values, or nothing")
    order: str = shown("what stands between strokes in each text, or nothing")
    method: str = shown("formula; nothing where values were read directly")
    values: tuple[PlacedText, ...] = shown("values by place; behind one that is not good its verdict")
    uncertainty: str = shown("expanded uncertainty of each, or nothing")
    limits: str = shown("standard range and limit, or a dash")
    chance: str = shown("smallest probability that a true value keeps its limit")


@dataclass(frozen=True, slots=True)
class InstrumentView:
    """An instrument that was used."""

    id: str = shown("name in the inspection file")
    kind: str = shown("kind")
    serial: str = shown("serial number, or a dash")
    resolution: str = shown("resolution")
    error: str = shown("permissible error, or a dash")
    calibrated: str = shown("day of calibration, or 'no record'")
    due: str = shown("day the next one is due, or a dash")


@dataclass(frozen=True, slots=True)
class ProofView:
    """What the page says to whoever checks that it is as it was issued."""

    facts: tuple[Fact, ...] = shown("number, issue, digest, what it rests on, who signs")
    how: tuple[str, ...] = shown("how it is checked, in sentences")
    qr: str = shown("QR code with number, issue and digest: the address to put into ``src``")
    qr_alt: str = shown("what the code says, for those who cannot see it")


@dataclass(frozen=True, slots=True)
class WordView:
    """A verdict word explained."""

    chip: Chip = shown("the word")
    text: str = shown("what it says")


@dataclass(frozen=True, slots=True)
class LetterView:
    """Words of the glossary that begin with one letter."""

    letter: str = shown("the letter")
    words: tuple[Fact, ...] = shown("words and what they mean")


@dataclass(frozen=True, slots=True)
class TrendView:
    """How a characteristic moves over running time."""

    name: str = shown("characteristic and place")
    latest: str = shown("latest value")
    limit: str = shown("limit, or a dash")
    forecast: str = shown("when the limit is met, or why that cannot be said")
    chart: ChartSpec | None = shown("chart; nothing with one reading, or with neither line nor limit")


@dataclass(frozen=True, slots=True)
class BookView:
    """A book the verdicts rest on."""

    kind: str = shown("spec sheet, checklist, rulebook …")
    id: str = shown("its id")
    version: str = shown("its version")
    digest: str = shown("first figures of its SHA-256")
