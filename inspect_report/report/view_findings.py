"""Turns findings into the rows of assemblies, and of results with uncertainty."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import groupby
from typing import Final

from inspect_report.judge.finding import (
    SIGNIFICANCE,
    Compared,
    Finding,
    Grade,
    Limit,
    Outlying,
    Verdict,
)
from inspect_report.measure.budget import expanded
from inspect_report.measure.rounding import rounded_up, uncertainty_decimals
from inspect_report.records.position import Position
from inspect_report.records.quantity import difference_from_si, from_si
from inspect_report.report.chainparts import ChainView
from inspect_report.report.figures import (
    NBSP,
    Figures,
    joined,
    with_unit,
)
from inspect_report.report.reportparts import (
    Bar,
    PhotoView,
    ResultView,
)
from inspect_report.report.source import Source, beside, chip
from inspect_report.report.words import (
    DEEPEST,
    GOOD,
    GRAVITY,
    MEANING,
    NOT_GOOD,
    capital,
    cited,
    is_present,
    places_words,
    seen_words,
    sentence,
    tone,
    where_in_short,
    where_words,
)
from inspect_report.telling.manner import lowered, message, say, say_count, word
from inspect_report.telling.positions import answer_words
from inspect_report.telling.units import Way, each

Why = Callable[[Sequence[Finding]], tuple[ChainView, ...]]
Show = Callable[[Sequence[Finding]], tuple[PhotoView, ...]]

WATCHED: Final = message("watched from {share} of its wear allowance on")
A_SIGN: Final = message("a sign that needs attention; seen or heard, not measured")
ASKED: Final = (*NOT_GOOD, Verdict.CHECK_FAILED)
MOST = 1.25
"""How far a wear bar reaches, as a share of the length at which its limit stands."""


def wear_bar(used: float | None, verdict: Verdict, figures: Figures) -> Bar | None:
    """The bar of a share of allowance; None where none is known or none is used."""
    if not used:
        return None
    width = 100.0 * min(MOST, max(0.0, used))
    text = figures.percent(used) if used < 10.0 else say("over {share}", share=figures.percent(9.99))
    return Bar(f"{width:.1f}", tone(verdict), text, used > 1.0)


def results(source: Source, findings: Sequence[Finding], why: Why, show: Show) -> tuple[ResultView, ...]:
    """
    Rows of one assembly: characteristics in their order, places with one verdict together.

    Args:
        source: What is looked up.
        findings: Findings of the assembly.
        why: Gives the chains behind the verdicts of a row.
        show: Gives the photos of a row.
    """
    rows: list[ResultView] = []
    present = [
        f
        for f in findings
        if is_present(f) and not is_clean(f) and not is_unlimited(f) and not source.says_the_same(f)
    ]
    for _, same in by_characteristic(present):
        limit: Limit | None = None
        for n, alike in enumerate(_alike(same)):
            row = _result(source, alike, first=n == 0, as_above=n > 0 and alike[0].limit == limit)
            row = replace(row, chains=why(alike), photos=show(alike))
            rows.append(row if n == 0 else replace(row, plain=""))
            limit = alike[0].limit
    return tuple(rows)


def is_clean(finding: Finding) -> bool:
    """Whether a place was looked at by eye and nothing was found."""
    return finding.verdict is Verdict.AS_NEW and finding.quantity is None and not finding.doubt


def is_unlimited(finding: Finding) -> bool:
    """Whether something was measured or answered that nothing gives a limit or a verdict for."""
    told = finding.quantity is not None or bool(finding.chosen)
    return finding.verdict is Verdict.NO_LIMIT and finding.limit is None and told


def unlimited(source: Source, findings: Sequence[Finding]) -> tuple[str, ...]:
    """What was read or answered with nothing to hold it against, each with its places and values."""
    told = []
    for characteristic, same in by_characteristic(f for f in findings if is_unlimited(f)):
        if source.says_the_same(same[0]):
            continue
        where = where_in_short([f.position for f in same], source.everywhere[characteristic])
        place = "" if where == "engine" else f" ({where})"
        told.append(f"{lowered(same[0].name)}{place}: {found_words(source.figures, same)}")
    return tuple(told)


def clean(source: Source, findings: Sequence[Finding]) -> tuple[str, ...]:
    """What was looked at with nothing found, each with its places."""
    told = []
    for characteristic, same in by_characteristic(f for f in findings if is_clean(f)):
        where = where_in_short([f.position for f in same], source.everywhere[characteristic])
        answers = joined(list(dict.fromkeys(answer_words(c) for f in same for c in f.chosen)))
        place = "" if where == "engine" else f" ({where})"
        told.append(f"{lowered(same[0].name)}{place}{f': {answers}' if answers else ''}")
    return tuple(told)


def by_characteristic(findings: Iterable[Finding]) -> Iterable[tuple[str, list[Finding]]]:
    """Findings by their characteristic, in the order they come."""
    gathered: dict[str, list[Finding]] = {}
    for finding in findings:
        gathered.setdefault(finding.characteristic, []).append(finding)
    return gathered.items()


def _alike(findings: Iterable[Finding]) -> Iterable[list[Finding]]:
    """Findings that share verdict, limit and what was seen, gravest first; good ones together."""
    ordered = sorted(findings, key=_key)
    return (sorted(group, key=lambda f: GRAVITY.index(f.verdict)) for _, group in groupby(ordered, key=_key))


def _key(finding: Finding) -> tuple[int, str, str, str]:
    if finding.quantity is not None and finding.verdict in GOOD:
        return GRAVITY.index(Verdict.SERVICEABLE), repr(finding.limit), finding.doubt, ""
    what = "; ".join(seen_words(s) for s in finding.seen) or ", ".join(finding.chosen)
    reason = finding.reason if finding.verdict is Verdict.CHECK_FAILED else ""
    return GRAVITY.index(finding.verdict), repr(finding.limit), what, reason


def _result(source: Source, alike: Sequence[Finding], *, first: bool, as_above: bool) -> ResultView:
    one = alike[0]
    standard, limit = limit_words(one, source.figures, alike)
    where = _where(source, sorted(alike, key=source.order))
    worst = max((f.used for f in alike if f.used is not None), default=None)
    origin = one.limit.origin if one.limit else ""
    return ResultView(
        name=capital(one.name),
        plain=_plain(source, one),
        first=first,
        as_above=as_above,
        short=limits_in_short(one, source.figures, alike),
        where=capital(where),
        where_within=where,
        found=found_words(source.figures, alike),
        standard=standard,
        limit=limit,
        source=source_words(one.limit, source.a.sheet.manual),
        origin=word(origin) if origin else "",
        origin_tone=origin.replace(" ", "-"),
        chip=chip(one.verdict),
        bar=wear_bar(worst, one.verdict, source.figures),
        means=means(source, alike),
        anchor=anchor(one.id),
        chains=(),
        photos=(),
    )


def _plain(source: Source, finding: Finding) -> str:
    """What a characteristic is, where the customer will ask; the rest stands in the glossary."""
    return sentence(source.a.plain.get(finding.characteristic, "")) if finding.verdict in ASKED else ""


def anchor(finding_id: str) -> str:
    """An id of the page for a finding."""
    return "f-" + finding_id.replace(".", "-")


def _where(source: Source, alike: Sequence[Finding]) -> str:
    everywhere = source.everywhere[alike[0].characteristic]
    told = where_in_short if alike[0].verdict in GOOD else where_words
    return told([f.position for f in alike], everywhere)


def found_words(figures: Figures, alike: Sequence[Finding]) -> str:
    """What was measured or seen at one or several places."""
    measured = [f for f in alike if f.quantity is not None]
    if len(measured) == 1 and measured[0].quantity is not None:
        one = measured[0]
        return figures.measured(measured[0].quantity, one.unit, one.decimals, beside(one))
    if measured:
        return _spread(figures, measured)
    first = alike[0]
    if first.seen:
        return capital("; ".join(seen_words(s) for s in first.seen))
    if first.chosen:
        return capital(joined([answer_words(c) for c in first.chosen]))
    return "–" if first.verdict is Verdict.CHECK_FAILED else say("Nothing found")


def _spread(figures: Figures, measured: Sequence[Finding]) -> str:
    """The range of several values, with the largest of their uncertainties."""
    quantities = [f.quantity for f in measured if f.quantity is not None]

    def told(way: Way) -> str:
        values = [from_si(q.value, way.unit) for q in quantities]
        doubts = [abs(difference_from_si(expanded(q), way.unit)) for q in quantities]
        finest = way.decimals if way.converted else max(_places(d, way.decimals) for d in doubts)
        low, high = (figures.number(end, finest) for end in (min(values), max(values)))
        span = low if low == high else say("{low} to {high}", low=low, high=high)
        wide = figures.number(rounded_up(max(doubts), finest), finest)
        return with_unit(span, way.unit) + (f" (±\u00a0{wide})" if max(doubts) else "")

    return each(measured[0].unit, max(f.decimals for f in measured), beside(*measured), told)


def _places(wide: float, decimals: int) -> int:
    """Decimals of a value in a range: as fine as it stands alone before its uncertainty."""
    return uncertainty_decimals(wide, decimals) if wide else decimals


def limit_words(finding: Finding, figures: Figures, alike: Sequence[Finding] = ()) -> tuple[str, str]:
    """Standard range and limit of a finding, told beside findings like it; empty where no row is known."""
    row, decimals, kin = finding.limit, finding.decimals, beside(finding, *alike)
    if row is None:
        return "", ""
    standard = figures.range(row.standard_low, row.standard_high, row.unit, decimals, kin)
    limit = figures.range(row.low, row.high, row.unit, decimals, kin)
    hot = f" ({word(row.condition)})" if row.condition and (standard or limit) else ""
    return (standard, f"{limit}{hot}") if limit else (f"{standard}{hot}", "")


def limits_in_short(finding: Finding, figures: Figures, alike: Sequence[Finding] = ()) -> str:
    """Standard range and limit in one narrow cell; empty where no row is known."""
    row, decimals, kin = finding.limit, finding.decimals, beside(finding, *alike)
    if row is None:
        return ""
    limit = figures.range(row.low, row.high, row.unit, decimals, kin, short=True)
    new = row.standard_low, row.standard_high
    standard = figures.range(*new, row.unit, decimals, kin, bare=bool(limit), short=True)
    parts = [
        say("new {standard}", standard=standard) if standard else "",
        say("limit {limit}", limit=limit) if limit else "",
    ]
    return ", ".join(p.replace(" ", NBSP).replace(f"{NBSP}(", " (") for p in parts if p)


def source_words(limit: Limit | None, manual: str) -> str:
    """Where a limit stands; the sheet's own manual is named once for all and left out here."""
    if limit is None:
        return ""
    told = limit.source if limit.source != limit.origin else ""
    memory = say("from memory") if limit.sure == "from memory" else ""
    short = told.removeprefix(manual).removeprefix(", ") if manual else told
    return ", ".join(t for t in (cited(short), memory) if t)


