"""Turns a view into a PDF that keeps PDF/A-3a and PDF/UA-1, with the files it was made from attached."""

import atexit
import logging
import warnings
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from contextlib import contextmanager
from functools import cache, lru_cache
from hashlib import sha256
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final
from urllib.parse import unquote, urlsplit

from inspect_report.records.problem import CannotRender
from inspect_report.report.attaching import Attached
from inspect_report.report.beside import Alone
from inspect_report.report.fonts import fallback, whole_fonts
from inspect_report.report.joining import bound, joined
from inspect_report.report.pages import (
    environment,
    fallback_face,
    figure_faces,
    font_faces,
    page,
    stylesheet,
    with_colours,
)
from inspect_report.report.parting import letters, parted, shares
from inspect_report.report.pictures import Pictures
from inspect_report.report.tagging import finish
from inspect_report.report.theme import Theme
from inspect_report.report.writing import collector_at_rest

APT: Final = "apt-get install --no-install-recommends libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
LEAD: Final = 40_000
"""What this process still has to load when parts are shared out, as letters of page that take as long."""
_KEPT_STANDARDS: Final[dict[str, Any]] = {"pdf_variant": "pdf/a-3a", "finisher": finish}
"""What makes the library's PDF keep PDF/A-3a and PDF/UA-1."""
OUR_DATA: Final = ("data:image/png;", "data:image/jpeg;", "data:image/svg+xml;")
NOTHING: Final[Mapping[str, bytes]] = MappingProxyType({})


def as_pdf(view: object, template: str, pictures: Pictures, theme: Theme) -> bytes:
    """
    A view as a PDF of this process alone, with the shipped templates and nothing attached.

    Raises:
        CannotRender: as ``begun_pdf``.
    """
    return begun_pdf(view, template, pictures, theme, None, Alone())(())


def begun_pdf(
    view: object,
    template: str,
    pictures: Pictures,
    theme: Theme,
    own: Path | None,
    beside: Executor,
    drawn: Callable[[], None] = lambda: None,
) -> Callable[[Sequence[Attached]], bytes]:
    """
    A view as a PDF, begun: another process prints its share, this one the rest when it is asked for.

    The same view gives the same bytes, whoever prints which part.

    Args:
        view: The view.
        template: Name of the page's template.
        pictures: Gives charts and photos.
        theme: Colours and sizes.
        own: Folder of the workshop's own templates.
        beside: Prints a share of the parts.
        drawn: Called when the page stands and its charts are wanted; it may wait for them.

    Returns:
        Gives the PDF when called with the files that it is to carry along.

    Raises:
        CannotRender: a system library is missing, or a template, style sheet, font or picture is at fault;
            some of it only when the result is called for.
    """
    made = environment(own, pictures.named)
    css = (_paper_css(theme, own),)
    parts = parted(page(made, template, view, "paper", ""))
    drawn()
    begun = _begun_parts([(part, css, pictures.drawings_in(part)) for part in parts], beside)

    def ended(files: Sequence[Attached]) -> bytes:
        parts = begun()
        around = (*css, with_colours(stylesheet("frame.css", own), theme))
        sheets = page(made, "frame.html", view, "frame", "", bound(parts))
        frame = printed(sheets, around, pictures.drawings_in(sheets), standard=False)
        return joined(parts, frame, files)

    return ended


def _paper_css(theme: Theme, own: Path | None) -> str:
    sheets = (stylesheet("look.css", own), stylesheet("print.css", own))
    return "\n".join(
        (
            font_faces(_uri),
            figure_faces(_uri),
            fallback_face(_uri),
            *(with_colours(sheet, theme) for sheet in sheets),
        )
    )


def _uri(path: Path) -> str:
    return path.resolve().as_uri()


Part = tuple[str, Sequence[str], Mapping[str, bytes]]
"""What ``printed`` is given of a part: its page, style sheets and drawings."""


def _begun_parts(parts: Sequence[Part], beside: Executor) -> Callable[[], tuple[bytes, ...]]:
    """The parts as PDFs; one share is begun elsewhere at once."""
    theirs, mine = shares([_length(part) for part in parts], LEAD)
    waiting = {n: beside.submit(printed, *parts[n]) for n in theirs}

    def ended() -> tuple[bytes, ...]:
        made = {n: printed(*parts[n]) for n in mine}
        made.update({n: future.result() for n, future in waiting.items()})
        return tuple(made[n] for n in range(len(parts)))

    return ended


