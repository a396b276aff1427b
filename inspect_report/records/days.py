"""Turns the days of an inspection into faults where they cannot be: issued before inspected, tomorrow."""

from collections.abc import Iterable
from datetime import date

from inspect_report.records.faults import Faults
from inspect_report.records.inspection import Dates, InstrumentUsed
from inspect_report.records.yaml import Path

_ORDER = (
    ("received", "inspected"),
    ("inspected", "inspected_until"),
    ("inspected_until", "issued"),
    ("inspected", "issued"),
)


def check_days(dates: Dates, today: date, faults: Faults) -> None:
    """Note days out of order and days to come."""
    told: set[str] = set()
    for earlier, later in _ORDER:
        before, after = getattr(dates, earlier), getattr(dates, later)
        if before and after and after < before and later not in told:
            _out_of_order(earlier, later, before, after, faults)
            told.add(later)
    for name in ("received", "inspected", "inspected_until", "issued"):
        day = getattr(dates, name)
        if day and day > today:
            faults.add(
                "V341",
                "day to come",
                _path(name),
                str(day),
                f"{today} or before",
                "correct the day; a report is dated when it is made",
            )


def _out_of_order(earlier: str, later: str, before: date, after: date, faults: Faults) -> None:
    faults.add(
        "V340",
        f"{_key(later)} before {_key(earlier)}",
        _path(later),
        str(after),
        f"{before} or later",
        "correct the one that is wrong",
    )


def check_calibrations(instruments: Iterable[InstrumentUsed], inspected: date, faults: Faults) -> None:
    """Note instruments calibrated after the inspection, and warn of calibrations that had run out."""
    for instrument in instruments:
        calibrated, due = instrument.calibrated, instrument.calibration_due
        path: Path = ("instruments", instrument.id)
        if calibrated and calibrated > inspected:
            faults.add(
                "V342",
                "calibrated after the inspection",
                (*path, "calibrated"),
                str(calibrated),
                f"{inspected} or before",
                "give the calibration that held when the readings were taken",
            )
        if due and due < inspected:
            faults.add_warning(
                "V343",
                f"calibration of {instrument.id} out of date",
                (*path, "calibration-due"),
                str(due),
                f"{inspected} or later",
                "check the instrument against a standard; the report names the date",
            )


def _key(name: str) -> str:
    return name.replace("_", "-")


def _path(name: str) -> Path:
    return ("dates", _key(name))
