from dataclasses import replace

import pytest

from inspect_report.judge.finding import Finding, Verdict
from inspect_report.judge.visual import seen_findings, worst
from inspect_report.records.inspection import Answer, Rating
from tests.judge.made import a_case, a_rating, an_answer, at

ONE = at(cylinder=1)


def rated(*ratings: Rating) -> Finding:
    """The one finding of some ratings of one place."""
    (finding,) = seen_findings(a_case(ratings=ratings), [])
    return finding


def answered(*answers: Answer) -> list[Finding]:
    """The findings of some answers."""
    return list(seen_findings(a_case(answers=answers), []))


def test_looked_at_and_nothing_found() -> None:
    """A place without damage is as new and says that it was looked at."""
    finding = rated(a_rating("crown-state", ONE))
    assert (finding.verdict, finding.reason, finding.seen) == (Verdict.AS_NEW, "looked at, nothing found", ())


@pytest.mark.parametrize(
    ("amount", "size", "verdict"),
    [
        (1, 1, Verdict.SERVICEABLE),
        (1, 2, Verdict.MARGINAL),
        (2, 1, Verdict.MARGINAL),
        (3, 3, Verdict.BEYOND_LIMIT),
    ],
)
def test_the_grade_is_the_worse_of_amount_and_size(amount: int, size: int, verdict: Verdict) -> None:
    """Little of something big counts as much as much of something small."""
    assert rated(a_rating("crown-state", ONE, "scuffing", amount, size=size)).verdict is verdict


def test_a_rating_in_words() -> None:
    """Damage, grade with its word, and the steps it was made from."""
    finding = rated(a_rating("crown-state", ONE, "scuffing", 2, size=3, note="thrust side"))
    assert finding.reason == (
        "scuffing, step 3 of 5 (moderate): amount 2, size 3; "
        "from step 3 the part counts as beyond its limit (common practice)"
    )
    assert finding.note == "thrust side"


def test_two_raters_who_differ() -> None:
    """The graver of the two counts, and it is told how far they lie apart."""
    finding = rated(
        a_rating("crown-state", ONE, "scuffing", 1, size=1, by="J. Vale"),
        a_rating("crown-state", ONE, "scuffing", 3, size=2, by="R. Orr"),
    )
    assert finding.verdict is Verdict.BEYOND_LIMIT
    assert finding.apart == "rated apart: J. Vale step 1, R. Orr step 3; the graver rating counts"
    assert finding.reason.endswith(finding.apart)
    assert "amount 3, size 2, by R. Orr" in finding.reason


def test_a_rater_who_finds_nothing_is_outweighed() -> None:
    """What one of two has seen is there until it is shown not to be."""
    finding = rated(
        a_rating("crown-state", ONE, by="J. Vale"),
        a_rating("crown-state", ONE, "scuffing", 1, size=1, by="R. Orr"),
    )
    assert finding.verdict is Verdict.SERVICEABLE
    assert finding.apart.startswith("rated apart: J. Vale step 0, R. Orr step 1")


def test_raters_who_agree_are_not_told_apart() -> None:
    """Neither are several kinds of damage that one person saw."""
    both = [a_rating("crown-state", ONE, "scuffing", 2, size=1, by=name) for name in ("J. Vale", "R. Orr")]
    assert rated(*both).apart == ""
    assert rated(both[0], a_rating("crown-state", ONE, "carbon", 4, strength=1, by="J. Vale")).apart == ""


def test_a_marginal_sight_is_told_as_seen() -> None:
    """No share of a wear allowance is spoken of where nothing was measured."""
    finding = rated(a_rating("crown-state", ONE, "scuffing", 2, size=1))
    assert finding.reason.endswith("size 1; a sign that needs attention; seen, not measured")


def test_several_damages_at_a_place_give_the_worst() -> None:
    """All are told, the worst first, whatever order they were written in."""
    some = (
        a_rating("crown-state", ONE, "carbon", 4, strength=4),
        a_rating("crown-state", ONE, "crack", 1, size=2),
    )
    for order in (some, some[::-1]):
        finding = rated(*order)
        assert finding.verdict is Verdict.BEYOND_LIMIT
        assert finding.reason.startswith("crack, step 2")
        assert {s.damage for s in finding.seen} == {"crack", "carbon"}


