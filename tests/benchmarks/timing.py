"""Turns an action into its wall time, and two times into a line that tells their ratio."""

import statistics
import time
from collections.abc import Callable


def seconds(action: Callable[[], object], repeats: int = 3) -> float:
    """Median wall time of an action."""
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        action()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def ratio(title: str, ours: float, theirs: float, other: str) -> None:
    """Print a time and how it stands to another one."""
    print(f"{title:<58} {ours:7.2f} s   {ours / theirs:6.2f} × {other} ({theirs:.2f} s)", flush=True)