def means(source: Source, alike: Sequence[Finding]) -> str:
    """What a result means for the customer; empty where all is well."""
    first = alike[0]
    if first.verdict not in (*NOT_GOOD, Verdict.NO_LIMIT, Verdict.CHECK_FAILED):
        return " ".join(filter(None, (_as_new_among(source, alike), sentence(first.doubt))))
    parts = [_first_sentence(source, alike), *(source.a.damage.get(s.damage, "") for s in first.seen)]
    parts += [f.apart for f in alike] if first.seen else [f.note for f in alike]
    parts += [f.doubt for f in alike]
    if first.verdict is Verdict.MARGINAL and not any(f.id in source.asking for f in alike):
        parts.append(say("no work follows from it yet"))
    return " ".join(dict.fromkeys(sentence(p) for p in parts if p))


def _as_new_among(source: Source, alike: Sequence[Finding]) -> str:
    """Which of several good places are as new, where not all share the word."""
    fresh = [f.position for f in alike if f.verdict is Verdict.AS_NEW]
    if not fresh or len(fresh) == len(alike):
        return ""
    return sentence(
        say(
            "as new: {where}",
            where=where_in_short(fresh, source.everywhere[alike[0].characteristic]),
        )
    )


def _first_sentence(source: Source, alike: Sequence[Finding]) -> str:
    """The book's words for what is beyond its limit; the judgement's own where they say more."""
    first = alike[0]
    known = source.a.if_beyond.get(first.characteristic, "")
    if first.verdict is Verdict.BEYOND_LIMIT and known:
        return known
    if first.seen:
        return ""
    if first.verdict is Verdict.NO_LIMIT:
        disputed = first.limit.disputed if first.limit else ""
        return (
            say("the printed limit is in doubt and not used for judging: {disputed}", disputed=disputed)
            if disputed
            else ""
        )
    if first.verdict is Verdict.MARGINAL:
        watch = None if first.limit is None or first.quantity is None else first.limit.watch
        return say(A_SIGN) if watch is None else say(WATCHED, share=source.figures.percent(watch))
    return first.reason if len({f.reason for f in alike}) == 1 else say(MEANING[first.verdict])


