"""The shipped rules read out of twenty invented engines what the recorded table says, no more, no less."""

from collections import Counter
from pathlib import Path

import yaml

import inspect_report
from tests.advise.test_headline import amiss
from tests.scenarios.engines import assessed, scenarios
from tests.scenarios.judged import TABLE, as_csv, counts, judging, table

_RULES = Path(inspect_report.__file__).parent / "knowledge" / "rulebooks" / "engine-builder.yaml"
_DEVELOPERS = Path(inspect_report.__file__).parent.parent / "DEVELOPERS.md"


def test_table_is_what_the_program_says_now() -> None:
    """Every hit, miss and false alarm is as recorded, and the count of them is the one the handbook tells."""
    rows = table()
    assert as_csv(rows) == TABLE.read_text(encoding="utf-8")
    assert counts(rows) in " ".join(_DEVELOPERS.read_text(encoding="utf-8").split())


def test_no_headline_names_a_cause_that_its_own_odds_call_unlikely() -> None:
    """In twenty engines with twelve kinds of fault."""
    said = [one for scenario in scenarios() for one in assessed(scenario).advice.diagnoses]
    assert [what for one in said for what in amiss(one)] == []


def test_engines_are_the_mixture_that_was_meant() -> None:
    """Fourteen four-strokes and six two-strokes, three of them healthy, each judged and none twice."""
    engines = scenarios()
    told = judging()
    assert Counter(one.kind for one in engines) == {"four-stroke": 14, "two-stroke": 6}
    assert [one.id for one in engines] == list(told)
    assert sum(not judged["faults"] for judged in told.values()) == 3


def test_judging_names_causes_of_the_rulebook_only() -> None:
    """A cause that the rulebook does not know, by a slip of the pen or a new name, could never be hit."""
    known = {cause["id"] for cause in yaml.safe_load(_RULES.read_text(encoding="utf-8"))["causes"]}
    named = {
        cause
        for judged in judging().values()
        for causes in (*judged["faults"].values(), judged["true-too"])
        for cause in causes
    }
    assert named <= known
