"""Turns the id of anything a report says into the chain behind it, from reading to work and price."""

import json
import textwrap
from collections.abc import Iterable, Iterator
from functools import partial
from itertools import chain
from typing import Final

from inspect_report.assessment import Assessment
from inspect_report.judge.finding import Finding, Verdict
from inspect_report.judge.visual import found_in_words
from inspect_report.measure.budget import coverage
from inspect_report.records.position import finding_id
from inspect_report.records.problem import InspectReportError, nearest
from inspect_report.report import (
    budgets,
    explain_buyer,
    explain_coverage,
    explain_diagnosis,
    explain_given,
    explain_grade,
    explain_sums,
    explain_work,
    view_back,
    view_findings,
    view_front,
    view_missing,
    view_numbers,
)
from inspect_report.report.chainlines import Line, once, under
from inspect_report.report.source import Source
from inspect_report.report.words import NOT_GOOD, cited, finding_name, seen_words, sentence
from inspect_report.telling.manner import lowered, message, say, told_by, word

WIDTH: Final = 100
LABEL: Final = 12

Steps = tuple[tuple[str, tuple[str, ...]], ...]
"""Steps of a chain, each with its label and all that is told below it."""


class UnknownFinding(InspectReportError):
    """Nothing in the report has this id; the message offers the nearest one."""


def why(assessment: Assessment, wanted: str, *, budget: bool = False) -> str:
    """
    The chain behind what a report says, for a terminal.

    Args:
        assessment: The assessment.
        wanted: Id of a finding, ``bore-wear.3``, or of one of the kinds in ``kinds_of_ids``.
        budget: Whether to add where its uncertainty comes from.

    Raises:
        UnknownFinding: there is none; the message names the nearest.
    """
    source = Source(assessment)
    wanted = _meant(source, wanted)
    with told_by(assessment.workshop):
        head, lines = _asked(source, wanted)
        told = (text for line in chain(lines, _books(source)) for text in _laid_out(line))
        finding = source.findings.get(wanted)
        return "\n".join((head, "", *told, *(_budget(source, finding) if budget and finding else ())))


def why_json(assessment: Assessment, wanted: str) -> str:
    """
    The same as JSON: what is asked for, its title, and each step with its label and texts.

    Raises:
        UnknownFinding: there is none; the message names the nearest.
    """
    source = Source(assessment)
    wanted = _meant(source, wanted)
    with told_by(assessment.workshop):
        title, lines = _asked(source, wanted)
        told = _by_label(chain(lines, _books(source)))
    steps = [{"step": label, "told": list(texts)} for label, texts in told]
    return json.dumps({"of": wanted, "title": title, "steps": steps}, ensure_ascii=False, indent=1)


def _meant(source: Source, wanted: str) -> str:
    """An id as it is, or that of the one finding or diagnosis it begins, as with a single cylinder."""
    known = (*source.findings, *(d.id for d in source.a.advice.diagnoses))
    below = [i for i in known if i.startswith(f"{wanted}.")]
    return below[0] if len(below) == 1 and wanted not in known else wanted


def _asked(source: Source, wanted: str) -> tuple[str, Iterable[Line]]:
    """Title and chain of whatever has this id."""
    for tell in _TOLD:
        if told := tell(source, wanted):
            return told
    finding, diagnosis = source.findings.get(wanted), explain_diagnosis.diagnosis_of(source, wanted)
    if finding is not None:
        return f"{finding.id}: {finding_name(finding)}", _chain(source, finding)
    if diagnosis is not None:
        return f"{diagnosis.id}: {sentence(diagnosis.finding)}", explain_diagnosis.whole(source, diagnosis)
    raise UnknownFinding(_not_found(source, wanted))


def _books(source: Source) -> Iterator[Line]:
    """What the assessment was judged by; on a page the books stand in a table of their own."""
    told = (
        say("{kind} {id}, version {version}", kind=word(b.kind), id=b.id, version=b.version)
        for b in source.a.books
    )
    yield "judged by", "; ".join(told)