def outlier_notes(source: Source, assembly: str) -> tuple[str, ...]:
    """
    Places that stand out from their like, and cylinders that were compared and do not.

    By which test, and how little a few values decide, ``outlier_test`` says.
    """
    names = {f.characteristic: f.name for f in source.a.judged.findings if f.assembly == assembly}
    outliers = [o for o in source.a.judged.outliers if o.characteristic in names]
    cylinders = [c for c in source.a.judged.compared if c.characteristic in names and c.axes == ("cylinder",)]
    told = (_standing_out(outliers, names), _none_standing_out(cylinders, names))
    said = " ".join(part for part in told if part)
    return (said,) if said else ()


def outlier_test(source: Source) -> tuple[str, ...]:
    """By which test places are held against each other, and how little few values decide; for the record."""
    judged = source.a.judged
    if not (judged.outliers or judged.compared):
        return ()
    test = say(
        "What stands out from others of its kind: by Grubbs' outlier test, both sides, "
        "significance {percent} %.",
        percent=f"{100 * SIGNIFICANCE:.0f}",
    )
    notes = dict.fromkeys((*(o.note for o in judged.outliers), *(c.note for c in judged.compared)))
    return (" ".join((test, *(sentence(note) for note in notes if note))),)


def _standing_out(outliers: Sequence[Outlying], names: Mapping[str, str]) -> str:
    places: dict[str, list[Position]] = {}
    for outlier in outliers:
        places.setdefault(names[outlier.characteristic], []).append(outlier.position)
    told = "; ".join(
        say("{name} at {places}", name=lowered(name), places=places_words(where))
        for name, where in places.items()
    )
    return say("Stands out from the others of its kind: {places}.", places=told) if told else ""


