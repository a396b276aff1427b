"""Turns the length of the timing chain and its tensioner's travel into elongation, retard and stroke used."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from inspect_report.measure.bench import Bench, Result, mean, notes
from inspect_report.measure.camshaft import ONE_SIDE, lateness_of
from inspect_report.measure.missing import MissingInput
from inspect_report.measure.new_size import limit_is_printed
from inspect_report.mechanics import camshaft, chain, metrology
from inspect_report.records.inspection import Reading
from inspect_report.records.position import ENGINE, Position
from inspect_report.records.specsheet import CamDrive
from inspect_report.telling.manner import figure, say, word
from inspect_report.telling.units import written

LENGTH: Final = "chain-length"
PITCHES: Final = "chain-pitches-measured"
PULL: Final = "chain-pull"
TRAVEL: Final = "tensioner-travel"
_HALF_A_TOOTH: Final = 0.5


def elongation(bench: Bench, at: Position) -> Result:
    """Growth of the chain over its nominal length, mean over the places it was measured at."""
    drive, (lengths, pitches) = _drive(bench), _readings(bench)
    pitch = say("pitch {pitch}", pitch=written(drive.pitch, "mm", "g"))
    note = notes(
        say("mean of {count} lengths, {pitch}", count=len(lengths), pitch=pitch),
        _scatter(bench, lengths),
        _pull(bench),
    )
    read = (*lengths, pitches)
    return bench.result(chain.elongation, read, "ratio", by=_stretch(drive), alike=lengths, note=note)


def retard(bench: Bench, at: Position) -> Result:
    """How late the stretched chain lets a camshaft run, in crank degrees."""
    drive, (lengths, pitches) = _drive(bench), _readings(bench)
    cam, late = at.label("cam") or "", _late(drive, at)
    note = say(
        "{count} pitches under pull from the crank; a tensioner does not mend it", count=drive.strand[cam]
    )
    read = (*lengths, pitches)
    return bench.result(chain.cam_retard, read, "angle", by=late, alike=lengths, note=note)


def late_beyond_chain(bench: Bench, at: Position) -> Result:
    """How much later a camshaft runs than its chain explains: near a whole tooth, it was put on wrong."""
    events, drive, (lengths, pitches) = ONE_SIDE.read(bench, at), _drive(bench), _readings(bench)
    measured, by_chain = lateness_of(ONE_SIDE, bench, at), _late(drive, at)

    def rest(opens: float, closes: float, *chain_read: float) -> float:
        return camshaft.late_beyond_chain(measured(opens, closes), by_chain(*chain_read))

    formula, read = camshaft.late_beyond_chain, (*events, *lengths, pitches)
    found = bench.result(formula, read, "angle", by=rest, alike=lengths, mirrored=events[:1])
    teeth = camshaft.teeth_out(found.quantity.value, drive.sprocket_teeth)
    said = (
        say("about {teeth} teeth of its sprocket", teeth=figure(f"{teeth:+.1f}"))
        if abs(teeth) >= _HALF_A_TOOTH
        else ""
    )
    return replace(found, note=said)


def tensioner_used(bench: Bench, at: Position) -> Result:
    """Share of the tensioner's stroke used, where the maker prints a stroke and no limit for the travel."""
    travel = bench.one(TRAVEL, at)
    stroke = bench.geometry.cam_drive.tensioner_stroke if bench.geometry.cam_drive else None
    if stroke is None or limit_is_printed(bench, TRAVEL, at):
        raise MissingInput(say("the maker prints a limit for the travel itself, or no stroke"), optional=True)

    def used(out: float) -> float:
        return chain.tensioner_used(out, stroke)

    note = say("of a stroke of {stroke}", stroke=written(stroke, "mm", "g"))
    return bench.result(chain.tensioner_used, (travel,), "ratio", by=used, note=note)


def _readings(bench: Bench) -> tuple[tuple[Reading, ...], Reading]:
    """Lengths, and the number of pitches they were taken over."""
    return bench.some(LENGTH, ENGINE), bench.one(PITCHES, ENGINE)


def _scatter(bench: Bench, lengths: tuple[Reading, ...]) -> str:
    """How far the lengths scatter: a chain wears unevenly, and no two pulls are the same."""
    if len(lengths) < 2:
        return ""
    means = [bench.input(length).value for length in lengths]
    s = metrology.u_from_repeats(means) * len(means) ** 0.5
    return say("they scatter by s = {s}", s=written(s, "mm", ".2f"))


def _pull(bench: Bench) -> str:
    reading = bench.find(PULL, ENGINE)
    return (
        say("pulled with {force}", force=written(bench.input(reading).value, "N", ".0f"))
        if reading
        else say("pull not noted")
    )


def _stretch(drive: CamDrive) -> Callable[..., float]:
    def stretch(*values: float) -> float:
        *lengths, pitches = values
        return chain.elongation(mean(lengths), pitch=drive.pitch, pitches=round(pitches))

    return stretch


def _late(drive: CamDrive, at: Position) -> Callable[..., float]:
    cam = at.label("cam") or ""
    if cam not in drive.strand:
        raise MissingInput(
            say("length of the chain to the {cam} camshaft is not in the spec sheet", cam=word(cam))
        )
    span, stretch = drive.strand[cam] * drive.pitch, _stretch(drive)
    radius = chain.pitch_radius(drive.pitch, drive.sprocket_teeth)

    def late(*values: float) -> float:
        return chain.cam_retard(stretch(*values), span_length=span, sprocket_radius=radius)

    return late


def _drive(bench: Bench) -> CamDrive:
    if bench.geometry.cam_drive is None:
        raise MissingInput(say("pitch of the timing chain is not in the spec sheet"))
    return bench.geometry.cam_drive


WAYS: Final = {
    "chain-elongation": elongation,
    "cam-retard": retard,
    "cam-late-beyond-chain": late_beyond_chain,
    "tensioner-stroke-used": tensioner_used,
}