_TOLD: Final = (
    explain_grade.told,
    explain_work.told,
    explain_coverage.told,
    explain_given.told,
    explain_sums.sum_of,
    explain_buyer.cost,
)


def kinds_of_ids(source: Source) -> dict[str, tuple[str, ...]]:
    """Ids of all that can be asked for besides findings, by what they are of."""
    return {
        say("Verdict and grades"): explain_grade.grade_ids(source),
        say("What was looked at, and what the file says"): (view_missing.COVERAGE, view_front.GIVEN),
        say("What the findings mean together"): tuple(source.diagnoses),
        say("Work"): explain_work.job_ids(source),
        say("Sums"): (*explain_sums.sum_ids(source), *explain_buyer.cost_ids(source)),
    }


def asked_ids(source: Source) -> tuple[str, ...]:
    """Ids of all that can be asked for besides findings: verdict, grades, diagnoses, work and sums."""
    return tuple(some_id for ids in kinds_of_ids(source).values() for some_id in ids)


def titled_steps(source: Source, wanted: str) -> tuple[str, Steps]:
    """
    Title and steps of a chain by its id.

    Raises:
        UnknownFinding: there is none; the message names the nearest.
    """
    title, lines = _asked(source, wanted)
    return title.removeprefix(f"{wanted}: "), _by_label(lines)


def steps_of(source: Source, finding: Finding) -> Steps:
    """The chain behind a finding: each step with its label and all that is told below it."""
    return _by_label(_chain(source, finding))


def _by_label(lines: Iterable[Line]) -> Steps:
    """Lines by their step: one without a label belongs to the step before it."""
    steps: list[tuple[str, tuple[str, ...]]] = []
    for label, text in lines:
        if label or not steps:
            steps.append((label, (text,)))
        else:
            steps[-1] = (steps[-1][0], (*steps[-1][1], text))
    return tuple(steps)


def _budget(source: Source, finding: Finding) -> Iterator[str]:
    """The uncertainty budget below the chain."""
    derived = next((d for d in source.a.measured.quantities if d.id == finding.id), None)
    yield ""
    if derived is None or not derived.budget:
        yield say(
            "  budget: nothing measured here, or measured without an instrument, so there is no uncertainty"
        )
        return
    yield from (f"  {line}" for line in budgets.budget_table(source, derived, finding.unit))


def _not_found(source: Source, wanted: str) -> str:
    near = nearest(wanted, [*source.findings, *asked_ids(source)])
    places = [i for i in source.findings if i.startswith(f"{wanted}.")]
    if places:
        return (
            f"no finding {wanted!r}; it has places: {', '.join(places[:8])}{' …' if len(places) > 8 else ''}"
        )
    offer = f"did you mean {near!r}?" if near else "without an id, 'why FILE' lists all that can be asked"
    return f"nothing here is called {wanted!r}; {offer}"


def _laid_out(line: Line) -> Iterator[str]:
    label, text = say(line[0]) if line[0] else "", line[1]
    lines = textwrap.wrap(text, WIDTH - LABEL - 2, break_long_words=False, break_on_hyphens=False) or [""]
    for n, piece in enumerate(lines):
        yield f"  {label if n == 0 else '':<{LABEL - 1}} {piece}".rstrip()


def _chain(source: Source, finding: Finding) -> Iterator[Line]:
    yield from under("readings", _readings(source, finding))
    yield from under("instrument", _instruments(source, finding))
    if finding.quantity is not None:
        yield "formula", view_numbers.formula_words(finding.formula)
        k = budgets.factor_words(coverage(finding.quantity))
        yield "quantity", f"{source.measured(finding, finding.quantity)} (k = {k})"
    yield from under("seen", [*(seen_words(s) for s in finding.seen)] or finding.chosen)
    yield from _limit(source, finding)
    yield "verdict", f"{word(finding.verdict)}: {finding.reason}"
    yield from under(message("doubt"), (sentence(finding.doubt),) if finding.doubt else ())
    if finding.verdict in NOT_GOOD:
        label = message("means") if finding.verdict is Verdict.BEYOND_LIMIT else message("if beyond")
        yield from under(label, [source.a.if_beyond.get(finding.characteristic, "")])
    yield from _advice(source, finding)
    yield from explain_buyer.of_finding(source, finding)


