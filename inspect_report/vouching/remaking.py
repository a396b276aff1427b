"""Turns an unsigned report into the same made again from the files it carries, and that into a verdict."""

import tempfile
from dataclasses import replace
from pathlib import Path
from typing import Final

from inspect_report.knowledge.evidence import TEMPLATES
from inspect_report.records.problem import InspectReportError, some
from inspect_report.report.carrying import MADE, how_made
from inspect_report.unpacking import laid_out, make_again, why_others
from inspect_report.vouching.carried import Carried
from inspect_report.vouching.verdict import Verdict

_NOBODY: Final = (
    "nothing shows who made it: compare its digest with one that the workshop gives you by another way, or "
    "with your print on paper, then give it behind --digest"
)
_WHENCE: Final = (
    "who made it: nobody signed it, and it is as good as the source from which you have its digest"
)

_MANNER: Final = (
    "neither in which language, units and kind it was made, nor whether it was marked as replaced: its "
    "digest holds for what it rests on, not for that"
)
_REPLACED: Final = (
    "that it is replaced is not part of its digest: ask the workshop, or give the later PDF behind --against"
)


def made_again(pdf: Path, data: bytes, verdict: Verdict, held: Carried, digest: str) -> Verdict:
    """
    The verdict on an unsigned report, once it was made again from what it carries.

    Args:
        pdf: What the report is called.
        data: Its bytes.
        verdict: What is known of it without: nothing against it.
        held: What it carries.
        digest: By which the reader knows the report, the same as its own; or nothing.

    Returns:
        Genuine where the report comes out the same, the reader knows its digest, and it does not say that it
        is replaced; altered where it comes out otherwise by the same program; else unknown, with the reason.
    """
    hindrance = _hindrance(held)
    if hindrance:
        return _because(verdict, f"it cannot be made again to see: {hindrance}")
    try:
        same, others = _again(pdf, data, held)
    except InspectReportError as fault:
        return _because(verdict, f"it cannot be made again to see: {str(fault).partition(chr(10))[0]}")
    if same:
        why = "made again from the files it carries, it comes out the same, byte for byte"
        if how_made(held.files[MADE]).replaced_by:
            return replace(verdict, because=(why, _REPLACED, *(() if digest else (_NOBODY,))))
        if digest:
            known = "these are the files of the digest by which you know it"
            not_shown = (_WHENCE, _MANNER, *verdict.not_shown)
            return replace(verdict, word="genuine", because=(why, known), not_shown=not_shown)
        return replace(verdict, because=(why, _NOBODY))
    why = "made again from the files it carries, it does not come out the same"
    if others:
        return _because(verdict, f"{why}, which may be since it was made with {'; '.join(others)}")
    return replace(verdict, word="altered", because=(f"{why}: pages or files were changed",))


def _because(verdict: Verdict, why: str) -> Verdict:
    return replace(verdict, because=(*verdict.because, why))


def _hindrance(held: Carried) -> str:
    """What keeps a report from being made again; empty where nothing does."""
    if not held.digest:
        return "it carries no list of files"
    if held.left_out:
        return f"it does not carry {some(held.left_out)}"
    if any(name.startswith(f"{TEMPLATES}/") for name in held.files):
        return (
            "its pages are drawn by templates that it brings along, which are not used unasked; "
            "'inspect-report unpack --again' does it"
        )
    return ""


def _again(pdf: Path, data: bytes, held: Carried) -> tuple[bool, tuple[str, ...]]:
    """Whether the report made again is the same, and what about the program is another than it was."""
    with tempfile.TemporaryDirectory() as folder:
        unpacked = laid_out(pdf, data, held.files, Path(folder) / "files")
        likenesses = make_again(unpacked, pdf)
        # No signature was found in it, so that nothing may stand behind what was made again.
        compared = [one.same and not one.behind for one in likenesses if one.format != "HTML"]
        return all(compared), () if all(compared) else why_others(unpacked)
