"""Every verdict can be asked why."""

import pytest

from inspect_report.assessment import Assessment
from inspect_report.report.explain import UnknownFinding, why


def test_the_chain_from_reading_to_price(assessment: Assessment) -> None:
    """Readings with line and instrument, quantity, limit, rule, verdict, diagnosis, work and price."""
    told = why(assessment, "bore-wear.3")
    for wanted in (
        "bore-diameter.3.top.across = 67.096\u00a0mm by bore-gauge (inspection.yaml:40)",
        "bore gauge, no. BG-2, resolution 0.001\u00a0mm, permissible error ±\u00a00.003\u00a0mm",
        "0.096\u00a0±\u00a00.004\u00a0mm (k = 2)",
        "at most 0.080\u00a0mm",
        "spec sheet: Corvane CV4 workshop manual, p. 5-4",
        "shown at 95\u00a0% confidence",
        "beyond limit",
        "Rule worn-bore.3",
        "Rebore and fit oversize pistons",
        "piston, oversize",
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
        ("zzz", "the JSON report lists every id"),
    ],
)
def test_an_unknown_id_is_met_with_an_offer(assessment: Assessment, wanted: str, told: str) -> None:
    """The nearest finding, or the places of the characteristic."""
    with pytest.raises(UnknownFinding, match=told):
        why(assessment, wanted)
