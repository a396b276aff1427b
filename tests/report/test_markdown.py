"""An inspector's notes become markup that can do no harm."""

import pytest

from inspect_report.report.markdown import as_markup


@pytest.mark.parametrize(
    "text",
    ["<script>alert(1)</script>", "a <img src=x onerror=alert(1)> b", "<!-- x -->", "<style>p{}</style>"],
)
def test_html_stays_text(text: str) -> None:
    """Raw HTML is printed as it was written."""
    made = str(as_markup(text))
    assert "&lt;" in made
    assert not any(tag in made for tag in ("<script", "<img", "<style", "<!--"))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("[the page](https://example.org/a)", "the page (https://example.org/a)"),
        ("[mail](mailto:a@example.org)", "mail (a@example.org)"),
        ("[file](file:///etc/passwd)", "file"),
        ("[here](../secret.yaml)", "here"),
        ("[x](javascript:alert)", "javascript"),
    ],
)
def test_links_are_text(text: str, told: str) -> None:
    """Web and mail addresses are printed behind the words; nothing can be followed."""
    made = str(as_markup(text))
    assert told in made
    assert "<a" not in made


def test_pictures_stay_text() -> None:
    """A picture in the notes is not fetched; photos have a place of their own."""
    assert "<img" not in str(as_markup("![x](https://example.org/x.png)"))


def test_headings_keep_the_order_of_the_page() -> None:
    """A heading in the notes becomes a paragraph of weight."""
    assert str(as_markup("# Oil\n\ntext")) == '<p class="notehead">Oil</p>\n<p>text</p>\n'


def test_empty_notes_are_nothing() -> None:
    """Blank text gives no empty chapter."""
    assert as_markup(" \n") is None
