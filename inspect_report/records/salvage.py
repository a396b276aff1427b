"""Turns the head of an inspection with faults into one without them, so that the rest can be checked too."""

import re
from datetime import date
from typing import Any, Final

from pydantic import ValidationError

from inspect_report.records.inspection import InspectionHead
from inspect_report.records.problem import Read
from inspect_report.records.yaml import Document

_TOP: Final = re.compile(r"[.\[]")
# Stand-ins that no check complains of; they are seen by nobody, since a head with faults makes no report.
_STANDING_IN: Final[dict[str, Any]] = {
    "inspection": "X",
    "report": "rebuild quote",
    "depth": "in the frame",
    "checklist": "x",
    "spec-sheet": "x",
    "workshop": "x",
    "customer": {"name": "x"},
    "inspector": {"name": "x"},
    "place": "x",
    "engine": {"maker": "x", "model": "x", "serial": "x"},
    "reason": "x",
}


def salvaged(head: Read[InspectionHead], document: Document, today: date) -> InspectionHead | None:
    """
    The head as read, or with its faulty parts left out; None where nothing can be made of it.

    Args:
        head: What came of reading it; its problems name the faulty parts.
        document: The inspection file.
        today: Stands in for days that cannot be read.
    """
    if head.value is not None or not isinstance(document.data, dict):
        return head.value
    faulty = {_TOP.split(problem.place.path, maxsplit=1)[0] for problem in head.problems}
    good = {key: value for key, value in document.data.items() if key not in faulty}
    days = {"inspected": today, "issued": today}
    try:
        return InspectionHead.model_validate({**_STANDING_IN, "dates": days, **good})
    except ValidationError:
        return None
