"""Turns findings into the rows of assemblies, of results with uncertainty and of what is missing."""

from collections.abc import Iterable, Sequence
from itertools import groupby

from inspect_report.judge.finding import Finding, Grade, Limit, Outlying, Verdict
from inspect_report.records.position import Position
from inspect_report.records.quantity import Quantity, difference_from_si, from_si
from inspect_report.report.figures import COVERAGE, Figures, counted, joined, rounded_up, with_unit
from inspect_report.report.reportparts import (
    Bar,
    MethodView,
    MissingGroup,
    MissingView,
    NumberView,
    ResultView,
)
from inspect_report.report.source import Source, chip
from inspect_report.report.words import (
    ABSENT,
    GRAVITY,
    MEANING,
    NOT_GOOD,
    capital,
    place_words,
    plain_name,
    seen_words,
    sentence,
    tone,
    where_words,
)

LIMIT_AT = 80.0
"""Where the limit stands on a wear bar, in per cent of its length; the rest is for what is beyond."""


def is_present(finding: Finding) -> bool:
    """Whether something was looked at and can be told."""
    return finding.verdict not in ABSENT


def wear_bar(used: float | None, verdict: Verdict, figures: Figures) -> Bar | None:
    """The bar of a share of allowance; None where no allowance is known."""
    if used is None:
        return None
    width = min(100.0, max(0.0, used) * LIMIT_AT)
    text = figures.percent(used) if used < 10.0 else f"over {figures.percent(9.99)}"
    return Bar(f"{width:.1f}", tone(verdict), text, used > 1.0)


def results(source: Source, findings: Sequence[Finding]) -> tuple[ResultView, ...]:
    """Rows of one assembly: characteristics in their order, places with one verdict together."""
    rows: list[ResultView] = []
    present = [f for f in findings if is_present(f)]
    for characteristic, same in _by_characteristic(present):
        plain = sentence(source.a.plain.get(characteristic, ""))
        for alike in _alike(same):
            rows.append(_result(source, alike, plain))
            plain = ""
    return tuple(rows)


def _by_characteristic(findings: Iterable[Finding]) -> Iterable[tuple[str, list[Finding]]]:
    gathered: dict[str, list[Finding]] = {}
    for finding in findings:
        gathered.setdefault(finding.characteristic, []).append(finding)
    return gathered.items()


def _alike(findings: Iterable[Finding]) -> Iterable[list[Finding]]:
    """Findings of one characteristic that share verdict, limit and what was seen, gravest first."""
    ordered = sorted(findings, key=_key)
    return (list(group) for _, group in groupby(ordered, key=_key))


def _key(finding: Finding) -> tuple[int, str, str, str]:
    what = "; ".join(seen_words(s) for s in finding.seen) or ", ".join(finding.chosen)
    reason = finding.reason if finding.verdict is Verdict.CHECK_FAILED else ""
    return GRAVITY.index(finding.verdict), repr(finding.limit), what, reason


def _result(source: Source, alike: Sequence[Finding], plain: str) -> ResultView:
    first = alike[0]
    standard, limit = limit_words(first, source.figures)
    worst = max((f.used for f in alike if f.used is not None), default=None)
    origin = first.limit.origin if first.limit else ""
    return ResultView(
        name=capital(first.name),
        plain=plain,
        where=_where(source, alike),
        found=found_words(source.figures, alike),
        standard=standard,
        limit=limit,
        source=_source_words(first.limit),
        origin=origin,
        origin_tone=origin.replace(" ", "-"),
        chip=chip(first.verdict),
        bar=wear_bar(worst, first.verdict, source.figures),
        means=means(source, alike),
        anchor=anchor(first.id),
    )


def anchor(finding_id: str) -> str:
    """An id of the page for a finding."""
    return "f-" + finding_id.replace(".", "-")


def _where(source: Source, alike: Sequence[Finding]) -> str:
    everywhere = source.everywhere[alike[0].characteristic]
    return capital(where_words([f.position for f in alike], everywhere))


