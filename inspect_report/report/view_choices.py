"""Turns head gaskets and bearing shells to choose among into the rows of their tables."""

from collections.abc import Collection, Sequence
from typing import Final

from inspect_report.advise.advice import WorkItem
from inspect_report.measure.derived import GasketChoice, ShellChoice
from inspect_report.records.position import finding_id
from inspect_report.records.quantity import Quantity
from inspect_report.report.figures import Figures, joined
from inspect_report.report.reportparts import GasketView, ShellView
from inspect_report.report.source import Source
from inspect_report.report.statements import GASKETS, GASKETS_UNBOUND, SQUISH
from inspect_report.report.view_findings import source_words
from inspect_report.report.words import capital, places_words, sentence
from inspect_report.telling.manner import lowered, say, word
from inspect_report.telling.positions import place_words

SQUISH_GAP: Final = "squish-gap"
RATIO: Final = "compression-ratio"
_NEAR: Final = 2.0
"""Standard uncertainties within which a gap or ratio may lie on either side of its bound."""


def gasket_note(source: Source, grades: Sequence[GasketChoice]) -> str:
    """What the gap is, by which bounds a gasket is chosen and whose they are, and what work makes it void."""
    floor, ceiling = grades[0].squish_floor, grades[0].ratio_ceiling
    bounds = []
    if floor is not None:
        gap = source.figures.limit(floor, "mm", 2)
        bounds.append(
            say("squish gap at least {gap} ({whose})", gap=gap, whose=_whose(source, SQUISH_GAP, floor))
        )
    if ceiling is not None:
        most = source.figures.limit(ceiling, "1", 2)
        whose = _whose(source, RATIO, ceiling)
        bounds.append(say("compression ratio at most {ratio} : 1 ({whose})", ratio=most, whose=whose))
    chosen = say(GASKETS, bounds=joined(bounds)) if floor is not None else say(GASKETS_UNBOUND)
    return _with_work(source, f"{say(SQUISH)} {chosen}", SQUISH_GAP, RATIO)


def _whose(source: Source, characteristic: str, bound: float) -> str:
    """Which end of which row a bound is, and where that stands."""
    rows = (f.limit for f in source.of(characteristic) if f.limit is not None)
    row = next(rows, None)
    if row is None:
        return word("spec sheet")
    new = bound in (row.standard_low, row.standard_high)
    what = say("as for new parts") if new else say("the limit")
    return ", ".join(t for t in (what, source_words(row, source.a.sheet.manual)) if t)


def _with_work(source: Source, told: str, *characteristics: str) -> str:
    """A note, and the work after which its table holds no longer."""
    names = [_with_place(w) for w in altering(source, *characteristics)]
    if not names:
        return told
    return f"{told} {say('Measure and choose again after: {jobs}.', jobs=joined(names))}"


def _with_place(item: WorkItem) -> str:
    places = [p for p in item.positions if p.axes]
    name = lowered(item.name)
    return name if item.name_says_where or not places else f"{name} ({places_words(places)})"


def altering(source: Source, *characteristics: str) -> list[WorkItem]:
    """Jobs this report asks for after which some characteristics are others."""
    asked = (w for w in source.a.advice.work if not w.covered_by and w.urgency != "watch")
    return [w for w in asked if set(w.alters) & set(characteristics)]


def gaskets(source: Source, grades: Sequence[GasketChoice]) -> tuple[GasketView, ...]:
    """The rows of the table of head gaskets, thinnest first."""
    chosen = next((g for g in grades if g.chosen), None)
    return tuple(_gasket(source, grade, chosen) for grade in grades)


def gasket_role(grade: GasketChoice) -> str:
    """Whether a grade is the one to fit, the one fitted now, or both; else nothing."""
    role = say("to fit") if grade.chosen else ""
    if not grade.fitted:
        return role
    return say("{role}, fitted now", role=role) if role else say("fitted now")


