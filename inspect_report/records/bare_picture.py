"""
Turns a picture file into the same picture without what the camera wrote into it, pixel for pixel.

Nothing is packed anew: of JPEG (ISO/IEC 10918-1), PNG (ISO/IEC 15948) and WebP (RFC 9649) those pieces are
kept that say how the pixels look. Place, device, times, small copies and what stands behind the end are not.
"""

import re
import struct
import warnings
from collections.abc import Iterator
from io import BytesIO
from typing import Final
from zlib import crc32

FORMATS: Final = ("JPEG", "PNG", "WEBP")
ORIENTATION: Final = 0x0112
_JPEG: Final = b"\xff\xd8"
_JPEG_END: Final = 0xD9
_JPEG_SCAN: Final = 0xDA
_JPEG_NEXT: Final = re.compile(rb"\xff+[^\x00\xff\xd0-\xd7]")
_JPEG_ALONE: Final = (0x01, *range(0xD0, 0xD8))
_PNG: Final = b"\x89PNG\r\n\x1a\n"
_PNG_KEPT: Final = frozenset({
    b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"cICP", b"sBIT",
    b"bKGD", b"pHYs", b"acTL", b"fcTL", b"fdAT",
})  # fmt: skip
_WEBP_KEPT: Final = frozenset({b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF", b"ICCP"})
_WEBP_NOTES: Final = 0x0C
"""Bits of VP8X that say that notes of the camera follow."""
_WEBP_EXIF: Final = 0x08


def bare_picture(data: bytes) -> bytes:
    """
    The picture without the camera's notes, still held the same way up.

    Args:
        data: A JPEG, PNG or WebP file that can be shown.

    Returns:
        The same pixels; a file without notes byte for byte. Nothing of what is none of the three formats, or
        is not built as they are, since nobody knows what else stands in it.
    """
    try:
        if data.startswith(_JPEG):
            return _bare_jpeg(data)
        if data.startswith(_PNG):
            return _bare_png(data)
        if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
            return _bare_webp(data)
    except (IndexError, struct.error):
        return b""
    return b""


def _bare_jpeg(data: bytes) -> bytes:
    turned = _turn(data)
    notes = b"Exif\0\0" + turned
    kept = [b"\xff\xe1" + struct.pack(">H", len(notes) + 2) + notes] if turned else []
    head = [segment for segment in _jpeg_segments(data) if _shows(segment)]
    # The mark of the file format, where there is one, has to come first.
    first = 1 if head and head[0][1] == 0xE0 else 0
    return b"".join((_JPEG, *head[:first], *kept, *head[first:]))


def _jpeg_segments(data: bytes) -> Iterator[bytes]:
    """The pieces behind the first mark, up to the end of the picture."""
    at = len(_JPEG)
    while True:
        while data[at + 1] == 0xFF:
            at += 1
        mark, end = data[at + 1], at + 2
        if data[at] != 0xFF or mark == 0:
            raise IndexError(at)
        if mark == _JPEG_END:
            yield data[at:end]
            return
        if mark not in _JPEG_ALONE:
            end += int(struct.unpack_from(">H", data, end)[0])
        if mark == _JPEG_SCAN:
            following = _JPEG_NEXT.search(data, end)
            end = following.start() if following else len(data)
        yield data[at:end]
        at = end


def _shows(segment: bytes) -> bool:
    """Whether a piece of a JPEG says how it looks: tables, pixels, colours; not what was noted of it."""
    mark, content = segment[1], segment[4:]
    if mark == 0xE0:
        return content.startswith(b"JFIF\0")
    if mark == 0xE2:
        return content.startswith(b"ICC_PROFILE\0")
    if mark == 0xEE:
        return content.startswith(b"Adobe")
    return not (0xE0 <= mark <= 0xEF or mark == 0xFE)


def _bare_png(data: bytes) -> bytes:
    chunks = [(kind, whole) for kind, whole in _png_chunks(data) if kind in _PNG_KEPT]
    turned = _turn(data)
    notes = [_png_chunk(b"eXIf", turned)] if turned else []
    return b"".join((_PNG, chunks[0][1], *notes, *(whole for _, whole in chunks[1:])))


def _png_chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    at, kind = len(_PNG), b""
    while kind != b"IEND":
        length, kind = struct.unpack_from(">I4s", data, at)
        yield kind, data[at : at + length + 12]
        at += length + 12


def _png_chunk(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", crc32(kind + content))


def _bare_webp(data: bytes) -> bytes:
    turned = _turn(data)
    kept = [(kind, content) for kind, content in _riff_chunks(data) if kind in _WEBP_KEPT]
    if turned:
        kept.append((b"EXIF", turned))
    body = b"".join(_riff_chunk(kind, _flagged(kind, content, turned)) for kind, content in kept)
    return b"RIFF" + struct.pack("<I", len(body) + 4) + b"WEBP" + body


def _flagged(kind: bytes, content: bytes, turned: bytes) -> bytes:
    """The head of a WebP that says which of the camera's notes follow: its turn at most."""
    if kind != b"VP8X":
        return content
    return bytes([content[0] & ~_WEBP_NOTES | (_WEBP_EXIF if turned else 0)]) + content[1:]


def _riff_chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    at, end = 12, min(len(data), 8 + int(struct.unpack_from("<I", data, 4)[0]))
    while at + 8 <= end:
        kind, length = struct.unpack_from("<4sI", data, at)
        yield kind, data[at + 8 : at + 8 + length]
        at += 8 + length + length % 2


def _riff_chunk(kind: bytes, content: bytes) -> bytes:
    return kind + struct.pack("<I", len(content)) + content + b"\0" * (len(content) % 2)


def _turn(data: bytes) -> bytes:
    """How the camera was held, as notes that say nothing else; empty where it was held upright."""
    from PIL import Image

    try:
        with warnings.catch_warnings(action="ignore"), Image.open(BytesIO(data), formats=FORMATS) as opened:
            turn = opened.getexif().get(ORIENTATION, 1)
    except Exception:  # strangers wrote the notes, and many things are raised over them
        return b""
    if turn not in range(2, 9):
        return b""
    # One directory of one entry, little end first (TIFF 6.0): its kind is "short", its count one.
    return b"II*\0" + struct.pack("<IHHHIHHI", 8, 1, ORIENTATION, 3, 1, turn, 0, 0)
