"""Turns a text into the first piece of HTML in it, so that it can be refused by name."""

import re
from typing import Final

# A tag or comment as browsers see one; <https://…>, a link in Markdown, is none.
_TAG: Final = re.compile(r"<(?:/?[A-Za-z][A-Za-z0-9-]*(?:\s[^<>]*)?/?>|!--|[!?][A-Za-z])")


def html_in(text: str) -> str:
    """The first tag or comment in a text, empty where there is none."""
    match = _TAG.search(text)
    return match.group() if match else ""
