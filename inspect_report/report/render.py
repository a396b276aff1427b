"""Turns assessments into files: HTML, PDF and JSON named after the inspection, all whole or none."""

from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import Executor
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from inspect_report.assessment import Assessment, to_json
from inspect_report.knowledge.evidence import Evidence
from inspect_report.records.inspection import Report
from inspect_report.records.problem import CannotRender
from inspect_report.report.beside import Alone
from inspect_report.report.carrying import Carry, Load, Successor, carried_of, left_out
from inspect_report.report.html import as_html
from inspect_report.report.pictures import Pictures, charts_in, drawn
from inspect_report.report.reportview import HistoryView, ReportView
from inspect_report.report.signing import Signing
from inspect_report.report.theme import Theme, theme
from inspect_report.report.view import view
from inspect_report.report.view_history import history_view
from inspect_report.report.view_proof import Standing
from inspect_report.report.writing import collector_at_rest, safe_name, write_all
from inspect_report.telling.manner import told_by

if TYPE_CHECKING:
    from inspect_report.report.attaching import Attached

FORMATS: Final = ("html", "pdf", "json")


def render(
    assessment: Assessment,
    out: Path | str,
    *,
    kind: Report | None = None,
    formats: Sequence[str] = FORMATS,
    folder: Path | str | None = None,
    templates: Path | str | None = None,
    beside: Executor | None = None,
    evidence: Evidence | None = None,
    carry: Carry = "fitting",
    signing: Signing | None = None,
    replaced_by: Successor | None = None,
) -> tuple[Path, ...]:
    """
    Write the report of an assessment.

    Args:
        assessment: What to report.
        out: Folder to write to; made if it is not there.
        kind: Kind of report; the one the inspection names when left out.
        formats: Some of ``html``, ``pdf`` and ``json``.
        folder: Where the inspection's photos lie; beside its file when left out. An assessment from JSON does
            not know where that is: of such a one the working folder is meant.
        templates: Folder of own templates and style sheets that replace shipped ones of the same name.
        beside: Does a share of the work at the same time; this process does all of it when left out.
        evidence: The files it rests on; without them it has no digest, and carries its inspection alone.
        carry: What of the evidence the PDF carries: all, all but pictures, only the list of digests, then
            without the assessment, which holds the workshop's prices; or what is fitting, all but more
            pictures than can be sent.
        signing: Who signs the PDF, and how; nobody when left out.
        replaced_by: The later issue that takes the place of this one; it is told on every page.

    Returns:
        The files written, in the order of ``formats``.

    Raises:
        CannotRender: a page cannot be made or written; then none of the files is written.
    """
    if evidence:
        assessment = replace(assessment, manifest=evidence.manifest)
    head = assessment.inspection.head
    home = Path(folder) if folder is not None else _home(assessment)
    own = None if templates is None else Path(templates)
    stem = f"{safe_name(head.inspection)}-issue-{head.issue}"
    chosen = kind or head.report
    with collector_at_rest(), told_by(assessment.workshop):
        load = Load(assessment, home, chosen, evidence, carried_of(carry, evidence), signing, replaced_by)
        shown = view(assessment, chosen, _standing(load))
        template, shop = f"{chosen.replace(' ', '-')}.html", home / Path(head.workshop).parent
        maker = _Maker(shown, template, home, shop, own)
        made = maker.made(_known(formats), lambda: to_json(assessment), load, beside or Alone())
        return write_all({Path(out) / f"{stem}.{f}": data for f, data in made.items()})


