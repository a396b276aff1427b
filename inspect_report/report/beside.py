"""
Turns one process into two for as long as a report is made: what need not wait is done beside the printing.

Where there is but one core, or a process cannot simply be doubled, the same work is done one after the other.
"""

import gc
import os
import signal
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future
from contextlib import contextmanager, suppress
from typing import Any

from inspect_report.records.problem import CannotRender


class Alone(Executor):
    """An executor without a second process: what is given to it is done at once."""

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """The result, or the fault, of a call made now."""
        future: Future[Any] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as fault:
            future.set_exception(fault)
        return future


@contextmanager
def second_process() -> Iterator[Executor]:
    """
    An executor with one process, begun at once: while this one reads, it loads what draws and prints.

    To be called before arrays are loaded, whose own threads a doubled process would miss.
    """
    if not _worth_it():
        yield Alone()
        return
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    executor = ProcessPoolExecutor(1, mp_context=get_context("fork"), initializer=_begin)
    executor.submit(_load)
    try:
        yield executor
    finally:
        executor.shutdown(wait=True, cancel_futures=True)


def _worth_it() -> bool:
    return sys.platform == "linux" and "numpy" not in sys.modules and len(os.sched_getaffinity(0)) > 1


def _begin() -> None:
    """An interrupt is told by the first process; this one's life is short, and searching for garbage long."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.disable()


def _load() -> None:
    """Load what the work to come needs; a library that is missing is told when it is used."""
    import inspect_report.report.charts
    import inspect_report.report.html  # noqa: F401
    from inspect_report.report import pdf

    with suppress(CannotRender):
        pdf.ready()
