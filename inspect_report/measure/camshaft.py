"""
Turns the angles at which valves open and close, and lobe sizes, into cam timing, lift and lobe wear.

Opening is counted before its dead centre and closing after it. A degree disc set late by an angle therefore
moves a lobe centre by all of that angle, and neither duration nor overlap. One camshaft that carries the
lobes of both sides is read by side, at items of its own.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from inspect_report.knowledge.case import row_for
from inspect_report.measure.bench import Bench, Result, name_of, notes
from inspect_report.measure.budget import Formula, propagated
from inspect_report.measure.missing import MissingInput
from inspect_report.measure.new_size import new_size
from inspect_report.mechanics import camshaft
from inspect_report.records.checklist import in_group
from inspect_report.records.inspection import Reading
from inspect_report.records.position import ENGINE, Position
from inspect_report.telling.manner import figure, say, word
from inspect_report.telling.units import written

CHECK_LIFT: Final = "cam-check-lift"
FULL_LIFT: Final = "cam-full-lift"
HEIGHT: Final = "cam-lobe-height"
BASE: Final = "cam-base-circle"

Way = Callable[[Bench, Position], Result]


@dataclass(frozen=True, slots=True)
class Events:
    """The items at which openings and closings stand, and the ways to make quantities of them."""

    opening: str
    closing: str
    centre: str
    """Characteristic whose row in the spec sheet tells the lobe centre wanted."""

    def duration(self, bench: Bench, at: Position) -> Result:
        """Crank angle for which the valves of a place are open."""
        return _of(bench, camshaft.duration, self.read(bench, at))

    def lobe_centre(self, bench: Bench, at: Position) -> Result:
        """Middle of the opening: after top dead centre for the inlet, before it for the exhaust."""
        return _of(bench, _centre(at), self.read(bench, at))

    def lateness(self, bench: Bench, at: Position) -> Result:
        """How late the valves of a place run against the lobe centre of the spec sheet."""
        read, late = self.read(bench, at), lateness_of(self, bench, at)
        return _of(
            bench,
            _late(at),
            read,
            by=late,
            note=say("target {target}°", target=figure(f"{self.target(bench, at):g}")),
        )

    def overlap(self, bench: Bench, at: Position) -> Result:
        """Crank angle for which inlet and exhaust valves are open together; the greatest of several banks."""
        found = [
            _of(bench, camshaft.overlap, (bench.one(self.opening, inlet), bench.one(self.closing, exhaust)))
            for inlet, exhaust in self.banks(bench)
        ]
        return max(found, key=lambda one: one.quantity.value)

    def separation(self, bench: Bench, at: Position) -> Result:
        """Angle between inlet and exhaust lobe, in camshaft degrees; both late alike leaves it as it is."""
        inlet, exhaust = self.banks(bench)[0]
        read = (*self.read(bench, inlet), *self.read(bench, exhaust))

        def apart(*angles: float) -> float:
            return camshaft.lobe_separation(*_centres(*angles))

        note = notes(say("in degrees of the camshaft"), _lift(bench))
        mirrored = (read[0], read[2])
        return bench.result(camshaft.lobe_separation, read, "angle", by=apart, mirrored=mirrored, note=note)

    def stroke_misfit(self, bench: Bench, at: Position) -> Result:
        """How far the camshafts stand from one stroke; alignment marks agree with one half a turn out too."""
        inlet, exhaust = self.banks(bench)[0]
        full = (bench.one(FULL_LIFT, inlet), bench.one(FULL_LIFT, exhaust))
        read = (*self.read(bench, inlet), *self.read(bench, exhaust))

        def misfit(inlet_full: float, exhaust_full: float, *angles: float) -> float:
            centres = _centres(*angles)
            return camshaft.stroke_misfit(
                inlet_full, exhaust_full, inlet_centre=centres[0], exhaust_centre=centres[1]
            )

        mirrored, all_read = (read[0], read[2]), (*full, *read)
        return bench.result(camshaft.stroke_misfit, all_read, "angle", by=misfit, mirrored=mirrored)

    def banks(self, bench: Bench) -> tuple[tuple[Position, Position], ...]:
        """
        Places of the inlet and of the exhaust events that belong together, bank by bank, by their names.

        Raises:
            MissingInput: the engine has no camshaft, or no side of one, for the inlet or for the exhaust, or
                none that are named alike.
        """
        exhausts = {_bank(place): place for place in self._side(bench, "exhaust")}
        inlets = self._side(bench, "inlet")
        alike = tuple((place, exhausts[_bank(place)]) for place in inlets if _bank(place) in exhausts)
        if not alike:
            raise MissingInput(
                say("inlet and exhaust camshafts of a bank are not named alike in the spec sheet")
            )
        return alike

    def _side(self, bench: Bench, side: str) -> tuple[Position, ...]:
        places = tuple(p for p in bench.within(self.opening, ENGINE) if in_group(_label(p), side))
        if not places:
            raise MissingInput(
                say("the engine has no {side} camshaft of its own", side=word(side)), applies=False
            )
        return places

    def read(self, bench: Bench, at: Position) -> tuple[Reading, Reading]:
        """
        Opening and closing at a place.

        Raises:
            MissingInput: one of them was not read.
        """
        return bench.one(self.opening, at), bench.one(self.closing, at)

    def target(self, bench: Bench, at: Position) -> float:
        """
        The lobe centre wanted: the middle of its standard range, or the nominal one.

        Raises:
            MissingInput: the spec sheet has neither.
        """
        found = row_for(bench.case.books, self.centre, at)
        band, nominal = (found[0].standard, found[0].nominal) if found else (None, None)
        if band is not None and band.low is not None and band.high is not None:
            return (band.low + band.high) / 2.0
        if nominal is None:
            raise MissingInput(say("the lobe centre wanted is not in the spec sheet"), optional=True)
        return float(nominal)


ONE_SIDE: Final = Events("cam-opening", "cam-closing", "cam-lobe-centre")
BOTH_SIDES: Final = Events("cam-opening-by-side", "cam-closing-by-side", "cam-lobe-centre-by-side")


def _label(at: Position) -> str:
    """What tells the side: the side of a camshaft that carries both, else the camshaft's name."""
    return at.label("valve-side") or at.label("cam") or ""


