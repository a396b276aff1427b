"""Turns marks on a photo into dark ink with a light edge, which shows on any ground and in grey."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Final

from inspect_report.records.marks import Mark
from inspect_report.report.fonts import whole_fonts
from inspect_report.report.theme import Theme

if TYPE_CHECKING:
    from PIL import Image, ImageDraw, ImageFont

FINE: Final = 3
"""Drawn so many times larger and scaled down, which makes slanting edges smooth."""
CORE_MM, EDGE_MM = 0.6, 0.45
HEAD_MM, HEAD_HALF_MM, GAP_MM, PAD_MM = 3.0, 1.25, 0.9, 0.7
LETTERS_PT: Final = 8.0
FACE: Final = "Inter-SemiBold.ttf"
WAYS: Final = ((0, -1), (0, 1), (1, 0), (-1, 0), (1, -1), (-1, -1), (1, 1), (-1, 1))
"""Sides on which a label may stand, above first."""
Box = tuple[float, float, float, float]
Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Pen:
    """What marks are drawn with; lengths in drawn pixels."""

    draw: "ImageDraw.ImageDraw"
    size: tuple[int, int]
    mm: float
    ink: str
    paper: str

    def at(self, spot: Spot) -> Spot:
        """A place given in shares of the picture."""
        return spot[0] * self.size[0], spot[1] * self.size[1]


def marked(photo: "Image.Image", marks: Sequence[Mark], theme: Theme) -> "Image.Image":
    """
    A photo with its marks drawn into it.

    Args:
        photo: RGB, upright, at the resolution it is printed with.
        marks: What to draw; labels are kept inside the picture and off each other as far as there is room.
        theme: Colours of ink and edge, and the resolution, from which sizes in millimetres follow.
    """
    from PIL import Image, ImageDraw

    size = (photo.width * FINE, photo.height * FINE)
    sheet = Image.new("RGBA", size, (0, 0, 0, 0))
    mm = FINE * theme.photo.dpi / 25.4
    pen = _Pen(ImageDraw.Draw(sheet), size, mm, theme.light.ink, theme.light.paper)
    for width, colour in ((CORE_MM + 2 * EDGE_MM, pen.paper), (CORE_MM, pen.ink)):
        for mark in marks:
            _shape(pen, mark, width * mm, colour)
    taken = [_round(pen, mark) for mark in marks]
    for mark in marks:
        if mark.label:
            taken.append(_label(pen, mark, taken))
    sheet = sheet.reduce(FINE)
    return Image.alpha_composite(photo.convert("RGBA"), sheet).convert("RGB")


def _shape(pen: _Pen, mark: Mark, width: float, colour: str) -> None:
    if mark.arrow is not None:
        _arrow(pen, pen.at(mark.arrow.tail), pen.at(mark.arrow.tip), width, colour)
        return
    left, top, right, bottom = _round(pen, mark)
    half = width / 2
    box = (left - half, top - half, right + half, bottom + half)
    pen.draw.ellipse(box, outline=colour, width=round(width))


def _arrow(pen: _Pen, tail: Spot, tip: Spot, width: float, colour: str) -> None:
    """The shaft, and a head that is never longer than the arrow."""
    length = math.dist(tail, tip)
    along = ((tip[0] - tail[0]) / length, (tip[1] - tail[1]) / length)
    head = min(HEAD_MM * pen.mm, length)
    half = HEAD_HALF_MM * pen.mm * head / (HEAD_MM * pen.mm)
    base = (tip[0] - head * along[0], tip[1] - head * along[1])
    sides = [(base[0] - s * half * along[1], base[1] + s * half * along[0]) for s in (1, -1)]
    if head < length:
        pen.draw.line((tail, base), fill=colour, width=round(width))
    corners = (tip, *sides)
    pen.draw.polygon(corners, fill=colour)
    if colour == pen.paper:
        edge = round(2 * EDGE_MM * pen.mm)
        pen.draw.line((*corners, tip, sides[0]), fill=colour, width=edge, joint="curve")


def _round(pen: _Pen, mark: Mark) -> Box:
    """The box round what a mark points at."""
    x, y = pen.at(mark.spot)
    if mark.circle is not None:
        across = down = mark.circle.radius * pen.size[0]
    elif mark.ellipse is not None:
        across, down = pen.at(mark.ellipse.radii)
    else:
        across = down = HEAD_MM * pen.mm
    return x - across, y - down, x + across, y + down


def _label(pen: _Pen, mark: Mark, taken: Sequence[Box]) -> Box:
    """Write the words of a mark on paper of their own; the box they take."""
    font = _font(round(LETTERS_PT * pen.mm * 25.4 / 72))
    pad = PAD_MM * pen.mm
    text = _broken(mark.label, font, pen.size[0] - 4 * pad)
    left, top, right, bottom = pen.draw.multiline_textbbox((0, 0), text, font=font)
    box = _free(pen, mark, (right - left + 2 * pad, bottom - top + 2 * pad), taken)
    line = round(0.25 * pen.mm)
    pen.draw.rounded_rectangle(box, radius=pad, fill=pen.paper, outline=pen.ink, width=line)
    pen.draw.multiline_text((box[0] + pad - left, box[1] + pad - top), text, fill=pen.ink, font=font)
    return box


@cache
def _font(size: int) -> "ImageFont.FreeTypeFont":
    """The family of the page; letters are set one by one, since shaping differs from machine to machine."""
    from PIL import ImageFont

    path = next(p for p in whole_fonts() if p.name == FACE)
    return ImageFont.truetype(path, size, layout_engine=ImageFont.Layout.BASIC)


def _broken(text: str, font: "ImageFont.FreeTypeFont", width: float) -> str:
    """Words on as many lines as they need."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and font.getlength(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return "\n".join(lines)


def _free(pen: _Pen, mark: Mark, size: tuple[float, float], taken: Sequence[Box]) -> Box:
    """Where a label covers least of what is drawn already: beyond an arrow's tail, beside a ring."""
    gap = GAP_MM * pen.mm
    if mark.arrow is not None:
        tail, tip = pen.at(mark.arrow.tail), pen.at(mark.arrow.tip)
        away = (tail[0] - tip[0], tail[1] - tip[1])
        ways = sorted(WAYS, key=lambda way: -_alike(way, away))
        middle, reach = tail, (gap, gap)
    else:
        left, top, right, bottom = _round(pen, mark)
        middle = ((left + right) / 2, (top + bottom) / 2)
        ways, reach = list(WAYS), ((right - left) / 2 + gap, (bottom - top) / 2 + gap)
    boxes = [_inside(pen, _beside(middle, reach, way, size), size) for way in ways]
    return min(boxes, key=lambda box: sum(_shared(box, other) for other in taken))


def _alike(way: Spot, other: Spot) -> float:
    return (way[0] * other[0] + way[1] * other[1]) / math.hypot(*way)


def _beside(middle: Spot, reach: Spot, way: Spot, size: Spot) -> Spot:
    """Upper left corner of a box that lies on one side of a place."""
    x, y = (m + w * (r + s / 2) - s / 2 for m, w, r, s in zip(middle, way, reach, size, strict=True))
    return x, y


def _inside(pen: _Pen, corner: Spot, size: Spot) -> Box:
    """A box pushed into the picture."""
    x, y = (max(0.0, min(c, p - 1 - s)) for c, p, s in zip(corner, pen.size, size, strict=True))
    return x, y, x + size[0], y + size[1]


def _shared(one: Box, other: Box) -> float:
    """The area that two boxes share."""
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    return max(0.0, across) * max(0.0, down)
