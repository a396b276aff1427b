"""Turns an inspection into a folder of all it rests on, to be judged again from there in later years."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from inspect_report.assessment import Assessment, to_json
from inspect_report.knowledge.case import Case
from inspect_report.knowledge.evidence import TEMPLATES, evidence
from inspect_report.knowledge.grounds import grounds
from inspect_report.knowledge.history import history_of
from inspect_report.knowledge.shelf import load
from inspect_report.opening import open_assessment
from inspect_report.pipeline import assess
from inspect_report.records.manifest import Listed, list_of, read_list
from inspect_report.records.problem import InspectReportError
from inspect_report.records.shape import raw_file
from inspect_report.report.new_folder import begun, is_taken
from inspect_report.report.writing import write_all


class CannotKeep(InspectReportError):
    """An inspection is not kept: the message says why and what to do. Nothing was written."""


def keep(inspection: Path, out: Path, sent: Path | None = None) -> Path:
    """
    Copy an inspection with every file it rests on and all books of this release into a new folder.

    The copy is judged before its folder gets its name: it has to give the same bytes of JSON.

    Args:
        inspection: The inspection file.
        out: The folder; one that holds something is refused.
        sent: JSON report as it was sent out, which the inspection still has to give.

    Returns:
        The inspection in the new folder.

    Raises:
        InvalidInput: a file is at fault, or one is named so that it would not be found elsewhere.
        CannotKeep: the folder is taken, or the inspection, or its copy, says something else than was sent.
        CannotRender: the folder cannot be written.
    """
    if is_taken(out):
        raise CannotKeep(f"{out} exists already and is not empty; name a new folder, nothing was written")
    case, before = load(inspection), None if sent is None else open_assessment(sent)
    shop = before.workshop if before else None
    language, units = (shop.language, shop.units) if shop else ("", "")
    assessment = assess(case, language, units)
    if sent is not None and before is not None:
        _refuse_other(before, replace(assessment, manifest=_list_as_sent(case, before)), inspection, sent)
    history = history_of(case)
    files = grounds(history.whole(history.newest))
    with begun(out) as folder:
        write_all({folder / file.name: file.data for file in files})
        if to_json(assess(load(folder / files[0].name), language, units)) != to_json(assessment):
            raise CannotKeep(
                f"{inspection}: its copy would not be judged alike, so nothing was kept; "
                "this is a fault of this program, please report it with the file"
            )
    return out / files[0].name


def _list_as_sent(case: Case, before: Assessment) -> str:
    """The list of all a case rests on, as its report has it; templates are as they were when it was sent."""
    if not before.manifest:
        return ""
    drawn_by = (
        Listed(name, digest)
        for name, digest in read_list(before.manifest).items()
        if name.startswith(f"{TEMPLATES}/")
    )
    return list_of((*(Listed(file.name, file.digest) for file in evidence(case).files), *drawn_by))


def _refuse_other(before: Assessment, assessment: Assessment, inspection: Path, sent: Path) -> None:
    """An inspection that no longer gives the report as sent out: what is another is named."""
    if raw_file(sent).decode("utf-8", errors="replace") == to_json(assessment):
        return
    others = "; ".join(_others(before, assessment)) or "neither files nor program; the JSON was changed"
    raise CannotKeep(
        f"{inspection} no longer gives {sent}, so nothing was kept. Another since then: {others}.\n"
        f"'inspect-report changes {sent} {inspection}' tells what that does; take the files as they were, "
        "or leave out --sent to keep what is said now."
    )


def _others(before: Assessment, after: Assessment) -> Iterator[str]:
    """What two assessments rest on that is not the same: files by kind and version, then the program."""
    old, new = ((*a.books, *a.beside_books) for a in (before, after))
    for file in old:
        if file not in new:
            now = [f for f in new if f.kind == file.kind and f not in old]
            then = ", ".join(f"{f.id} {f.version} ({f.digest[:12]})" for f in now) or "no longer there"
            yield f"{file.kind} {file.id} {file.version} ({file.digest[:12]}), now {then}"
    if before.program != after.program:
        yield f"program {before.program}, now {after.program}"
