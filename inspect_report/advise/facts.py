"""
Turns findings, ratings, answers and earlier readings into facts: what a rule's clauses look at.

A fact is one subject (a characteristic or a checklist item) at one place. A subject that this engine has not
got is ``absent``; one that it has and that was not looked at gives a fact that is not known.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from math import hypot
from statistics import median
from typing import Final

from inspect_report.judge.asked import places_along
from inspect_report.judge.finding import Finding, Judged, Limit, PastReading, Seen, Verdict
from inspect_report.judge.past import fitted_part
from inspect_report.knowledge.case import Books, Case, known_or_row
from inspect_report.records.checklist import LAYOUT_AXES, Item, applies_to, axis_labels, in_group
from inspect_report.records.inspection import Inspection, LeftOut
from inspect_report.records.position import Position, finding_id
from inspect_report.records.quantity import Quantity
from inspect_report.telling.manner import say, thing
from inspect_report.telling.positions import at_words

UNKNOWN_VERDICTS: Final = (Verdict.NOT_INSPECTED, Verdict.CHECK_FAILED)


@dataclass(frozen=True, slots=True)
class Fact:
    """
    What is known of a subject at a place; values in SI.

    ``known`` False: it belongs to the engine and was not inspected. ``moved``: difference from the inspection
    before with its standard uncertainty ``u_moved``, None where there is none. ``seen`` empty on a known
    rating: looked at, and nothing found. ``stands_out``: ``above`` or ``below`` its like by the outlier test,
    ``no``, or empty where there was no test. ``quantity`` and ``limit`` are those of the finding.
    """

    subject: str
    name: str
    position: Position
    known: bool = True
    verdict: str = ""
    side: str = ""
    value: float | None = None
    unit: str = ""
    decimals: int = 2
    moved: float | None = None
    u_moved: float = 0.0
    stands_out: str = ""
    quantity: Quantity | None = None
    limit: Limit | None = None
    seen: tuple[Seen, ...] = ()
    chosen: tuple[str, ...] = ()

    @property
    def id(self) -> str:
        """Id of the finding or item this is known from."""
        return finding_id(self.subject, self.position)

    @property
    def at(self) -> str:
        """Name and place in words."""
        place = at_words(self.position)
        return say("{name} of {place}", name=self.name, place=place) if place else self.name


FactsOf = Mapping[str, tuple[Fact, ...]]


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything the rules may ask about one engine; ``labels`` are those along each axis it has."""

    quantities: FactsOf = field(default_factory=dict)
    ratings: FactsOf = field(default_factory=dict)
    answers: FactsOf = field(default_factory=dict)
    absent: frozenset[str] = frozenset()
    labels: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    in_line: bool = True
    """Whether cylinders with neighbouring numbers stand beside each other."""
    earlier: frozenset[str] | None = None
    """Subjects read at an inspection before; None where that is not known."""

    def of(self, subject: str) -> tuple[Fact, ...]:
        """Everything known of a subject, of whichever kind it is."""
        kinds = (self.ratings, self.answers, self.quantities)
        return next((kind[subject] for kind in kinds if subject in kind), ())


def gathered(facts: Iterable[Fact]) -> dict[str, tuple[Fact, ...]]:
    """Facts by their subject."""
    found: dict[str, list[Fact]] = defaultdict(list)
    for fact in facts:
        found[fact.subject].append(fact)
    return {subject: tuple(of) for subject, of in found.items()}


def facts_of(case: Case, judged: Judged, past: tuple[PastReading, ...]) -> Facts:
    """
    The facts of an inspection.

    Which cylinders stand side by side is known for single and inline engines only: the layout of a vee or
    flat engine does not say which numbers share a bank.
    """
    books, inspection = case.books, case.inspection
    return Facts(
        quantities=gathered(_quantities(case, judged, past)),
        ratings=gathered(_looked_at(books, inspection, "rating", _rated(books, inspection))),
        answers=gathered(_looked_at(books, inspection, "choice", _answered(books, inspection))),
        absent=frozenset(_absent(books, inspection)),
        labels=_labels(books),
        in_line=books.sheet.layout.arrangement in ("single", "inline"),
        earlier=frozenset(p.characteristic for p in past),
    )


def _quantities(case: Case, judged: Judged, past: tuple[PastReading, ...]) -> Iterator[Fact]:
    apart = standing(judged)
    for finding in judged.findings:
        fact = _quantity(finding, _before(finding, case, past))
        yield replace(fact, stands_out=apart.get(finding.id, ""))


def standing(judged: Judged) -> dict[str, str]:
    """By finding id, whether it stands ``above`` or ``below`` its like; ``no`` where a test found nothing."""
    out = {finding_id(o.characteristic, o.position) for o in judged.outliers}
    tested = {(c.characteristic, c.axes) for c in judged.compared if c.statistic is not None}
    like: dict[tuple[str, tuple[str, ...]], list[Finding]] = defaultdict(list)
    for f in judged.findings:
        if f.quantity is not None and (f.characteristic, f.position.axes) in tested:
            like[f.characteristic, f.position.axes].append(f)
    return {f.id: _way(f, group) if f.id in out else "no" for group in like.values() for f in group}


