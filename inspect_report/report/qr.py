"""Turns the number and digest of a report into a QR code: the text that is read from it, and its drawing."""

from base64 import b64encode
from io import BytesIO
from typing import Final

BORDER: Final = 4
"""Quiet margin that a reader needs round the code, in modules (ISO/IEC 18004)."""


def qr_text(number: str, issue: int, digest: str) -> str:
    """What a reader of the code shows: number, issue and digest, one a line."""
    return f"{number}\nissue {issue}\nsha256 {digest}"


def qr_address(text: str) -> str:
    """
    A QR code as the data address of an SVG; level M restores 15 % of it where ink or paper fail.

    Args:
        text: What it says; letters beyond ASCII are written as UTF-8.
    """
    import segno

    drawing = BytesIO()
    code = segno.make_qr(text, error="m", boost_error=False)
    code.save(drawing, kind="svg", border=BORDER, xmldecl=False, svgns=True, omitsize=True, light="#fff")
    return f"data:image/svg+xml;base64,{b64encode(drawing.getvalue()).decode()}"
