"""Turns odds of causes into checks that no headline claims what they call unlikely, in any sample either."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from inspect_report.advise.advice import Diagnosis
from inspect_report.advise.explanation import CLEAR, Explanation
from inspect_report.advise.headline import headline
from inspect_report.opening import open_assessment
from tests.made import Reported, name_of
from tests.rules.coverage import rulebooks
from tests.samples import samples_unlike

(BOOK,) = rulebooks()
FINDING, SEEN = "Blue smoke; oil passes the guides.", "Blue smoke."


def cause(name: str, odds: float) -> Explanation:
    """A cause of some odds."""
    return Explanation(name, f"worn {name}", 0.0, odds, odds, ())


@pytest.mark.parametrize(
    ("guides", "seals", "text", "names"),
    [
        (8.0, 2.0, FINDING, "guides"),
        (8.0, 9.0, "Blue smoke; most likely: worn seals.", "seals"),
        (2.0, -9.0, "Blue smoke; perhaps: worn guides.", "guides"),
        (-9.0, -2.0, "Blue smoke; perhaps: worn seals.", "seals"),
        (-9.0, -5.0, SEEN, ""),
    ],
)
def test_a_headline_goes_no_further_than_its_odds(guides: float, seals: float, text: str, names: str) -> None:
    """The rule's cause where it leads and is likely, else what was seen, with the likeliest or alone."""
    ordered = sorted((cause("guides", guides), cause("seals", seals)), key=lambda e: -e.odds)
    told = headline(FINDING, SEEN, "guides", ordered)
    assert (told.text, told.names) == (text, names)


def test_a_finding_without_a_second_wording_is_doubted_where_its_cause_is_unlikely() -> None:
    """A workshop's own rule tells no two wordings apart."""
    assert headline(FINDING, "", "guides", [cause("guides", -2.0)]).text == FINDING
    assert headline(FINDING, "", "guides", [cause("guides", -4.0)]).text == f"Perhaps: {FINDING}"
    assert headline(FINDING, "", "", []).text == FINDING


@pytest.mark.parametrize("sample", samples_unlike(), ids=name_of)
def test_no_headline_of_a_sample_names_a_cause_that_its_odds_call_unlikely(
    sample: Path, reported: Reported
) -> None:
    """Read from the reports that all tests look at."""
    assert [
        what for one in open_assessment(reported(sample, "json")).advice.diagnoses for what in amiss(one)
    ] == []


def amiss(one: Diagnosis) -> Iterator[str]:
    """
    What a headline claims beyond its odds.

    A cause that is named is as likely as not, or more; where the rule has two wordings it is the likeliest of
    its rule; and a headline that names none is what was found.
    """
    rule = next(r for r in BOOK.rules if r.id == one.rule)
    odds = {e.cause: e.odds for e in one.explanations if e.cause in (rule.cause, *rule.other_causes)}
    if not one.names:
        yield from () if one.finding == one.seen else (f"{one.id} names no cause: {one.finding}",)
    elif odds[one.names] <= -CLEAR or one.finding.startswith("Perhaps"):
        yield f"{one.id} names what is unlikely: {one.finding}"
    elif one.seen and odds[one.names] < max(odds.values()):
        yield f"{one.id} does not name the likeliest: {one.finding}"
