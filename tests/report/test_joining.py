"""Parts become one document: pages, tags, bookmarks, named places, and a frame on every page."""

import re
from io import BytesIO
from typing import Any

import pikepdf
import pytest

from inspect_report.report.joining import bound, joined
from inspect_report.report.pdf import printed

STYLE = "<style>h2 {bookmark-level: 1} .b {break-before: page}</style>"


def part(*titles: str) -> bytes:
    """A part with a page, a heading and a table for each title."""
    body = "".join(
        f'<h2 id="{t}"{" class=b" if n else ""}>{t}</h2><table><thead><tr><th>x</thead><tr><td>{t}</table>'
        for n, t in enumerate(titles)
    )
    return printed(f"<html lang=en><title>t</title>{STYLE}{body}")


def frame(pages: int) -> bytes:
    """A frame that says which page it is of."""
    sheets = '<p style="break-after: page; margin: 0"></p>' * (pages - 1)
    css = '@page { @bottom-right { content: "leaf " counter(page) " of " counter(pages) } }'
    return printed(f"<html lang=en><title>f</title><style>{css}</style>{sheets}<p>", standard=False)


@pytest.fixture(scope="module")
def whole() -> bytes:
    """Three parts of one, two and one pages."""
    return joined([part("one"), part("two", "three"), part("four")], frame(4))


def opened(data: bytes) -> pikepdf.Pdf:
    """A PDF to look into."""
    return pikepdf.open(BytesIO(data))


def test_pages_come_in_order(whole: bytes) -> None:
    """Every page is there once."""
    assert bound([whole]).pages == 4


def test_chapters_are_found_on_their_pages(whole: bytes) -> None:
    """Before parts are joined they are counted through; afterwards the same pages bear the headings."""
    chapters = ("one", 1), ("two", 2), ("three", 3), ("four", 4)
    for parts in ([part("one"), part("two", "three"), part("four")], [whole]):
        known = bound(parts)
        assert known.pages == 4
        assert tuple((chapter.title, chapter.page) for chapter in known.chapters) == chapters
    assert bound([printed("<html lang=en><title>t</title><p>x")]).chapters == ()


def test_same_parts_same_bytes(whole: bytes) -> None:
    """Joining adds no time and no chance."""
    assert joined([part("one"), part("two", "three"), part("four")], frame(4)) == whole


def test_tags_hang_below_one_document(whole: bytes) -> None:
    """Every page's tags are found from the page, and belong to the one tree."""
    pdf = opened(whole)
    root = pdf.Root.StructTreeRoot
    assert len(root.K) == 1
    numbers = list(root.ParentTree.Nums)
    tags = {int(key): value for key, value in zip(numbers[::2], numbers[1::2], strict=True)}
    keys = [int(page.obj.StructParents) for page in pdf.pages]
    assert len(set(keys)) == 4
    for page, key in zip(pdf.pages, keys, strict=True):
        assert tags[key][0].Pg.objgen == page.obj.objgen
        element = tags[key][0]
        while element.S != "/Document":
            element = element.P
        assert element.objgen == root.K[0].objgen


def test_bookmarks_stand_in_one_row(whole: bytes) -> None:
    """They are read forwards and backwards, and lead to their pages."""
    pdf = opened(whole)
    with pdf.open_outline() as outline:
        assert [item.title for item in outline.root] == ["one", "two", "three", "four"]
    row: list[str] = []
    bookmark: Any = pdf.Root.Outlines.Last
    while bookmark is not None:
        row.append(str(bookmark.Title))
        assert bookmark.Parent.objgen == pdf.Root.Outlines.objgen
        bookmark = bookmark.get("/Prev")
    assert row == ["four", "three", "two", "one"]
    assert int(pdf.Root.Outlines.Count) == 4


def test_named_places_are_sorted_and_complete(whole: bytes) -> None:
    """A place of every part is found by its name."""
    pdf = opened(whole)
    names = list(pdf.Root.Names.Dests.Names)
    assert [str(n) for n in names[::2]] == ["four", "one", "three", "two"]
    numbers = [pikepdf.Page(place[0]).index for place in names[1::2]]
    assert numbers == [3, 0, 2, 1]


def test_the_frame_is_an_artifact_of_each_page(whole: bytes) -> None:
    """Each page draws its own frame, outside what is read aloud, and upright."""
    pdf = opened(whole)
    for page in pdf.pages:
        drawn = b"\n".join(stream.read_bytes() for stream in page.obj.Contents)
        assert re.search(rb"\AQ?q\n1 0 0 -1 0", drawn)
        assert drawn.endswith(b"Q /Artifact <</Type /Pagination>> BDC /Frame Do EMC")
    frames = [page.obj.Resources.XObject["/Frame"].objgen for page in pdf.pages]
    assert len(set(frames)) == 4


def test_a_frame_of_other_length_is_a_fault() -> None:
    """A page without its frame would go unnumbered."""
    with pytest.raises(ValueError, match="zip"):
        joined([part("one")], frame(2))
