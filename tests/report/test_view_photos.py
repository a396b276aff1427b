"""Photos stand beside the finding they show, once, and what their marks point at can be read aloud."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from inspect_report.assessment import Assessment
from inspect_report.records.inspection import Photo
from inspect_report.report.pages import environment, page
from inspect_report.report.reportview import ReportView
from inspect_report.report.view import view
from tests.report.test_photos import a_photo

ARROW = {"arrow": {"tail": [0.1, 0.1], "tip": [0.9, 0.5]}, "label": "lines"}


def with_photos(assessment: Assessment, *photos: dict[str, Any]) -> ReportView:
    """The report of an inspection with photos."""
    records = tuple(Photo.model_validate({"caption": p["file"], **p}) for p in photos)
    head = assessment.inspection.head.model_copy(update={"photos": records})
    return view(replace(assessment, inspection=replace(assessment.inspection, head=head)))


def beside(shown: ReportView) -> dict[str, list[str]]:
    """Files of photos by the anchor of the row they stand below, or by the assembly's name."""
    rows = {r.anchor: [p.picture.file for p in r.photos] for a in shown.assemblies for r in a.results}
    loose = {a.name: [p.picture.file for p in a.photos] for a in shown.assemblies}
    return {where: files for where, files in {**rows, **loose}.items() if files}


def files(photos: Any) -> list[str]:
    """Files of photos."""
    return [p.picture.file for p in photos]


def test_a_photo_stands_below_the_row_of_its_finding(assessment: Assessment) -> None:
    """A finding's id finds its row; an item without a place the gravest; a reading what was made of it."""
    shown = with_photos(
        assessment,
        {"file": "whole.png"},
        {"file": "a.png", "of": "bore-wear.3"},
        {"file": "b.png", "of": "bore-wear"},
        {"file": "c.png", "of": "bore-diameter.3"},
        {"file": "d.png", "of": "no-such-thing"},
    )
    placed = beside(shown)
    assert placed["f-bore-wear-3"][:2] == ["a.png", "b.png"]
    assert [file for row in placed.values() for file in row].count("c.png") == 1
    assert shown.front.photo is not None
    assert shown.front.photo.picture.file == "whole.png"
    assert files(shown.photos) == ["a.png", "b.png", "c.png", "d.png"]
    assert [p.picture.file for p in shown.photos if not p.beside] == ["d.png"]


def test_a_photo_of_a_place_in_order_stands_with_its_assembly(assessment: Assessment) -> None:
    """Where nothing was found there is no row; the photo follows the list of what was looked at."""
    clean = next(f for f in assessment.judged.findings if f.verdict == "as new" and f.quantity is None)
    shown = with_photos(assessment, {"file": "w.png"}, {"file": "a.png", "of": clean.id})
    (home,) = (a for a in shown.assemblies if a.photos)
    assert files(home.photos) == ["a.png"]
    assert all(p.beside for p in shown.photos)


def test_tables_are_cut_below_a_row_with_photos(assessment: Assessment) -> None:
    """Every row is printed once, in its order, and a photo follows the row it belongs to at once."""
    shown = with_photos(assessment, {"file": "w.png"}, {"file": "a.png", "of": "bore-wear.3"})
    for assembly in shown.assemblies:
        assert tuple(r for part in assembly.parts for r in part.results) == assembly.results
    made = page(environment(None, lambda t: getattr(t, "file", "")), "rebuild-quote.html", shown, "paper", "")
    row = made.index('id="f-bore-wear-3"')
    after = made[row : made.index("a.png")]
    assert after.count("<tr>") == 0
    assert after.count("</table>") == 1


def test_one_photo_of_several_things_is_printed_once(assessment: Assessment) -> None:
    """Beside the first, telling all; with other marks it is another picture."""
    twice = [{"file": "a.png", "of": "bore-wear.3"}, {"file": "a.png", "of": "leak-down.3"}]
    (photo,) = with_photos(assessment, *twice).photos
    assert "Bore wear, cylinder 3" in photo.of
    assert "Leak-down, cylinder 3" in photo.of
    marked = [{**twice[0], "marks": [ARROW]}, {**twice[1], "marks": [{**ARROW, "label": "wide"}]}]
    assert len(with_photos(assessment, *marked).photos) == 2
    assert len(with_photos(assessment, twice[0], marked[1]).photos) == 1


