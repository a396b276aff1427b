"""Turns a published table of wear limits into a spec sheet, readings around every limit, and what to expect.

What to expect is worked out here in decimal figures straight from the table, without the program.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

import yaml
from scipy.stats import norm

from tests.published.figures import rows

INCH = Decimal("25.4")
WATCH = Decimal("0.75")
CONFIDENCE = 0.95
NO_SIZES: Mapping[str, list[Decimal]] = {}
DISPUTED = "printed so: the limit contradicts the range of new parts"


@dataclass(frozen=True)
class Printed:
    """One row as printed, in its own unit."""

    number: str
    name: str
    unit: str
    low: Decimal | None
    high: Decimal | None
    limit: Decimal | None
    sense: str
    source: str
    page: str

    @property
    def id(self) -> str:
        return f"row-{self.number}"

    @property
    def step(self) -> Decimal:
        """A small step as gauges have: a tenth of a thousandth of an inch, a thousandth of a millimetre."""
        return {"in": Decimal("0.0001"), "mm": Decimal("0.001"), "g": Decimal("0.1")}[self.unit]

    @property
    def contradicts_itself(self) -> bool:
        """Whether a new part may be beyond the limit, or the range runs downwards."""
        if self.low is not None and self.high is not None and self.low > self.high:
            return True
        return self.limit is not None and self.sense != "amount" and not self._limit_is_outside

    @property
    def _limit_is_outside(self) -> bool:
        assert self.limit is not None
        if self.sense == "lower":
            return self.low is None or self.limit <= self.low
        return self.high is None or self.limit >= self.high

    @property
    def ends(self) -> tuple[Decimal | None, Decimal | None]:
        """Least and greatest size allowed, an amount of wear counted from the greatest new size."""
        if self.limit is None:
            return None, None
        if self.sense == "lower":
            return self.limit, None
        return None, self.limit + (self.high or 0 if self.sense == "amount" else 0)

    @property
    def edge(self) -> Decimal | None:
        """Edge of the range of new parts that wear counts from."""
        return self.low if self.sense == "lower" else self.high


def petrol_engine() -> list[Printed]:
    """TM 10-3930-653-14&P: 41 rows, mm and g."""
    return [
        Printed(
            r["row"], f"{r['group']}: {r['item']}", r["unit"],
            _number(r["standard_min"]), _number(r["standard_max"]), _number(r["service_limit"]),
            r["limit_sense"] or "upper", r["source"], r["page"],
        )
        for r in rows("wear_limits_tm10_3930_653_14p_petrol.csv")
    ]  # fmt: skip


def diesel_engine() -> list[Printed]:
    """TM 9-6115-604-34, table 1-4: 63 rows, inches."""
    return [
        Printed(
            r["row"], f"{r['group']}: {r['item']}", r["unit_in"],
            _number(r["new_min_in"]), _number(r["new_max_in"]), _number(r["wear_limit_in"]),
            r["limit_sense"] or "upper", r["source"], r["page"],
        )
        for r in rows("wear_limits_tm9_6115_604_34.csv")
    ]  # fmt: skip


def faulty_scan() -> list[Printed]:
    """TM 5-3810-303-24 as scanned: 16 rows, inches; two contradict themselves."""
    return [
        Printed(
            r["row"], r["item"], r["unit"],
            _number(r["new_min"]), _number(r["new_max"]), _number(r["wear_limit"]),
            {"up": "upper", "down": "lower", "": "upper"}[r["wears"]], r["source"], r["page"],
        )
        for r in rows("ring_limits_tm5_3810_303_24_faulty_scan.csv")
    ]  # fmt: skip


def _number(text: str) -> Decimal | None:
    return Decimal(text) if text else None


def sheet_text(table: list[Printed], *, disputed: bool) -> str:
    """The table as a spec sheet; each row can be read on as many specimens as it takes."""
    return _yaml(
        {
            "spec-sheet": "published-limits",
            "version": 1,
            "maker": "As printed",
            "model": "Limits",
            "layout": {
                "strokes": 4,
                "cylinders": 4,
                "valve-actuation": "pushrod",
                "lubrication": "wet sump",
                "counts": {"specimen": len(_OFFSETS) + 2},
            },
            "characteristics": [_row(r, disputed=disputed) for r in table],
        }
    )


def _row(printed: Printed, *, disputed: bool) -> dict[str, Any]:
    row: dict[str, Any] = {
        "id": printed.id, "unit": printed.unit, "name": printed.name, "axes": ["specimen"],
        "source": printed.source, "page": printed.page,
    }  # fmt: skip
    if disputed and printed.contradicts_itself:
        row["disputed"] = DISPUTED
    if printed.low is not None and printed.low == printed.high:
        row["nominal"] = float(printed.low)
    elif printed.low is not None or printed.high is not None:
        row["standard"] = _band(printed.low, printed.high)
    if printed.limit is not None and printed.sense == "amount" and printed.high is not None:
        return {**row, "wear": float(printed.limit), "wears": "up"}
    if printed.limit is not None:
        row["limit"] = {"low" if printed.sense == "lower" else "high": float(printed.limit)}
    return row


def _band(low: Decimal | None, high: Decimal | None) -> dict[str, float]:
    return {name: float(end) for name, end in (("low", low), ("high", high)) if end is not None}


_OFFSETS = (-100, -4, -2, -1, 0, 1, 2, 4, 100)
"""Steps from each edge at which a specimen is read."""


def specimens(printed: Printed) -> list[Decimal]:
    """Sizes on both sides of the limit, or of the edge of new where none is printed, and in between."""
    edges = [e for e in (*printed.ends, printed.low, printed.high) if e is not None]
    around = [edges[0] + n * printed.step for n in _OFFSETS]
    between = [(edges[0] + edges[-1]) / 2, edges[-1]]
    lowest, highest = (Decimal(0), max(edges) * 9) if min(edges) >= 0 else (min(edges) * 9, -min(edges) * 9)
    return [min(max(size, lowest), highest) for size in (*around, *between)]


def expected(printed: Printed, size: Decimal) -> str:
    """The verdict on an exact size, by the table alone."""
    low, high = printed.ends
    if (printed.contradicts_itself) or (printed.limit is None and printed.low == printed.high):
        return "no limit known"
    new = (printed.low is None or size >= printed.low) and (printed.high is None or size <= printed.high)
    new = new and (printed.low is not None or printed.high is not None)
    if low is None and high is None:
        return "as new" if new else "no limit known"
    if (low is not None and size < low) or (high is not None and size > high):
        return "beyond limit"
    return "as new" if new else _worn(printed, size)


def _worn(printed: Printed, size: Decimal) -> str:
    end = next(e for e in printed.ends if e is not None)
    if printed.edge is None or end == printed.edge:
        return "serviceable"
    return "marginal" if (size - printed.edge) / (end - printed.edge) >= WATCH else "serviceable"


def expected_with_doubt(printed: Printed, size: Decimal, u: float) -> str:
    """The verdict on a size with its standard uncertainty, where a limit is printed; tails by scipy."""
    low, high = printed.ends
    if printed.contradicts_itself or (low is None and high is None):
        return expected(printed, size)
    end = low if low is not None else high
    assert end is not None
    inside = float(norm.cdf(float(end - size) / u * (1 if high is not None else -1)))
    if inside >= CONFIDENCE:
        return expected(printed, size)
    return "beyond limit" if inside <= 1 - CONFIDENCE else "undecided"


def write_case(
    folder: Path,
    table: list[Printed],
    *,
    metric: bool = False,
    gauge: dict[str, Any] | None = None,
    sizes: Mapping[str, list[Decimal]] = NO_SIZES,
) -> Path:
    """
    The files of an inspection with a reading of every specimen of every row; returns the inspection file.

    Args:
        folder: Where to write them.
        table: The rows.
        metric: Whether inches are typed as millimetres.
        gauge: Unit, resolution and permissible error of the gauge; none for exact readings.
        sizes: Sizes to read instead of the specimens, by row id.
    """
    (folder / "sheet.yaml").write_text(sheet_text(table, disputed=True), encoding="utf-8")
    (folder / "workshop.yaml").write_text(
        _yaml({"workshop": "Bench", "version": 1, "labour-rate": 80}), encoding="utf-8"
    )
    (folder / "rules.yaml").write_text(
        _yaml({"rulebook": "none", "version": 1, "rules": []}), encoding="utf-8"
    )
    inspection = {
        "inspection": "PUBLISHED-1",
        "report": "rebuild quote",
        "depth": "fully stripped",
        "checklist": "four-stroke",
        "spec-sheet": "sheet.yaml",
        "workshop": "workshop.yaml",
        "rulebook": "rules.yaml",
        "dates": {"inspected": "2026-03-05", "issued": "2026-03-09"},
        "customer": {"name": "A"},
        "inspector": {"name": "B"},
        "place": "Bench",
        "reason": "Does every published limit give its verdict?",
        "engine": {"maker": "As printed", "model": "Limits", "serial": "1"},
        "instruments": {"gauge": {"kind": "micrometer", **gauge}} if gauge else {},
        "readings": {
            "further-readings": {
                r.id: _readings(r, sizes.get(r.id) or specimens(r), metric=metric, gauge=gauge) for r in table
            }
        },
    }
    path = folder / "inspection.yaml"
    path.write_text(_yaml(inspection), encoding="utf-8")
    return path


def _readings(
    printed: Printed, sizes: list[Decimal], *, metric: bool, gauge: dict[str, Any] | None
) -> dict[str, Any]:
    read = {n: _written(size, printed, metric=metric) for n, size in enumerate(sizes, start=1)}
    return {"with": "gauge", "read": read} if gauge and printed.unit == gauge["unit"] else {"read": read}


def _written(size: Decimal, printed: Printed, *, metric: bool) -> str:
    if metric and printed.unit == "in":
        return f"{(size * INCH).normalize():f} mm"
    return f"{size.normalize():f}"


def _yaml(data: dict[str, Any]) -> str:
    return yaml.safe_dump(data, sort_keys=False, allow_unicode=True)


def clutches() -> list[Printed]:
    """Clutch limits of motorcycle makers' manuals and of three government manuals: 22 rows, mm and inches."""
    return [_printed(r) for r in rows("clutch_limits.csv")]


def oil_pumps() -> list[Printed]:
    """Oil pump clearances of government and makers' manuals: 19 rows, mm and inches."""
    return [_printed(r) for r in rows("oil_pump_clearances.csv")]


def _printed(r: Mapping[str, str]) -> Printed:
    return Printed(
        r["row"], r["item"], r["unit"], _number(r["new_min"]), _number(r["new_max"]), _number(r["limit"]),
        r["limit_sense"] or "upper", r["source"], r["page"],
    )  # fmt: skip
