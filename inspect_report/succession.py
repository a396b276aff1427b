"""
Turns the issue that replaces a report into what the replaced report says of it.

A later issue names the one it replaces, whose record it rests on; what was sent out before cannot name what
came after. Made again with the later one beside it, it does; its evidence and its digest stay as they were.
"""

from pathlib import Path

from inspect_report.knowledge.evidence import evidence
from inspect_report.knowledge.shelf import load
from inspect_report.opening import open_assessment
from inspect_report.records.inspection import InspectionHead
from inspect_report.records.manifest import digest_of
from inspect_report.records.problem import InvalidInspection, Place, Problem
from inspect_report.report.carrying import Successor


def successor_of(head: InspectionHead, file: Path, templates: Path | None = None) -> Successor:
    """
    What an issue says of the one that replaces it.

    Args:
        head: The issue that is replaced.
        file: The inspection of the later issue, or its JSON report as it was sent out.
        templates: Folder of own templates, by which an inspection is reported.

    Raises:
        InvalidInput: the file cannot be read, is at fault, or does not replace this issue.
    """
    after, manifest = _head_and_list(file, templates)
    replaced = after.replaces
    if replaced is None or (after.inspection, replaced.issue) != (head.inspection, head.issue):
        raise InvalidInspection([_other(head, file, after)])
    digest = digest_of(manifest.encode()) if manifest else ""
    return Successor(after.issue, after.dates.issued, replaced.reason, digest)


def _head_and_list(file: Path, templates: Path | None) -> tuple[InspectionHead, str]:
    if file.suffix.lower() == ".json":
        sent = open_assessment(file)
        return sent.inspection.head, sent.manifest
    case = load(file)
    return case.inspection.head, evidence(case, templates).manifest


def _other(head: InspectionHead, file: Path, after: InspectionHead) -> Problem:
    replaced = f"replaces issue {after.replaces.issue}" if after.replaces else "replaces no issue"
    return Problem(
        "V393",
        "error",
        "issue that does not replace this one",
        Place(str(file), 1, 1, "replaces"),
        f"{after.inspection}, issue {after.issue}, which {replaced}",
        f"an issue of {head.inspection} that replaces issue {head.issue}",
        "name the file of the issue that replaces it, or write 'replaces' into that",
    )