def found_words(figures: Figures, alike: Sequence[Finding]) -> str:
    """What was measured or seen at one or several places."""
    measured = [f for f in alike if f.quantity is not None]
    if len(measured) == 1 and measured[0].quantity is not None:
        one = measured[0]
        return figures.measured(measured[0].quantity, one.unit, one.decimals)
    if measured:
        return _spread(figures, measured)
    first = alike[0]
    if first.seen:
        return capital("; ".join(seen_words(s) for s in first.seen))
    if first.chosen:
        return capital(joined([plain_name(c) for c in first.chosen]))
    return "–" if first.verdict is Verdict.CHECK_FAILED else "Nothing found"


def _spread(figures: Figures, measured: Sequence[Finding]) -> str:
    """The range of several values, with the largest of their uncertainties."""
    unit, decimals = measured[0].unit, measured[0].decimals
    quantities = [f.quantity for f in measured if f.quantity is not None]
    values = [from_si(q.value, unit) for q in quantities]
    largest = COVERAGE * max(abs(difference_from_si(q.u, unit)) for q in quantities)
    low, high = figures.number(min(values), decimals), figures.number(max(values), decimals)
    span = low if low == high else f"{low} to {high}"
    around = f" (±\u00a0{figures.number(rounded_up(largest, decimals), decimals)})" if largest else ""
    return with_unit(span, unit) + around


def limit_words(finding: Finding, figures: Figures) -> tuple[str, str]:
    """Standard range and limit of a finding; both empty where no row is known."""
    row = finding.limit
    if row is None:
        return "", ""
    standard = figures.range(row.standard_low, row.standard_high, row.unit, finding.decimals)
    limit = figures.range(row.low, row.high, row.unit, finding.decimals)
    hot = f" ({row.condition})" if row.condition and (standard or limit) else ""
    return (standard, f"{limit}{hot}") if limit else (f"{standard}{hot}", "")


def _source_words(limit: Limit | None) -> str:
    if limit is None:
        return ""
    memory = " (from memory)" if limit.sure == "from memory" else ""
    return f"{limit.source if limit.source != limit.origin else ''}{memory}"


def means(source: Source, alike: Sequence[Finding]) -> str:
    """What a result means for the customer; empty where all is well."""
    first = alike[0]
    if first.verdict not in (*NOT_GOOD, Verdict.NO_LIMIT, Verdict.CHECK_FAILED):
        return ""
    parts = [_first_sentence(source, alike), *(source.a.damage.get(s.damage, "") for s in first.seen)]
    parts += [f.note for f in alike]
    return " ".join(dict.fromkeys(sentence(p) for p in parts if p))


def _first_sentence(source: Source, alike: Sequence[Finding]) -> str:
    """The book's words for what is beyond its limit; the judgement's own where they say more."""
    first = alike[0]
    known = source.a.if_beyond.get(first.characteristic, "")
    if first.verdict is Verdict.BEYOND_LIMIT and known:
        return known
    telling = first.verdict is not Verdict.MARGINAL or bool(first.seen)
    return first.reason if telling and len({f.reason for f in alike}) == 1 else MEANING[first.verdict]


def numbers(source: Source) -> tuple[NumberView, ...]:
    """Every quantity that was judged, with what stands behind its verdict."""
    present = (f for f in source.a.judged.findings if is_present(f))
    return tuple(_number(source, f, f.quantity) for f in present if f.quantity is not None)


def _number(source: Source, finding: Finding, quantity: Quantity) -> NumberView:
    return NumberView(
        id=finding.id,
        name=capital(finding.name),
        where=place_words(finding.position),
        value=source.measured(finding, quantity),
        limits=limits_in_short(finding, source.figures),
        chance="–" if finding.inside is None else chance_words(finding.inside, source.figures),
        chip=chip(finding.verdict),
    )


def methods(source: Source) -> tuple[MethodView, ...]:
    """Formula and instruments of each characteristic that has a value."""
    present = [f for f in source.a.judged.findings if f.quantity is not None and is_present(f)]
    return tuple(_method(same) for _, same in _by_characteristic(present))