def _bank(at: Position) -> str:
    """What stands behind the side in a camshaft's name: ``front`` of ``inlet-front``, else nothing."""
    return _label(at).partition("-")[2]


def _is_exhaust(at: Position) -> bool:
    """
    Whether the valves of a place are exhaust valves.

    Raises:
        MissingInput: the camshaft's name does not tell.
    """
    label = _label(at)
    if in_group(label, "exhaust"):
        return True
    if in_group(label, "inlet"):
        return False
    raise MissingInput(
        say(
            "whether the {label} camshaft opens inlet or exhaust valves is not in the spec sheet: name "
            "it so, or mark it as one that carries both sides",
            label=word(label),
        )
    )


def _centre(at: Position) -> Formula:
    return camshaft.exhaust_lobe_centre if _is_exhaust(at) else camshaft.inlet_lobe_centre


def _late(at: Position) -> Formula:
    return camshaft.exhaust_lateness if _is_exhaust(at) else camshaft.inlet_lateness


def lateness_of(events: Events, bench: Bench, at: Position) -> Formula:
    """
    Lateness of the valves of a place as a function of their opening and closing.

    Raises:
        MissingInput: the spec sheet does not tell the lobe centre wanted, or the side.
    """
    formula, centre, target = _late(at), _centre(at), events.target(bench, at)

    def late(opens: float, closes: float) -> float:
        return formula(centre(opens, closes), target)

    return late


def _centres(io: float, ic: float, eo: float, ec: float) -> tuple[float, float]:
    """Inlet and exhaust lobe centre from the openings and closings of both."""
    return camshaft.inlet_lobe_centre(io, ic), camshaft.exhaust_lobe_centre(eo, ec)


def _of(
    bench: Bench,
    formula: Formula,
    read: tuple[Reading, Reading],
    *,
    by: Formula | None = None,
    note: str = "",
) -> Result:
    """A formula over an opening and a closing, of which the opening counts against the disc's sense."""
    said = notes(note, _lift(bench))
    return bench.result(formula, read, "angle", by=by, mirrored=read[:1], note=said)


def _lift(bench: Bench) -> str:
    reading = bench.find(CHECK_LIFT, ENGINE)
    if reading is None:
        return say("lift at which the angles were taken not noted")
    return say("at a lift of {lift}", lift=written(bench.input(reading).value, "mm", "g"))


def lobe_wear(height: str) -> Way:
    """
    Height the lobes of a place have lost; the maker's own range for new ones leaves it in doubt.

    Args:
        height: Item of the lobe height.
    """

    def way(bench: Bench, at: Position) -> Result:
        reading, new = bench.one(height, at), new_size(bench, height, at, "length")
        found = propagated(camshaft.lobe_wear, (bench.input(reading), new))
        note = say("against {size} when new", size=written(new.value, "mm", "g"))
        name = name_of(camshaft.lobe_wear)
        return Result(found.quantity("length"), name, (reading,), note, budget=found.budget)

    return way


def lift(bench: Bench, at: Position) -> Result:
    """Lift of a cam lobe."""
    return bench.result(camshaft.lobe_lift, (bench.one(HEIGHT, at), bench.one(BASE, at)), "length")


WAYS: Final[Mapping[str, Way]] = {
    "cam-duration": ONE_SIDE.duration,
    "cam-lobe-centre": ONE_SIDE.lobe_centre,
    "cam-lateness": ONE_SIDE.lateness,
    "cam-overlap": ONE_SIDE.overlap,
    "cam-lobe-separation": ONE_SIDE.separation,
    "cam-stroke-misfit": ONE_SIDE.stroke_misfit,
    "cam-lobe-wear": lobe_wear(HEIGHT),
    "cam-lift": lift,
    "cam-duration-by-side": BOTH_SIDES.duration,
    "cam-lobe-centre-by-side": BOTH_SIDES.lobe_centre,
    "cam-lateness-by-side": BOTH_SIDES.lateness,
    "cam-overlap-by-side": BOTH_SIDES.overlap,
    "cam-lobe-wear-by-side": lobe_wear("cam-lobe-height-by-side"),
}
