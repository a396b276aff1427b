"""Turns trends into the findings whose limit comes before the next inspection is likely to."""

from collections.abc import Iterable
from typing import Final

from inspect_report.judge.finding import Trend
from inspect_report.records.position import finding_id

MARGIN: Final = 1.25
"""How much longer the next stretch of running may be than the last."""


def due_soon(trends: Iterable[Trend]) -> frozenset[str]:
    """
    Ids of the findings that a forecast puts at their limit within the next stretch of running.

    The next stretch is taken to be a quarter longer than the last one between two inspections of the same
    part: no two stretches are alike, and no builder sends out a part that reaches its limit minutes after.
    The forecast counts by its line: its early bound is the present time wherever readings scatter, and by it
    nearly every worn part would be due (common practice).

    Args:
        trends: Trends of one inspection; those without a forecast are passed over.
    """
    return frozenset(finding_id(t.characteristic, t.position) for t in trends if _is_due(t))


def _is_due(trend: Trend) -> bool:
    if trend.meets_limit is None:
        return False
    own = trend.times[trend.starts[-1] :] if trend.starts else trend.times
    return len(own) > 1 and trend.meets_limit - own[-1] <= MARGIN * (own[-1] - own[-2])
