"""Turns grades, findings and work into the first page: what a customer must know in half a minute."""

from collections.abc import Sequence
from typing import Final

from inspect_report.judge.finding import Finding, Grade, Verdict
from inspect_report.records.position import Position
from inspect_report.report.figures import joined
from inspect_report.report.reportparts import Bar, Fact, GradeView, VerdictView
from inspect_report.report.source import Source, chip
from inspect_report.report.words import capital, finding_name, places_words, sentence, tone
from inspect_report.telling.manner import lowered, message, say, say_count, word
from inspect_report.telling.positions import at_words, label_words

DEEPEST: Final = "fully stripped"
DANGER: Final = message(
    "Running it can break it for good within minutes, and an engine that locks can lock the "
    "wheel or the machine it drives and throw whoever rides or works with it. Reasons:"
)
HEADLINES: Final = {
    "as new": message("As new in everything that was inspected"),
    "serviceable": message("Serviceable"),
    "marginal": message("Serviceable, with reservations"),
    "unserviceable": message("Not serviceable as it stands"),
    "not graded": message("Not graded: too little was inspected to say"),
}


def verdict(source: Source) -> VerdictView:
    """The statement of condition."""
    grade = source.a.judged.engine
    return VerdictView(
        chip=chip(grade.word),
        headline=verdict_headline(source),
        sentence=_sentence(source),
        basis=_basis(source, grade),
        do_not_run=tuple(sentence(c) for c in grade.caps) if grade.do_not_run else (),
        danger=say(DANGER) if grade.do_not_run else "",
        score=source.score(grade),
    )


def verdict_headline(source: Source) -> str:
    """The verdict in a few words."""
    grade = source.a.judged.engine
    if grade.do_not_run:
        return say("Do not run this engine")
    if _of(source, Verdict.BEYOND_LIMIT) and grade.word in ("as new", "serviceable", "marginal"):
        return say("Needs work")
    return say(HEADLINES.get(grade.word, capital(grade.word)))


def _of(source: Source, wanted: Verdict) -> list[Finding]:
    return [f for f in source.a.judged.findings if f.verdict is wanted]


def _sentence(source: Source) -> str:
    """What stands behind the verdict, in one or two sentences."""
    beyond, near, open_ = (
        _of(source, v) for v in (Verdict.BEYOND_LIMIT, Verdict.MARGINAL, Verdict.UNDECIDED)
    )
    parts = (
        [_beyond_words(beyond)]
        if beyond
        else [say("Nothing that was inspected is shown to be beyond its limit")]
    )
    if near:
        parts.append(
            say_count(
                "{count} finding has little allowance left",
                "{count} findings have little allowance left",
                len(near),
            )
        )
    if open_:
        parts.append(
            say_count(
                "{count} is too near the limit to decide",
                "{count} are too near the limit to decide",
                len(open_),
            )
        )
    return f"{'; '.join(parts)}."


def _beyond_words(beyond: Sequence[Finding], most: int = 3) -> str:
    places: dict[str, dict[str, None]] = {}
    for finding in sorted(beyond, key=lambda f: -(f.used or 0.0)):
        cylinder = finding.position.label("cylinder")
        places.setdefault(finding.name, {}).update({cylinder: None} if cylinder else {})
    names = [_at_cylinders(name, sorted(where)) for name, where in places.items()]
    told = (
        joined(names)
        if len(names) <= most
        else say("{list} and {count} more", list=", ".join(names[:most]), count=len(names) - most)
    )
    return say_count(
        "{count} finding is beyond the limit: {names}",
        "{count} findings are beyond the limit: {names}",
        len(beyond),
        names=told,
    )


def _at_cylinders(name: str, cylinders: Sequence[str]) -> str:
    if not cylinders:
        return lowered(name)
    where = (
        label_words("cylinder", cylinders[0])
        if len(cylinders) == 1
        else say("{things} {labels}", things=say("cylinders"), labels=joined(list(cylinders)))
    )
    return f"{lowered(name)} ({where})"


