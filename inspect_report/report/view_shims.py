"""Turns the shims chosen for the valves into the rows of their table, and into how they are reckoned."""

from collections.abc import Sequence
from typing import Final

from inspect_report.advise.advice import WorkItem
from inspect_report.advise.counting import holds
from inspect_report.measure.derived import ShimChoice
from inspect_report.measure.valve_gaps import sizes_on_sale
from inspect_report.records.quantity import Quantity
from inspect_report.report.figures import joined
from inspect_report.report.reportparts import ShimView
from inspect_report.report.source import Source
from inspect_report.report.statements import SHIMS
from inspect_report.report.view_choices import altering
from inspect_report.report.words import capital, sentence
from inspect_report.telling.manner import figure, lowered, say, word
from inspect_report.telling.positions import place_words
from inspect_report.telling.units import Among, as_the_books, signs, sold_in

_PLACES: Final = {"mm": 3, "in": 4}
"""Decimals of shims by the unit they are sold in."""
AIM_DECIMALS: Final = 3


def shims(source: Source, chosen: Sequence[ShimChoice]) -> tuple[ShimView, ...]:
    """The rows of the table, in the order of the valves."""
    sold = sold_in(sizes_on_sale(source.a.sheet))
    moving = altering(source, "valve-clearance")
    moved = {s: next((w.name for w in moving if _is_at(w, s)), "") for s in chosen}
    return tuple(_shim(source, s, sold, moved[s]) for s in chosen)


def _is_at(item: WorkItem, shim: ShimChoice) -> bool:
    """Whether a job is done at a valve, or at all that it belongs to."""
    return any(holds(place, shim.position) for place in item.positions)


def note(source: Source, chosen: Sequence[ShimChoice]) -> str:
    """How shims were chosen, and how the exact one is reckoned, with the numbers it takes."""
    ratio = source.a.sheet.geometry.lever_ratio
    aims: dict[float, list[str]] = {}
    for shim in chosen:
        side = (shim.position.label("valve") or "").partition("-")[0]
        aims.setdefault(shim.aim, []).append(word(side))
    amounts = {aim: source.figures.amount(aim, "mm", AIM_DECIMALS) for aim in aims}
    told = [f"{amounts[aim]} ({joined(list(dict.fromkeys(sides)))})" for aim, sides in aims.items()]
    times = "" if ratio == 1.0 else f"{figure(f'{ratio:g}')} × "
    exact = say(
        "Exact shim: the one fitted + {times}(gap measured − aim); aim {aims}.",
        times=times,
        aims="; ".join(told) if len(told) > 1 else next(iter(amounts.values())),
    )
    return f"{say(SHIMS)} {exact}"


def caption(source: Source, chosen: Sequence[ShimChoice]) -> str:
    """What stands above the table of shims, which have the unit they are sold in, whatever gaps have."""
    sold = sold_in(sizes_on_sale(source.a.sheet))
    gaps = signs("mm", Among(tuple(s.measured for s in chosen)))
    if gaps == sold == "mm":
        return say("Shim to fit at each valve; lengths in mm, ± expanded uncertainty")
    return say(
        "Shim to fit at each valve; gaps in {unit}, shims in {sold} as they are sold; ± expanded uncertainty",
        unit=gaps,
        sold=say("inches") if sold == "in" else sold,
    )


def _shim(source: Source, shim: ShimChoice, sold: str, moved_by: str) -> ShimView:
    figures = source.figures
    places = _PLACES[sold]
    size_words = figures.limit if sold == "mm" else figures.amount
    gaps = tuple(v for v in (shim.measured, shim.predicted) if v is not None)
    kin = Among(gaps, (shim.low, shim.high))
    with as_the_books():
        fitted = size_words(shim.fitted, sold, places, bare=True)
        exact = figures.measured(Quantity(shim.exact, shim.exact_u, "length"), sold, places, bare=True)
        size = "" if shim.size is None else size_words(shim.size, sold, places, bare=True)
    after = Quantity(shim.predicted or 0.0, shim.predicted_u or 0.0, "length")
    again = say("choose again after: {job}", job=lowered(moved_by)) if moved_by else ""
    return ShimView(
        valve=capital(place_words(shim.position)),
        measured=figures.amount(shim.measured, "mm", 2, kin, bare=True),
        range=figures.range(shim.low, shim.high, "mm", 2, kin, bare=True),
        fitted=fitted,
        exact=exact,
        fit=(size or say("none there is fits")) if shim.change else say("keep"),
        after="–" if shim.predicted is None else figures.measured(after, "mm", 2, kin, bare=True),
        change=shim.change,
        note=" ".join(map(sentence, filter(None, (shim.note, again)))),
    )