def _none_standing_out(cylinders: Sequence[Compared], names: Mapping[str, str]) -> str:
    tested = (c for c in cylinders if c.statistic is not None and not c.stands_out)
    told = joined(list(dict.fromkeys(lowered(names[c.characteristic]) for c in tested)))
    return say("No cylinder stands out in {names}.", names=told) if told else ""


def coverage_words(source: Source, grade: Grade) -> str:
    """How much of an assembly was looked at, and its score."""
    used = say_count(
        "graded on {used} of {count} check",
        "graded on {used} of {count} checks",
        grade.planned,
        used=grade.used,
    )
    deeper = _deeper(source, grade.beyond_depth) if grade.beyond_depth else ""
    score = say("; score {score} of 100", score=source.score(grade)) if grade.score is not None else ""
    one_cause = source.one_cause(grade.assembly)
    return capital(used + deeper + score) + (f". {capital(one_cause)}" if one_cause else "")


def _deeper(source: Source, count: int) -> str:
    """How many checks belong to another depth; once all is open, none of them to a deeper one."""
    if source.a.inspection.head.depth == DEEPEST:
        return say_count("; {count} more at another depth", "; {count} more at another depth", count)
    return say_count(
        "; {count} more needs a deeper strip-down", "; {count} more need a deeper strip-down", count
    )
