"""Places and verdicts in a customer's words."""

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from inspect_report.judge.finding import Seen, Verdict
from inspect_report.records.position import ENGINE, Position
from inspect_report.report.words import (
    GRAVITY,
    MEANING,
    places_words,
    seen_words,
    sentence,
    where_in_short,
    where_words,
)
from inspect_report.telling.positions import place_words
from tests.report.an_inspection import at

VALVES = ("inlet-1", "inlet-2", "exhaust-1", "exhaust-2")
ALL = [at(cylinder=c, valve=v) for c in range(1, 5) for v in VALVES]


def test_single_places() -> None:
    """Places as they are said at the bench."""
    assert place_words(at(cylinder=3, valve="exhaust-2")) == "cylinder 3, exhaust valve 2"
    assert place_words(at(cylinder=1, ring="top")) == "cylinder 1, top ring"
    assert place_words(at(main_journal=2)) == "main journal 2"
    assert place_words(ENGINE) == "engine"


def test_several_places_in_few_words() -> None:
    """Runs, lists and exceptions."""
    assert places_words([at(cylinder=n) for n in (1, 2, 3)]) == "cylinders 1 to 3"
    assert places_words([at(cylinder=n) for n in (1, 3)]) == "cylinders 1 and 3"
    assert places_words([at(cam=n) for n in ("inlet", "exhaust")]) == "inlet and exhaust camshafts"
    but_one = [p for p in ALL if p.labels != ("2", "exhaust-1")]
    assert places_words(but_one).endswith("except cylinder 2, exhaust valve 1")
    assert places_words([ALL[0], ALL[7]]) == "cylinder 1: inlet valve 1; cylinder 2: exhaust valve 2"


def test_all_of_a_kind() -> None:
    """All places, and all of one side of the head."""
    assert where_words(ALL, ALL) == "all 16 valves"
    assert where_words([p for p in ALL if p.labels[1].startswith("inlet")], ALL) == "all 8 inlet valves"
    scattered = [ALL[n] for n in (0, 3, 6, 9, 12)]
    assert where_in_short(scattered, ALL) == "5 of 16 places"


@given(st.sets(st.sampled_from(ALL), min_size=1))
def test_no_place_is_lost(some: set[Position]) -> None:
    """Each cylinder that holds a place is named, or told as part of a run or of all."""
    told = places_words(sorted(some, key=ALL.index))
    for position in some:
        assert "to" in told or position.labels[0] in told


@given(st.sets(st.sampled_from(ALL), min_size=1))
def test_different_places_are_told_differently(some: set[Position]) -> None:
    """Leaving one place out never gives the same words."""
    ordered = sorted(some, key=ALL.index)
    for left_out in ordered[:1] if len(ordered) > 1 else []:
        assert places_words(ordered) != places_words([p for p in ordered if p != left_out])


def test_every_verdict_has_a_meaning_and_a_rank() -> None:
    """Nine words, each explained once and ordered once."""
    assert set(MEANING) == set(GRAVITY) == set(Verdict)
    assert len(GRAVITY) == len(set(MEANING.values())) == 9


def test_what_the_eye_found_names_its_steps() -> None:
    """Kind, amount, size or strength, and the inspector's note."""
    told = [seen_words(Seen("scuffing", 2, *more)) for more in product((3,), (None,), ("thrust side",))]
    assert told == ["scuffing (amount\u00a02, size\u00a03\u00a0of\u00a05) – thrust side"]
    carbon = seen_words(Seen("carbon", 1, None, 2, ""))
    assert carbon == "carbon (amount\u00a01, strength\u00a02\u00a0of\u00a05)"


def test_sentences_end_once() -> None:
    """A full stop is added where none stands."""
    assert [sentence(t) for t in ("", "it leaks", "it leaks.", "does it?")] == [
        "",
        "It leaks.",
        "It leaks.",
        "Does it?",
    ]
