"""What a picture of a single shows is found, whether its cylinder is written or left out."""

import pytest

from inspect_report.knowledge.shelf import load
from inspect_report.records.single import whole_id
from tests.samples import SAMPLES


@pytest.mark.parametrize(
    ("sample", "written", "meant"),
    [
        ("kart-two-stroke", "skirt-state", "skirt-state.1"),
        ("kart-two-stroke", "reed-state.2", "reed-state.1.2"),
        ("kart-two-stroke", "bore-diameter.top", "bore-diameter.1.top"),
        ("kart-two-stroke", "skirt-state.1", "skirt-state.1"),
        ("kart-two-stroke", "gear-state.3", "gear-state.3"),
        ("kart-two-stroke", "no-such-item", "no-such-item"),
        ("inline-four-strip", "bore-state", "bore-state"),
    ],
)
def test_the_one_cylinder_may_be_left_out(sample: str, written: str, meant: str) -> None:
    """Of a single alone; the rest of a place may be left out behind it as on any engine."""
    books = load(SAMPLES / f"{sample}.yaml").books
    assert whole_id(written, books.checklist, books.sheet) == meant
