"""Turns the rows of a spec sheet into short lines that say what is new and what is the limit."""

from collections.abc import Iterable, Iterator

from inspect_report.records.quantity import difference_from_si, from_si
from inspect_report.records.specsheet import Band, Characteristic, SpecSheet


def limit_lines(characteristics: Iterable[str], sheet: SpecSheet) -> Iterator[str]:
    """One line for each row of some characteristics, ``inlet: standard 0.15 to 0.24 mm (Manual, p. 3)``."""
    for row in (r for c in characteristics for r in sheet.rows(c)):
        where = ", ".join(row.where.values())
        name = row.name or row.id.replace("-", " ")
        source = sheet.source_of(row) or ("" if row.sure == "seen" else row.sure)
        said = ", ".join(_parts(row)) or "no limit printed"
        yield f"{f'{name}, {where}' if where else name}: {said}" + (f" ({source})" if source else "")


def _parts(row: Characteristic) -> Iterator[str]:
    if row.nominal is not None:
        yield f"nominal {_number(from_si(row.nominal, row.unit))} {row.unit}"
    if row.standard is not None:
        yield f"standard {_band(row.standard, row.unit)}"
    if row.limit is not None:
        yield f"limit {_band(row.limit, row.unit)}"
    if row.wear is not None:
        yield f"wear limit {_number(difference_from_si(row.wear, row.unit))} {row.unit} from new"
    if row.disputed:
        yield f"not judged: {row.disputed}"


def _band(band: Band, unit: str) -> str:
    symbol = "" if unit == "1" else f" {unit}"
    low, high = _alike(*(None if end is None else from_si(end, unit) for end in (band.low, band.high)))
    if low and high:
        return f"{low} to {high}{symbol}"
    return f"at least {low}{symbol}" if low else f"at most {high}{symbol}"


def _alike(*ends: float | None) -> tuple[str, ...]:
    """The ends of a range with equally many decimals, as a manual prints them: 0.20 to 0.29."""
    texts = ["" if end is None else _number(end) for end in ends]
    places = max(len(text.partition(".")[2]) for text in texts)
    return tuple(t and (t if "e" in t else f"{float(t):.{places}f}") for t in texts)


def _number(number: float) -> str:
    return f"{number:.7g}"