def _way(finding: Finding, like: Iterable[Finding]) -> str:
    """On which side of the middle of its like a finding lies."""
    middle = median(f.quantity.value for f in like if f.quantity is not None)
    return "above" if finding.quantity is not None and finding.quantity.value > middle else "below"


def _quantity(finding: Finding, before: Quantity | None) -> Fact:
    now = finding.quantity
    both = (now, before) if now is not None and before is not None else None
    return Fact(
        finding.characteristic, finding.name, finding.position,
        known=finding.verdict not in UNKNOWN_VERDICTS, verdict=finding.verdict, side=finding.side,
        value=now.value if now else None, unit=finding.unit, decimals=finding.decimals,
        moved=both[0].value - both[1].value if both else None,
        u_moved=hypot(both[0].u, both[1].u) if both else 0.0,
        quantity=now, limit=finding.limit,
    )  # fmt: skip


def _before(finding: Finding, case: Case, past: tuple[PastReading, ...]) -> Quantity | None:
    """
    The latest earlier value of the same part at the same place; a part that is new has none.

    Hot and cold readings, or percents of unlike testers, are not held against each other.
    """
    part = _part(finding, case)
    wanted = (finding.characteristic, finding.position, part)
    alike = (p for p in reversed(past) if p.compares(finding.engine, finding.basis))
    return next((p.quantity for p in alike if (p.characteristic, p.position, p.part) == wanted), None)


def _part(finding: Finding, case: Case) -> str:
    """Serial of the part a finding belongs to, else the engine's; as in a past reading."""
    head, known = case.inspection.head, known_or_row(case.books, finding.characteristic)
    part = fitted_part(known, finding.position, head.fitted_parts) if known else None
    return part.id if part else head.engine.serial


def _rated(books: Books, inspection: Inspection) -> Iterator[Fact]:
    found: dict[tuple[str, Position], list[Seen]] = defaultdict(list)
    for r in inspection.ratings:
        seen = [Seen(r.damage, r.amount, r.size, r.strength, r.note)] if r.damage else []
        found[r.item, r.position].extend(seen)
    for (item, position), seen in found.items():
        yield Fact(item, _name(item, books), position, seen=tuple(seen))


def _answered(books: Books, inspection: Inspection) -> Iterator[Fact]:
    for a in inspection.answers:
        yield Fact(a.item, _name(a.item, books), a.position, chosen=a.chosen)


def _looked_at(books: Books, inspection: Inspection, kind: str, filled: Iterable[Fact]) -> Iterator[Fact]:
    """The facts that were filled in, and one that is not known for every place of the kind that was not."""
    known = tuple(filled)
    yield from known
    done = {(f.subject, f.position) for f in known}
    for item in _items(books):
        for position in places_along(item.axes, books) if item.kind == kind else ():
            if (item.id, position) not in done and not _left_as_absent(
                item.id, position, inspection.head.left_out
            ):
                yield Fact(item.id, _name(item.id, books), position, known=False)


def _left_as_absent(item: str, position: Position, left_out: tuple[LeftOut, ...]) -> bool:
    return any(not out.applies and out.item == item and _is_at(position, out.at) for out in left_out)


def _is_at(position: Position, at: Mapping[str, str]) -> bool:
    return all(in_group(position.label(axis) or "", label) for axis, label in at.items())


def _items(books: Books) -> Iterator[Item]:
    """Items of the checklist that belong to this engine."""
    layout = books.sheet.layout
    for section in books.checklist.sections:
        if applies_to(section.applies, layout):
            yield from (item for item in section.items if applies_to(item.applies, layout))


def _absent(books: Books, inspection: Inspection) -> Iterator[str]:
    """Subjects this engine has not got, by the layout or by what the inspector says."""
    here = {item.id for item in _items(books) if places_along(item.axes, books)}
    here -= {out.item for out in inspection.head.left_out if not out.applies and not out.at}
    for section in books.checklist.sections:
        yield from (item.id for item in section.items if item.id not in here)
    for known in books.catalogue.characteristics:
        needed = known.needs or (known.id,)
        if not applies_to(known.applies, books.sheet.layout) or not here.intersection(needed):
            yield from () if books.sheet.rows(known.id) and not known.needs else (known.id,)


def _labels(books: Books) -> dict[str, tuple[str, ...]]:
    layout, checklist = books.sheet.layout, books.checklist
    axes = (*LAYOUT_AXES, *layout.counts, *checklist.axes)
    return {axis: axis_labels(axis, books.sheet, checklist) for axis in axes}


def _name(subject: str, books: Books) -> str:
    """A subject in words: the name of its characteristic, else what the checklist calls its answer."""
    known, item = books.catalogue.known(subject), books.checklist.item(subject)
    return known.name if known else (item.told_as if item else "") or thing(subject)
