"""Turns an inspector's Markdown into safe markup: no HTML, no pictures, links only as text."""

from collections.abc import Iterator, Sequence
from functools import cache
from typing import Final
from urllib.parse import urlsplit

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup

_SCHEMES: Final = ("http", "https", "mailto")


@cache
def _reader() -> MarkdownIt:
    reader = MarkdownIt("commonmark", {"html": False, "linkify": False}).disable(
        ["image", "html_block", "html_inline"]
    )
    reader.add_render_rule("link_open", _nothing)
    reader.add_render_rule("link_close", _nothing)
    return reader


def _nothing(*_: object) -> str:
    return ""


def as_markup(text: str) -> Markup | None:
    """
    Markdown as markup that may stand on a page; None where there is none.

    Headings become paragraphs of weight, so that the page's own headings keep their order. A link's address
    is printed behind it where it is one of the web or of mail, and dropped otherwise.
    """
    if not text.strip():
        return None
    reader = _reader()
    tokens = [_flattened(token) for token in reader.parse(text)]
    return Markup(reader.renderer.render(tokens, reader.options, {}))  # noqa: S704 - made by the renderer, HTML off


def _flattened(token: Token) -> Token:
    if token.type in ("heading_open", "heading_close"):
        token.tag = "p"
        if token.nesting == 1:
            token.attrSet("class", "notehead")
    if token.children:
        token.children = list(_with_addresses(token.children))
    return token


def _with_addresses(children: Sequence[Token]) -> Iterator[Token]:
    """Inline tokens, each link followed by its address as text."""
    address = ""
    for token in children:
        if token.type == "link_open":
            address = str(token.attrs.get("href", ""))
        yield token
        if token.type == "link_close" and urlsplit(address).scheme in _SCHEMES:
            yield Token("text", "", 0, content=f" ({address.removeprefix('mailto:')})")
