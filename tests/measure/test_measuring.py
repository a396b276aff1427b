"""Checks measuring as a whole: order, faults of ours, and that it changes nothing."""

import pytest

from inspect_report.knowledge.case import Case
from inspect_report.measure.bench import Bench, Result
from inspect_report.measure.derived import Failed
from inspect_report.measure.guard import RAISE
from inspect_report.measure.measuring import measure
from inspect_report.measure.ways import WAYS
from inspect_report.records.position import ENGINE, Position
from tests.cases import a_case, read, read_each


def _case() -> Case:
    gauges = read_each("compression-dry", {1: 12, 2: 11.8, 3: 12.1, 4: 11.9})
    return a_case(*gauges, read("compression-wet.1", 12.5), read("valve-clearance.1.exhaust", 0.25))


def _break(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(bench: Bench, at: Position) -> Result:
        raise ZeroDivisionError("a fault of ours")

    monkeypatch.setattr("inspect_report.measure.measuring.WAYS", {**WAYS, "wet-gain": broken})


def test_fault_of_ours_leaves_the_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    """One characteristic that breaks is told as failed; all others come out as before."""
    case = _case()
    whole = measure(case)
    monkeypatch.delenv(RAISE)
    _break(monkeypatch)
    rest = measure(case)
    assert rest.failed == (Failed("wet-gain", ENGINE, "ZeroDivisionError: a fault of ours"),)
    assert rest.quantities == tuple(q for q in whole.quantities if q.characteristic != "wet-gain")


def test_fault_of_ours_is_raised_under_test(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the environment variable set the fault is not hidden."""
    _break(monkeypatch)
    with pytest.raises(ZeroDivisionError, match="a fault of ours"):
        measure(_case())


def test_quantities_come_in_the_order_of_the_book() -> None:
    """The characteristics book sets the order, places follow the checklist's axes."""
    case = _case()
    book = [known.id for known in case.books.catalogue.characteristics]
    places = [book.index(q.characteristic) for q in measure(case).quantities]
    assert places == sorted(places)


def test_measuring_twice_gives_the_same() -> None:
    """Nothing is kept from one call to the next."""
    case = _case()
    assert measure(case) == measure(case)


def test_no_quantity_stands_twice() -> None:
    """An id names one quantity."""
    ids = [q.id for q in measure(_case()).quantities]
    assert len(ids) == len(set(ids))
