"""Turns an assessment into pandas tables, one row for each reading, finding or valve."""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from inspect_report.assessment import Assessment
from inspect_report.judge.finding import Finding
from inspect_report.measure.derived import ShimChoice
from inspect_report.records.inspection import Reading
from inspect_report.records.position import Position, finding_id
from inspect_report.records.quantity import SI_SYMBOL, difference_from_si, from_si

if TYPE_CHECKING:
    from pandas import DataFrame

READING_COLUMNS = (
    "inspection",
    "section",
    "item",
    "asks",
    "place",
    "repeat",
    "value",
    "unit",
    "typed",
    "instrument",
    "file",
    "line",
)
FINDING_COLUMNS = (
    "inspection",
    "id",
    "characteristic",
    "name",
    "assembly",
    "place",
    "verdict",
    "value",
    "u",
    "unit",
    "standard_low",
    "standard_high",
    "limit_low",
    "limit_high",
    "origin",
    "source",
    "used",
    "inside",
    "formula",
    "seen",
    "chosen",
    "reason",
)
SHIM_LENGTHS = (
    "measured",
    "low",
    "high",
    "aim",
    "fitted",
    "exact",
    "exact_u",
    "size",
    "predicted",
    "predicted_u",
)
SHIM_COLUMNS = (
    "inspection",
    "place",
    "unit",
    *SHIM_LENGTHS,
    "inside",
    "change",
    "source",
    "formula",
    "readings",
    "note",
)


def readings(assessment: Assessment) -> "DataFrame":
    """
    Readings as taken: one row for each value, in the unit of its checklist item.

    Besides the columns of ``READING_COLUMNS`` there is one for every axis: ``cylinder``, ``valve`` …
    """
    rows = [row for r in assessment.inspection.readings for row in _reading_rows(assessment, r)]
    return _table(rows, READING_COLUMNS)


def _reading_rows(assessment: Assessment, reading: Reading) -> Iterator[dict[str, Any]]:
    item = assessment.checklist.item(reading.item)
    section = assessment.checklist.section_of(reading.item)
    unit = item.unit if item and item.unit else SI_SYMBOL[reading.dimension]
    known = item is not None and bool(item.unit)
    for repeat, (value, typed) in enumerate(zip(reading.values, reading.typed, strict=True), 1):
        yield {
            "inspection": assessment.inspection.number,
            "section": section.id if section else "",
            "item": reading.item,
            "asks": item.asks if item else "",
            "place": finding_id(reading.item, reading.position),
            "repeat": repeat,
            "value": from_si(value, unit) if known else value,
            "unit": unit,
            "typed": typed,
            "instrument": reading.instrument,
            "file": reading.place.file,
            "line": reading.place.line,
            **_axes(reading.position),
        }


def findings(assessment: Assessment) -> "DataFrame":
    """
    Findings with their verdicts: one row each; values, standard uncertainty and limits in the finding's unit.

    Besides the columns of ``FINDING_COLUMNS`` there is one for every axis: ``cylinder``, ``valve`` …
    """
    return _table([_finding_row(assessment, f) for f in assessment.judged.findings], FINDING_COLUMNS)


def _finding_row(assessment: Assessment, finding: Finding) -> dict[str, Any]:
    return {
        "inspection": assessment.inspection.number,
        "id": finding.id,
        "characteristic": finding.characteristic,
        "name": finding.name,
        "assembly": finding.assembly,
        "place": finding.position.words or "engine",
        "verdict": str(finding.verdict),
        "unit": finding.unit,
        "used": finding.used,
        "inside": finding.inside,
        "formula": finding.formula,
        "seen": "; ".join(f"{s.damage} {s.amount}" for s in finding.seen),
        "chosen": "; ".join(finding.chosen),
        "reason": finding.reason,
        **_values(finding),
        **_limits(finding),
        **_axes(finding.position),
    }


def _values(finding: Finding) -> dict[str, Any]:
    if finding.quantity is None or not finding.unit:
        return {"value": None, "u": None}
    q = finding.quantity
    return {"value": from_si(q.value, finding.unit), "u": abs(difference_from_si(q.u, finding.unit))}


def _limits(finding: Finding) -> dict[str, Any]:
    row = finding.limit
    if row is None:
        return {}
    ends = {
        "standard_low": row.standard_low,
        "standard_high": row.standard_high,
        "limit_low": row.low,
        "limit_high": row.high,
    }
    told = {name: None if end is None else from_si(end, row.unit) for name, end in ends.items()}
    return {**told, "origin": row.origin, "source": row.source}


def shims(assessment: Assessment) -> "DataFrame":
    """
    The shim plan: one row for each valve; lengths and standard uncertainties in mm.

    Besides the columns of ``SHIM_COLUMNS`` there is one for every axis: ``cylinder``, ``valve``.
    """
    return _table([_shim_row(assessment, s) for s in assessment.measured.shims], SHIM_COLUMNS)


def _shim_row(assessment: Assessment, shim: ShimChoice) -> dict[str, Any]:
    told = {name: getattr(shim, name) for name in ("inside", "change", "source", "formula", "note")}
    return {
        "inspection": assessment.inspection.number,
        "place": shim.position.words,
        "unit": "mm",
        **{name: _mm(getattr(shim, name)) for name in SHIM_LENGTHS},
        **told,
        "readings": "; ".join(shim.readings),
        **_axes(shim.position),
    }


def _mm(length: float | None) -> float | None:
    return None if length is None else from_si(length, "mm")


def _axes(position: Position) -> dict[str, str]:
    return dict(zip(position.axes, position.labels, strict=True))


def _table(rows: list[dict[str, Any]], columns: Iterable[str]) -> "DataFrame":
    """A table with the named columns first, also where there is no row, and the axes behind."""
    from pandas import DataFrame

    named = list(columns)
    axes = dict.fromkeys(key for row in rows for key in row if key not in named)
    return DataFrame(rows, columns=[*named, *axes])
