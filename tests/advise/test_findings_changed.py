"""What a later issue of an inspection says otherwise of a place, and nothing else."""

from dataclasses import replace

import pytest

from inspect_report.advise.findings_changed import findings_changed
from inspect_report.judge.finding import Finding
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from inspect_report.records.position import ENGINE
from inspect_report.report.source import Source
from inspect_report.report.view_front import replaces
from inspect_report.report.view_quote import changes
from tests.advise.builders import at, finding, judged
from tests.samples import SAMPLES

PLACE = at(1, "exhaust-1")
READ = replace(finding("valve-clearance", PLACE, "as new", "0.24 mm"), instruments=("feelers",))


@pytest.mark.parametrize(
    ("before", "now", "why"),
    [
        (READ, finding("valve-clearance", PLACE, "as new", "0.22 mm"), "read with another instrument"),
        (READ, replace(finding("valve-clearance", PLACE, "as new", "0.22 mm"), instruments=("feelers",)),
         "other readings, or sizes they are held against"),
        (finding("valve-clearance", PLACE, "not inspected"), READ, "looked at since"),
        (finding("valve-clearance", ENGINE, "not inspected"), READ, "looked at since"),
        (READ, finding("valve-clearance", ENGINE, "not inspected"), "no longer looked at"),
        (replace(READ, chosen=("free",)), replace(READ, chosen=("stiff",)), "seen otherwise"),
        (READ, replace(READ, verdict=finding("x", PLACE, "marginal").verdict), "judged otherwise"),
    ],
)  # fmt: skip
def test_what_changed_is_told_with_its_reason(before: Finding, now: Finding, why: str) -> None:
    """One row for the place, also where one of the two issues speaks of the item as a whole."""
    (change,) = findings_changed(judged(before), judged(now))
    assert change.why == why


def test_what_did_not_change_is_not_told() -> None:
    """The same value in another unit's noise, and what neither issue looked at, make no row."""
    left = finding("valve-clearance", ENGINE, "not inspected")
    assert not list(findings_changed(judged(READ), judged(READ)))
    assert not list(
        findings_changed(judged(left), judged(finding("valve-clearance", PLACE, "not inspected")))
    )


def test_the_kart_shows_what_its_first_page_says_changed() -> None:
    """The pin was read with another micrometer, and the reeds looked at since: both stand in the table."""
    source = Source(assess(load(SAMPLES / "kart-two-stroke.yaml")))
    shown = changes(source)
    assert shown
    assert shown.counts == "Findings beyond the limit: 10, before 9. Checks graded: 130, before 121."
    rows = {row.what: row for row in shown.findings}
    pin = rows["Piston pin, cylinder 1"]
    assert (pin.before[:6], pin.now[:6], pin.why) == ("14.988", "14.994", "Read with another instrument")
    assert rows["Reeds, cylinder 1, reed 2"].now.startswith("Chipped edge")
    assert "Changed since: piston pin, pin clearance, reed gap, reeds" in replaces(source)
