"""Turns weighed diagnoses into checks of what the customer and the terminal read of them."""

from dataclasses import replace
from decimal import Decimal

import pytest

from inspect_report.advise.advice import Diagnosis, Evidence
from inspect_report.advise.explanation import Explanation, NextCheck, Weighed
from inspect_report.assessment import Assessment, from_json, to_json
from inspect_report.report.explain import why
from inspect_report.report.view import view
from inspect_report.report.view_diagnoses import odds_words
from tests.report.an_assessment import an_assessment
from tests.report.some_advice import diagnoses

AIR = Weighed("air", "air heard in the crankcase", (), 1.0, 12.0)
GAP = Weighed("gap", "ring gap: 0.5 mm", ("ring-end-gap.3",), 0.7, 7.0)
RINGS = Explanation("rings", "rings that leak", -9.5, 19.0, 9.5, (AIR, GAP))
HEAD = Explanation(
    "gasket", "a gasket that leaks", -9.5, -5.0, -14.5, (Weighed("flat", "flat", (), 0.0, -5.0),)
)
BARE = Explanation("crack", "a crack", -15.1, 0.0, -15.1, ())
CHECKS = (
    NextCheck("Look at the rings", ("ring-state",), ("rings",), 0.4),
    NextCheck("Test the head", ("head-crack-check",), ("crack",), 0.9, ("Head off",), Decimal("2.5")),
)


def weighed() -> Diagnosis:
    """The worn cylinder, weighed."""
    return replace(
        diagnoses()[0], cause="rings", names="rings", rules=("worn-bore", "old-rings"),
        against=(Evidence("gap in its range", ("valve-clearance.3.exhaust-1",)),),
        explanations=(RINGS, HEAD, BARE), next_checks=CHECKS,
    )  # fmt: skip


def assessed() -> Assessment:
    """An assessment with that diagnosis."""
    whole = an_assessment()
    return replace(whole, advice=replace(whole.advice, diagnoses=(weighed(),)))


@pytest.mark.parametrize(
    ("decibans", "words"),
    [
        (0.0, "about even"), (-0.9, "about even"), (3.0, "about 2 to 1"), (9.5, "about 9 to 1"),
        (14.8, "about 30 to 1"), (20.0, "99 to 1"), (-6.0, "about 1 to 4"),
        (-20.0, "1 to 99"),
    ],
)  # fmt: skip
def test_odds_are_told_to_one_figure(decibans: float, words: str) -> None:
    """Two to one is 3 decibans, ten to one 10."""
    assert odds_words(decibans) == words


def test_the_customer_reads_explanations_with_words_and_odds() -> None:
    """The likeliest first, the one told marked, what was not looked at in words of its own."""
    (shown,) = view(assessed()).diagnoses
    assert [(e.name, e.word, e.odds, e.is_told) for e in shown.explanations] == [
        ("Rings that leak", "the evidence points strongly to it", "about 9 to 1", True),
        ("A gasket that leaks", "the evidence speaks against it", "about 1 to 30", False),
        ("A crack", "nothing that tells of it was looked at", "about 1 to 30", False),
    ]
    assert [(g.word, g.causes) for g in shown.likelihoods] == [
        ("Likely", ("rings that leak",)),
        ("Very unlikely", ("a gasket that leaks",)),
        ("Not looked into", ("a crack",)),
    ]
    assert shown.doubts == ("A broken ring", "A stuck ring")
    assert shown.could_also_be == ("A gasket that leaks", "A crack", "A broken ring", "A stuck ring")
    assert [e.text for e in shown.against] == ["gap in its range"]


def test_the_most_urgent_stands_first_and_as_urgent_as_its_jobs() -> None:
    """A diagnosis for this opening whose job must be done before running is as urgent as that."""
    whole = assessed()
    watch = replace(weighed(), id="watch", urgency="watch", work=())
    job = whole.advice.work[0]
    late = replace(weighed(), id="late", urgency="next opening", work=(job.job,))
    work = (replace(job, urgency="before running"), *whole.advice.work[1:])
    told = replace(whole, advice=replace(whole.advice, diagnoses=(watch, late), work=work))
    assert [(d.chain, d.urgency) for d in view(told).diagnoses] == [
        ("late", "Must be done"),
        ("watch", "Watch"),
    ]


def test_the_next_check_says_what_must_be_opened() -> None:
    """Nothing for the first; the head, with hours, for the second."""
    (shown,) = view(assessed()).diagnoses
    assert [(c.does, c.needs) for c in shown.next_checks] == [
        ("Look at the rings.", ""),
        ("Test the head.", "head off; 2.5 h to open and close, with all before it"),
    ]


def test_the_method_is_stated_where_something_was_weighed() -> None:
    """And not where no diagnosis was."""
    assert any("How likely a cause is" in line for line in view(assessed()).record.decision_rule)
    assert not any("How likely a cause is" in line for line in view(an_assessment()).record.decision_rule)


@pytest.mark.parametrize("wanted", ["worn-bore.3", "old-rings.3"])
def test_why_of_a_diagnosis_tells_each_weight(wanted: str) -> None:
    """By the id of the rule that leads or of one joined to it: signs with decibans, sum, check."""
    told = why(assessed(), wanted)
    assert told.startswith("worn-bore.3: ")
    flat = " ".join(told.split())
    assert "against Gap in its range" in flat
    assert "+12.0 dB air: air heard in the crankcase" in flat
    assert "+7.0 dB gap, there with a probability of 0.70: ring gap: 0.5 mm" in flat
    assert "−9.5 dB before, +19.0 dB by evidence, +9.5 dB in all" in flat
    assert (
        "next check Test the head. Needs head off; 2.5 h to open and close, with all before it. "
        "Expected to settle 0.90 bit." in flat
    )


def test_why_of_a_finding_tells_the_odds_of_its_diagnosis() -> None:
    """In short, below the diagnosis that rests on it."""
    flat = " ".join(why(assessed(), "leak-down.3").split())
    assert "explained Rings that leak: the evidence points strongly to it; odds about 9 to 1" in flat
    assert "next check Look at the rings. Can be done as the engine stands." in flat


def test_weights_go_through_json_without_loss() -> None:
    """Explanations, signs and checks come back as they were."""
    assert from_json(to_json(assessed())).advice.diagnoses == (weighed(),)
