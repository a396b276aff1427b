"""
Turns the parts of a page, each a tagged PDF of its own, and the frame of its sheets into one tagged PDF.

The first part gives the document its claims, language and colour profile. Of the others come the pages, what
their tags say, and their bookmarks. Heads and page numbers are laid over every page as artifacts: they are
printed last, when the pages are counted. Files to carry along are attached to the whole.
"""

from collections.abc import Iterator, Sequence
from io import BytesIO
from typing import Any, Final

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf

from inspect_report.report.attaching import Attached, attach
from inspect_report.report.bound import Bound, Chapter

FRAME: Final = Name("/Frame")
# A page of WeasyPrint turns its upright over and does not turn it back.
_BEFORE: Final = b"q"
_BEHIND: Final = b"Q /Artifact <</Type /Pagination>> BDC /Frame Do EMC"


def bound(parts: Sequence[bytes]) -> Bound:
    """How many pages PDFs have together, and the chapters their bookmarks of the top level name."""
    pages, chapters = 0, []
    for part in parts:
        with Pdf.open(BytesIO(part)) as pdf:
            chapters += [Chapter(title, pages + page) for title, page in _chapters(pdf)]
            pages += len(pdf.pages)
    return Bound(pages, tuple(chapters))


def _chapters(pdf: Pdf) -> Iterator[tuple[str, int]]:
    numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages, 1)}
    for bookmark in _row(pdf.Root.get("/Outlines", {})):
        yield str(bookmark.Title), numbers[bookmark.Dest[0].objgen]


def joined(parts: Sequence[bytes], frame: bytes, files: Sequence[Attached] = ()) -> bytes:
    """
    One PDF of several; the same parts give the same bytes.

    Args:
        parts: PDFs as WeasyPrint tags them, in order.
        frame: A PDF without tags, with a page for each page of the parts.
        files: Files to carry along.
    """
    with Pdf.open(BytesIO(parts[0])) as whole:
        for part in parts[1:]:
            with Pdf.open(BytesIO(part)) as more:
                _append(whole, more)
        with Pdf.open(BytesIO(frame)) as around:
            _lay_over(whole, around)
        attach(whole, files)
        out = BytesIO()
        whole.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
        return out.getvalue()


def _append(whole: Pdf, more: Pdf) -> None:
    """Put the pages, tags, bookmarks and named places of one document behind those of another."""
    first = len(whole.pages)
    whole.pages.extend(more.pages)
    shift = _next_key(whole)
    for page in whole.pages[first:]:
        page.obj.StructParents = int(page.obj.StructParents) + shift
    _append_tags(whole, _copied(whole, more, "/StructTreeRoot"), shift)
    if "/Outlines" in more.Root:
        _append_bookmarks(whole, _copied(whole, more, "/Outlines"))
    _append_places(whole, more)


def _copied(whole: Pdf, more: Pdf, key: str) -> Any:
    """What stands at the root of another document, once its pages are in this one."""
    return whole.copy_foreign(more.make_indirect(more.Root[key]))


def _next_key(whole: Pdf) -> int:
    """The first number not yet given to a page's list of tags."""
    return max(int(key) for key in list(whole.Root.StructTreeRoot.ParentTree.Nums)[::2]) + 1


def _append_tags(whole: Pdf, added: Any, shift: int) -> None:
    """All parts hang below the one element that stands for the document."""
    root = whole.Root.StructTreeRoot
    document = root.K[0]
    for element in added.K[0].K:
        element.P = document
        document.K.append(element)
    numbers = list(added.ParentTree.Nums)
    for key, tags in zip(numbers[::2], numbers[1::2], strict=True):
        root.ParentTree.Nums.extend(Array([int(key) + shift, tags]))


def _append_bookmarks(whole: Pdf, added: Any) -> None:
    """The bookmarks of the top level stand in one row."""
    if "/Outlines" not in whole.Root:
        whole.Root.Outlines = added
        return
    root = whole.Root.Outlines
    for bookmark in _row(added):
        bookmark.Parent = root
    root.Last.Next, added.First.Prev = added.First, root.Last
    root.Last, root.Count = added.Last, int(root.Count) + int(added.Count)


def _row(outlines: Any) -> Iterator[Any]:
    bookmark = outlines.get("/First")
    while bookmark is not None:
        yield bookmark
        bookmark = bookmark.get("/Next")


def _append_places(whole: Pdf, more: Pdf) -> None:
    """Named places of both documents in one list, which has to be sorted."""
    added = _places(_copied(whole, more, "/Names")) if "/Names" in more.Root else {}
    if not added:
        return
    if "/Names" not in whole.Root:
        whole.Root.Names = Dictionary()
    both = sorted({**_places(whole.Root.Names), **added}.items())
    whole.Root.Names.Dests = Dictionary(Names=Array([thing for pair in both for thing in pair]))


def _places(names: Any) -> dict[str, Any]:
    listed = list(names.Dests.Names) if "/Dests" in names else []
    return {str(name): place for name, place in zip(listed[::2], listed[1::2], strict=True)}


def _lay_over(whole: Pdf, around: Pdf) -> None:
    """Draw each page's frame over it, outside the reading order."""
    for page, frame in zip(whole.pages, around.pages, strict=True):
        drawing = whole.copy_foreign(frame.as_form_xobject())
        # Pages share their resources; what this one draws is its own.
        resources = page.obj.Resources = _copy(page.obj.Resources)
        resources.XObject = _copy(resources.get("/XObject", Dictionary()))
        resources.XObject[FRAME] = drawing
        page.contents_add(_BEFORE, prepend=True)
        page.contents_add(_BEHIND, prepend=False)


def _copy(dictionary: Any) -> Any:
    made = Dictionary()
    for key, value in dictionary.items():
        made[key] = value
    return made
