"""Checks that every sample inspection is measured without a fault, and that its numbers can be real."""

from math import isfinite

import pytest

from inspect_report.knowledge.shelf import load
from inspect_report.measure.derived import Measured
from inspect_report.measure.measuring import measure
from tests.samples import SAMPLES, sample_inspections

SAMPLE_FILES = sample_inspections()


@pytest.fixture(params=SAMPLE_FILES, ids=[str(path.relative_to(SAMPLES)) for path in SAMPLE_FILES])
def sample(request: pytest.FixtureRequest) -> Measured:
    """One sample inspection, measured."""
    return measure(load(request.param))


def test_sample_is_measured_without_a_fault(sample: Measured) -> None:
    """No check of ours fails, and there is something to report."""
    assert sample.failed == ()
    assert sample.quantities


def test_every_quantity_is_a_number_that_names_its_lines(sample: Measured) -> None:
    """Values and uncertainties are finite, and each can be followed to readings in the file."""
    for quantity in sample.quantities:
        assert isfinite(quantity.quantity.value), quantity.id
        assert 0.0 <= quantity.quantity.u < float("inf"), quantity.id
        assert quantity.readings, quantity.id
        assert quantity.inputs, quantity.id


def test_no_quantity_and_reason_stand_for_one_place(sample: Measured) -> None:
    """A place is measured, or not measured for a reason; never both."""
    made = {(q.characteristic, q.position) for q in sample.quantities}
    lacking = {(u.characteristic, u.position) for u in sample.unmeasured}
    assert not made & lacking
