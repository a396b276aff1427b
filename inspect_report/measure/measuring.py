"""
Turns a case into everything that can be measured of it, and into the reason why for the rest.

Characteristics are taken in the order of the characteristics book, then what only the spec sheet knows. One
that has a way in ``ways`` is made by its formula, one that is an item of the checklist is taken as read.
"""

from collections.abc import Iterator
from functools import partial

from inspect_report.knowledge.case import Case, known_or_row
from inspect_report.knowledge.catalogue import Known, judged_along
from inspect_report.measure import gasket, grades, plain, shells, shim_plan, valve_gaps
from inspect_report.measure.bench import Bench, bench_of
from inspect_report.measure.derived import Derived, Failed, Measured, Unmeasured
from inspect_report.measure.guard import guarded
from inspect_report.measure.missing import MissingInput, in_words, together
from inspect_report.measure.ways import WAYS, Way
from inspect_report.mechanics.errors import OutOfRange
from inspect_report.records.checklist import applies_to
from inspect_report.records.position import Position
from inspect_report.telling.manner import say


def measure(case: Case) -> Measured:
    """
    Every quantity of an inspection with its uncertainty, what could not be measured; what is to be fitted.

    A fault of ours in one characteristic becomes a ``Failed``; all others still come out.
    """
    bench = bench_of(case)
    failed: list[Failed] = []
    outcomes = [o for k in _judged(case) for o in guarded(k.id, partial(made, bench, k), failed)]
    shims = guarded(valve_gaps.GAP, partial(shim_plan.shim_plan, bench), failed)
    gaskets = guarded(gasket.THICKNESS, partial(grades.grades, bench), failed)
    fitting = guarded("main-clearance", partial(shells.shells_to_fit, bench), failed)
    quantities = tuple(o for o in outcomes if isinstance(o, Derived))
    unmeasured = tuple(o for o in outcomes if isinstance(o, Unmeasured))
    return Measured(quantities, unmeasured, tuple(failed), shims, gaskets, fitting)


def _judged(case: Case) -> Iterator[Known]:
    """Characteristics of the book, then those that only a row of the spec sheet knows."""
    book = case.books.catalogue.characteristics
    yield from book
    in_book = {known.id for known in book}
    for row_id in dict.fromkeys(row.id for row in case.books.sheet.characteristics):
        known = None if row_id in in_book else known_or_row(case.books, row_id)
        if known is not None:
            yield known


def made(bench: Bench, known: Known) -> Iterator[Derived | Unmeasured]:
    """One characteristic at all its places; nothing where the engine has no such thing."""
    way = _way(bench, known)
    if way is None or not applies_to(known.applies, bench.layout):
        return
    item = bench.case.books.checklist.item(known.id)
    tried = [(at, _tried(way, bench, known.id, at)) for at in bench.places(judged_along(known, item))]
    asked = [(at, o) for at, o in tried if not (isinstance(o, MissingInput) and o.optional)]
    missing = [(at, o) for at, o in asked if isinstance(o, MissingInput)]
    if missing and len(missing) == len(tried):
        yield together(known.id, [fault for _, fault in missing])
        return
    for at, outcome in asked:
        yield outcome.at(known.id, at) if isinstance(outcome, MissingInput) else outcome


def _way(bench: Bench, known: Known) -> Way | None:
    """How a characteristic is made: by its formula, or as read; None where nothing asks for it."""
    if any(bench.asks_for(item) for item in known.needs):
        return WAYS[known.id]
    item = bench.case.books.checklist.item(known.id)
    if not known.needs and item is not None and item.kind in plain.READ and bench.asks_for(item.id):
        return plain.as_read(item.id, known.wears)
    return None


def _tried(way: Way, bench: Bench, characteristic: str, at: Position) -> Derived | Unmeasured | MissingInput:
    try:
        return way(bench, at).at(characteristic, at)
    except MissingInput as fault:
        return fault
    except OutOfRange as fault:
        return Unmeasured(characteristic, at, told(fault))


def told(fault: OutOfRange) -> str:
    """Why a formula does not take its readings, in words."""
    return say("{what}, so no value can be stated", what=in_words(str(fault)))
