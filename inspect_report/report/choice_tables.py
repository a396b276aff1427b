"""Turns the head gaskets and bearing shells of an assessment into pandas tables, one row for each."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any, Final

from inspect_report.assessment import Assessment
from inspect_report.measure.derived import GasketChoice, ShellChoice
from inspect_report.records.quantity import from_si

if TYPE_CHECKING:
    from pandas import DataFrame

GASKET_LENGTHS: Final = ("thickness", "squish", "squish_u", "squish_floor")
GASKET_COLUMNS: Final = (
    "inspection",
    "grade",
    "unit",
    *GASKET_LENGTHS,
    "squish_ok",
    "tightest",
    "ratio",
    "ratio_u",
    "ratio_ceiling",
    "ratio_ok",
    "highest",
    "fitted",
    "chosen",
)
SHELL_LENGTHS: Final = ("thickness", "clearance", "clearance_u")
SHELL_COLUMNS: Final = (
    "inspection",
    "bearing",
    "place",
    "housing",
    "housing_by",
    "journal",
    "journal_by",
    "fitted",
    "grade",
    "unit",
    *SHELL_LENGTHS,
    "readings",
    "note",
)


def gaskets(assessment: Assessment) -> "DataFrame":
    """Head gaskets on sale: one row for each grade, lengths in mm, with the cylinder that decides."""
    number = assessment.inspection.number
    return _table((_gasket(number, g) for g in assessment.measured.gaskets), GASKET_COLUMNS)


def _gasket(inspection: str, grade: GasketChoice) -> dict[str, Any]:
    plain = ("grade", "squish_ok", "ratio", "ratio_u", "ratio_ceiling", "ratio_ok", "fitted", "chosen")
    return {
        "inspection": inspection,
        "unit": "mm",
        "tightest": grade.tightest.words if grade.tightest else "",
        "highest": grade.highest.words if grade.highest else "",
        **{name: getattr(grade, name) for name in plain},
        **{name: _mm(getattr(grade, name)) for name in GASKET_LENGTHS},
    }


def shells(assessment: Assessment) -> "DataFrame":
    """Bearing shells to fit: one row for each bearing, lengths in mm."""
    number = assessment.inspection.number
    return _table((_shell(number, s) for s in assessment.measured.shells), SHELL_COLUMNS)


def _shell(inspection: str, shell: ShellChoice) -> dict[str, Any]:
    plain = ("bearing", "housing", "housing_by", "journal", "journal_by", "fitted", "grade", "note")
    return {
        "inspection": inspection,
        "place": shell.position.words,
        "unit": "mm",
        "readings": "; ".join(shell.readings),
        **{name: getattr(shell, name) for name in plain},
        **{name: _mm(getattr(shell, name)) for name in SHELL_LENGTHS},
    }


def _mm(length: float | None) -> float | None:
    return None if length is None else from_si(length, "mm")


def _table(rows: Iterable[dict[str, Any]], columns: tuple[str, ...]) -> "DataFrame":
    """A table with the named columns, also where there is no row."""
    from pandas import DataFrame

    return DataFrame(list(rows), columns=list(columns))
