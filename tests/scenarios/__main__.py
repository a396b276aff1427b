"""Turns the invented engines into a printed table of hits, misses and false alarms; `--write` records it."""

import sys
from typing import Final

from tests.scenarios.judged import TABLE, Row, as_csv, counts, table

_WIDTHS: Final = (30, 30, 36)


def _line(row: Row) -> str:
    cells = zip((row.scenario, row.outcome, row.what), _WIDTHS, strict=True)
    return "".join(cell.ljust(width) for cell, width in cells) + row.said_by


def main(asked: list[str]) -> None:
    """Prints the table and its counts, and records it where asked."""
    rows = table()
    print(*(_line(row) for row in rows), "", counts(rows), sep="\n")
    if "--write" in asked:
        TABLE.write_text(as_csv(rows), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
