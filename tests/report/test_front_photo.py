"""The first page shows the engine as a whole, and the chapter on photos everything else."""

from inspect_report.report.view import view
from tests.report.an_assessment import an_assessment

WHOLE = {"file": "as-received.jpg", "caption": "As received"}
BORE = {"file": "bore.jpg", "caption": "Bore 3", "of": "leak-down.3"}


def test_the_photo_of_no_finding_goes_first() -> None:
    """Whatever its place in the file; it is not printed a second time."""
    page = view(an_assessment(photos=[BORE, WHOLE]))
    assert page.front.photo is not None
    assert page.front.photo.caption == "As received"
    assert [p.caption for p in page.photos] == ["Bore 3"]


def test_photos_of_findings_alone_leave_the_first_page_without() -> None:
    """A close view of one part says nothing about which engine it is."""
    page = view(an_assessment(photos=[BORE]))
    assert page.front.photo is None
    assert [p.caption for p in page.photos] == ["Bore 3"]


def test_the_inspection_says_which_photo_goes_first() -> None:
    """Whatever else it shows."""
    page = view(an_assessment(photos=[WHOLE, {**BORE, "front": True}]))
    assert page.front.photo is not None
    assert page.front.photo.caption == "Bore 3"
