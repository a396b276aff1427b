"""A row of results has one uncertainty, and each of its values that is not good a chance of its own."""

from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from inspect_report.report.source import Source
from inspect_report.report.view_findings import found_words
from inspect_report.report.view_numbers import numbers
from tests.samples import SAMPLES


def test_a_row_has_one_uncertainty_and_each_bad_value_its_own_chance() -> None:
    """0.18 and 0.19 mm under 0.20 with u 0.0033: 0.19 is 3.0 u away, and so inside with 0.1 %."""
    source = Source(assess(load(SAMPLES / "used-machine-in-frame.yaml")))
    rows = [r for r in numbers(source) if r.name == "Valve clearance" and "0.190" in str(r.values)]
    assert [r.uncertainty.replace("\u00a0", " ") for r in rows] == ["± 0.007 mm"]
    told = " ".join(v.text for v in rows[0].values)
    assert "0.180 (beyond limit)" in told
    assert "0.190 (beyond limit, inside: 0.1" in told
    bad = [f for f in source.of("valve-clearance") if f.verdict == "beyond limit"]
    assert found_words(source.figures, bad).replace("\u00a0", " ") == "0.180 to 0.190 mm (± 0.007)"