@pytest.mark.parametrize(
    ("mark", "told"),
    [
        (ARROW, "lines, arrow, its tip at right"),
        ({"circle": {"centre": [0.1, 0.9], "radius": 0.1}}, "circle at lower left"),
        ({"ellipse": {"centre": [0.5, 1], "radii": [0.1, 0.2]}, "label": "x"}, "x, ellipse at bottom"),
        ({"arrow": {"tail": [0, 0], "tip": [0.5, 0.5]}}, "arrow, its tip at middle"),
    ],
)
def test_marks_are_told_in_the_text_alternative(assessment: Assessment, mark: Any, told: str) -> None:
    """Kind, words and place of each."""
    shown = with_photos(
        assessment, {"file": "a.png", "of": "bore-wear.3", "caption": "Bore.", "marks": [mark]}
    )
    assert shown.photos[0].picture.alt == f"Photo: Bore. Marked: {told}."


def test_a_pair_stands_side_by_side_with_its_days(assessment: Assessment) -> None:
    """The earlier one first, each with its day; the later one's is that of the inspection if not written."""
    before = {"file": "old.png", "taken": "2024-04-02", "marks": [ARROW]}
    shown = with_photos(assessment, {"file": "a.png", "of": "bore-wear.3", "before": before})
    (photo,) = shown.photos
    assert photo.before is not None
    assert photo.before.day == "2 April 2024"
    assert photo.day == "5 March 2026"
    assert "Marked: lines" in photo.before.picture.alt
    made = page(environment(None, lambda t: getattr(t, "file", "")), "rebuild-quote.html", shown, "paper", "")
    pair = made[made.index('<div class="pair">') :]
    assert pair.index("Before, 2 April 2024") < pair.index("After, 5 March 2026")
    assert made.index("old.png") < made.index("a.png")


def test_pairs_and_marks_come_out_on_paper(assessment: Assessment, folder: Path, tmp_path: Path) -> None:
    """Both pictures of a pair are printed at the width and resolution they are to have, beside each other."""
    from inspect_report.report.render import render

    for name in ("a.jpg", "old.jpg"):
        a_photo(folder / name, (3000, 2000))
    before = {"file": "old.jpg", "taken": "2024-04-02"}
    photo = {"file": "a.jpg", "caption": "x", "of": "bore-wear.3", "before": before, "marks": [ARROW]}
    head = assessment.inspection.head.model_copy(update={"photos": (Photo.model_validate(photo),)})
    changed = replace(assessment, inspection=replace(assessment.inspection, head=head))
    (pdf,) = render(changed, tmp_path, formats=("pdf",), folder=folder)
    import pikepdf

    with pikepdf.open(pdf) as opened:
        drawn = [names for names in map(photos_drawn, opened.pages) if names]
    assert [len(names) for names in drawn] == [2]


def photos_drawn(paper: Any) -> list[str]:
    """Names of the pictures of print resolution that a page draws."""
    import pikepdf

    known = {name for name, image in paper.get_images().items() if image.Width == 736}
    steps = pikepdf.parse_content_stream(paper)
    return [str(s.operands[0]) for s in steps if str(s.operator) == "Do" and str(s.operands[0]) in known]


RECEIVED = {"file": "r.png", "of": "photo-as-received"}


def on_front(shown: ReportView) -> str:
    """File of the photo on the first page."""
    return shown.front.photo.picture.file if shown.front.photo else ""


def test_a_photo_that_shows_a_part_never_goes_first_unasked(assessment: Assessment) -> None:
    """An item without a finding is a part, too; and whoever marks a spot means the spot."""
    parts = ({"file": "m.png", "of": "timing-marks-photo"}, {"file": "c.png", "marks": [ARROW]})
    assert on_front(with_photos(assessment, *parts)) == ""
    assert on_front(with_photos(assessment, *parts, RECEIVED)) == "r.png"


def test_the_photo_of_the_whole_engine_goes_first_by_the_surest_word(assessment: Assessment) -> None:
    """The inspector's, then that of the checklist, then a photo of which nothing else is said."""
    loose, said = {"file": "w.png"}, {"file": "s.png", "of": "bore-wear.3", "front": True}
    assert on_front(with_photos(assessment, loose)) == "w.png"
    assert on_front(with_photos(assessment, loose, RECEIVED)) == "r.png"
    assert on_front(with_photos(assessment, loose, RECEIVED, said)) == "s.png"
