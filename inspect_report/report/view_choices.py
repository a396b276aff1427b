"""Turns head gaskets and bearing shells to choose among into the rows of their tables."""

from collections.abc import Sequence
from typing import Final

from inspect_report.measure.derived import GasketChoice, ShellChoice
from inspect_report.records.position import finding_id
from inspect_report.records.quantity import Quantity
from inspect_report.report.figures import Figures, joined
from inspect_report.report.reportparts import GasketView, ShellView
from inspect_report.report.source import Source
from inspect_report.report.words import capital, sentence
from inspect_report.telling.manner import say
from inspect_report.telling.positions import place_words

_NEAR: Final = 2.0
"""Standard uncertainties within which a gap or ratio may lie on either side of its bound."""


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
    return tuple(_shell(source.figures, choice, _doubt(source, choice)) for choice in choices)


def _doubt(source: Source, choice: ShellChoice) -> str:
    """What to do first, where two ways to the clearance as it is contradict each other."""
    finding = source.findings.get(finding_id(f"{choice.bearing}-clearance", choice.position))
    return say("two ways of measuring disagree: measure again first") if finding and finding.doubt else ""


def _shell(figures: Figures, choice: ShellChoice, doubt: str) -> ShellView:
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
        note=" ".join(filter(None, (sentence(choice.note), sentence(doubt)))),
    )


def _class(name: str, by: str) -> str:
    return say("{shell} by {ground}", shell=name, ground=by) if name else say("outside the table")
