"""Turns trends into the findings whose limit comes before the next inspection is likely to."""

from collections.abc import Iterable

from inspect_report.judge.finding import Trend
from inspect_report.records.position import finding_id


def due_soon(trends: Iterable[Trend]) -> frozenset[str]:
    """
    Ids of the findings that a forecast puts at their limit within the next stretch of running.

    The next stretch is taken to be as long as the last one between two inspections of the same part; the
    forecast counts by its line, not by its early bound, which is often the present time (common practice).

    Args:
        trends: Trends of one inspection; those without a forecast are passed over.
    """
    return frozenset(finding_id(t.characteristic, t.position) for t in trends if _is_due(t))


def _is_due(trend: Trend) -> bool:
    if trend.meets_limit is None:
        return False
    own = trend.times[trend.starts[-1] :] if trend.starts else trend.times
    return len(own) > 1 and trend.meets_limit - own[-1] <= own[-1] - own[-2]
