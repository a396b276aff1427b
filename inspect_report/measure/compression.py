"""Turns compression gauge readings into the reading at sea level, spreads, wet gain and what to expect."""

from dataclasses import replace
from typing import Final

from inspect_report.measure.ambient import air_pressure, air_temperature, engine_words
from inspect_report.measure.bench import Bench, Result, notes
from inspect_report.measure.gasket import compression_ratio
from inspect_report.measure.missing import MissingInput, nothing_to_differ_from
from inspect_report.measure.trapped import full_stroke_ratio
from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics import compression, slidercrank
from inspect_report.mechanics.metrology import u_from_permissible_error
from inspect_report.records.inspection import Reading
from inspect_report.records.position import ENGINE, Position
from inspect_report.telling.manner import figure, message, say

DRY: Final = "compression-dry"
WET: Final = "compression-wet"
AN_ESTIMATE: Final = message(
    "an estimate from the engine's dimensions, mostly on the high side (common practice); to "
    "compare with, never a limit"
)
EXPONENT: Final = 1.3
# Common practice: exponents from about 1.2 to 1.4 are seen; events are printed for a lift nobody states; a
# ratio that was not measured is off by casting and machining.
EXPONENT_OFF, CLOSING_OFF, RATIO_OFF = 0.075, 3.0, 0.03


def corrected(bench: Bench, at: Position) -> Result:
    """Dry reading as it would be in standard air at sea level, by the ratio of air pressures."""
    pressure, source = air_pressure(bench.conditions)

    def at_sea_level(reading: float, ambient: float) -> float:
        return compression.corrected_to_standard(reading, p_ambient=ambient, method="pressure ratio")

    result = bench.result(
        compression.corrected_to_standard,
        (bench.one(DRY, at),),
        "pressure",
        by=at_sea_level,
        given=(pressure,),
        note=notes(say("corrected by the pressure ratio, as ideal compression scales"), source),
    )
    return _in_its_state(result, bench)


def corrected_by_density(bench: Bench, at: Position) -> Result:
    """Dry reading as it would be in standard air at sea level, by the ratio of air densities."""
    pressure, source = air_pressure(bench.conditions)
    temperature, warmth = air_temperature(bench.conditions)

    def at_sea_level(reading: float, ambient: float, kelvin: float) -> float:
        return compression.corrected_to_standard(
            reading, p_ambient=ambient, method="density ratio", temperature=kelvin
        )

    said = say("corrected by the density ratio, as the factor tables of the trade do")
    result = bench.result(
        compression.corrected_to_standard,
        (bench.one(DRY, at),),
        "pressure",
        by=at_sea_level,
        given=(pressure, temperature),
        note=notes(said, source, warmth),
    )
    return _in_its_state(result, bench)


def spread(bench: Bench, at: Position) -> Result:
    """How far a cylinder lies below the best one, as a fraction of the best."""
    own, all_read = _among(bench, at)
    mine = all_read.index(own)

    def below_best(*readings: float) -> float:
        return float(compression.spread_below_best(readings)[mine])

    note, formula = (
        say("below the best of {count} cylinders", count=len(all_read)),
        compression.spread_below_best,
    )
    return bench.result(formula, all_read, "ratio", by=below_best, picks=True, note=note)


def about_mean(bench: Bench, at: Position) -> Result:
    """How far a cylinder lies above or below the mean of all, as a fraction of the mean."""
    own, all_read = _among(bench, at)
    mine = all_read.index(own)

    def off_mean(*readings: float) -> float:
        return float(compression.spread_about_mean(readings)[mine])

    note = say("against the mean of {count} cylinders", count=len(all_read))
    return bench.result(compression.spread_about_mean, all_read, "ratio", by=off_mean, note=note)


def wet_gain(bench: Bench, at: Position) -> Result:
    """Rise of the reading after oil was poured in, as a fraction."""
    dry, wet = bench.one(DRY, at), bench.one(WET, at)
    return bench.result(compression.wet_gain, (dry, wet), "ratio")


