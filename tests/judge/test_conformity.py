from dataclasses import replace

import pytest

from inspect_report.judge.conformity import finding_of_failed, finding_of_quantity
from inspect_report.judge.finding import Finding, Verdict
from inspect_report.knowledge.case import Case
from inspect_report.measure.derived import Failed
from inspect_report.records.quantity import Quantity
from tests.judge.made import HERE, a_case, at, derived, mm, some_books

ROW = {"id": "bore-wear", "standard": {"high": 0.015}, "limit": {"high": 0.10}, "page": "4-12", "wears": "up"}


def judged(case: Case, quantity: Quantity, characteristic: str = "bore-wear") -> Finding:
    """The finding of a quantity at cylinder 2."""
    finding = finding_of_quantity(derived(characteristic, at(cylinder=2), quantity), case)
    assert finding is not None
    return finding


def test_a_finding_carries_everything_that_led_to_it() -> None:
    """Quantity, limit, share, probability, readings and lines of the file are all in the finding."""
    finding = judged(a_case(some_books([ROW])), mm(0.08, 0.002))
    assert (finding.id, finding.verdict, finding.side) == ("bore-wear.2", Verdict.MARGINAL, "above")
    assert finding.used == pytest.approx(0.065 / 0.085)
    assert finding.inside == pytest.approx(1.0)
    assert (finding.readings, finding.inputs, finding.formula) == (("bore-wear.2",), (HERE,), "reading")
    assert finding.limit is not None
    assert finding.limit.source == "Workshop manual, p. 4-12"


def test_what_no_book_knows_has_no_finding() -> None:
    """A reading that only serves to compute another is not judged."""
    assert finding_of_quantity(derived("bore-diameter", at(cylinder=1), mm(67)), a_case()) is None


def test_what_only_the_spec_sheet_knows_is_judged() -> None:
    """Anything a spec sheet gives a limit for is judged, with no entry in the catalogue."""
    books = some_books([{"id": "governor-play", "limit": {"high": 0.5}, "axes": ["cylinder"]}])
    finding = judged(a_case(books), mm(0.6), "governor-play")
    assert (finding.name, finding.verdict) == ("governor play", Verdict.BEYOND_LIMIT)


def test_a_sheet_in_inches_speaks_in_inches() -> None:
    """The unit of the manual is the unit of the finding, and the limit stands as printed."""
    books = some_books([{"id": "bore-wear", "unit": "in", "limit": {"high": 0.004}}])
    finding = judged(a_case(books), mm(0.2))
    assert finding.unit == "in"
    assert finding.reason == "0.0079 in, limit at most 0.0040 in: beyond the limit"


def test_a_limit_of_another_kind_is_not_used() -> None:
    """A pressure is never held against millimetres."""
    books = some_books([{"id": "bore-wear", "limit": {"high": 0.1}}])
    finding = judged(a_case(books), Quantity(3e5, 0.0, "pressure"))
    assert finding.verdict is Verdict.NO_LIMIT
    assert "cannot be held against a pressure" in finding.reason


def test_a_limit_for_a_cold_engine_says_so_on_a_hot_one() -> None:
    """A limit that holds for another state of the engine is used, with a word of warning."""
    books = some_books([{**ROW, "condition": "cold"}])
    hot = judged(a_case(books, conditions={"engine": "hot"}), mm(0.05))
    cold = judged(a_case(books, conditions={"engine": "cold"}), mm(0.05))
    assert (hot.note, cold.note) == ("the limit holds for a cold engine", "")


def test_the_state_at_the_test_goes_before_that_of_the_day() -> None:
    """Compression taken hot on a day noted as cold meets a hot limit without a word; both stand with it."""
    case = a_case(some_books([{**ROW, "condition": "hot"}]), conditions={"engine": "cold"})
    plain = derived("bore-wear", at(cylinder=2), mm(0.05))
    hot, unnoted = (
        finding_of_quantity(replace(plain, engine=state, basis="orifice 1 mm"), case) for state in ("hot", "")
    )
    assert hot is not None
    assert unnoted is not None
    assert (hot.note, hot.engine, hot.basis) == ("", "hot", "orifice 1 mm")
    assert unnoted.note == "the limit holds for a hot engine"


def test_a_computation_of_ours_that_failed_says_so() -> None:
    """It is a finding of its own and blames neither engine nor inspector."""
    finding = finding_of_failed(Failed("bore-wear", at(cylinder=1), "ZeroDivisionError: division"), a_case())
    assert (finding.id, finding.verdict) == ("bore-wear.1", Verdict.CHECK_FAILED)
    assert "no fault of the engine or the readings" in finding.reason


def test_a_failure_of_something_unknown_is_told_too() -> None:
    """Even one that no book names gets a finding, in the last assembly."""
    finding = finding_of_failed(Failed("odd-thing", at(), "KeyError: 'x'"), a_case())
    assert (finding.name, finding.assembly) == ("odd thing", "crankshaft")