def _length(part: Part) -> int:
    """Letters of page and drawings: about what the printing takes."""
    html, _, drawings = part
    return letters(html) + sum(map(len, drawings.values()))


def printed(
    html: str, css: Sequence[str] = (), drawings: Mapping[str, bytes] = NOTHING, *, standard: bool = True
) -> bytes:
    """
    HTML as a PDF.

    Args:
        html: The page.
        css: Style sheets beside those in the page.
        drawings: SVG by the addresses that the page has for it.
        standard: Whether it keeps PDF/A-3a and PDF/UA-1; what only frames other pages is not tagged.

    Raises:
        CannotRender: a system library is missing, or something cannot be fetched or drawn.
    """
    weasyprint = _weasyprint()
    digest = sha256(b"".join((html.encode(), *drawings.values()))).digest()
    with _listening() as complaints, warnings.catch_warnings(), collector_at_rest():
        # The library leaves its colour profile open until it is collected; nothing of ours.
        warnings.simplefilter("ignore", ResourceWarning)
        try:
            document = weasyprint.HTML(string=html, url_fetcher=_fetcher()(drawings))
            data = document.write_pdf(
                stylesheets=[_read_css(sheet) for sheet in css],
                font_config=_fonts(),
                pdf_identifier=digest[:16],
                **(_KEPT_STANDARDS if standard else {}),
            )
        except weasyprint.urls.FatalURLFetchingError as fault:
            raise CannotRender(f"the PDF needs something it may not or cannot open: {fault}") from None
        except RecursionError:
            raise CannotRender("the page is nested too deeply to be laid out") from None
    _refuse_missing_letters(complaints)
    return bytes(data)


@lru_cache(maxsize=16)
def _read_css(css: str) -> Any:
    """A style sheet as the library reads it; read once for all parts and reports of a run."""
    from weasyprint import CSS

    return CSS(string=css, font_config=_fonts(), url_fetcher=_fetcher()(NOTHING))


@cache
def _fonts() -> Any:
    from weasyprint.text.fonts import FontConfiguration

    return FontConfiguration()


def _forget() -> None:
    """Let the library's fonts go before the library does."""
    _read_css.cache_clear()
    _fonts.cache_clear()


atexit.register(_forget)


def ready() -> None:
    """
    Load the library that prints, before it is needed.

    Raises:
        CannotRender: a system library is missing.
    """
    _weasyprint()


def libraries() -> dict[str, str]:
    """
    The libraries that lay out the pages, with their versions: others may break lines elsewhere.

    Raises:
        CannotRender: as ``ready``.
    """
    version = _weasyprint().__version__
    from weasyprint.text.ffi import pango

    number = int(pango.pango_version())
    parts = (number // 10_000, number // 100 % 100, number % 100)
    return {"WeasyPrint": version, "Pango": ".".join(map(str, parts))}


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


@cache
def _fetcher() -> Any:
    """The fetcher that opens our own drawings and data addresses and the shipped fonts, and nothing else."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class Locked(URLFetcher):  # type: ignore[misc] # the library carries no types
        def __init__(self, drawings: Mapping[str, bytes]) -> None:
            self.drawings = drawings
            super().__init__(allowed_protocols={"file", "data"}, allow_redirects=False, fail_on_errors=True)

        def fetch(self, url: str, headers: Any = None) -> Any:
            if url in self.drawings:
                return URLFetcherResponse(url, self.drawings[url], {"Content-Type": "image/svg+xml"})
            if url.startswith(OUR_DATA):
                return super().fetch(url, headers)
            path = _shipped_font(url)
            return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": "font/ttf"})

    return Locked


def _shipped_font(url: str) -> Path:
    parts = urlsplit(url)
    path = Path(unquote(parts.path)).resolve()
    ours = {font.resolve() for font in (*whole_fonts(), fallback())}
    if parts.scheme != "file" or parts.netloc or path not in ours:
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
