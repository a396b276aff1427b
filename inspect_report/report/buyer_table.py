"""Turns the buyer's view into a pandas table, one row for each chance and each thing nobody looked at."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Final

from inspect_report.advise.buyer import Chance, Hidden
from inspect_report.assessment import Assessment

if TYPE_CHECKING:
    from pandas import DataFrame

EXPOSURE_COLUMNS: Final = (
    "inspection",
    "kind",
    "id",
    "name",
    "assembly",
    "chance",
    "ground",
    "jobs",
    "low",
    "high",
    "on_request",
    "currency",
    "reason",
)


def exposures(assessment: Assessment) -> "DataFrame":
    """
    What may cost a buyer more than is known: one row for each chance (``likely``) and each thing ``hidden``.

    ``low`` and ``high`` are what it would add to what is known, tax included, as decimals; ``chance`` is
    empty where nobody knows it. The columns are those of ``EXPOSURE_COLUMNS``.
    """
    from pandas import DataFrame

    same = {
        "inspection": assessment.inspection.number,
        "currency": assessment.advice.estimate.currency,
    }
    rows = [same | row for row in _rows(assessment)]
    return DataFrame(rows, columns=list(EXPOSURE_COLUMNS))


def _rows(assessment: Assessment) -> Iterator[dict[str, Any]]:
    known = assessment.advice.buyer
    if known is None:
        return
    assemblies = {f.characteristic: f.assembly for f in assessment.judged.findings}
    for chance in known.likely.chances:
        yield _chance(chance, assemblies.get(chance.id.partition(".")[0], ""))
    yield from map(_hidden, known.hidden)


def _chance(chance: Chance, assembly: str) -> dict[str, Any]:
    return {
        "kind": "likely",
        "id": chance.id,
        "name": chance.name,
        "assembly": assembly,
        "chance": chance.chance,
        "ground": chance.ground,
        "jobs": "; ".join(chance.jobs),
        "low": chance.added,
        "high": chance.added,
        "on_request": chance.on_request,
        "reason": "",
    }


def _hidden(hidden: Hidden) -> dict[str, Any]:
    return {
        "kind": "hidden",
        "id": hidden.characteristic,
        "name": hidden.name,
        "assembly": hidden.assembly,
        "chance": hidden.share,
        "ground": "share of the workshop" if hidden.share else "",
        "jobs": "; ".join(hidden.jobs),
        "low": hidden.low,
        "high": hidden.high,
        "on_request": hidden.on_request,
        "reason": hidden.reason,
    }
