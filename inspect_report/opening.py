"""Turns files, inspections or their JSON reports, into assessments and into what two of them tell apart."""

import json
from pathlib import Path

from inspect_report.assessment import Assessment
from inspect_report.comparison.comparing import OtherEngine, compare
from inspect_report.knowledge.case import IssuedReport
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import as_issued, assess
from inspect_report.records.languages import ENGLISH
from inspect_report.records.problem import InvalidInspection, Place, Problem
from inspect_report.records.shape import raw_file
from inspect_report.report.comparison_text import comparison_json, comparison_text


def told_changes(before: Path, after: Path, *, as_json: bool = False) -> tuple[str, bool]:
    """
    What one assessment of an engine says otherwise than another, and whether a check of ours failed.

    Args:
        before: What is compared with: an inspection, or the JSON report of one.
        after: What is told, likewise.
        as_json: Whether it is told for another program.

    Raises:
        InvalidInput: a file is at fault, or they are of two engines.
    """
    old, new = open_assessment(before), open_assessment(after)
    try:
        found = compare(old, new)
    except OtherEngine as fault:
        raise InvalidInspection([_other_engine(after, fault)]) from None
    return comparison_json(found) if as_json else comparison_text(found, new), old.failed or new.failed


def open_assessment(path: Path) -> Assessment:
    """
    The assessment of a file: as the report said where it is a report's JSON, judged now where an inspection.

    Args:
        path: A JSON report, told by its ending, or an inspection.

    Raises:
        InvalidInput: the file cannot be read, is at fault, or is no report of this program.
    """
    if path.suffix.lower() != ".json":
        return assess(load(path), ENGLISH)
    text = raw_file(path).decode("utf-8", errors="replace")
    try:
        json.loads(text)
    except ValueError:
        raise InvalidInspection([_no_json(path)]) from None
    return as_issued(IssuedReport(str(path), text))


def _no_json(path: Path) -> Problem:
    title, mend = "no report of this program", "name the JSON file that a report was made with"
    place, found = Place(str(path), 1, 1), "text that is no JSON"
    return Problem("V385", "error", title, place, found, "a JSON report", mend)


def _other_engine(path: Path, fault: OtherEngine) -> Problem:
    title, mend = "assessment of another engine", "'history' sets several engines side by side"
    allowed = f"an assessment of {fault.before}"
    return Problem("V386", "error", title, Place(str(path), 1, 1), fault.after, allowed, mend)
