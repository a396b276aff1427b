"""Turns the photos of an inspection into figures, each beside the finding it shows."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from inspect_report.judge.finding import Finding
from inspect_report.records.inspection import Photo
from inspect_report.records.marks import Mark, Spot
from inspect_report.report.figures import joined
from inspect_report.report.reportparts import (
    EarlierView,
    PhotoView,
    Picture,
    ResultsPart,
    ResultView,
)
from inspect_report.report.source import Source
from inspect_report.report.words import GRAVITY, capital, is_present
from inspect_report.telling.manner import message, say, thing

THIRDS: Final = (
    (message("upper left"), message("top"), message("upper right")),
    (message("left"), message("middle"), message("right")),
    (message("lower left"), message("bottom"), message("lower right")),
)
"""Places in a picture, by thirds."""


@dataclass(frozen=True, slots=True)
class Placed:
    """
    A photo with the finding it stands beside; no finding where it shows none.

    ``whole`` says on whose word it shows the whole engine; None where it is known to show a part.
    """

    photo: PhotoView
    finding: Finding | None
    whole: Literal["inspector", "checklist", "nobody"] | None


def album(source: Source) -> tuple[Placed, ...]:
    """The photos in the order of the inspection file; one that shows several things is printed once."""
    return tuple(_placed(source, same) for same in _once(source.a.inspection.head.photos))


def front_photo(photos: Sequence[Placed]) -> PhotoView | None:
    """The photo of the engine as a whole, for the first page: the first on the surest word."""
    words = ("inspector", "checklist", "nobody")
    return next((p.photo for word in words for p in photos if p.whole == word), None)


def all_but_front(photos: Sequence[Placed]) -> tuple[PhotoView, ...]:
    """The photos in order, without the one on the first page."""
    first = front_photo(photos)
    return tuple(p.photo for p in photos if p.photo != first)


def beside(photos: Iterable[Placed], alike: Iterable[Finding]) -> tuple[PhotoView, ...]:
    """The photos of some findings."""
    ids = {f.id for f in alike}
    return tuple(p.photo for p in photos if p.finding is not None and p.finding.id in ids)


def not_in_rows(
    photos: Iterable[Placed], findings: Iterable[Finding], rows: Iterable[ResultView]
) -> tuple[PhotoView, ...]:
    """The photos of those findings that no row tells of, since nothing was found or there is no limit."""
    told = [photo for row in rows for photo in row.photos]
    return tuple(photo for photo in beside(photos, findings) if photo not in told)


def parts(rows: Sequence[ResultView]) -> tuple[ResultsPart, ...]:
    """Rows cut below each that has photos."""
    cut: list[ResultsPart] = []
    begun: list[ResultView] = []
    for row in rows:
        begun.append(row)
        if row.photos:
            cut.append(ResultsPart(tuple(begun), row.photos))
            begun = []
    return (*cut, ResultsPart(tuple(begun), ())) if begun else tuple(cut)


def _once(photos: Iterable[Photo]) -> tuple[tuple[Photo, ...], ...]:
    """Photos of one file together, unless they differ in marks or in what stands beside them."""
    groups: list[list[Photo]] = []
    for photo in photos:
        same = next((g for g in groups if _is_same(photo, g)), None)
        if same is None:
            groups.append([photo])
        else:
            same.append(photo)
    return tuple(tuple(group) for group in groups)


def _is_same(photo: Photo, group: Iterable[Photo]) -> bool:
    return all(
        p.file == photo.file and (_is_bare(p) or _is_bare(photo) or _look(p) == _look(photo)) for p in group
    )


def _look(photo: Photo) -> tuple[object, ...]:
    return photo.marks, photo.before


def _is_bare(photo: Photo) -> bool:
    return not photo.marks and photo.before is None


def _placed(source: Source, same: Sequence[Photo]) -> Placed:
    shown = next((p for p in same if not _is_bare(p)), same[0])
    findings = (_finding(source, p.of) for p in same if p.of)
    finding = next((f for f in findings if f is not None), None)
    home = finding is not None and any(
        f.assembly == finding.assembly and is_present(f) for f in source.a.judged.findings
    )
    return Placed(replace(_photo(source, shown, same), beside=home), finding, _whole(source, same))


def _whole(source: Source, same: Iterable[Photo]) -> Literal["inspector", "checklist", "nobody"] | None:
    """On whose word a picture shows the whole engine; what names or points at something shows a part."""
    if any(p.front for p in same):
        return "inspector"
    named = [source.a.checklist.item(p.of) for p in same if p.of]
    if any(item is not None and item.front for item in named):
        return "checklist"
    return None if named or not all(map(_is_bare, same)) else "nobody"


def _photo(source: Source, shown: Photo, same: Sequence[Photo]) -> PhotoView:
    shows = dict.fromkeys(_shows(source, p.of) for p in same)
    dated = shown.taken or (source.a.inspection.head.dates.inspected if shown.before else None)
    return PhotoView(
        picture=Picture(shown.file, _alt(shown.caption, shown.marks), "photo", shown.marks),
        caption=shown.caption,
        of="; ".join(text for text in shows if text and text != shown.caption),
        day=source.figures.day(dated),
        before=_earlier(source, shown),
    )


def _earlier(source: Source, photo: Photo) -> EarlierView | None:
    before = photo.before
    if before is None:
        return None
    day = source.figures.day(before.taken)
    told = _alt(before.caption or say("{caption}, before", caption=photo.caption), before.marks)
    return EarlierView(Picture(before.file, told, "photo", before.marks), before.caption, day)


def _alt(caption: str, marks: Sequence[Mark]) -> str:
    """What a photo shows and what its marks point at, for those who cannot see it."""
    if not marks:
        return say("Photo: {caption}", caption=caption)
    told = joined([_mark(m) for m in marks])
    return say("Photo: {caption}. Marked: {marks}.", caption=caption.rstrip("."), marks=told)


def _mark(mark: Mark) -> str:
    where = say(_where(mark.spot))
    if mark.arrow is not None:
        told = say("arrow, its tip at {where}", where=where)
    elif mark.circle is not None:
        told = say("circle at {where}", where=where)
    else:
        told = say("ellipse at {where}", where=where)
    return f"{mark.label}, {told}" if mark.label else told


def _where(spot: Spot) -> str:
    across, down = (min(2, int(3 * share)) for share in spot)
    return THIRDS[down][across]


def _finding(source: Source, of: str) -> Finding | None:
    """The finding that an id or a part of one names; of several the gravest."""
    if of in source.findings:
        return source.findings[of]
    named = list(_named(source.a.judged.findings, of)) or list(_read_from(source.a.judged.findings, of))
    return min(named, key=lambda f: GRAVITY.index(f.verdict), default=None)


def _named(findings: Iterable[Finding], of: str) -> Iterator[Finding]:
    return (f for f in findings if f.characteristic == of or f.id.startswith(f"{of}."))


def _read_from(findings: Iterable[Finding], of: str) -> Iterator[Finding]:
    """Findings that rest on readings at a place: ``bore-diameter.3`` is looked at in the wear of bore 3."""
    return (f for f in findings if any(r == of or r.startswith(f"{of}.") for r in f.readings))


def _shows(source: Source, of: str) -> str:
    if not of:
        return ""
    if of in source.findings:
        return capital(source.named(of))
    item_id, _, labels = of.partition(".")
    item = source.a.checklist.item(item_id)
    if item is not None and item.kind == "photo":
        return ""  # what asks for a picture says nothing of what is in it
    name = item.asks if item else thing(item_id)
    return capital(f"{name}, {labels.replace('.', ', ')}" if labels else name)