def estimate(bench: Bench, at: Position) -> Result:
    """What a sound cylinder would show on the starter, by the ratio from where the cylinder closes."""
    dry = bench.one(DRY, at)
    bore, stroke, rod = (bench.printed(name, optional=True) for name in ("bore", "stroke", "rod_length"))
    swept = slidercrank.swept_volume(bore, stroke)
    (ratio, volumes), closes = _ratio(bench, at), _closing(bench)
    air, source = air_pressure(bench.conditions)

    def effective(whole: float, closing: float) -> float:
        return slidercrank.effective_ratio(
            closing, bore=bore, stroke=stroke, rod_length=rod, clearance_volume=swept / (whole - 1.0)
        )

    def pressure(whole: float, closing: float, ambient: float, exponent: float) -> float:
        trapped = effective(whole, closing)
        return slidercrank.cranking_pressure_estimate(trapped, p_ambient=ambient, exponent=exponent)

    given = (ratio, closes, air, _common("exponent", EXPONENT, EXPONENT_OFF, "ratio"))
    said = say(
        "effective ratio {effective} of {ratio}",
        effective=figure(f"{effective(ratio.value, closes.value):.2f}"),
        ratio=figure(f"{ratio.value:.2f}"),
    )
    note = notes(
        say(AN_ESTIMATE),
        say(
            "{ratio}, {event} {angle}° after bottom dead centre",
            ratio=said,
            event=say(closes.name),
            angle=f"{closes.value:.0f}",
        ),
        source,
    )
    formula, said = (
        slidercrank.cranking_pressure_estimate,
        say("{note}; exponent {exponent}", note=note, exponent=figure(str(EXPONENT))),
    )
    found = bench.result(formula, (), "pressure", by=pressure, given=given, note=said)
    # It stands beside the gauge's reading, and names the volumes it was made from.
    return replace(found, readings=(*volumes, dry))


def _among(bench: Bench, at: Position) -> tuple[Reading, tuple[Reading, ...]]:
    """A cylinder's dry reading, and those of all cylinders."""
    if bench.layout.cylinders == 1:
        raise nothing_to_differ_from()
    own, all_read = bench.one(DRY, at), bench.those_read(DRY, ENGINE)
    if len(all_read) < 2:
        raise MissingInput(say("compression read on one cylinder only"))
    return own, all_read


def _in_its_state(result: Result, bench: Bench) -> Result:
    """A result with the state of the engine at the test."""
    state = bench.engine_at(DRY)
    return replace(result, engine=state, note=notes(result.note, engine_words(state)))


def _ratio(bench: Bench, at: Position) -> tuple[Input, tuple[Reading, ...]]:
    """The ratio over the whole stroke and its readings: by volumes, else as the spec sheet prints it."""
    try:
        found = (compression_ratio if bench.layout.strokes == 4 else full_stroke_ratio)(bench, at)
    except MissingInput:
        return _common(
            message("nominal compression ratio"),
            bench.printed("compression_ratio", optional=True),
            None,
            "ratio",
        ), ()
    ratio, name = found.quantity, message("compression ratio")
    return Input(ratio.value, shared=ratio.u, source=name, name=name, dimension="ratio"), found.readings


def _closing(bench: Bench) -> Input:
    """Where the cylinder closes, in degrees after bottom dead centre: an inlet valve, or an exhaust port."""
    if bench.layout.strokes == 4:
        return _common(
            message("inlet valve closing"), bench.printed("inlet_closes", optional=True), CLOSING_OFF, "angle"
        )
    opens = bench.printed("exhaust_port_opens", optional=True)
    return _common(message("exhaust port closing"), 180.0 - opens, CLOSING_OFF, "angle")


def _common(name: str, value: float, off: float | None, dimension: str) -> Input:
    """A number nobody read, with how far it may be off; None for a share of it."""
    u = u_from_permissible_error(RATIO_OFF * value if off is None else off)
    return Input(value, shared=u, source=name, name=name, dimension=dimension)


WAYS: Final = {
    "compression-corrected": corrected,
    "compression-by-density": corrected_by_density,
    "compression-spread": spread,
    "compression-about-mean": about_mean,
    "wet-gain": wet_gain,
    "compression-estimate": estimate,
}
