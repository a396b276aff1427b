"""Kinds of damage and steps of rating against the lists of the open standards they are taken from."""

import pytest

from inspect_report.knowledge.catalogue import DamageWord, Scales
from inspect_report.places import knowledge_dir
from inspect_report.records.shape import read_as, read_file
from tests.published.figures import rows

SCALES = read_as(Scales, read_file(knowledge_dir() / "scales.yaml")).value or pytest.fail("scales.yaml")
WORDS = {word.damage: word for word in SCALES.words}
BY_STANDARD = {
    "ISO 15243": [r for r in rows("damage_words.csv") if r["source"].startswith("ISO 15243")],
    "ISO 10825:1995": [r for r in rows("damage_words.csv") if r["source"].startswith("ISO 10825")],
    "ISO 7146-1": [r for r in rows("damage_words.csv") if r["source"].startswith("ISO 7146-1")],
}


@pytest.mark.parametrize("row", rows("damage_words.csv"), ids=lambda r: r["word"])
def test_every_word_of_a_standard_is_known_by_its_source(row: dict[str, str]) -> None:
    """
    ISO 15243 (maker's page), ISO 10825:1995 (contents list): seen; ISO 7146-1: list from memory.

    A bracket behind a word tells how a later edition has it and is no part of it. A word of two standards
    is as sure as the weaker list.
    """
    standard = next(s for s, members in BY_STANDARD.items() if row in members)
    word = WORDS.get(row["word"]) or WORDS[row["word"].partition(" (")[0]]
    assert standard in word.standard
    lists = [r["how_sure"] for r in rows("damage_words.csv") if r["word"] == row["word"]]
    assert word.sure == ("from memory" if any("from memory" in sure for sure in lists) else "seen")


@pytest.mark.parametrize("standard", BY_STANDARD)
def test_no_word_is_laid_on_a_standard_that_has_not_got_it(standard: str) -> None:
    """What the book says is a standard's word stands in that standard's list."""
    listed = {name for r in BY_STANDARD[standard] for name in (r["word"], r["word"].partition(" (")[0])}
    assert [w.damage for w in SCALES.words if standard in w.standard and w.damage not in listed] == []


def test_six_steps() -> None:
    """ISO 4628-1:2016 (principle seen in an extract): 0 no change, 5 so severe that more says nothing."""
    assert len(SCALES.steps) == 6
    assert SCALES.steps[0] == "nothing found"
    assert "more would change nothing" in SCALES.steps[5]


@pytest.mark.parametrize("word", SCALES.words, ids=lambda w: w.damage)
def test_verdicts_never_get_better_as_damage_grows(word: DamageWord) -> None:
    """By the same principle the steps go one way: a higher step never has the better verdict."""
    order = ("as new", "serviceable", "marginal", "beyond limit")
    verdicts = [order.index(v) for v in word.verdicts]
    assert verdicts[0] == 0
    assert verdicts == sorted(verdicts)


def test_debris_in_a_bearing_by_area() -> None:
    """
    TM 9-2815-220-24 WP 0138 (seen): debris pressed in is accepted below 5 % of the surface.

    A first small step of it is serviceable in our book, a marked one is not.
    """
    verdicts = WORDS["embedded debris"].verdicts
    assert verdicts[1] == "serviceable"
    assert verdicts[4] == "beyond limit"
