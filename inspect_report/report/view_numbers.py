"""Turns judged quantities into the table of results with uncertainty."""

from collections.abc import Sequence
from typing import Final

from inspect_report.judge.finding import Finding, Verdict
from inspect_report.report.figures import Figures, joined
from inspect_report.report.placed import placed
from inspect_report.report.reportparts import NumberView
from inspect_report.report.source import Source, beside, in_step
from inspect_report.report.view_findings import limits_in_short
from inspect_report.report.words import GOOD, capital, is_present
from inspect_report.telling.manner import message, say, thing, word
from inspect_report.telling.units import Among, signs

DIRECT: Final = message("read directly")


def numbers(source: Source) -> tuple[NumberView, ...]:
    """Every quantity that was judged, by characteristic and limit, with what stands behind its verdict."""
    rows: dict[tuple[str, str], list[Finding]] = {}
    for finding in source.a.judged.findings:
        if finding.quantity is not None and is_present(finding) and not source.says_the_same(finding):
            rows.setdefault((finding.characteristic, repr(finding.limit)), []).append(finding)
    return tuple(_number(source, in_step(same)) for same in rows.values())


def _number(source: Source, same: Sequence[Finding]) -> NumberView:
    kin = beside(*same)
    spreads = [_uncertainty(source.figures, f, kin) for f in same]
    common = spreads[0] if len(same) > 1 and len(set(spreads)) == 1 else ""
    chances = [f.inside for f in same if f.inside is not None]
    least = chance_words(min(chances), source.figures) if chances else "–"
    texts = (_value(source, f, kin, least, with_spread=not common) for f in same)
    order, values = placed(zip((f.position for f in same), texts, strict=True))
    return NumberView(
        name=capital(same[0].name),
        unit=signs(same[0].unit, kin),
        order=order,
        method=_method(same),
        values=values,
        uncertainty=common,
        limits=limits_in_short(same[0], source.figures, same) or "–",
        chance=least,
    )


def _method(same: Sequence[Finding]) -> str:
    """Formulas of a row; nothing where its values were read directly."""
    told = list(dict.fromkeys(formula_words(f.formula) for f in same))
    return "" if told == [say(DIRECT)] else joined(told, "or")


def _uncertainty(figures: Figures, finding: Finding, kin: Among) -> str:
    """The expanded uncertainty behind a value's own text."""
    q = finding.quantity
    return "" if q is None else figures.plus_minus(q, finding.unit, finding.decimals, kin)


def _value(source: Source, finding: Finding, kin: Among, least: str, *, with_spread: bool) -> str:
    """A value; with its verdict where that is not good, and its chance where that is not the row's."""
    q, figures = finding.quantity, source.figures
    if q is None:
        return ""
    if with_spread:
        value = figures.measured(q, finding.unit, finding.decimals, kin, bare=True)
    else:
        value = figures.as_fine_as_measured(q, finding.unit, finding.decimals, kin)
    if _goes_without_saying(finding):
        return value
    own = least if finding.inside is None else chance_words(finding.inside, figures)
    told = [word(finding.verdict), *([] if own == least else [say("inside: {chance}", chance=own)])]
    return f"{value} ({', '.join(told)})"


def _goes_without_saying(finding: Finding) -> bool:
    """Whether a verdict is not told at each value: a good one, or that a whole row has no limit."""
    return finding.verdict in GOOD or (finding.verdict is Verdict.NO_LIMIT and finding.limit is None)


def chance_words(inside: float, figures: Figures) -> str:
    """A probability as per cent, never told as certain."""
    if inside > 0.999:
        return say("over {share}", share=figures.percent(0.999, 1))
    return (
        say("under {share}", share=figures.percent(0.001, 1))
        if inside < 0.001
        else figures.percent(inside, 1)
    )


def formula_words(formula: str) -> str:
    """A formula's name in words."""
    return say(DIRECT) if formula in ("", "reading") else thing(formula.rpartition(".")[2])
