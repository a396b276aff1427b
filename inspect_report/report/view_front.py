"""Turns grades, findings and work into the first page: what a customer must know in half a minute."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from inspect_report.advise.advice import WorkItem
from inspect_report.judge.finding import Finding, Grade, Verdict
from inspect_report.knowledge.catalogue import URGENCIES
from inspect_report.records.position import ENGINE, Position
from inspect_report.report.figures import joined
from inspect_report.report.reportparts import Bar, Fact, GradeView, VerdictView
from inspect_report.report.source import Source, chip, grade_chip
from inspect_report.report.view_changed import kinds
from inspect_report.report.words import DEEPEST, capital, finding_name, places_words, sentence, tone
from inspect_report.telling.manner import lowered, message, say, say_count, word
from inspect_report.telling.positions import at_words, label_words

VERDICT: Final = "verdict"
"""The id by which the chain behind the verdict on the engine is asked for."""
GIVEN: Final = "given"
"""The id by which the lines of the file behind the facts of the first page are asked for."""
MOST_NAMED: Final = 3
"""How many kinds of findings the verdict names, and a grade; the rest is counted."""
MOST_CHANGED: Final = 6
"""How many kinds of findings are named that changed since the issue before."""
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
        chain=VERDICT,
    )


def verdict_headline(source: Source) -> str:
    """The verdict in a few words."""
    grade = source.a.judged.engine
    if grade.do_not_run:
        return say("Do not run this engine")
    if is_outdone(source) or must_be_done(source):
        return say("Needs work")
    return say(HEADLINES.get(grade.word, capital(grade.word)))


def is_outdone(source: Source) -> bool:
    """Whether a finding is beyond its limit that the grade says nothing of."""
    return _is_good(source) and bool(of_verdict(source, Verdict.BEYOND_LIMIT))


def must_be_done(source: Source) -> bool:
    """Whether a job must be done before the engine runs, though its grade is none that forbids it."""
    return _is_good(source) and any(_must(source))


def _is_good(source: Source) -> bool:
    return source.a.judged.engine.word in ("as new", "serviceable", "marginal")


def _must(source: Source) -> Iterator[WorkItem]:
    """Jobs that must be done before the engine runs, but for those that others do anyway."""
    return (w for w in source.a.advice.work if w.urgency == URGENCIES[0] and not w.covered_by)


def must_here(source: Source, grade: Grade) -> tuple[str, ...]:
    """
    Jobs that must be done at places of an assembly whose own grade is good, by what findings mean together.

    A grade counts findings one by one; a rule may see in several good ones what none of them shows alone.
    """
    if names_findings(grade):
        return ()
    here = {f.id: f.position for f in source.a.judged.findings if f.assembly == grade.assembly}
    evidence = {d.id: [f for e in d.evidence for f in e.findings] for d in source.a.advice.diagnoses}
    jobs = (
        w
        for w in _must(source)
        if any(here[f] in w.positions for why in w.why for f in evidence.get(why, ()) if f in here)
    )
    return tuple(
        say("Must be done all the same: {job}", job=lowered(w.name)) for w in jobs if w.positions != (ENGINE,)
    )


def of_verdict(source: Source, wanted: Verdict) -> list[Finding]:
    """The findings of one verdict."""
    return [f for f in source.a.judged.findings if f.verdict is wanted]


def _sentence(source: Source) -> str:
    """What stands behind the verdict, in one or two sentences."""
    beyond, near, open_ = (
        of_verdict(source, v) for v in (Verdict.BEYOND_LIMIT, Verdict.MARGINAL, Verdict.UNDECIDED)
    )
    parts = (
        [_beyond_words(beyond)]
        if beyond
        else [say("Nothing that was inspected is shown to be beyond its limit")]
    )
    if near:
        parts.append(
            say_count(
                "{count} marginal finding needs attention",
                "{count} marginal findings need attention",
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


def unnamed(findings: Iterable[Finding]) -> int:
    """How many kinds of some findings are not named but counted."""
    return max(0, len({(f.name, f.verdict) for f in findings}) - MOST_NAMED)


def _beyond_words(beyond: Sequence[Finding]) -> str:
    places: dict[str, dict[str, None]] = {}
    for finding in sorted(beyond, key=lambda f: -(f.used or 0.0)):
        cylinder = finding.position.label("cylinder")
        places.setdefault(finding.name, {}).update({cylinder: None} if cylinder else {})
    names = [_at_cylinders(name, sorted(where)) for name, where in places.items()]
    told = (
        say("{list} and {count} more", list=", ".join(names[:MOST_NAMED]), count=more)
        if (more := unnamed(beyond))
        else joined(names)
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
    return f"{used}{_bare_words(without_limit(source))}{deeper}."


def without_limit(source: Source) -> list[Finding]:
    """Checks that were made and that no grade rests on, since they have nothing to be held against."""
    weighing = {c.id for g in source.a.judged.grades for c in g.counted if c.weight and c.planned > c.used}
    return [f for f in of_verdict(source, Verdict.NO_LIMIT) if f.characteristic in weighing and not f.chosen]


def _bare_words(bare: Sequence[Finding]) -> str:
    """How many checks have no limit, and which, where they are few."""
    if not bare:
        return ""
    names = list(dict.fromkeys(lowered(f.name) for f in bare))
    which = f": {joined(names)}" if len(names) <= MOST_NAMED else ""
    return say_count(
        "; {count} more has no limit to be held against{which}",
        "; {count} more have no limit to be held against{which}",
        len(bare),
        which=which,
    )


def grades(source: Source) -> tuple[GradeView, ...]:
    """Grades by assembly, in the order of the book; assemblies this engine does not have are left out."""
    return tuple(_grade(source, g) for g in shown_grades(source))


def grade_id(assembly: str) -> str:
    """The id by which the chain behind the grade of an assembly is asked for."""
    return f"grade.{assembly}"


def shown_grades(source: Source) -> tuple[Grade, ...]:
    """The grades of what this engine has."""
    return tuple(g for g in source.a.judged.grades if g.planned or g.beyond_depth or g.used)


def _grade(source: Source, grade: Grade) -> GradeView:
    return GradeView(
        name=grade.name,
        anchor=f"assembly-{grade.assembly}",
        chip=grade_chip(grade),
        score=source.score(grade),
        bar=_left(grade),
        coverage=say("{used} of {planned}", used=grade.used, planned=grade.planned),
        deeper=str(grade.beyond_depth) if grade.beyond_depth else "–",
        why=tuple(
            filter(None, (*_why(source, grade), source.one_cause(grade.assembly), *must_here(source, grade)))
        ),
        chain=grade_id(grade.assembly),
    )


def _left(grade: Grade) -> Bar | None:
    if grade.score is None:
        return None
    return Bar(f"{grade.score:.1f}", tone(grade.word), "", False)


def _why(source: Source, grade: Grade) -> tuple[str, ...]:
    """The findings that set the word, where it is not a good one, then the caps."""
    if not names_findings(grade):
        return ()
    setting = [source.findings[i] for i in grade.worst if i in source.findings]
    named: dict[tuple[str, str], list[Position]] = {}
    for finding in setting:
        named.setdefault((finding.name, word(finding.verdict)), []).append(finding.position)
    told = [_setting(name, verdict, places) for (name, verdict), places in named.items()]
    rest = unnamed(setting)
    more = [say("and {count} more", count=rest)] if rest else []
    return (*told[:MOST_NAMED], *more, *(capital(c) for c in grade.caps))


def names_findings(grade: Grade) -> bool:
    """Whether a report names the findings that set a grade: where its word is not a good one."""
    return grade.word not in ("as new", "serviceable", "not graded")


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
    told = [f"{capital(finding_name(f))}: {f.reason}" for f in of_verdict(source, Verdict.CHECK_FAILED)]
    named = {(f.characteristic, f.position) for f in of_verdict(source, Verdict.CHECK_FAILED)}
    rest = [f for f in source.a.failures if (f.characteristic, f.position) not in named]
    return (*told, *(f"{capital(f.characteristic)}, {at_words(f.position)}: {f.message}" for f in rest))


def replaces(source: Source) -> str:
    """Which issue this one replaces and why; empty where it replaces none."""
    replaced = source.a.inspection.head.replaces
    if replaced is None:
        return ""
    told = say("Replaces issue {issue}: {reason}", issue=replaced.issue, reason=sentence(replaced.reason))
    changed = source.a.advice.changes
    names = kinds(changed.findings) if changed else []
    if not 0 < len(names) <= MOST_CHANGED:
        return told
    return f"{told} {say('Changed since: {names}.', names=joined(names))}"


Given = tuple[str, str, tuple[str, ...]]
"""A label, what it is for this inspection, and the keys of the inspection file that say so."""


def engine_facts(source: Source) -> tuple[Fact, ...]:
    """What tells this engine from every other."""
    return tuple(Fact(label, text) for label, text, _ in engine_given(source))


def people(source: Source, columns: int) -> tuple[tuple[Fact, ...], ...]:
    """Who asked, who inspected, where, when and how deep, in columns of nearly the same length."""
    facts = [Fact(label, text) for label, text, _ in people_given(source)]
    high = -(-len(facts) // columns)
    return tuple(tuple(facts[n : n + high]) for n in range(0, len(facts), high))


def engine_given(source: Source) -> tuple[Given, ...]:
    """What tells this engine from every other, with the keys of the file."""
    engine, figures = source.a.inspection.head.engine, source.figures
    return _filled(
        (say("Serial number"), engine.serial, ("engine.serial",)),
        (say("Fitted in"), engine.machine, ("engine.machine",)),
        (say("Owner"), engine.owner, ("engine.owner",)),
        (say("Running time"), figures.hours(engine.running_time), ("engine.running-time",)),
        (say("Distance"), figures.distance(engine.distance), ("engine.distance",)),
    )


def people_given(source: Source) -> tuple[Given, ...]:
    """Who asked, who inspected, where, when and how deep, with the keys of the file."""
    head, day = source.a.inspection.head, source.figures.day
    until = say(" to {day}", day=day(head.dates.inspected_until)) if head.dates.inspected_until else ""
    qualification = f", {head.inspector.qualification}" if head.inspector.qualification else ""
    customer = ", ".join(p for p in (head.customer.name, head.customer.address, head.customer.contact) if p)
    asked_by = ("customer.name", "customer.address", "customer.contact")
    inspected_by = ("inspector.name", "inspector.qualification")
    inspected = ("dates.inspected", "dates.inspected-until")
    return _filled(
        (say("Asked by"), customer, asked_by),
        (say("What was asked"), head.reason, ("reason",)),
        (say("Inspected by"), head.inspector.name + qualification, inspected_by),
        (say("Also rated by"), joined(_other_raters(source)), ()),
        (say("Where"), head.place, ("place",)),
        (say("Received"), day(head.dates.received), ("dates.received",)),
        (say("Inspected"), day(head.dates.inspected) + until, inspected),
        (say("Issued"), day(head.dates.issued), ("dates.issued",)),
        (say("Depth"), word(head.depth), ("depth",)),
    )


def _other_raters(source: Source) -> list[str]:
    """Who else than the inspector put a figure to what was seen."""
    named = dict.fromkeys(seen.by for f in source.a.judged.findings for seen in f.seen if seen.by)
    return [name for name in named if name != source.a.inspection.head.inspector.name]


def _filled(*given: Given) -> tuple[Given, ...]:
    return tuple(one for one in given if one[1])