def _gasket(source: Source, grade: GasketChoice, chosen: GasketChoice | None) -> GasketView:
    figures = source.figures
    gap = figures.measured(Quantity(grade.squish, grade.squish_u, "length"), "mm", 2)
    return GasketView(
        grade=grade.grade,
        thickness=figures.limit(grade.thickness, "mm", 2),
        squish=gap,
        ratio=_ratio(figures, grade),
        judged=_judged(grade, chosen),
        role=gasket_role(grade),
        chosen=grade.chosen,
    )


def _ratio(figures: Figures, grade: GasketChoice) -> str:
    if grade.ratio is None:
        return "–"
    return f"{figures.measured(Quantity(grade.ratio, grade.ratio_u or 0.0, 'ratio'), '1', 2)} : 1"


def _judged(grade: GasketChoice, chosen: GasketChoice | None) -> str:
    """Pass or fail of each bound, and why a grade that keeps both is not the one to fit."""
    faults = ([] if grade.squish_ok else [say("squish gap too small")]) + (
        [] if grade.ratio_ok else [say("ratio too high")]
    )
    kept = say("keeps both bounds")
    if not faults and chosen is not None and grade.thickness > chosen.thickness:
        kept += say(", as a thinner one does")
    near = say("near its bound, by its uncertainty") if _is_near(grade) else ""
    return "; ".join(part for part in (joined(faults) or kept, near) if part)


def _is_near(grade: GasketChoice) -> bool:
    """Whether the gap or the ratio may lie on the other side of its bound."""
    pairs = (
        (grade.squish, grade.squish_floor, grade.squish_u),
        (grade.ratio, grade.ratio_ceiling, grade.ratio_u),
    )
    return any(
        value is not None and bound is not None and abs(value - bound) < _NEAR * (u or 0.0)
        for value, bound, u in pairs
    )


def shells(source: Source, choices: Sequence[ShellChoice]) -> tuple[ShellView, ...]:
    """The rows of the table of bearing shells, in the order of the engine."""
    replaced = {c.bearing for c in choices if altering(source, f"{c.bearing}-clearance")}
    return tuple(_shell(source.figures, c, _remarks(source, c, replaced)) for c in choices)


def _remarks(source: Source, choice: ShellChoice, replaced: Collection[str]) -> str:
    """What to know of the shells to fit in one bearing, in sentences."""
    only = "" if choice.bearing in replaced else say("only if replaced")
    told = (choice.note, _doubt(source, choice), _without_clearance(choice), only)
    return " ".join(sentence(t) for t in told if t)


def _doubt(source: Source, choice: ShellChoice) -> str:
    """What to do first, where two ways to the clearance as it is contradict each other."""
    finding = source.findings.get(finding_id(f"{choice.bearing}-clearance", choice.position))
    return say("two ways of measuring disagree: measure again first") if finding and finding.doubt else ""


def _shell(figures: Figures, choice: ShellChoice, remarks: str) -> ShellView:
    after = "–"
    if choice.clearance is not None:
        after = figures.measured(Quantity(choice.clearance, choice.clearance_u or 0.0, "length"), "mm", 3)
    return ShellView(
        place=capital(place_words(choice.position)),
        housing=_class(choice.housing, choice.housing_by),
        journal=_class(choice.journal, choice.journal_by),
        fitted=choice.fitted or "–",
        fit=choice.grade or say("none fits"),
        after=after,
        change=choice.grade.casefold() != choice.fitted.casefold(),
        note=remarks,
    )


def _without_clearance(choice: ShellChoice) -> str:
    """Why no clearance is told for the shells to fit."""
    if choice.clearance is not None or not choice.grade:
        return ""
    if choice.thickness is None:
        return say("no clearance: their thickness is not known")
    unread = [
        name
        for name, by in ((say("housing"), choice.housing_by), (say("journal"), choice.journal_by))
        if by == "mark"
    ]
    return say("no clearance: {what} not measured", what=joined(unread)) if unread else ""


def _class(name: str, by: str) -> str:
    return say("{shell} by {ground}", shell=name, ground=by) if name else say("outside the table")
