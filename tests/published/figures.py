"""Turns a file of published figures into rows, and insists that each row names its source."""

import csv
from pathlib import Path

DATA = Path(__file__).parent / "data"
INCH, PSI, CUBIC_FOOT, POUND = 0.0254, 6894.757, 0.0283168466, 0.45359237


def rows(name: str) -> list[dict[str, str]]:
    """All rows of a file under data, each with source, page and how sure we are of it."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        found = list(csv.DictReader(file))
    for row in found:
        if not all(row[column] for column in ("source", "page", "how_sure")):
            raise ValueError(f"{name}: a row without its source: {row}")
    return found


def column(name: str, heading: str) -> list[float]:
    """One column of a file as numbers."""
    return [float(row[heading]) for row in rows(name)]