def test_of_equal_verdicts_the_higher_grade_is_told_first() -> None:
    """Two damages beyond the limit: the severer one opens the sentence."""
    finding = rated(a_rating("crown-state", ONE, "scuffing", 3), a_rating("crown-state", ONE, "crack", 5))
    assert finding.reason.startswith("crack, step 5")


def test_a_damage_without_a_word_in_the_scales() -> None:
    """Unknown damage is shown and not called good."""
    finding = rated(a_rating("crown-state", ONE, "purple spots", 5))
    assert finding.verdict is Verdict.NO_LIMIT
    assert "no verdict" in finding.reason


def test_a_rating_item_of_a_workshops_own_is_judged() -> None:
    """An item that the catalogue does not know is judged by the scales, in the assembly of its section."""
    finding = rated(a_rating("shell-state", at(main_journal=1), "scuffing", 4, size=4))
    assert (finding.name, finding.assembly) == ("shell state", "crankshaft")
    assert finding.verdict is Verdict.BEYOND_LIMIT


def test_each_place_has_its_own_finding() -> None:
    """Two cylinders give two findings."""
    case = a_case(ratings=[a_rating("crown-state", at(cylinder=n), "carbon", n, strength=n) for n in (1, 4)])
    assert [(f.id, f.verdict) for f in seen_findings(case, [])] == [
        ("crown-state.1", Verdict.SERVICEABLE),
        ("crown-state.4", Verdict.MARGINAL),
    ]


def test_an_answer_has_the_verdict_its_checklist_gives() -> None:
    """The checklist says what each answer stands for."""
    (finding,) = answered(an_answer("turns-by-hand", "tight spots"))
    assert (finding.verdict, finding.reason) == (
        Verdict.MARGINAL,
        "found: tight spots; a sign that needs attention; seen or heard, not measured",
    )


def test_finds_with_their_amounts() -> None:
    """Kinds and amounts are seen and told; without amounts the kinds are told alone, and nothing is seen."""
    (finding,) = answered(replace(an_answer("turns-by-hand", "tight spots", "not tried"), amounts=(2, 1)))
    assert [(s.damage, s.amount, s.size) for s in finding.seen] == [
        ("tight spots", 2, None),
        ("not tried", 1, None),
    ]
    assert finding.reason.startswith("found: tight spots, amount 2 of 5, not tried, amount 1 of 5")
    (plain,) = answered(an_answer("turns-by-hand", "tight spots", "not tried"))
    assert (plain.seen, plain.chosen) == ((), finding.chosen)
    assert plain.reason.startswith("found: tight spots, not tried")


def test_several_answers_give_the_worst() -> None:
    """Of free and seized, seized counts; an answer that is evidence only does not soften it."""
    (finding,) = answered(an_answer("turns-by-hand", "free", "seized", "not tried"))
    assert finding.verdict is Verdict.BEYOND_LIMIT
    assert finding.chosen == ("free", "seized", "not tried")
    assert finding.reason.endswith("this answer counts as beyond the limit (common practice)")


def test_evidence_of_a_catalogued_item_is_told_without_verdict() -> None:
    """The catalogue asks for a finding, the answer carries none: told, not judged."""
    (finding,) = answered(an_answer("turns-by-hand", "not tried"))
    assert finding.verdict is Verdict.NO_LIMIT
    assert finding.reason == "found: not tried; kept as evidence, no verdict follows from it alone"


def test_evidence_of_another_item_makes_no_finding() -> None:
    """An answer that is evidence only, of an item the catalogue does not know, is left to the rules."""
    assert answered(an_answer("gudgeon-look", "oily")) == []


def test_an_answer_with_a_verdict_needs_no_catalogue() -> None:
    """A workshop's own question is judged by its own answers."""
    (finding,) = answered(an_answer("gudgeon-look", "blue"))
    assert (finding.verdict, finding.assembly) == (Verdict.BEYOND_LIMIT, "cylinders")


def test_undecided_outweighs_marginal() -> None:
    """Of several verdicts the one that needs most care counts."""
    assert worst([Verdict.MARGINAL, Verdict.UNDECIDED, Verdict.AS_NEW]) is Verdict.UNDECIDED
