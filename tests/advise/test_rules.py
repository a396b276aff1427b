"""Turns what a rulebook says of an engine into checks."""

from inspect_report.advise.advice import Diagnosis
from inspect_report.advise.rules import diagnose, fired
from inspect_report.judge.finding import Finding
from inspect_report.knowledge.case import Case
from inspect_report.knowledge.rulebook import Rule
from tests.advise.builders import FOUR, answer, at, case, earlier, finding, judged, rule
from tests.advise.test_clauses import facts

EXHAUST_3 = answer("leak-heard", at(3), "exhaust")


def told(made: Case, *findings: Finding) -> tuple[tuple[Diagnosis, ...], tuple[str, ...]]:
    """Diagnoses and questions of a case with some findings."""
    return diagnose(made, judged(*findings), (), [])


def high(cylinder: int, verdict: str = "beyond limit") -> Finding:
    """A leak-down with its verdict."""
    return finding("leak-down", at(cylinder), verdict, "35 %")


def test_a_rule_fires_for_the_label_that_meets_it() -> None:
    """Cylinder 3 leaks at the exhaust; its label stands in id, place and words."""
    (diagnosis,), questions = told(case(rule(), answers=[EXHAUST_3]), high(3), high(1, "as new"))
    assert (diagnosis.id, diagnosis.position) == ("exhaust-leak.3", at(3))
    assert diagnosis.finding == "Air escapes past the exhaust valves of cylinder 3"
    assert diagnosis.if_left == "The valve of cylinder 3 burns."
    assert [e.findings for e in diagnosis.evidence] == [("leak-down.3",), ("leak-heard.3",)]
    assert questions == ()


def test_a_rule_of_the_engine_has_no_label() -> None:
    """Tried once, at the engine."""
    engine = rule(
        **{
            "for": "engine",
            "id": "leak",
            "finding": "It leaks",
            "when": {"quantity": "leak-down", "verdict": ["beyond limit"]},
        }
    )
    (diagnosis,), _ = told(case(engine), high(3), high(1, "as new"))
    assert (diagnosis.id, diagnosis.position.id, diagnosis.finding) == ("leak", "", "It leaks")


def test_rules_of_another_kind_of_engine_are_not_tried() -> None:
    """A rule for liquid cooling does not fire on an air-cooled engine."""
    wet = rule(applies={"cooling": "liquid"})
    assert told(case(wet, answers=[EXHAUST_3]), high(3)) == ((), ())
    assert len(told(case(wet, answers=[EXHAUST_3], layout=FOUR | {"cooling": "liquid"}), high(3))[0]) == 1


def test_an_axis_the_engine_has_not_got_is_not_tried() -> None:
    """No crankpins are counted in the layout, so no rule for one fires."""
    assert told(case(rule(**{"for": "crankpin"}), answers=[EXHAUST_3]), high(3)) == ((), ())


def test_a_question_stays_open_where_a_fault_shows_and_a_reading_lacks() -> None:
    """High leak-down, nobody noted where air was heard: asked once for both cylinders, not the sound one."""
    (), (question,) = told(case(rule()), high(2), high(3), high(1, "as new"))
    assert question == (
        "Air escapes past the exhaust valves of cylinder 2 and 3? Not decided; "
        "not known: leak heard of cylinder 2; "
        "leak heard of cylinder 3. Speaks for it: Leak-down of cylinder 2: 35 %, beyond limit; "
        "leak-down of cylinder 3: 35 %, beyond limit."
    )


def test_a_first_inspection_asks_nothing_of_what_has_changed() -> None:
    """Without an earlier reading a rule on a change is no open question; with one of other parts it is."""
    risen = {"change": "leak-down", "direction": "up", "by-at-least": "4 %"}
    heard = {"choice": "leak-heard", "answer": ["exhaust"]}
    changed = case(rule(when={"all": [risen, heard]}), answers=[EXHAUST_3])
    assert told(changed, high(3)) == ((), ())
    past = (earlier("leak-down", at(1), "5 %"),)
    _, (question,) = diagnose(changed, judged(high(3)), past, [])
    assert "not known: Leak-down of cylinder 3" in question
    either = case(
        rule(when={"all": [{"any": [risen, heard]}, {"quantity": "chain-length", "at-least": "5 mm"}]}),
        answers=[EXHAUST_3],
    )
    assert len(told(either, high(3))[1]) == 1


def test_a_question_has_no_full_stop_before_its_mark() -> None:
    """A rule's finding is a sentence; asked, it ends in the mark alone."""
    (), (question,) = told(case(rule(finding="Air escapes.")), high(3))
    assert question.startswith("Air escapes? Not decided")


def test_nothing_read_asks_nothing() -> None:
    """What was not looked at is told elsewhere; it opens no question by itself."""
    assert told(case(rule()), finding("leak-down", at(), "not inspected")) == ((), ())


def test_fired_labels_are_those_of_a_case() -> None:
    """A rule of the whole engine fires for ``engine``."""
    whole: Rule = rule(**{"for": "engine", "when": {"quantity": "chain-length", "verdict": ["beyond limit"]}})
    assert list(fired(whole, facts(chain_length="beyond limit"))) == ["engine"]
    assert list(
        fired(
            rule(),
            facts(leak_down={3: "beyond limit", 2: "as new"}, leak_heard={3: ["exhaust"], 2: ["exhaust"]}),
        )
    ) == ["3"]
