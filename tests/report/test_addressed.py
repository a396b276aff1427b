"""A report carries the cautions and terms of whoever reads it, and no rules of the bench."""

from functools import cache

from inspect_report.assessment import Assessment
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from inspect_report.report.view import view
from tests.samples import SAMPLES


@cache
def assessed(name: str) -> Assessment:
    """A sample as judged."""
    return assess(load(SAMPLES / f"{name}.yaml"))


def ids(name: str) -> list[str]:
    """Cautions of a sample's report."""
    return [c.id for c in assessed(name).cautions]


def test_an_engine_that_is_not_serviceable_is_not_to_be_started() -> None:
    """The inline four is unserviceable as it stands; the machine in the frame only needs work."""
    assert ids("inline-four-strip") == ["do-not-run", "own-work"]
    assert ids("used-machine-in-frame") == ["own-work"]


def test_a_buyer_is_not_told_that_parts_are_his() -> None:
    """Owner's terms stand on the owner's report; a workshop with one text of terms gives it to all."""
    seen = assessed("used-machine-in-frame")
    assert "are yours" in str(view(assessed("inline-four-strip")).workshop.terms)
    buyer = str(view(seen).workshop.terms)
    assert "30 days" in buyer
    assert "are yours" not in buyer
    assert "are yours" in str(view(seen, "rebuild quote").workshop.terms)


def test_nothing_is_disclaimed_twice() -> None:
    """The statement says it once."""
    closing = view(assessed("used-machine-in-frame")).closing
    assert sum("warranty" in text for text in (*closing.cautions, *closing.scope)) == 1
