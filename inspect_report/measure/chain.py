"""Turns lengths of the timing chain into its elongation and the retard of each camshaft."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from inspect_report.measure.bench import Bench, Result, mean
from inspect_report.measure.missing import MissingInput
from inspect_report.mechanics import chain, metrology
from inspect_report.records.inspection import Reading
from inspect_report.records.position import ENGINE, Position
from inspect_report.records.specsheet import CamDrive

LENGTH: Final = "chain-length"
PITCHES: Final = "chain-pitches-measured"


def elongation(bench: Bench, at: Position) -> Result:
    """Growth of the chain over its nominal length, mean over the places it was measured at."""
    drive, readings = _drive(bench), _readings(bench)
    note = f"mean of {len(readings) - 1} lengths, pitch {drive.pitch * 1e3:g} mm"
    stretch = _elongation(drive)
    found = bench.result(chain.elongation, readings, "ratio", by=stretch, note=note)
    return _with_scatter(bench, found, readings, stretch)


def retard(bench: Bench, at: Position) -> Result:
    """How late the stretched chain lets a camshaft run, in crank degrees."""
    drive, readings, cam = _drive(bench), _readings(bench), at.label("cam") or ""
    if cam not in drive.strand:
        raise MissingInput(f"length of the chain to the {cam} camshaft is not in the spec sheet")
    span = drive.strand[cam] * drive.pitch
    radius, stretch = chain.pitch_radius(drive.pitch, drive.sprocket_teeth), _elongation(drive)

    def late(*values: float) -> float:
        return chain.cam_retard(stretch(*values), span_length=span, sprocket_radius=radius)

    note = "from the chain's elongation; a tensioner does not mend it"
    found = bench.result(chain.cam_retard, readings, "angle", by=late, note=note)
    return _with_scatter(bench, found, readings, late)


def _with_scatter(
    bench: Bench, found: Result, readings: tuple[Reading, ...], formula: Callable[..., float]
) -> Result:
    """A result with the scatter of the lengths, s/√n, in its uncertainty: a chain wears unevenly."""
    *lengths, pitches = (bench.input(r).value for r in readings)
    if len(lengths) < 2:
        return found
    scatter = metrology.u_from_repeats(lengths)
    moved = formula(*(length + scatter for length in lengths), pitches) - formula(*lengths, pitches)
    u = metrology.combine((found.quantity.u, abs(moved)))
    return replace(found, quantity=replace(found.quantity, u=u))


def _readings(bench: Bench) -> tuple[Reading, ...]:
    """Lengths, then the number of pitches they were taken over."""
    return (*bench.some(LENGTH, ENGINE), bench.one(PITCHES, ENGINE))


def _elongation(drive: CamDrive) -> Callable[..., float]:
    def stretch(*values: float) -> float:
        *lengths, pitches = values
        return chain.elongation(mean(lengths), pitch=drive.pitch, pitches=round(pitches))

    return stretch


def _drive(bench: Bench) -> CamDrive:
    if bench.geometry.cam_drive is None:
        raise MissingInput("pitch of the timing chain is not in the spec sheet")
    return bench.geometry.cam_drive


WAYS: Final = {"chain-elongation": elongation, "cam-retard": retard}
