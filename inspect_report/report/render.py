"""Turns assessments into files: HTML, PDF and JSON named after the inspection, all whole or none."""

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Final

from inspect_report.assessment import Assessment, to_json
from inspect_report.records.inspection import Report
from inspect_report.records.problem import CannotRender
from inspect_report.report.html import as_html
from inspect_report.report.pictures import Pictures
from inspect_report.report.reportview import HistoryView, ReportView
from inspect_report.report.theme import Theme, theme
from inspect_report.report.view import view
from inspect_report.report.view_history import history_view
from inspect_report.report.writing import collector_at_rest, safe_name, write_all

FORMATS: Final = ("html", "pdf", "json")
PHOTO_SIDE: Final = 1400
"""Longest side of a photo in pixels: sharp at the width of a page, and small enough to send."""


def render(
    assessment: Assessment,
    out: Path | str,
    *,
    kind: Report | None = None,
    formats: Sequence[str] = FORMATS,
    folder: Path | str | None = None,
    templates: Path | str | None = None,
) -> tuple[Path, ...]:
    """
    Write the report of an assessment.

    Args:
        assessment: What to report.
        out: Folder to write to; made if it is not there.
        kind: Kind of report; the one the inspection names when left out.
        formats: Some of ``html``, ``pdf`` and ``json``.
        folder: Where the inspection's photos lie; beside its file when left out.
        templates: Folder of own templates and style sheets that replace shipped ones of the same name.

    Returns:
        The files written, in the order of ``formats``.

    Raises:
        CannotRender: a page cannot be made or written; then none of the files is written.
    """
    head = assessment.inspection.head
    home = Path(folder) if folder is not None else Path(assessment.inspection.file).parent
    own = None if templates is None else Path(templates)
    makers = _Makers(home, home / Path(head.workshop).parent, own)
    stem = f"{safe_name(head.inspection)}-issue-{head.issue}"
    chosen = kind or head.report
    shown = view(assessment, chosen)
    template = f"{chosen.replace(' ', '-')}.html"
    made: dict[str, Callable[[], bytes]] = {
        "html": lambda: makers.html(shown, template),
        "pdf": lambda: makers.pdf(shown, template, assessment),
        "json": lambda: to_json(assessment).encode(),
    }
    with collector_at_rest():
        return write_all({Path(out) / f"{stem}.{f}": made[f]() for f in _known(formats)})


def render_history(
    assessments: Sequence[Assessment],
    out: Path | str,
    *,
    title: str = "",
    formats: Sequence[str] = FORMATS,
    templates: Path | str | None = None,
) -> tuple[Path, ...]:
    """
    Write one history of several assessments, of one or more engines.

    Args:
        assessments: One or more.
        out: Folder to write to; made if it is not there.
        title: What the history is of.
        formats: Some of ``html``, ``pdf`` and ``json``; JSON holds the assessments in the order given.
        templates: Folder of own templates and style sheets.

    Raises:
        CannotRender: a page cannot be made or written; then none of the files is written.
    """
    shown = history_view(assessments, title)
    first = assessments[0].inspection
    home = Path(first.file).parent
    makers = _Makers(
        home, home / Path(first.head.workshop).parent, None if templates is None else Path(templates)
    )
    made: dict[str, Callable[[], bytes]] = {
        "html": lambda: makers.html(shown, "history.html"),
        "pdf": lambda: makers.pdf(shown, "history.html", None),
        "json": lambda: ("[\n" + ",\n".join(to_json(a).rstrip("\n") for a in assessments) + "\n]\n").encode(),
    }
    stem = safe_name(shown.title)
    with collector_at_rest():
        return write_all({Path(out) / f"{stem}.{f}": made[f]() for f in _known(formats)})


class _Makers:
    """Makes the pages of one report; screen and paper share charts and photos."""

    def __init__(self, home: Path, shop: Path, own: Path | None) -> None:
        if own is not None and not own.is_dir():
            raise CannotRender(f"{own}: no such folder of templates")
        self.home, self.own = home, own
        self.theme: Theme = theme(own if own and (own / "theme.toml").is_file() else None)
        self.pictures = Pictures(home, shop, self.theme, PHOTO_SIDE)

    def html(self, shown: ReportView | HistoryView, template: str) -> bytes:
        return as_html(shown, template, self.pictures, self.theme, self.own).encode()

    def pdf(self, shown: ReportView | HistoryView, template: str, assessment: Assessment | None) -> bytes:
        from inspect_report.report.pdf import Attached, as_pdf

        attached = None
        if assessment is not None:
            path = self.home / Path(assessment.inspection.file).name
            day = assessment.inspection.head.dates.issued.isoformat()
            attached = Attached(path.name, "The inspection as written by the inspector", _bytes_of(path), day)
        return as_pdf(shown, template, self.pictures, self.theme, attached, self.own)


def _bytes_of(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as fault:
        raise CannotRender(
            f"{path}: the inspection file, which the PDF carries along, cannot be read: {fault.strerror}"
        ) from None


def _known(formats: Iterable[str]) -> tuple[str, ...]:
    wanted = tuple(dict.fromkeys(formats))
    for name in wanted:
        if name not in FORMATS:
            raise CannotRender(f"format {name!r} is not known; one or more of {', '.join(FORMATS)}")
    return wanted