def render_history(
    assessments: Sequence[Assessment],
    out: Path | str,
    *,
    title: str = "",
    formats: Sequence[str] = FORMATS,
    templates: Path | str | None = None,
    beside: Executor | None = None,
) -> tuple[Path, ...]:
    """
    Write one history of several assessments, of one or more engines.

    Args:
        assessments: One or more.
        out: Folder to write to; made if it is not there.
        title: What the history is of.
        formats: Some of ``html``, ``pdf`` and ``json``; JSON holds the assessments in the order given.
        templates: Folder of own templates and style sheets.
        beside: As in ``render``.

    Raises:
        CannotRender: a page cannot be made or written; then none of the files is written.
    """
    first = assessments[0].inspection
    home = _home(assessments[0])
    own = None if templates is None else Path(templates)
    with collector_at_rest(), told_by(assessments[-1].workshop):
        shown = history_view(assessments, title)
        maker = _Maker(shown, "history.html", home, home / Path(first.head.workshop).parent, own)
        made = maker.made(_known(formats), lambda: _all_as_json(assessments), None, beside or Alone())
        return write_all({Path(out) / f"{safe_name(shown.title)}.{f}": data for f, data in made.items()})


def _standing(load: Load) -> Standing:
    """What the page says of what travels in the PDF."""
    without = left_out(load.evidence, load.carry) if load.evidence else ()
    signatory = load.signing.signatory if load.signing else None
    size = sum(len(picture.data) for picture in without)
    return Standing(signatory, load.carry, size, load.replaced_by)


def _home(assessment: Assessment) -> Path:
    """The inspection's own folder; a JSON report of before names the file with it."""
    return Path(assessment.folder) / Path(assessment.inspection.file).parent


def _all_as_json(assessments: Sequence[Assessment]) -> str:
    return "[\n" + ",\n".join(to_json(a).rstrip("\n") for a in assessments) + "\n]\n"


class _Maker:
    """Makes the files of one report; screen and paper share charts and photos."""

    def __init__(
        self, shown: ReportView | HistoryView, template: str, home: Path, shop: Path, own: Path | None
    ) -> None:
        if own is not None and not own.is_dir():
            raise CannotRender(
                f"{own}: no such folder of templates; name the one that holds your own, or none"
            )
        self.shown, self.template, self.home, self.own = shown, template, home, own
        self.theme: Theme = theme(own if own and (own / "theme.toml").is_file() else None)
        self.pictures = Pictures(home, shop, self.theme)

    def made(
        self,
        formats: tuple[str, ...],
        json: Callable[[], str],
        carried: Load | None,
        beside: Executor,
    ) -> dict[str, bytes]:
        """
        The files by their format, in the order asked for.

        Args:
            formats: Formats wanted.
            json: Gives the JSON.
            carried: What travels in the PDF, and who signs it.
            beside: Draws the charts, prints a share of the PDF and makes the HTML.
        """
        made: dict[str, bytes] = {}
        charts = charts_in(self.shown) if "html" in formats or "pdf" in formats else ()
        drawings = beside.submit(drawn, charts, self.theme)

        def know() -> None:
            self.pictures.know(drawings.result())

        pdf = self._begun_pdf(beside, know) if "pdf" in formats else None
        know()
        page = beside.submit(_page, self) if "html" in formats else None
        if "json" in formats or (pdf and carried):
            made["json"] = json().encode()
        if pdf is not None:
            made["pdf"] = carried.signed(pdf(carried.files(made["json"]))) if carried else pdf(())
        if page is not None:
            made["html"] = page.result()
        return {f: made[f] for f in formats}

    def html(self) -> bytes:
        """The page for a screen."""
        return as_html(self.shown, self.template, self.pictures, self.theme, self.own).encode()

    def _begun_pdf(
        self, beside: Executor, know: Callable[[], None]
    ) -> "Callable[[Sequence[Attached]], bytes]":
        from inspect_report.report.pdf import begun_pdf

        return begun_pdf(self.shown, self.template, self.pictures, self.theme, self.own, beside, know)


def _page(maker: _Maker) -> bytes:
    return maker.html()


def _known(formats: Iterable[str]) -> tuple[str, ...]:
    wanted = tuple(dict.fromkeys(formats))
    for name in wanted:
        if name not in FORMATS:
            raise CannotRender(f"format {name!r} is not known; one or more of {', '.join(FORMATS)}")
    return wanted
