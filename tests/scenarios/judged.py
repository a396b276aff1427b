"""Turns what the program says of the invented engines into a table of hits, misses and false alarms."""

import csv
import io
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import astuple, dataclass, fields
from typing import Any, Final

import yaml

from inspect_report.advise.advice import Diagnosis
from inspect_report.advise.explanation import CLEAR
from tests.scenarios.engines import HERE, Scenario, assessed, scenarios

JUDGING: Final = HERE / "judging.yaml"
TABLE: Final = HERE / "table.csv"

HIT: Final = "hit"
EXPLANATION_ONLY: Final = "explained only"
MISS: Final = "miss"
FALSE_ALARM: Final = "false alarm"
WRONG_EXPLANATION: Final = "wrong explanation"
QUIET: Final = "healthy and quiet"
OUTCOMES: Final = (HIT, EXPLANATION_ONLY, MISS, FALSE_ALARM, WRONG_EXPLANATION, QUIET)


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table: of which engine, how it came out, what of, and the diagnoses that say so."""

    scenario: str
    outcome: str
    what: str
    said_by: str


def judging() -> dict[str, Any]:
    """Which causes are true of each invented engine, as a person judged it."""
    judged: dict[str, Any] = yaml.safe_load(JUDGING.read_text(encoding="utf-8"))
    return judged


def table() -> tuple[Row, ...]:
    """The table as the program gives it now."""
    told = judging()
    return tuple(row for one in scenarios() for row in rows_of(one, told[one.id]))


def rows_of(scenario: Scenario, judged: Mapping[str, Any]) -> tuple[Row, ...]:
    """What the program hits, misses and alleges wrongly of one invented engine."""
    said = assessed(scenario).advice.diagnoses
    faults = tuple(
        _fault(scenario.id, words, set(causes), said) for words, causes in judged["faults"].items()
    )
    true = {cause for causes in judged["faults"].values() for cause in causes} | set(judged["true-too"])
    wrong = (*_alarms(scenario.id, true, said), *_explanations(scenario.id, true, said))
    return faults + wrong or (Row(scenario.id, QUIET, "", ""),)


def _fault(scenario: str, words: str, causes: set[str], said: tuple[Diagnosis, ...]) -> Row:
    named = [one.id for one in said if one.cause in causes]
    offered = [
        one.id for one in said if any(e.cause in causes and e.evidence >= CLEAR for e in one.explanations)
    ]
    outcome = HIT if named else EXPLANATION_ONLY if offered else MISS
    return Row(scenario, outcome, words, " ".join(named or offered))


def _alarms(scenario: str, true: set[str], said: tuple[Diagnosis, ...]) -> Iterator[Row]:
    """A diagnosis without a cause is held against its own rule's id."""
    for one in said:
        if (one.cause or one.rule) not in true:
            yield Row(scenario, FALSE_ALARM, one.cause or one.rule, one.id)


def _explanations(scenario: str, true: set[str], said: tuple[Diagnosis, ...]) -> Iterator[Row]:
    """Explanations held likelier than not that are not true, once each, unless a diagnosis alleges them."""
    alleged = {one.cause for one in said}
    wrong: dict[str, list[str]] = {}
    for one in said:
        for explanation in one.explanations:
            if explanation.odds > 0 and explanation.cause not in true | alleged:
                wrong.setdefault(explanation.cause, []).append(one.id)
    yield from (Row(scenario, WRONG_EXPLANATION, cause, " ".join(ids)) for cause, ids in wrong.items())


def as_csv(rows: tuple[Row, ...]) -> str:
    """The table as it is recorded."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(field.name for field in fields(Row))
    writer.writerows(astuple(row) for row in rows)
    return text.getvalue()


def counts(rows: tuple[Row, ...]) -> str:
    """How often each outcome stands in the table, in one line."""
    found = Counter(row.outcome for row in rows)
    return ", ".join(f"{outcome}: {found[outcome]}" for outcome in OUTCOMES)
