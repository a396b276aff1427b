"""
Turns the angles at which valves open and close into duration, lobe centre and overlap.

Opening is counted before its dead centre and closing after it. A degree disc set late by an angle therefore
moves a lobe centre by all of that angle, and neither duration nor overlap.
"""

from typing import Final

from inspect_report.measure.bench import Bench, Result
from inspect_report.measure.missing import MissingInput
from inspect_report.measure.uncertainty import Formula
from inspect_report.mechanics import camshaft
from inspect_report.records.checklist import in_group
from inspect_report.records.inspection import Reading
from inspect_report.records.position import ENGINE, Position
from inspect_report.records.quantity import from_si

OPENING: Final = "cam-opening"
CLOSING: Final = "cam-closing"
CHECK_LIFT: Final = "cam-check-lift"


def duration(bench: Bench, at: Position) -> Result:
    """Crank angle for which the valves of a camshaft are open."""
    return _of_events(bench, camshaft.duration, *_events(bench, at))


def lobe_centre(bench: Bench, at: Position) -> Result:
    """Middle of the opening: after top dead centre for the inlet, before it for the exhaust."""
    exhaust = in_group(at.label("cam") or "", "exhaust")
    formula = camshaft.exhaust_lobe_centre if exhaust else camshaft.inlet_lobe_centre
    return _of_events(bench, formula, *_events(bench, at))


def overlap(bench: Bench, at: Position) -> Result:
    """Crank angle for which inlet and exhaust valves are open together."""
    opens, closes = _of(bench, OPENING, "inlet"), _of(bench, CLOSING, "exhaust")
    return _of_events(bench, camshaft.overlap, opens, closes)


def _of_events(bench: Bench, formula: Formula, opens: Reading, closes: Reading) -> Result:
    return bench.result(formula, (opens, closes), "angle", mirrored=(opens,), note=_lift(bench))


def _events(bench: Bench, at: Position) -> tuple[Reading, Reading]:
    return bench.one(OPENING, at), bench.one(CLOSING, at)


def _of(bench: Bench, item: str, side: str) -> Reading:
    """The reading of the first camshaft of a side."""
    places = [p for p in bench.within(item, ENGINE) if in_group(p.label("cam") or "", side)]
    if not places:
        raise MissingInput(f"the engine has no {side} camshaft of its own", applies=False)
    return bench.one(item, places[0])


def _lift(bench: Bench) -> str:
    reading = bench.find(CHECK_LIFT, ENGINE)
    if reading is None:
        return "lift at which the angles were taken not noted"
    return f"at a lift of {from_si(bench.input(reading).value, 'mm'):g} mm"


WAYS: Final = {"cam-duration": duration, "cam-lobe-centre": lobe_centre, "cam-overlap": overlap}
