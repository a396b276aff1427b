"""
Reports in each language as they stand: first page, findings, work and what is stated.

The texts are those of the view, which every page is made of. Where a change is meant: ``pytest tests/report
--snapshot-update``, and have a mechanic read it who speaks the language.
"""

from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from inspect_report import assess, load
from inspect_report.report.view import view
from tests.report.test_told_units import texts
from tests.samples import SAMPLES

TOLD = {
    "de": "kart-two-stroke",
    "fr": "inline-four-strip",
    "es": "used-machine-in-frame",
    "it": "race-team/b-5",
}
"""Each language with a sample of another kind."""
PARTS = ("front", "grades", "words", "diagnoses", "assemblies", "classes", "buyer", "missing", "closing")


@pytest.mark.parametrize("language", TOLD)
def test_texts(language: str, snapshot: SnapshotAssertion) -> None:
    """Every text of the parts that a customer reads, in order."""
    shown = view(assess(load((SAMPLES / f"{TOLD[language]}.yaml").relative_to(Path.cwd())), language))
    told = [text for part in PARTS for _, text in texts(getattr(shown, part)) if text]
    assert snapshot == "\n".join(told)
