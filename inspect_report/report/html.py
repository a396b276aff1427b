"""Turns a view into one HTML file with styles, fonts, charts and photos inside."""

from base64 import b64encode
from functools import cache
from pathlib import Path

from inspect_report.report.pages import environment, font_faces, page, root_rules, stylesheet
from inspect_report.report.pictures import Pictures
from inspect_report.report.theme import Theme

ON_SCREEN = ("Inter-Regular.ttf", "Inter-SemiBold.ttf")
"""Weights sent along with a page; a browser slants and thickens the rest well enough."""


def as_html(view: object, template: str, pictures: Pictures, theme: Theme, own: Path | None = None) -> str:
    """
    A view as a whole HTML page.

    Args:
        view: The view.
        template: Name of the page's template.
        pictures: Gives charts and photos.
        theme: Colours and sizes.
        own: Folder of the workshop's own templates.

    Raises:
        CannotRender: a template, style sheet, font or picture is at fault.
    """
    css = "\n".join(
        (
            font_faces(_font_uri, ON_SCREEN),
            root_rules(theme),
            stylesheet("look.css", own),
            stylesheet("screen.css", own),
        )
    )
    return page(environment(own, pictures, pictures.drawing), template, view, "screen", css)


@cache
def _font_uri(path: Path) -> str:
    return f"data:font/ttf;base64,{b64encode(path.read_bytes()).decode()}"
