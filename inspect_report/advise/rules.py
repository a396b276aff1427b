"""Turns a rulebook and the facts of an engine into diagnoses and into questions that stay open."""

from collections.abc import Iterator
from functools import partial

from inspect_report.advise.advice import Diagnosis
from inspect_report.advise.clauses import Outcome, evaluate
from inspect_report.advise.facts import Facts, facts_of
from inspect_report.advise.joining import explained, joined
from inspect_report.advise.looking import View
from inspect_report.advise.saying import listed, told_together
from inspect_report.judge.finding import Judged, PastReading
from inspect_report.knowledge.case import Case
from inspect_report.knowledge.clause import AllClause, AnyClause, ChangeClause, Clause
from inspect_report.knowledge.rulebook import Rule
from inspect_report.measure.derived import Failed
from inspect_report.measure.guard import guarded
from inspect_report.records.checklist import applies_to
from inspect_report.records.position import ENGINE, Position
from inspect_report.telling.manner import say, word

ENGINE_AXIS = "engine"


def diagnose(
    case: Case, judged: Judged, past: tuple[PastReading, ...], failed: list[Failed]
) -> tuple[tuple[Diagnosis, ...], tuple[str, ...]]:
    """
    The rules that fire, in the order of the rulebook, and in words those that stay open.

    Rules that point to one cause at one place are one diagnosis, with what speaks for it and against. A rule
    that cannot be tried through a fault of ours is noted in ``failed`` and stays open.
    """
    facts, layout = facts_of(case, judged, past), case.books.sheet.layout
    rules = [r for r in case.books.rulebook.rules if applies_to(r.applies, layout)]
    told = [one for rule in rules for one in guarded(rule.id, partial(_told, rule, facts), failed)]
    diagnoses = explained(joined(one for one in told if isinstance(one, Diagnosis)), facts, case, failed)
    questions = (one for one in told if isinstance(one, str) and one)
    return diagnoses, (*questions, *map(_not_tried, failed))


def _told(rule: Rule, facts: Facts) -> Iterator[Diagnosis | str]:
    """What a rule comes to: a diagnosis for each label it fires for, and its open question."""
    outcomes = try_rule(rule, facts)
    yield from (_diagnosis(rule, label, o) for label, o in outcomes if o.truth)
    if not _asks_for_a_first_time(rule.when, facts.earlier):
        yield open_question(rule, outcomes)


def _asks_for_a_first_time(clause: Clause, earlier: frozenset[str] | None) -> bool:
    """Whether a rule hangs on how something moved that was never read before: nothing is left to ask then."""
    match clause:
        case ChangeClause():
            return earlier is not None and clause.change not in earlier
        case AllClause():
            return any(_asks_for_a_first_time(c, earlier) for c in clause.all)
        case AnyClause():
            return all(_asks_for_a_first_time(c, earlier) for c in clause.any)
        case _:
            return False


def _not_tried(fault: Failed) -> str:
    rule, why = fault.characteristic.replace("-", " "), fault.message
    return say(
        "Rule {rule}: not tried, our computation went wrong, through no fault of the engine: {why}",
        rule=rule,
        why=why,
    )


def try_rule(rule: Rule, facts: Facts) -> tuple[tuple[str, Outcome], ...]:
    """What a rule comes to for every label of its axis; the label of a rule of the whole engine is empty."""
    if rule.for_ == ENGINE_AXIS:
        return (("", evaluate(rule.when, View(facts))),)
    labels = facts.labels.get(rule.for_, ())
    return tuple((label, evaluate(rule.when, View(facts, rule.for_, label))) for label in labels)


def place_of(rule: Rule, label: str) -> Position:
    """The place a rule fires for."""
    return Position((rule.for_,), (label,)) if label else ENGINE


def in_words(rule: Rule, label: str, text: str) -> str:
    """A text of a rule with the label it fires for put in."""
    return text.replace(f"{{{rule.for_}}}", word(label)) if label else text


def _diagnosis(rule: Rule, label: str, outcome: Outcome) -> Diagnosis:
    return Diagnosis(
        id=f"{rule.id}.{label}" if label else rule.id,
        rule=rule.id,
        position=place_of(rule, label),
        finding=in_words(rule, label, rule.finding),
        why=in_words(rule, label, rule.why),
        evidence=outcome.evidence,
        could_also_be=rule.could_also_be,
        tells_them_apart=rule.tells_them_apart,
        work=rule.work,
        urgency=rule.urgency,
        if_left=in_words(rule, label, rule.if_left),
        source=rule.source,
        cause=rule.cause,
        rules=(rule.id,),
        seen=in_words(rule, label, rule.seen),
        normal=rule.normal,
    )


def open_question(rule: Rule, outcomes: tuple[tuple[str, Outcome], ...]) -> str:
    """
    A rule that is neither met nor ruled out, in words; empty when there is nothing to ask.

    Asked only where something met points to the fault: what nobody looked at raises no question by itself.
    """
    asked = [(label, o) for label, o in outcomes if o.truth is None and o.points]
    if not asked:
        return ""
    labels = listed([label for label, _ in asked])
    missing = list(dict.fromkeys(m for _, o in asked for m in o.missing))
    hints = list(dict.fromkeys(e.text for _, o in asked for e in o.evidence))
    asking = in_words(rule, labels, rule.finding).rstrip(". ")
    return say(
        "{finding}? Not decided; not known: {missing}. Speaks for it: {signs}.",
        finding=asking,
        missing=told_together(missing),
        signs=told_together(hints),
    )


def fired(rule: Rule, facts: Facts) -> Iterator[str]:
    """The labels a rule fires for, ``engine`` for a rule of the whole engine."""
    return (label or ENGINE_AXIS for label, outcome in try_rule(rule, facts) if outcome.truth)
