"""Turns a view into a PDF that keeps PDF/A-3a and PDF/UA-1, with the inspection file attached."""

import logging
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any, Final
from urllib.parse import unquote, urlsplit

from inspect_report.places import fonts_dir
from inspect_report.records.problem import CannotRender
from inspect_report.report.pages import environment, font_faces, page, stylesheet, with_colours
from inspect_report.report.pictures import Pictures
from inspect_report.report.tagging import finish
from inspect_report.report.theme import Theme
from inspect_report.report.writing import collector_at_rest

APT: Final = "apt-get install --no-install-recommends libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
OUR_DATA: Final = ("data:image/png;", "data:image/jpeg;", "data:image/svg+xml;")


@dataclass(frozen=True, slots=True)
class Attached:
    """A file that travels inside the PDF: its name, what it is, its bytes and the day it is dated."""

    name: str
    description: str
    data: bytes
    day: str
    """Day as year-month-day."""


def as_pdf(
    view: object,
    template: str,
    pictures: Pictures,
    theme: Theme,
    attached: Attached | None = None,
    own: Path | None = None,
) -> bytes:
    """
    A view as a PDF; the same view gives the same bytes.

    Args:
        view: The view.
        template: Name of the page's template.
        pictures: Gives charts and photos.
        theme: Colours and sizes.
        attached: File to carry along.
        own: Folder of the workshop's own templates.

    Raises:
        CannotRender: a system library is missing, or a template, style sheet, font or picture is at fault.
    """
    sheets = (stylesheet("look.css", own), stylesheet("print.css", own))
    faces = font_faces(lambda path: path.resolve().as_uri())
    css = "\n".join((faces, *(with_colours(sheet, theme) for sheet in sheets)))
    return printed(page(environment(own, pictures), template, view, "paper", css), attached)


def printed(html: str, attached: Attached | None = None) -> bytes:
    """
    HTML as a PDF.

    Raises:
        CannotRender: a system library is missing, or something cannot be fetched or drawn.
    """
    weasyprint = _weasyprint()
    digest = sha256(html.encode() + (attached.data if attached else b"")).digest()
    attachments = [_attachment(weasyprint, attached)] if attached else []
    with _listening() as complaints, warnings.catch_warnings(), collector_at_rest():
        # The library leaves its colour profile open until it is collected; nothing of ours.
        warnings.simplefilter("ignore", ResourceWarning)
        try:
            document = weasyprint.HTML(string=html, url_fetcher=_fetcher()())
            data = document.write_pdf(
                pdf_variant="pdf/a-3a", pdf_identifier=digest[:16], attachments=attachments, finisher=finish
            )
        except weasyprint.urls.FatalURLFetchingError as fault:
            raise CannotRender(f"the PDF needs something it may not or cannot open: {fault}") from None
        except RecursionError:
            raise CannotRender("the page is nested too deeply to be laid out") from None
    _refuse_missing_letters(complaints)
    return bytes(data)


def _weasyprint() -> Any:
    try:
        import weasyprint
        import weasyprint.urls
    except OSError as fault:
        raise CannotRender(
            "the PDF needs system libraries that are not installed "
            f"({str(fault).splitlines()[0]}); install them with: {APT}"
        ) from None
    return weasyprint


def _attachment(weasyprint: Any, attached: Attached) -> Any:
    moment = datetime.fromisoformat(attached.day).replace(tzinfo=UTC)
    return weasyprint.Attachment(
        string=attached.data,
        name=attached.name,
        description=attached.description,
        relationship="Source",
        created=moment,
        modified=moment,
    )


@cache
def _fetcher() -> Any:
    """The fetcher that opens our own data addresses and the shipped fonts, and nothing else."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class Locked(URLFetcher):  # type: ignore[misc] # the library carries no types
        def __init__(self) -> None:
            super().__init__(allowed_protocols={"file", "data"}, allow_redirects=False, fail_on_errors=True)

        def fetch(self, url: str, headers: Any = None) -> Any:
            if url.startswith(OUR_DATA):
                return super().fetch(url, headers)
            path = _shipped_font(url)
            return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": "font/ttf"})

    return Locked


def _shipped_font(url: str) -> Path:
    parts = urlsplit(url)
    path = Path(unquote(parts.path)).resolve()
    if parts.scheme != "file" or parts.netloc or not path.is_relative_to(fonts_dir().resolve()):
        raise ValueError(f"refused: {url[:80]}")
    return path


class _Complaints(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(record.getMessage())


@contextmanager
def _listening() -> Iterator[list[str]]:
    """What the library complains of, kept from the terminal."""
    logger, handler = logging.getLogger("weasyprint"), _Complaints()
    before, logger.propagate = logger.propagate, False
    logger.addHandler(handler)
    try:
        yield handler.lines
    finally:
        logger.removeHandler(handler)
        logger.propagate = before


def _refuse_missing_letters(complaints: list[str]) -> None:
    missing = [line for line in complaints if ".notdef" in line]
    if missing:
        raise CannotRender(
            f"a letter cannot be printed with the fonts at hand: {missing[0]}; write it in other letters"
        )
