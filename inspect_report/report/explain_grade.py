"""Turns grades, and the verdict on the engine, into what they are reckoned from, down to the findings."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from inspect_report.judge.finding import Counted, Finding, Grade, HeldCap, Verdict
from inspect_report.report import view_front
from inspect_report.report.chainlines import Line, Told, points, under
from inspect_report.report.source import Source
from inspect_report.report.view_findings import found_words
from inspect_report.report.words import capital, places_words, sentence
from inspect_report.telling.manner import message, say, say_count, word

NOT_GRADED: Final = "not graded"
_BY_FUNCTION: Final = message("the worst word of what matters for function")
_BY_THE_REST: Final = message(
    "nothing that matters for function was graded; what was, makes it marginal at worst"
)
_BY_CAP: Final = message("no better than a rule of the scoring book allows")
_BY_ASSEMBLY: Final = message("the worst word of its assemblies")
_NOTHING: Final = message("nothing that counts was both looked at and compared with a limit")


def grade_ids(source: Source) -> tuple[str, ...]:
    """Ids of the verdict, and of every grade that a report shows."""
    return (view_front.VERDICT, *(view_front.grade_id(g.assembly) for g in view_front.shown_grades(source)))


def told(source: Source, wanted: str) -> Told | None:
    """Title and chain of the verdict or of a grade; None where there is none of that id."""
    if wanted == view_front.VERDICT:
        return f"{wanted}: {view_front.verdict_headline(source)}", tuple(_verdict(source))
    for grade in source.a.judged.grades:
        if wanted == view_front.grade_id(grade.assembly):
            return f"{wanted}: {grade.name}: {word(grade.word)}", tuple(_grade(source, grade))
    return None


def findings_words(source: Source, findings: Iterable[Finding]) -> Iterator[str]:
    """Findings, those of one characteristic and verdict together, each with the id to ask for it."""
    alike: dict[tuple[str, Verdict], list[Finding]] = {}
    for finding in findings:
        alike.setdefault((finding.characteristic, finding.verdict), []).append(finding)
    for same in alike.values():
        where = places_words([f.position for f in same])
        at = "" if where == "engine" else f", {where}"
        found = found_words(source.figures, same)
        ids = ", ".join(f.id for f in same)
        if len(same) > 1:
            ids = say_count("{count} place: {ids}", "{count} places: {ids}", len(same), ids=ids)
        yield f"{capital(same[0].name)}{at}: {found}, {word(same[0].verdict)} ({ids})"


def _how_many(found: Sequence[Finding], *, some_named: bool) -> str:
    """How many findings, and how many kinds of them a page names and only counts."""
    count = say_count("{count} finding", "{count} findings", len(found))
    more = view_front.unnamed(found) if some_named else 0
    named = say(", {named} kinds of them named, {count} more", named=view_front.MOST_NAMED, count=more)
    return count + named if more else count


def _grade(source: Source, grade: Grade) -> Iterator[Line]:
    """What sets the word of an assembly, what its score is reckoned from, and what it rests on."""
    graded = [c for c in grade.counted if c.word]
    yield "grade", word(grade.word)
    if grade.word == NOT_GRADED:
        yield "because", sentence(say(_NOTHING))
    elif grade.counted:
        yield "because", sentence(_reason(grade, graded))
    yield from _setting(source, grade)
    yield from _caps(source, grade)
    yield from under(message("besides"), view_front.must_here(source, grade))
    yield from under("counts", (_characteristic(source, c) for c in graded))
    yield from _score(source, grade, graded)
    yield from under("not graded", _ungraded(source, grade))
    yield "checks", checks_words(source, grade)


def _reason(grade: Grade, graded: Sequence[Counted]) -> str:
    """Which rule of the scoring book gives the word."""
    mattering = [c.word for c in graded if c.matters]
    if grade.word in mattering:
        return say(_BY_FUNCTION)
    return say(_BY_CAP) if any(cap.at_most == grade.word for cap in grade.held) else say(_BY_THE_REST)


def _setting(source: Source, grade: Grade) -> Iterator[Line]:
    found = [source.findings[i] for i in grade.worst if i in source.findings]
    if found:
        yield message("set by"), _how_many(found, some_named=view_front.names_findings(grade))
    yield from under("", findings_words(source, found))


def _caps(source: Source, grade: Grade) -> Iterator[Line]:
    """Rules of the scoring book that hold, each with what it allows and what calls for it."""
    if not grade.held:
        yield from under("rule", map(sentence, grade.caps))
    for cap in grade.held:
        yield "rule", _cap(cap)
        found = [source.findings[i] for i in cap.findings if i in source.findings]
        yield from under(message("called by"), findings_words(source, found))


def _cap(cap: HeldCap) -> str:
    return say(
        "{name}: at most {word}, score at most {score}{run}. {why}",
        name=cap.name,
        word=word(cap.at_most),
        score=cap.score_at_most,
        run=say("; the engine must not be run") if cap.do_not_run else "",
        why=sentence(cap.why),
    )


def _characteristic(source: Source, one: Counted) -> str:
    """What one characteristic adds to word and score of its assembly."""
    sets = "" if one.matters else say(", which does not set the grade")
    told = {"name": f"{capital(one.name)} ({one.id})", "word": word(one.word), "sets": sets}
    if not one.weight:
        return say("{name}: {word}{sets}; weighs nothing: it repeats what another check counts", **told)
    return say(
        "{name}: {word}{sets}; {left} left × weight {weight} = {product}",
        left=source.figures.number(one.left or 0.0, 2),
        weight=one.weight,
        product=points(source, one.weight * (one.left or 0.0)),
        **told,
    )


def _score(source: Source, grade: Grade, graded: Sequence[Counted]) -> Iterator[Line]:
    """The score as the mean by weight, and what a rule holds it to."""
    weight = sum(c.weight for c in graded if c.left is not None)
    if grade.score is None or not weight:
        return
    whole = sum(c.weight * c.left for c in graded if c.left is not None)
    yield (
        "score",
        say(
            "{sum} by a weight of {weight} = {mean} of 100",
            sum=points(source, whole),
            weight=weight,
            mean=points(source, whole / weight),
        ),
    )
    least = min((cap.score_at_most for cap in grade.held), default=100)
    if whole / weight > least:
        yield "", say("held to {score} by the rule above", score=least)
    yield "", say("told as {score}", score=source.score(grade))


def _ungraded(source: Source, grade: Grade) -> Iterator[str]:
    """What was planned at this depth and rests in no grade, with the reason in a word."""
    for one in (c for c in grade.counted if c.planned > c.used):
        here = [f for f in source.of(one.id) if f.verdict in _UNGRADED and not f.outside_depth]
        words = dict.fromkeys(word(f.verdict) for f in here)
        yield say_count(
            "{name}: {count} check, {words}",
            "{name}: {count} checks, {words}",
            one.planned - one.used,
            name=f"{capital(one.name)} ({one.id})",
            words=", ".join(words),
        )


_UNGRADED: Final = (Verdict.NOT_INSPECTED, Verdict.NO_LIMIT, Verdict.CHECK_FAILED)


def checks_words(source: Source, grade: Grade | Counted) -> str:
    """How many checks of this depth were graded, and how many belong to another."""
    told = say_count(
        "{used} of {count} check of this depth graded",
        "{used} of {count} checks of this depth graded",
        grade.planned,
        used=grade.used,
    )
    if not grade.beyond_depth:
        return told
    return told + say_count(
        "; {count} more at another depth", "; {count} more at another depth", grade.beyond_depth
    )


def _verdict(source: Source) -> Iterator[Line]:
    """How the verdict on the engine follows from its assemblies, its rules and its findings."""
    engine = source.a.judged.engine
    graded = [c for c in engine.counted if c.word]
    yield "grade", word(engine.word)
    if engine.counted:
        yield "because", sentence(say(_BY_ASSEMBLY) if graded else say(_NOTHING))
    yield from _headline(source, engine)
    yield from _caps(source, engine)
    yield from under("counts", (_assembly(source, c) for c in engine.counted))
    yield from _score(source, engine, graded)
    yield from _kinds(source)
    yield "depth", word(source.a.inspection.head.depth)
    yield from checks(source)


def _headline(source: Source, engine: Grade) -> Iterator[Line]:
    """Which rule gives the words at the head of the page."""
    told = view_front.verdict_headline(source)
    beyond = sum(f.verdict is Verdict.BEYOND_LIMIT for f in source.a.judged.findings)
    if engine.do_not_run:
        yield "headline", say("“{words}”: a rule below forbids it", words=told)
    elif view_front.is_outdone(source):
        yield (
            "headline",
            say_count(
                "“{words}”: {count} finding is beyond its limit, though the grade is “{grade}”",
                "“{words}”: {count} findings are beyond their limits, though the grade is “{grade}”",
                beyond,
                words=told,
                grade=word(engine.word),
            ),
        )
    elif view_front.must_be_done(source):
        yield (
            "headline",
            say(
                "“{words}”: a job must be done before it runs, though the grade is “{grade}”",
                words=told,
                grade=word(engine.word),
            ),
        )
    else:
        yield (
            "headline",
            say("“{words}”: what the grade “{grade}” reads", words=told, grade=word(engine.word)),
        )


def _assembly(source: Source, one: Counted) -> str:
    """What an assembly adds to word and score of the engine."""
    name = f"{one.name} ({view_front.grade_id(one.id)})"
    if not one.word or one.left is None:
        return say("{name}: not graded, weighs nothing", name=name)
    return say(
        "{name}: {word}; score {left} × weight {weight} = {product}",
        name=name,
        word=word(one.word),
        left=source.figures.number(one.left, 2),
        weight=one.weight,
        product=points(source, one.weight * one.left),
    )


def _kinds(source: Source) -> Iterator[Line]:
    """The findings that the verdict counts, by what is said of them."""
    labels = (
        (Verdict.BEYOND_LIMIT, message("beyond")),
        (Verdict.MARGINAL, message("marginal")),
        (Verdict.UNDECIDED, message("undecided")),
        (Verdict.NO_LIMIT, message("no limit")),
    )
    bare = view_front.without_limit(source)
    for verdict, label in labels:
        found = bare if verdict is Verdict.NO_LIMIT else view_front.of_verdict(source, verdict)
        if found:
            yield label, _how_many(found, some_named=verdict is Verdict.BEYOND_LIMIT)
        yield from under("", findings_words(source, found))


def checks(source: Source) -> Iterator[Line]:
    """Checks graded, assembly by assembly, and all together."""
    engine = source.a.judged.engine
    told = (f"{c.name}: {checks_words(source, c)}" for c in engine.counted)
    whole = say("together {checks}", checks=checks_words(source, engine))
    count = engine.planned + engine.beyond_depth
    deep = say("of every depth {used} of {count}", used=engine.used, count=count)
    yield from under("checks", (*told, whole, *((deep,) if engine.beyond_depth else ())))
