"""Turns a fault of ours in one piece of work into a ``Failed``, so that the rest of the report comes out."""

import os
from collections.abc import Callable, Iterable
from typing import TypeVar

from inspect_report.measure.derived import Failed
from inspect_report.records.position import ENGINE, Position

T = TypeVar("T")

RAISE = "INSPECT_REPORT_RAISE"
"""Environment variable under which a fault of ours is raised and not turned into a ``Failed``; for tests."""


def guarded(
    subject: str, work: Callable[[], Iterable[T]], failed: list[Failed], at: Position = ENGINE
) -> tuple[T, ...]:
    """
    What some work gives; nothing where it goes wrong through a fault of ours, which is noted.

    Every stage does each of its pieces under it: one characteristic, one finding, one trend, one rule.

    Args:
        subject: Characteristic, item or rule the work is for.
        work: What is done.
        failed: Where a fault is noted.
        at: Place the work is for.
    """
    try:
        return tuple(work())
    except Exception as fault:
        if os.environ.get(RAISE):
            raise
        failed.append(Failed(subject, at, f"{type(fault).__name__}: {fault}"))
        return ()