def _readings(source: Source, finding: Finding) -> Iterator[str]:
    wanted = set(finding.readings) or {finding.id}
    yield from (
        told
        for told_id, told in once(source, "readings", "", partial(_all_read, source))
        if told_id in wanted
    )


def _all_read(source: Source) -> Iterator[Line]:
    """Every reading, rating and answer behind its id, in this order, with its line in the file."""
    inspection = source.a.inspection
    for reading in inspection.readings:
        item, name = source.a.checklist.item(reading.item), finding_id(reading.item, reading.position)
        typed = ", ".join(view_back.as_typed(t, item.unit if item else "") for t in reading.typed)
        by = say(" by {instrument}", instrument=reading.instrument) if reading.instrument else ""
        note = view_back.note_words(reading.note)
        yield name, f"{name} = {typed}{by} ({source.at(reading.place)}){note}"
    for rating in inspection.ratings:
        name = finding_id(rating.item, rating.position)
        rated = say("{name}, rated by eye ({place})", name=name, place=source.at(rating.place))
        yield name, rated + view_back.note_words(rating.note)
    for answer in inspection.answers:
        name = finding_id(answer.item, answer.position)
        note = view_back.note_words(answer.note)
        yield name, f"{name} = {', '.join(found_in_words(answer))} ({source.at(answer.place)}){note}"


def _instruments(source: Source, finding: Finding) -> Iterator[str]:
    told = dict(once(source, "instruments", "", partial(_all_instruments, source)))
    yield from (told.get(name, name) for name in finding.instruments)


def _all_instruments(source: Source) -> Iterator[Line]:
    for tool in view_back.instruments(source):
        calibrated = (
            say("no record of calibration")
            if tool.calibrated == view_back.no_record()
            else say("calibrated {calibrated}", calibrated=tool.calibrated)
        )
        calibrated += "" if tool.due == "–" else say(", due {due}", due=tool.due)
        error = "" if tool.error == "–" else say(", permissible error {error}", error=tool.error)
        serial = "" if tool.serial == "–" else say(", no. {serial}", serial=tool.serial)
        made = say(
            "{kind}{serial}, resolution {resolution}{error}",
            kind=lowered(tool.kind),
            serial=serial,
            resolution=tool.resolution,
            error=error,
        )
        yield tool.id, f"{tool.id}: {made}, {calibrated}"


def _limit(source: Source, finding: Finding) -> Iterator[Line]:
    if finding.limit is None:
        return
    standard, limit = view_findings.limit_words(finding, source.figures)
    yield from under("new", [standard])
    yield "limit", limit or say("none published")
    origin, told = finding.limit.origin, finding.limit.source
    yield "source", word(origin) if told == origin else f"{word(origin)}: {cited(told)}"
    if limit:
        yield "rule", view_back.decision_rule(source)[0].removeprefix("Decision rule: ")
    if finding.inside is not None:
        yield (
            "inside",
            say(
                "with a probability of {chance}",
                chance=view_numbers.chance_words(finding.inside, source.figures),
            ),
        )
    if finding.used is not None:
        yield "used", say("{share} of the wear allowance", share=source.figures.percent(finding.used))


def _advice(source: Source, finding: Finding) -> Iterator[Line]:
    advice = source.a.advice
    rules = [d for d in advice.diagnoses if any(finding.id in e.findings for e in d.evidence)]
    for diagnosis in rules:
        yield (
            "diagnosis",
            say(
                "{finding} Rule {rule}: {why}",
                finding=sentence(diagnosis.finding),
                rule=diagnosis.id,
                why=sentence(diagnosis.why),
            ),
        )
        yield from explain_diagnosis.in_short(source, diagnosis)
    yield from explain_work.of_finding(source, {finding.id, *(d.id for d in rules)})