def _basis(source: Source, grade: Grade) -> str:
    depth = source.a.inspection.head.depth

    used = say_count(
        "Depth: {depth}. Graded on {used} of {count} check of this depth",
        "Depth: {depth}. Graded on {used} of {count} checks of this depth",
        grade.planned,
        depth=word(depth),
        used=grade.used,
    )
    other = (
        message("; {count} more belong to a check at another depth")
        if depth == DEEPEST
        else message("; {count} more would need a deeper strip-down")
    )
    deeper = say(other, count=grade.beyond_depth) if grade.beyond_depth else ""
    return f"{used}{deeper}."


def grades(source: Source) -> tuple[GradeView, ...]:
    """Grades by assembly, in the order of the book; assemblies this engine does not have are left out."""
    return tuple(_grade(source, g) for g in source.a.judged.grades if g.planned or g.beyond_depth or g.used)


def _grade(source: Source, grade: Grade) -> GradeView:
    return GradeView(
        name=grade.name,
        anchor=f"assembly-{grade.assembly}",
        chip=chip(grade.word),
        score=source.score(grade),
        bar=_left(grade),
        coverage=say("{used} of {planned}", used=grade.used, planned=grade.planned),
        deeper=str(grade.beyond_depth) if grade.beyond_depth else "–",
        why=_why(source, grade),
    )


def _left(grade: Grade) -> Bar | None:
    if grade.score is None:
        return None
    return Bar(f"{grade.score:.1f}", tone(grade.word), "", False)


def _why(source: Source, grade: Grade, most: int = 3) -> tuple[str, ...]:
    """The findings that set the word, where it is not a good one, then the caps."""
    if grade.word in ("as new", "serviceable", "not graded"):
        return ()
    named: dict[tuple[str, str], list[Position]] = {}
    for finding in (source.findings[i] for i in grade.worst if i in source.findings):
        named.setdefault((finding.name, word(finding.verdict)), []).append(finding.position)
    told = [_setting(name, verdict, places) for (name, verdict), places in named.items()]
    more = [say("and {count} more", count=len(told) - most)] if len(told) > most else []
    return (*told[:most], *more, *(capital(c) for c in grade.caps))


def _setting(name: str, verdict: str, places: list[Position]) -> str:
    where = places_words(places)
    at = (
        ""
        if where == "engine"
        else f", {where}"
        if len(where) < 45
        else say(", {count} places", count=len(places))
    )
    return f"{capital(name)}{at}: {verdict}"


def failed(source: Source) -> tuple[str, ...]:
    """Checks of ours that went wrong, told on the first page."""
    told = [f"{capital(finding_name(f))}: {f.reason}" for f in _of(source, Verdict.CHECK_FAILED)]
    named = {(f.characteristic, f.position) for f in _of(source, Verdict.CHECK_FAILED)}
    rest = [f for f in source.a.failures if (f.characteristic, f.position) not in named]
    return (*told, *(f"{capital(f.characteristic)}, {at_words(f.position)}: {f.message}" for f in rest))


def engine_facts(source: Source) -> tuple[Fact, ...]:
    """What tells this engine from every other."""
    engine, figures = source.a.inspection.head.engine, source.figures
    return _filled(
        (say("Serial number"), engine.serial),
        (say("Fitted in"), engine.machine),
        (say("Owner"), engine.owner),
        (say("Running time"), figures.hours(engine.running_time)),
        (say("Distance"), figures.distance(engine.distance)),
    )


def people(source: Source) -> tuple[Fact, ...]:
    """Who asked, who inspected, where, when and how deep."""
    head, day = source.a.inspection.head, source.figures.day
    until = say(" to {day}", day=day(head.dates.inspected_until)) if head.dates.inspected_until else ""
    qualification = f", {head.inspector.qualification}" if head.inspector.qualification else ""
    customer = ", ".join(p for p in (head.customer.name, head.customer.address, head.customer.contact) if p)
    return _filled(
        (say("Asked by"), customer),
        (say("What was asked"), head.reason),
        (say("Inspected by"), head.inspector.name + qualification),
        (say("Where"), head.place),
        (say("Received"), day(head.dates.received)),
        (say("Inspected"), day(head.dates.inspected) + until),
        (say("Issued"), day(head.dates.issued)),
        (say("Depth"), word(head.depth)),
    )


def _filled(*pairs: tuple[str, str]) -> tuple[Fact, ...]:
    return tuple(Fact(label, text) for label, text in pairs if text)
