"""Every verdict can be asked why."""

import json
from dataclasses import replace
from datetime import timedelta

import pytest

from inspect_report.assessment import Assessment
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from inspect_report.report.explain import UnknownFinding, why, why_json
from tests.samples import SAMPLES


def test_the_chain_from_reading_to_price(assessment: Assessment) -> None:
    """Readings with line and instrument, quantity, limit, rule, verdict, diagnosis, work and price."""
    told = why(assessment, "bore-wear.3")
    for wanted in (
        "bore-diameter.3.top.across = 67.096\u00a0mm by bore-gauge (inspection.yaml:40)",
        "bore gauge, no. BG-2, resolution 0.001\u00a0mm, permissible error ±\u00a00.003\u00a0mm",
        "0.096\u00a0±\u00a00.004\u00a0mm (k = 2)",
        "at most 0.080\u00a0mm",
        "spec sheet: Corvane CV4 workshop manual, p.\u00a05-4",
        "shown at 95\u00a0% confidence",
        "beyond limit",
        "Rule worn-bore.3",
        "Rebore and fit oversize pistons",
        "Piston, oversize",
        "on request",
    ):
        assert wanted in told, wanted


def test_lines_fit_a_terminal(assessment: Assessment) -> None:
    """No line is wider than a hundred columns."""
    for finding in assessment.judged.findings:
        assert max(len(line) for line in why(assessment, finding.id).splitlines()) <= 100


@pytest.mark.parametrize(
    ("wanted", "told"),
    [
        ("bore-ware.3", "did you mean 'bore-wear.3'"),
        ("bore-wear", r"it has places: bore-wear\.1, bore-wear\.2"),
        ("zzz", "lists all that can be asked"),
    ],
)
def test_an_unknown_id_is_met_with_an_offer(assessment: Assessment, wanted: str, told: str) -> None:
    """The nearest finding, or the places of the characteristic."""
    with pytest.raises(UnknownFinding, match=told):
        why(assessment, wanted)


def test_the_budget_below_the_chain() -> None:
    """
    Each cause with value, uncertainty, sensitivity and what it adds, then their sum, k and U.

    Taper is a difference of two readings of one gauge, whose error falls out. One of them is the mean of
    67.096, 67.097 and 67.095: s 0.001, over √3 0.000577, two degrees of freedom. Steps of 0.001 give
    0.000289 each: together √(0.000577² + 2·0.000289²) = 0.000707 mm, and 2·(0.000707/0.000577)⁴ = 4.5.
    """
    told = why(assess(load(SAMPLES / "inline-four-strip.yaml")), "bore-taper.3", budget=True)
    assert "0.080 ± 0.002 mm (k = 2.74)" in told.replace("\u00a0", " ")
    lines = [line.replace("\u00a0", " ").split("  ") for line in told.splitlines()]
    cells = [[cell.strip() for cell in line if cell.strip()] for line in lines]
    for row in (
        ["bore-diameter.3.top.across,", "67.096 mm", "0.000289 mm", "1.00", "0.000289 mm", "∞"],
        ["bore-diameter.3.top.across,", "67.096 mm", "0.000577 mm", "1.00", "0.000577 mm", "2"],
        ["repeats"],
        ["bore-diameter.3.bottom.across,", "67.016 mm", "0.000289 mm", "−1.00", "0.000289 mm", "∞"],
        ["bore-gauge-50-100, permissible", "–", "0.00173 mm", "0", "0 mm", "∞"],
        ["Root sum of squares: standard uncertainty 0.000707 mm, effective degrees of freedom 4.5."],
        ["Coverage factor k = 2.74: expanded uncertainty ±0.00194 mm."],
    ):
        assert row in cells, row


def test_no_budget_where_nothing_was_measured(assessment: Assessment) -> None:
    """A finding by eye says that it has no uncertainty, instead of an empty table."""
    seen = next(f for f in assessment.judged.findings if f.quantity is None)
    assert "so there is no uncertainty" in why(assessment, seen.id, budget=True)


def test_calibration_that_had_run_out_is_told(assessment: Assessment) -> None:
    """Behind the day of calibration stands when it was due, marked where that was before the inspection."""
    head = assessment.inspection.head
    day = head.dates.inspected
    for due, told in ((day - timedelta(1), " (run out)\n"), (day, "\n")):
        gauge = head.instruments["bore-gauge"].model_copy(update={"calibration_due": due})
        changed = head.model_copy(update={"instruments": {**head.instruments, "bore-gauge": gauge}})
        now = replace(assessment, inspection=replace(assessment.inspection, head=changed))
        text = " ".join(why(now, "bore-wear.3").split("\n              "))
        assert f", due {due.day} {due:%B} {due.year}{told}" in text


def test_the_chain_as_json(assessment: Assessment) -> None:
    """Another program gets the steps the terminal shows, in their order."""
    told = json.loads(why_json(assessment, "bore-wear.3"))
    assert (told["of"], told["title"]) == ("bore-wear.3", "bore-wear.3: bore wear, cylinder 3")
    labels = [step["step"] for step in told["steps"]]
    assert labels[:4] == ["readings", "instrument", "formula", "quantity"]
    assert "work" in labels
    plain = " ".join(why(assessment, "bore-wear.3").split())
    for step in told["steps"]:
        for text in step["told"]:
            assert " ".join(text.split()) in plain, text
    with pytest.raises(UnknownFinding, match="did you mean"):
        why_json(assessment, "bore-ware.3")


def test_the_note_of_a_reading_is_told(assessment: Assessment) -> None:
    """What the inspector wrote beside a reading stands behind it, as on the page of readings."""
    inspection = assessment.inspection
    noted = tuple(
        replace(r, note="ridge not cut") if r.item == "bore-diameter" else r for r in inspection.readings
    )
    now = replace(assessment, inspection=replace(inspection, readings=noted))
    assert "(inspection.yaml:40) – ridge not cut" in " ".join(why(now, "bore-wear.3").split())
    assert "ridge" not in why(assessment, "bore-wear.3")


def test_orders_sums_and_diagnoses_as_json() -> None:
    """What can be asked on the terminal can be asked by a program."""
    assessment = assess(load(SAMPLES / "used-machine-in-frame.yaml"))
    for asked in ("least", "complete", "known", "likely", "hidden", assessment.advice.diagnoses[0].id):
        told = json.loads(why_json(assessment, asked))
        assert told["of"] == asked
        assert told["title"] == why(assessment, asked).splitlines()[0]
        assert told["steps"]
        assert all(step["told"] for step in told["steps"])