def _method(same: Sequence[Finding]) -> MethodView:
    formulas = dict.fromkeys(formula_words(f.formula) for f in same)
    instruments = dict.fromkeys(i for f in same for i in f.instruments)
    return MethodView(capital(same[0].name), joined(list(formulas), "or"), ", ".join(instruments) or "–")


def chance_words(inside: float, figures: Figures) -> str:
    """A probability as per cent, never told as certain."""
    if inside > 0.999:
        return f"over {figures.percent(0.999, 1)}"
    return f"under {figures.percent(0.001, 1)}" if inside < 0.001 else figures.percent(inside, 1)


def limits_in_short(finding: Finding, figures: Figures) -> str:
    """Standard range and limit in one narrow cell."""
    row = finding.limit
    if row is None:
        return "–"
    standard = figures.short_range(row.standard_low, row.standard_high, row.unit, finding.decimals)
    limit = figures.short_range(row.low, row.high, row.unit, finding.decimals)
    parts = [f"new {standard}" if standard else "", f"limit {limit}" if limit else ""]
    return ", ".join(p for p in parts if p) or "–"


def formula_words(formula: str) -> str:
    """A formula's name in words."""
    return "read directly" if formula in ("", "reading") else plain_name(formula)


def outlier_notes(source: Source, assembly: str) -> tuple[str, ...]:
    """Places that stand out from their like, in words."""
    names = {f.characteristic: f for f in source.a.judged.findings if f.assembly == assembly}
    return tuple(
        _outlier(o, names[o.characteristic]) for o in source.a.judged.outliers if o.characteristic in names
    )


def _outlier(outlier: Outlying, finding: Finding) -> str:
    return (
        f"{capital(place_words(outlier.position))} stands out from the other "
        f"{counted(outlier.count - 1, 'place', 'places')} in {finding.name[:1].lower() + finding.name[1:]} "
        "(outlier test, significance 5 %)."
    )


def coverage_words(source: Source, grade: Grade) -> str:
    """How much of an assembly was looked at, and its score."""
    used = f"graded on {grade.used} of {counted(grade.planned, 'check', 'checks')}"
    deeper = f"; {grade.beyond_depth} more need a deeper strip-down" if grade.beyond_depth else ""
    score = f"; score {source.score(grade)} of 100" if grade.score is not None else ""
    return capital(used + deeper + score)


def missing(source: Source, verdict: Verdict) -> tuple[MissingView, ...]:
    """Everything with one of the two verdicts of absence, places with one reason together."""
    rows: list[MissingView] = []
    absent = [f for f in source.a.judged.findings if f.verdict is verdict]
    for _, same in _by_characteristic(absent):
        for reason, places in _by_reason(same):
            rows.append(MissingView(capital(same[0].name), _missing_where(source, same[0], places), reason))
    return tuple(rows)


def _by_reason(findings: Iterable[Finding]) -> Iterable[tuple[str, list[Position]]]:
    gathered: dict[str, list[Position]] = {}
    for finding in findings:
        gathered.setdefault(finding.reason, []).append(finding.position)
    return gathered.items()


def _missing_where(source: Source, finding: Finding, places: list[Position]) -> str:
    words = where_words(places, source.everywhere[finding.characteristic])
    return "all of it" if words == "engine" else words


def missing_groups(source: Source, most: int = 4) -> tuple[MissingGroup, ...]:
    """What was not looked at, by reason, the reason with most of it first; for the first page."""
    gathered: dict[str, dict[str, None]] = {}
    for finding in source.a.judged.findings:
        if finding.verdict is Verdict.NOT_INSPECTED:
            gathered.setdefault(finding.reason, {})[_lowered(finding.name)] = None
    ordered = sorted(gathered.items(), key=lambda kv: -len(kv[1]))
    return tuple(MissingGroup(capital(r), _some(list(names))) for r, names in ordered[:most])


def _lowered(name: str) -> str:
    return name[:1].lower() + name[1:] if name[1:2].islower() else name


def _some(names: list[str], most: int = 6) -> str:
    if len(names) <= most:
        return joined(names)
    return f"{', '.join(names[:most])} and {len(names) - most} more"
